package sdf

import (
	"math"

	"buckwright/generate/geom"
)

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
		x, ix := ellipsoidTerm(ax, t+xx)
		y, iy := ellipsoidTerm(ay, t+yy)
		z, iz := ellipsoidTerm(az, t+zz)
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
	x, _ := ellipsoidTerm(xx*p.X, t+xx)
	y, _ := ellipsoidTerm(yy*p.Y, t+yy)
	z, _ := ellipsoidTerm(zz*p.Z, t+zz)
	return geom.V(x, y, z)
}

// ellipsoidTerm is a / d and 1 / d, and 0 for an a of 0: t starts where one d may be
// 0 too.
func ellipsoidTerm(a, d float64) (quotient, inverse float64) {
	if a == 0 {
		return 0, 0
	}
	inverse = 1 / d
	return a * inverse, inverse
}

// ellipsoidIn is how far from a plane of symmetry, as a share of the axis across it,
// a point counts as in it.
const ellipsoidIn = 1e-12

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
	if off > ellipsoidIn*least || rest < 0 {
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
	return settled(ellipsoidPart{s, b}, s.Dist(b.C), b.R+m)
}

// bends: the tightest curve is where the longest axis ends, in the plane of the
// shortest.
func (s ellipsoid) bends() bends {
	lo, hi := min(s.e.X, s.e.Y, s.e.Z), max(s.e.X, s.e.Y, s.e.Z)
	return bends{convex: lo * lo / hi, concave: math.Inf(1)}
}

// ellipsoidPart is an ellipsoid in a ball, which it curves within.
type ellipsoidPart struct {
	ellipsoid
	ball geom.Ball
}

func (s ellipsoidPart) Cell(tol float64) float64 { return s.bends().cell(tol) }

// bends takes the tightest curve at the points of the surface closest to the
// middle of the ball and to six points around it.
func (s ellipsoidPart) bends() bends {
	r := s.radius(s.ball.C)
	for _, d := range [3]geom.Vec{{X: s.ball.R}, {Y: s.ball.R}, {Z: s.ball.R}} {
		r = min(r, s.radius(s.ball.C.Add(d)), s.radius(s.ball.C.Sub(d)))
	}
	return bends{convex: r, concave: math.Inf(1)}
}

// radius is the least radius of curvature at the surface point closest to p.
// With A = diag(1/e²) and n along A q, it is |A q| over the greatest value of
// v·A v for unit v across n.
func (s ellipsoid) radius(p geom.Vec) float64 {
	q, e := s.closest(p.Abs()), s.e
	a := geom.V(1/(e.X*e.X), 1/(e.Y*e.Y), 1/(e.Z*e.Z))
	n := geom.V(a.X*q.X, a.Y*q.Y, a.Z*q.Z)
	size := n.Len()
	n = n.Scale(1 / size)
	// The two eigenvalues across n have this sum and this product.
	sum := a.X*(1-n.X*n.X) + a.Y*(1-n.Y*n.Y) + a.Z*(1-n.Z*n.Z)
	product := a.Y*a.Z*n.X*n.X + a.Z*a.X*n.Y*n.Y + a.X*a.Y*n.Z*n.Z
	return size / (sum/2 + math.Sqrt(max(0, sum*sum/4-product)))
}
