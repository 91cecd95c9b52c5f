package mesh

import (
	"math"

	"buckwright/generate/geom"
)

// triangle is the least phi(y - x) over the points x of a triangle. A convex
// function has its least value on a corner, an edge, or inside the face; inside
// the face only where the gradient of phi is along the face's normal, that is at
// the plain foot of a steep enough perpendicular, or straight below y.
func (c releaseCone) triangle(t *bvhTri, y geom.Vec) float64 {
	v := y.Sub(t.a)
	if !t.sliver {
		if d, ok := c.face(t, v); ok {
			return d
		}
	}
	w := v.Sub(t.ab)
	return min(c.edge(v, t.ab), c.edge(v, t.ac), c.edge(w, t.ac.Sub(t.ab)))
}

// face is the least phi over the face's plane, if it is taken inside the face.
// v is y as seen from corner a.
func (c releaseCone) face(t *bvhTri, v geom.Vec) (float64, bool) {
	h := t.n.Dot(v) // y is on the side of n if positive
	nz := t.n.Z
	if h < 0 {
		h, nz = -h, -nz
	}
	if nz < 0 && -nz >= c.sin { // y below the face: the plain distance
		return h, t.holds(v.Sub(t.n.Scale(t.n.Dot(v))))
	}
	if nz > 0 && nz >= c.sin { // y above it: straight down
		drop := h / nz
		v.Z -= drop
		return -drop * c.sin, t.holds(v)
	}
	return 0, false
}

// holds reports whether the point a + v of the plane lies in the triangle.
func (t *bvhTri) holds(v geom.Vec) bool {
	d1, d2 := t.ab.Dot(v), t.ac.Dot(v)
	det := t.abab*t.acac - t.abac*t.abac
	u, w := t.acac*d1-t.abac*d2, t.abab*d2-t.abac*d1
	return u >= 0 && w >= 0 && u+w <= det
}

// edge is the least phi(v - u e) over u in 0..1. Being convex and smooth but for
// the axis, phi is least on the whole line where the formula of one of its two
// regions is, if that point lies in the region; and on the edge at the nearest
// point to that.
func (c releaseCone) edge(v, e geom.Vec) float64 {
	flat := e.X*e.X + e.Y*e.Y
	at := func(u float64) float64 {
		u = min(1, max(0, u))
		return c.point(v.Sub(e.Scale(u)))
	}
	if !(flat > 0) { // upright: the lower end is best
		if e.Z < 0 {
			return at(1)
		}
		return at(0)
	}
	mid := (v.X*e.X + v.Y*e.Y) / flat // the point of the line closest to the axis
	// Cone region. From mid, rho² = off² + flat s² and zeta = z - e.Z s, so
	// cos rho - sin zeta is least where cos flat s / rho = -sin e.Z.
	k := c.sin * e.Z
	room := c.cos*c.cos*flat - k*k
	if !(room > 0) { // steeper than the cone: the lower end is best
		if e.Z < 0 {
			return at(1)
		}
		return at(0)
	}
	x, y := v.X-mid*e.X, v.Y-mid*e.Y
	off := math.Sqrt(x*x + y*y)
	s := -k * off / math.Sqrt(flat*room)
	if rho := math.Sqrt(off*off + flat*s*s); v.Z-(mid+s)*e.Z >= -rho*c.tan {
		return at(mid + s)
	}
	return at(v.Dot(e) / (flat + e.Z*e.Z))
}
