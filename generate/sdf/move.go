package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Move maps s by a rigid map: a turn or a mirroring, and a move. It panics on a
// map that stretches.
func Move(s Solid, a geom.Affine) Solid {
	for i := range 3 {
		for j := range 3 {
			dot, want := 0.0, 0.0
			for k := range 3 {
				dot += a.M[3*i+k] * a.M[3*j+k]
			}
			if i == j {
				want = 1
			}
			if !(math.Abs(dot-want) < 1e-9) {
				panic("sdf: Move needs a rigid map")
			}
		}
	}
	return mapped(s, a, 1)
}

// Scale multiplies all distances from about by k > 0.
func Scale(s Solid, about geom.Vec, k float64) Solid {
	if !(k > 0) {
		panic("sdf: Scale needs a factor above 0")
	}
	return mapped(s, geom.ScaleAbout(about, geom.V(k, k, k)), k)
}

// mapped is s under the map a, which multiplies all distances by k.
func mapped(s Solid, a geom.Affine, k float64) Solid {
	switch t := s.(type) {
	case Nothing, Everything:
		return t
	case HalfSpace:
		n := a.Dir(t.N).Scale(1 / k)
		return HalfSpace{n, t.D*k + n.Dot(a.T)}
	case *union:
		if planes(t.kids) {
			return Union(mapAll(t.kids, a, k)...)
		}
	case *intersection:
		if planes(t.kids) {
			return Intersect(mapAll(t.kids, a, k)...)
		}
	case *moved:
		return mapped(t.s, t.a.Then(a), k*t.k)
	}
	m := &moved{s: s, a: a, back: a.Inverse(), k: k}
	m.slide = a.M == geom.Identity().M
	return m
}

func planes(s []Solid) bool {
	for _, k := range s {
		if _, ok := k.(HalfSpace); !ok {
			return false
		}
	}
	return true
}

func mapAll(s []Solid, a geom.Affine, k float64) []Solid {
	out := make([]Solid, len(s))
	for i, t := range s {
		out[i] = mapped(t, a, k)
	}
	return out
}

type moved struct {
	s       Solid
	a, back geom.Affine
	k       float64
	slide   bool // moved only, not turned
}

// in is where the point p of space lies in the frame of the solid.
func (m *moved) in(p geom.Vec) geom.Vec {
	if m.slide {
		return p.Sub(m.a.T)
	}
	b := &m.back
	return geom.Vec{
		X: b.M[0]*p.X + b.M[1]*p.Y + b.M[2]*p.Z + b.T.X,
		Y: b.M[3]*p.X + b.M[4]*p.Y + b.M[5]*p.Z + b.T.Y,
		Z: b.M[6]*p.X + b.M[7]*p.Y + b.M[8]*p.Z + b.T.Z,
	}
}

func (m *moved) Dist(p geom.Vec) float64  { return m.s.Dist(m.in(p)) * m.k }
func (m *moved) ExactOutside() bool       { return exactOutside(m.s) }
func (m *moved) ExactInside() bool        { return exactInside(m.s) }
func (m *moved) Cell(tol float64) float64 { return m.bends().cell(tol) }
func (m *moved) convex() bool             { return convex(m.s) }

func (m *moved) bends() bends {
	b := bendsOf(m.s)
	b.convex *= m.k
	b.concave *= m.k
	return b
}

// Bounds maps the box axis by axis, so that infinite sides turned by quarter
// turns stay right.
func (m *moved) Bounds() geom.Box {
	b := m.s.Bounds()
	if b.Empty() {
		return b
	}
	lo, hi := [3]float64{}, [3]float64{}
	for i := range 3 {
		lo[i], hi[i] = m.a.T.Axis(i), m.a.T.Axis(i)
		for j := range 3 {
			if f := m.a.M[3*i+j]; f != 0 {
				u, v := f*b.Min.Axis(j), f*b.Max.Axis(j)
				lo[i] += min(u, v)
				hi[i] += max(u, v)
			}
		}
	}
	return geom.Box{Min: geom.V(lo[0], lo[1], lo[2]), Max: geom.V(hi[0], hi[1], hi[2])}
}

func (m *moved) Local(b geom.Ball) Solid { return m.Near(b, 0) }

func (m *moved) Near(b geom.Ball, v float64) Solid {
	in := geom.Ball{C: m.in(b.C), R: b.R / m.k}
	return mapped(Near(m.s, in, v/m.k), m.a, m.k)
}

func (m *moved) offset(r float64) (Solid, bool) {
	return mapped(Offset(m.s, r/m.k), m.a, m.k), true
}
