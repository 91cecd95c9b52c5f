package sdf

import (
	"fmt"
	"math"

	"buckwright/generate/geom"
)

// Releaser is a Solid that brings its own Release.
type Releaser interface {
	Release(alpha geom.Angle) (Solid, error)
}

// Release is the Minkowski sum of s and the upward cone of half angle alpha: the
// least solid around s without undercut that widens upwards by alpha everywhere.
// It has no top. Its field is the exact distance outside and a bound inside
// (exact for a convex prism). s must be exact outside and have a bottom.
//
// A union or a dilation is released part by part, a prism by a closed form. A
// convex body takes the least of d(p - t z) - t sin alpha over t >= 0, which is
// convex in t, to 1e-9 mm; any other the least over all t by sampling, refined
// until no interval can hold a lower value by 1e-4 mm (the slope is at most 1 +
// sin alpha).
func Release(s Solid, alpha geom.Angle) (Solid, error) {
	if !(alpha >= 0 && alpha < 80*geom.Degree) {
		return nil, fmt.Errorf("release: angle %.4g degrees is outside 0 to 80", alpha.Degrees())
	}
	if t, ok := s.(Releaser); ok {
		return t.Release(alpha)
	}
	if !exactOutside(s) {
		return nil, fmt.Errorf("release: %T does not know its exact distance outside", s)
	}
	box := s.Bounds()
	if math.IsInf(box.Min.Z, 0) {
		return nil, fmt.Errorf("release: the solid has no bottom")
	}
	return released{s, box.Min.Z, box.Max.Z, alpha, alpha.Sin(), convex(s)}, nil
}

func (u *union) Release(alpha geom.Angle) (Solid, error) {
	out := make([]Solid, len(u.kids))
	for i, k := range u.kids {
		r, err := Release(k, alpha)
		if err != nil {
			return nil, err
		}
		out[i] = r
	}
	return Union(out...), nil
}

// Release of a dilation is the dilation of the release.
func (o offset) Release(alpha geom.Angle) (Solid, error) {
	if o.r < 0 {
		return nil, fmt.Errorf("release: an eroded solid does not know its exact distance outside")
	}
	s, err := Release(o.s, alpha)
	if err != nil {
		return nil, err
	}
	return Offset(s, o.r), nil
}

func (s prism) Release(alpha geom.Angle) (Solid, error) {
	if !s.ExactOutside() || math.IsInf(s.z0, 0) {
		return nil, fmt.Errorf("release: the prism has no bottom or no exact plan")
	}
	return flare{s.plan, s.z0 + s.edge, s.edge, alpha.Tan(), alpha.Sin(), alpha.Cos()}, nil
}

// Release of a moved solid moves the released one, if the move keeps up up.
func (m moved) Release(alpha geom.Angle) (Solid, error) {
	const level = 1e-12
	a := &m.a.M
	if math.Abs(a[2])+math.Abs(a[5])+math.Abs(a[6])+math.Abs(a[7]) < level*m.k && a[8] > 0 {
		s, err := Release(m.s, alpha)
		if err != nil {
			return nil, err
		}
		return mapped(s, m.a, m.k), nil
	}
	if !exactOutside(m) {
		return nil, fmt.Errorf("release: %T does not know its exact distance outside", m.s)
	}
	box := m.Bounds()
	if math.IsInf(box.Min.Z, 0) {
		return nil, fmt.Errorf("release: the solid has no bottom")
	}
	return released{m, box.Min.Z, box.Max.Z, alpha, alpha.Sin(), convex(m)}, nil
}

func (Nothing) Release(geom.Angle) (Solid, error) { return Nothing{}, nil }

// Release of a released solid by a smaller angle changes nothing.
func (s released) Release(alpha geom.Angle) (Solid, error) {
	return Release(s.s, max(alpha, s.alpha))
}

type released struct {
	s           Solid
	bottom, top float64
	alpha       geom.Angle
	sin         float64
	hull        bool
}

func (s released) Dist(p geom.Vec) float64 {
	f := func(t float64) float64 { return s.s.Dist(geom.Vec{X: p.X, Y: p.Y, Z: p.Z - t}) - t*s.sin }
	first := f(0)
	// Once the shifted point is below the bottom, d >= t - (p.Z - bottom).
	end := (first + p.Z - s.bottom) / (1 - s.sin)
	if !(end > 0) {
		return first
	}
	if s.hull {
		return least(f, 0, end, first)
	}
	return leastOfAll(f, 0, end, 1+s.sin)
}

func (s released) Bounds() geom.Box {
	b := s.s.Bounds()
	b.Max.Z = math.Inf(1)
	if s.sin > 0 {
		b = geom.Everywhere()
		b.Min.Z = s.bottom
	}
	return b
}

func (s released) ExactOutside() bool       { return true }
func (s released) ExactInside() bool        { return false }
func (s released) convex() bool             { return s.hull }
func (s released) Cell(tol float64) float64 { return s.bends().cell(tol) }
func (s released) Local(b geom.Ball) Solid  { return s.Near(b, 0) }

// bends: the sum with a cone turns no convex curve tighter, but where two parts
// of a concave one meet there is a crease.
func (s released) bends() bends { return bendsOf(s.s) }

func (s released) Near(b geom.Ball, m float64) Solid { return settled(s, s.Dist(b.C), b.R+m) }
