package mesh

import (
	"math"

	"buckwright/generate/geom"
)

// triangle is the least phi(y - x) over the points x of a triangle, and y - x
// there. If phi is least over the plane at a point of the triangle, that is it.
// Otherwise it is on an edge that faces that point, for phi does not rise on
// the way there; or, if phi falls without end down a steep plane, on an edge
// that faces down.
func (c releaseCone) triangle(t *bvhTri, y geom.Vec) (float64, geom.Vec) {
	v := y.Sub(t.a)
	if t.sliver {
		return c.edges(t, v, true, true, true)
	}
	h, nz := t.n.Dot(v), t.n.Z
	if h < 0 {
		h, nz = -h, -nz
	}
	var foot geom.Vec // as seen from corner a
	var least float64
	switch {
	case -nz >= c.sin && nz < 0: // y is below the face: the plain distance
		foot, least = v.Sub(t.n.Scale(t.n.Dot(v))), h
	case nz >= c.sin && nz > 0: // y is above it: straight down
		foot, least = geom.V(v.X, v.Y, v.Z-h/nz), -h/nz*c.sin
	default:
		return c.edges(t, v, c.down(t, t.ab, t.ac), c.down(t, t.ac.Sub(t.ab), t.ab.Scale(-1)), c.down(t, t.ac, t.ab))
	}
	d1, d2 := t.ab.Dot(foot), t.ac.Dot(foot)
	u, w := t.acac*d1-t.abac*d2, t.abab*d2-t.abac*d1
	ab, bc, ca := w < 0, u+w > t.abab*t.acac-t.abac*t.abac, u < 0
	if !ab && !bc && !ca {
		return least, v.Sub(foot)
	}
	return c.edges(t, v, ab, bc, ca)
}

// down reports whether the edge e of a triangle faces down, in being lower than
// the corner that lies at in from it.
func (c releaseCone) down(t *bvhTri, e, in geom.Vec) bool {
	along := geom.V(-t.n.X*t.n.Z, -t.n.Y*t.n.Z, 1-t.n.Z*t.n.Z) // up the plane
	out := in.Sub(e.Scale(in.Dot(e) / e.Dot(e)))
	return out.Dot(along) >= -1e-9*out.Len()
}

// edges is the least phi over the edges asked for. v is y as seen from corner a.
func (c releaseCone) edges(t *bvhTri, v geom.Vec, ab, bc, ca bool) (float64, geom.Vec) {
	best, at := math.Inf(1), v
	try := func(v, e geom.Vec) {
		w := v.Sub(e.Scale(c.edge(v, e)))
		if d := c.point(w); d < best {
			best, at = d, w
		}
	}
	if ab {
		try(v, t.ab)
	}
	if ca {
		try(v, t.ac)
	}
	if bc {
		try(v.Sub(t.ab), t.ac.Sub(t.ab))
	}
	return best, at
}

// edge is the u in 0..1 at which phi(v - u e) is least. Being convex and smooth
// but for the axis, phi is least on the whole line where the formula of one of
// its two regions is, if that point lies in the region; and on the edge at the
// nearest point to that.
func (c releaseCone) edge(v, e geom.Vec) float64 {
	flat := e.X*e.X + e.Y*e.Y
	// Cone region. From the point mid of the line closest to the axis, at off from
	// it, rho² = off² + flat s² and zeta = z - e.Z s, so that cos rho - sin zeta is
	// least where cos flat s / rho = -sin e.Z.
	k := c.sin * e.Z
	room := c.cos*c.cos*flat - k*k
	if !(room > 0) { // steeper than the cone: the lower end is best
		if e.Z < 0 {
			return 1
		}
		return 0
	}
	mid := (v.X*e.X + v.Y*e.Y) / flat
	x, y := v.X-mid*e.X, v.Y-mid*e.Y
	off := math.Sqrt(x*x + y*y)
	s := -k * off / math.Sqrt(flat*room)
	if rho := math.Sqrt(off*off + flat*s*s); v.Z-(mid+s)*e.Z >= -rho*c.tan {
		return min(1, max(0, mid+s))
	}
	return min(1, max(0, v.Dot(e)/(flat+e.Z*e.Z)))
}

// near is what a list for a ball about y says of the triangle at k.
func (c releaseCone) near(t *bvhTri, k int32, y geom.Vec) bvhNear {
	d, v := c.triangle(t, y)
	if g, ok := c.slope(v); ok {
		return newBVHNear(k, d, g)
	}
	return bvhNear{k: k, dist: float32(d), slack: 1}
}

// slope is the gradient of phi at v. At 0, or on the axis above it, v is too close
// for a direction: down then, and ok is false.
func (c releaseCone) slope(v geom.Vec) (g geom.Vec, ok bool) {
	rho := math.Sqrt(v.X*v.X + v.Y*v.Y)
	below := v.Z < -rho*c.tan
	switch l := v.Len(); {
	case below && l > 1e-6:
		return v.Scale(1 / l), true
	case !below && rho > 1e-6:
		return geom.V(v.X/rho*c.cos, v.Y/rho*c.cos, -c.sin), true
	}
	return geom.Vec{Z: -1}, false
}

// radius is the least radius of curvature of phi within r of v; it may be negative.
func (c releaseCone) radius(v geom.Vec, r float64) float64 {
	rho := math.Sqrt(v.X*v.X + v.Y*v.Y)
	if v.Z >= -rho*c.tan {
		return (rho - r) / c.cos
	}
	return v.Len() - r/c.cos
}
