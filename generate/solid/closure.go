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
	ear      = 5.0 // mm radius of a magnet's pillar
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
		for _, d := range l.sides()[:2] {
			out = append(out, l.onSide(d, pillar(d.neck, s.bottom, s.shoulder, true)))
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
		c := l.Dims.Closure
		for _, d := range l.sides()[:2] {
			out = append(out, l.onSide(d, sdf.Rod(geom.Vec2{X: d.neck + ear}, c.MagnetDia/2, s.shoulder-c.MagnetH, s.shoulder+1)))
		}
	}
	return out
}

// lidClosure adds the lid's half of the closure.
func (l *Layout) lidClosure(s shells) []sdf.Solid {
	if l.Dims.Closure.Kind != "magnets" {
		return nil
	}
	var out []sdf.Solid
	for _, d := range l.sides()[:2] {
		out = append(out, l.onSide(d, pillar(d.neck, s.shoulder, s.top, false)))
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
		for _, d := range l.sides()[:2] {
			out = append(out, l.onSide(d, sdf.Rod(geom.Vec2{X: d.neck + ear}, c.MagnetDia/2, s.shoulder-1, s.shoulder+c.MagnetH)))
		}
	}
	return out
}

// bandGroove is a shallow upright groove in a long side.
func (l *Layout) bandGroove(d side, z0, z1 float64) sdf.Solid {
	face := d.neck + l.Dims.Lid.Slip + l.Dims.Lid.Wall
	return box(geom.V(face, 0, 0), bandDeep, bandWide/2, z0, z1)
}

// pillar carries a magnet beside the case's wall. It stands on the bed in
// either shell: on its foot in the base, on its head in the lid.
func pillar(neck, z0, z1 float64, footDown bool) sdf.Solid {
	at := geom.Vec2{X: neck + ear}
	rod := sdf.Rod(at, ear, z0, z1)
	if footDown {
		return sdf.Intersect(rod, sdf.Cone(at.At(z0), at.At(z0+2*ear), ear-0.5, 3*ear-0.5))
	}
	return sdf.Intersect(rod, sdf.Cone(at.At(z1-2*ear), at.At(z1), 3*ear-0.5, ear-0.5))
}
