package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Ball is the ball of radius r about c. Exact on both sides.
func Ball(c geom.Vec, r float64) Solid { return capsule{c, c, r} }

// Capsule is the points within r of the segment from a to b. Exact on both sides.
func Capsule(a, b geom.Vec, r float64) Solid { return capsule{a, b, r} }

type capsule struct {
	a, b geom.Vec
	r    float64
}

func (s capsule) Dist(p geom.Vec) float64 { return s.arm(p).Len() - s.r }

// arm is the way to p from the closest point of the segment.
func (s capsule) arm(p geom.Vec) geom.Vec {
	w, u := p.Sub(s.a), s.b.Sub(s.a)
	if q := u.Dot(u); q > 0 {
		w = w.Sub(u.Scale(max(0, min(1, w.Dot(u)/q))))
	}
	return w
}

func (s capsule) Bounds() geom.Box         { return geom.BoxOf(s.a, s.b).Grow(s.r) }
func (s capsule) ExactOutside() bool       { return true }
func (s capsule) ExactInside() bool        { return true }
func (s capsule) Cell(tol float64) float64 { return s.bends().cell(tol) }
func (s capsule) bends() bends             { return bends{convex: s.r, concave: math.Inf(1)} }
func (s capsule) convex() bool             { return true }
func (s capsule) Local(b geom.Ball) Solid  { return s.Near(b, 0) }
func (s capsule) Near(b geom.Ball, m float64) Solid {
	return settled(s, s.Dist(b.C), b.R+m)
}

func (s capsule) offset(r float64) (Solid, bool) {
	if s.r+r < 0 {
		return Nothing{}, true
	}
	return capsule{s.a, s.b, s.r + r}, true
}

// Cylinder is the cylinder of radius r between the middles a and b of its flat
// ends. Exact on both sides.
func Cylinder(a, b geom.Vec, r float64) Solid {
	if a.X == b.X && a.Y == b.Y {
		return Rod(a.XY(), r, min(a.Z, b.Z), max(a.Z, b.Z))
	}
	return along(a, b, Prism(Disc(r), 0, a.Dist(b)))
}

// Cone is the frustum with radius ra at a and rb at b, both at least 0. Exact
// on both sides.
func Cone(a, b geom.Vec, ra, rb float64) Solid {
	if ra == rb {
		return Cylinder(a, b, ra)
	}
	if a.Z > b.Z {
		a, b, ra, rb = b, a, rb, ra
	}
	h := a.Dist(b)
	var e []piece
	e = appendSegment(e, geom.Vec2{}, geom.Vec2{X: ra})
	e = appendSegment(e, geom.Vec2{X: ra}, geom.Vec2{X: rb, Y: h})
	e = appendSegment(e, geom.Vec2{X: rb, Y: h}, geom.Vec2{Y: h})
	e = append(e, segment(geom.Vec2{Y: h}, geom.Vec2{})) // the axis
	return along(a, b, newRevolved(offAxis(smoothLoop(e))))
}

// along places s, which stands on the origin, so that its axis runs from a to b.
func along(a, b geom.Vec, s Solid) Solid {
	z := b.Sub(a).Unit()
	if z.Z == 1 {
		return Move(s, geom.Translate(a))
	}
	x := geom.V(1, 0, 0)
	if math.Abs(z.X) > 0.8 {
		x = geom.V(0, 1, 0)
	}
	x = x.Sub(z.Scale(x.Dot(z))).Unit()
	y := z.Cross(x)
	return Move(s, geom.Affine{M: [9]float64{x.X, y.X, z.X, x.Y, y.Y, z.Y, x.Z, y.Z, z.Z}, T: a})
}
