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

// Ellipsoid is the ellipsoid about the origin with the given half axes along x,
// y and z, all above 0. The distance is the true one on both sides.
func Ellipsoid(half geom.Vec) Solid { return ellipsoid{half} }

type ellipsoid struct{ e geom.Vec }

func (s ellipsoid) Dist(p geom.Vec) float64 {
	a := p.Abs()
	return s.sign(a) * s.closest(a).Dist(a)
}

func (s ellipsoid) sign(p geom.Vec) float64 {
	x, y, z := p.X/s.e.X, p.Y/s.e.Y, p.Z/s.e.Z
	if x*x+y*y+z*z < 1 {
		return -1
	}
	return 1
}

// closest is the point of the surface closest to p, which has no negative
// coordinate: q = (e_i² p_i / (t + e_i²)) with the largest root t of
// sum (e_i p_i / (t + e_i²))² = 1 (D. Eberly, Distance from a Point to an
// Ellipse, an Ellipsoid, or a Hyperellipsoid, 2013). Newton's method is applied to
// 1/sqrt(sum) = 1, which is nearly straight (J. Moré and D. Sorensen, Computing a
// Trust Region Step, 1983), and kept within brackets.
func (s ellipsoid) closest(p geom.Vec) geom.Vec {
	e := s.e
	if q, ok := s.onPlane(p, min(e.X, e.Y, e.Z)); ok {
		return q
	}
	ax, ay, az := e.X*p.X, e.Y*p.Y, e.Z*p.Z
	xx, yy, zz := e.X*e.X, e.Y*e.Y, e.Z*e.Z
	m := min(xx, yy, zz)
	// Each term alone is at most the sum, and the sum at most all over the least divisor.
	lo := max(ax-xx, ay-yy, az-zz)
	hi := math.Sqrt(ax*ax+ay*ay+az*az) - m
	t := lo
	for range 100 {
		ix, iy, iz := 1/(t+xx), 1/(t+yy), 1/(t+zz)
		x, y, z := ax*ix, ay*iy, az*iz
		x, y, z = x*x, y*y, z*z
		sum := x + y + z
		if sum > 1 {
			lo = t
		} else {
			hi = t
		}
		step := sum * (math.Sqrt(sum) - 1) / (x*ix + y*iy + z*iz)
		next := t + step
		if !(next >= lo && next <= hi) {
			next, step = (lo+hi)/2, hi-lo
		}
		t = next
		if math.Abs(step) <= 1e-8*(t+m) || hi <= lo { // the error is the square of that
			break
		}
	}
	return geom.V(xx*p.X/(t+xx), yy*p.Y/(t+yy), zz*p.Z/(t+zz))
}

// onPlane answers for a point so deep in the symmetry plane of the shortest axis
// that the closest point leaves the plane: t sticks at -least².
func (s ellipsoid) onPlane(p geom.Vec, least float64) (geom.Vec, bool) {
	e, m := s.e, least*least
	q, rest, off := geom.Vec{}, 1.0, 0.0
	put := func(e, p float64) float64 {
		if e == least {
			off += p
			return 0
		}
		c := e * e * p / (e*e - m)
		rest -= (c / e) * (c / e)
		return c
	}
	q = geom.V(put(e.X, p.X), put(e.Y, p.Y), put(e.Z, p.Z))
	if off > 0 || rest < 0 {
		return q, false
	}
	out := least * math.Sqrt(rest)
	switch least {
	case e.Z:
		q.Z = out
	case e.Y:
		q.Y = out
	default:
		q.X = out
	}
	return q, true
}

func (s ellipsoid) Bounds() geom.Box         { return geom.Box{Min: s.e.Scale(-1), Max: s.e} }
func (s ellipsoid) ExactOutside() bool       { return true }
func (s ellipsoid) ExactInside() bool        { return true }
func (s ellipsoid) Cell(tol float64) float64 { return s.bends().cell(tol) }
func (s ellipsoid) convex() bool             { return true }
func (s ellipsoid) Local(b geom.Ball) Solid  { return s.Near(b, 0) }
func (s ellipsoid) Near(b geom.Ball, m float64) Solid {
	return settled(s, s.Dist(b.C), b.R+m)
}

// bends: the tightest curve is where the longest axis ends, in the plane of the
// shortest.
func (s ellipsoid) bends() bends {
	lo, hi := min(s.e.X, s.e.Y, s.e.Z), max(s.e.X, s.e.Y, s.e.Z)
	return bends{convex: lo * lo / hi, concave: math.Inf(1)}
}
