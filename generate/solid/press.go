package solid

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

const (
	pressEdge  = 7.0  // mm from the mouths to the middle of the stops, on the insert's margin
	stopWidth  = 4.0  // mm, narrow, so that the felt on the rim stays as it is
	stopLength = 24.0 // mm
	wingReach  = 28.0 // mm that a grip wing stands out beyond the insert: a finger's breadth and a knuckle
	wingWidth  = 70.0 // mm: four fingers, ANSUR II hand breadth 78-96 less the small finger
)

// PressTool presses the felt into the formed pockets: plugs on a back plate,
// stops that carry it on the rim, air reliefs so that it lifts off, and wings
// to hold it by. plug is pocket(r_plug) with its edges rounded.
func PressTool(l *Layout, plug sdf.Solid, wings bool) sdf.Solid {
	under, top := l.PlateUnder(), l.PlateUnder()+l.Dims.Press.Plate
	outline := l.plate(wings)
	plate := sdf.Intersect(sdf.Prism(outline, under, top), chamferAbove(outline, top, l.Dims.Base.Foot))
	parts := []sdf.Solid{plate, sdf.Intersect(plug, below(under+0.5))}
	parts = append(parts, l.stops()...)
	var air []sdf.Solid
	for _, p := range l.Places {
		air = append(air, l.reliefs(p)...)
	}
	return sdf.Difference(sdf.Union(parts...), air...)
}

// PlateUnder is the z of the plate's underside: clear of the felt on the rim
// and of the neck around it.
func (l *Layout) PlateUnder() float64 {
	return max(l.Dims.Press.Stop, l.Dims.Press.RimFelt, l.Dims.Base.NeckTop) + 1.5
}

// plate is the plan of the back plate, wings included.
func (l *Layout) plate(wings bool) sdf.Region {
	half := l.Mouth.Size().Scale(0.5)
	hx, hy := half.X+pressEdge+stopWidth, half.Y+pressEdge+stopWidth
	body := sdf.Place2(sdf.Rect(hx, hy, 12), l.Center, 0)
	if !wings {
		return body
	}
	w := min(wingWidth/2, hy)
	wing := sdf.Place2(sdf.Rect(l.Half.X+wingReach, w, 14), l.Center, 0)
	return sdf.Union2(body, wing)
}

// stops are bars under the plate's edge that stand on the rim.
func (l *Layout) stops() []sdf.Solid {
	half := l.Mouth.Size().Scale(0.5)
	x, y := half.X+pressEdge, half.Y+pressEdge
	z0, z1 := l.Dims.Press.Stop, l.PlateUnder()+0.5
	bar := func(at geom.Vec2, long geom.Vec2) sdf.Solid {
		r := sdf.Rect(max(stopWidth, long.X)/2, max(stopWidth, long.Y)/2, 1)
		return sdf.Prism(sdf.Place2(r, l.Center.Add(at), 0), z0, z1)
	}
	lx, ly := geom.Vec2{X: min(stopLength, x)}, geom.Vec2{Y: min(stopLength, y)}
	return []sdf.Solid{
		bar(geom.Vec2{X: x}, ly), bar(geom.Vec2{X: -x}, ly),
		bar(geom.Vec2{X: x / 2, Y: y}, lx), bar(geom.Vec2{X: -x / 2, Y: y}, lx),
		bar(geom.Vec2{X: x / 2, Y: -y}, lx), bar(geom.Vec2{X: -x / 2, Y: -y}, lx),
	}
}

// reliefs are upright holes through plate and plug over one item.
func (l *Layout) reliefs(p Place) []sdf.Solid {
	r := l.Dims.Press.Relief / 2
	far := p.Half.X * 0.5
	dir := geom.Vec2{X: math.Cos(float64(p.Turn)), Y: math.Sin(float64(p.Turn))}
	if p.Half.Y > p.Half.X {
		far = p.Half.Y * 0.5
		dir = geom.Vec2{X: -dir.Y, Y: dir.X}
	}
	low, high := l.Deep-5, l.PlateUnder()+l.Dims.Press.Plate+1
	out := []sdf.Solid{}
	offsets := []float64{0}
	if far > 15 {
		offsets = []float64{-far, far}
	}
	for _, o := range offsets {
		out = append(out, sdf.Rod(p.At.Add(dir.Scale(o)), r, low, high))
	}
	return out
}
