package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// facet is a convex polygon in a plane.
type facet struct {
	h HalfSpace
	v [facetMost]geom.Vec
	n int
}

const (
	facetMost = 24   // corners: the six sides of a box and eighteen cuts
	facetTiny = 1e-6 // mm: a polygon that reaches no further across a cut is none
)

// facetOf is the part of the plane of h in the box.
func facetOf(h HalfSpace, box geom.Box) (facet, bool) {
	c, size := box.Center(), box.Size().Len()
	if !(math.Abs(h.Dist(c)) <= size/2) {
		return facet{}, false
	}
	a := h.N.Abs()
	u := geom.Vec{X: 1}
	switch {
	case a.Y <= a.X && a.Y <= a.Z:
		u = geom.Vec{Y: 1}
	case a.Z <= a.X && a.Z <= a.Y:
		u = geom.Vec{Z: 1}
	}
	u = h.N.Cross(u).Unit().Scale(size)
	v := h.N.Cross(u)
	m := c.Sub(h.N.Scale(h.Dist(c)))
	p := facet{h: h, n: 4}
	p.v[0], p.v[1], p.v[2], p.v[3] = m.Add(u), m.Add(v), m.Sub(u), m.Sub(v)
	ok := true
	for axis := range 3 {
		n := [3]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}[axis]
		if ok {
			p, ok = p.under(HalfSpace{n, box.Max.Axis(axis)})
		}
		if ok {
			p, ok = p.under(HalfSpace{n.Scale(-1), -box.Min.Axis(axis)})
		}
	}
	return p, ok
}

// within is the part of p inside h. Where p lies on the plane of a part beside
// it, it is open if they face the same way. h is turned round to cut what is
// outside of a part (inside false).
func (p *facet) within(h HalfSpace, inside bool) (facet, bool) {
	if p.n == 0 {
		return *p, false
	}
	most := 0.0
	for _, v := range p.v[:p.n] {
		most = max(most, math.Abs(h.Dist(v)))
	}
	if most <= facetTiny {
		return *p, (h.N.Dot(p.h.N) > 0) == inside
	}
	return p.under(h)
}

// under is the part of p with Dist <= 0 (Sutherland & Hodgman 1974).
func (p *facet) under(h HalfSpace) (facet, bool) {
	out := facet{h: p.h}
	deep := 0.0
	was := h.Dist(p.v[p.n-1])
	from := p.v[p.n-1]
	for _, to := range p.v[:p.n] {
		is := h.Dist(to)
		deep = min(deep, is)
		if (was < 0 && is > 0 || was > 0 && is < 0) && out.n < facetMost {
			out.v[out.n] = from.Lerp(to, was/(was-is))
			out.n++
		}
		if is <= 0 && out.n < facetMost {
			out.v[out.n] = to
			out.n++
		}
		was, from = is, to
	}
	return out, out.n >= 3 && deep < -facetTiny
}

// middle is the mean of the corners.
func (p *facet) middle() geom.Vec {
	var m geom.Vec
	for _, v := range p.v[:p.n] {
		m = m.Add(v)
	}
	return m.Scale(1 / float64(p.n))
}
