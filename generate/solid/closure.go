package solid

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

const (
	slot     = 1.0 // mm beside a spring tongue
	bandWide = 9.0 // mm, groove for an elastic
	bandDeep = 1.0 // mm
)

// side is one of the four sides of the case: the outward direction and the
// distance from the middle to the neck's face.
type side struct {
	out  geom.Vec2
	neck float64
	half float64 // half length of the side
}

func (l *Layout) sides() []side {
	o := l.OutsideHalf()
	in := l.Dims.Lid.Wall + l.Dims.Lid.Slip
	return []side{
		{geom.Vec2{X: 1}, o.X - in, o.Y}, {geom.Vec2{X: -1}, o.X - in, o.Y},
		{geom.Vec2{Y: 1}, o.Y - in, o.X}, {geom.Vec2{Y: -1}, o.Y - in, o.X},
	}
}

// catchSides are the sides that have a tongue.
func (l *Layout) catchSides() []side {
	all := l.sides()
	return all[:max(0, min(l.Dims.Closure.Tongues, len(all)))]
}

// onSide carries a solid drawn on the +x side, at the middle, to this side.
func (l *Layout) onSide(d side, s sdf.Solid) sdf.Solid {
	a := geom.Angle(math.Atan2(d.out.Y, d.out.X))
	return sdf.Move(s, geom.RotateZ(a).Then(geom.Translate(l.Center.At(0))))
}

// ridge is a bar along y with a triangular section whose apex stands h beyond
// the plane x = at, flanks at 45 degrees so that it prints either way up.
func ridge(at, z, h, half float64) sdf.Solid {
	n := math.Sqrt2 / 2
	return sdf.Intersect(
		sdf.HalfSpace{N: geom.V(n, 0, n), D: n * (at + h + z)},
		sdf.HalfSpace{N: geom.V(n, 0, -n), D: n * (at + h - z)},
		sdf.Box(geom.V(at-0.8, -half, z-h-1), geom.V(at+h+1, half, z+h+1)),
	)
}

// catchZ is the height of the bead on the neck: in its middle, where the
// lid's tongue is free.
func (l *Layout) catchZ(s shells) float64 { return s.shoulder + l.Dims.Base.Neck*0.4 }

// baseClosure adds the base's half of the closure.
func (l *Layout) baseClosure(s shells) []sdf.Solid {
	c := l.Dims.Closure
	var out []sdf.Solid
	switch c.Kind {
	case "catch":
		for _, d := range l.catchSides() {
			out = append(out, l.onSide(d, ridge(d.neck, l.catchZ(s), c.Bead, c.TongueW/2-1)))
		}
	case "magnets":
		for _, d := range l.magnetSides() {
			lug := sdf.Intersect(sdf.Prism(l.lug(d), s.bottom, s.shoulder), chamferBelow(l.lug(d), s.bottom, l.baseBevel()))
			out = append(out, l.onSide(d, lug))
		}
	}
	return out
}

func (l *Layout) baseClosureCuts(s shells) []sdf.Solid {
	var out []sdf.Solid
	switch l.Dims.Closure.Kind {
	case "band":
		for _, d := range l.sides()[2:] {
			out = append(out, l.onSide(d, l.bandGroove(d, s.bottom-1, s.shoulder+1)))
		}
	case "magnets":
		out = l.magnetBores(s.shoulder-l.Dims.Closure.MagnetDeep, s.shoulder+1)
	}
	return out
}

// lidClosure adds the lid's half of the closure.
func (l *Layout) lidClosure(s shells) []sdf.Solid {
	if l.Dims.Closure.Kind != "magnets" {
		return nil
	}
	var out []sdf.Solid
	for _, d := range l.magnetSides() {
		lug := sdf.Intersect(sdf.Prism(l.lug(d), s.shoulder, s.top), chamferAbove(l.lug(d), s.top, l.lidBevel()))
		out = append(out, l.onSide(d, lug))
	}
	return out
}

func (l *Layout) lidClosureCuts(s shells) []sdf.Solid {
	c := l.Dims.Closure
	var out []sdf.Solid
	switch c.Kind {
	case "catch":
		for _, d := range l.catchSides() {
			at := d.neck + l.Dims.Lid.Slip
			groove := ridge(at, l.catchZ(s), c.Bead, c.TongueW/2)
			out = append(out, l.onSide(d, groove))
			for _, y := range [2]float64{-1, 1} {
				mid := geom.V(at+l.Dims.Lid.Wall/2, y*(c.TongueW/2+slot/2), 0)
				out = append(out, l.onSide(d, box(mid, l.Dims.Lid.Wall/2+1, slot/2, s.shoulder-1, s.shoulder+c.TongueL)))
			}
		}
	case "band":
		for _, d := range l.sides()[2:] {
			out = append(out, l.onSide(d, l.bandGroove(d, s.shoulder-1, s.top+1)))
		}
	case "magnets":
		out = l.magnetBores(s.shoulder-1, s.shoulder+c.MagnetDeep)
	}
	return out
}

// bandGroove is a shallow upright groove in a long side.
func (l *Layout) bandGroove(d side, z0, z1 float64) sdf.Solid {
	face := d.neck + l.Dims.Lid.Slip + l.Dims.Lid.Wall
	return box(geom.V(face, 0, 0), bandDeep, bandWide/2, z0, z1)
}
