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
// A union or a dilation is released part by part; an upright prism, a ball, a
// capsule and a body of revolution by a closed form. Any other convex body takes
// the least of d(p - t z) - t sin alpha over t >= 0, which is convex in t, to
// 1e-9 mm. The rest take the least over all t: the slope in t is at most 1 + sin
// alpha, so stretches that cannot hold a lower value are left out, the others
// halved down to 0.05 mm and searched as if each had one minimum.
func Release(s Solid, alpha geom.Angle) (Solid, error) {
	if !(alpha >= 0 && alpha < 80*geom.Degree) {
		return nil, fmt.Errorf("release: angle %.4g degrees is outside 0 to 80", alpha.Degrees())
	}
	if t, ok := s.(Releaser); ok {
		return t.Release(alpha)
	}
	return sweep(s, alpha)
}

// sweep is the release of a solid that has no shortcut.
func sweep(s Solid, alpha geom.Angle) (Solid, error) {
	if !exactOutside(s) {
		return nil, fmt.Errorf("release: %T does not know its exact distance outside", s)
	}
	box := s.Bounds()
	if math.IsInf(box.Min.Z, 0) {
		return nil, fmt.Errorf("release: the solid has no bottom")
	}
	r := &released{s: s, bottom: box.Min.Z, alpha: alpha, sin: alpha.Sin(), tan: alpha.Tan(), hull: convex(s)}
	if r.hull && grades(s) {
		r.grade = s.(Grader)
	}
	return r, nil
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

func (s *prism) Release(alpha geom.Angle) (Solid, error) {
	if !s.ExactOutside() || math.IsInf(s.z0, 0) {
		return nil, fmt.Errorf("release: the prism has no bottom or no exact plan")
	}
	return &flare{s.plan, s.z0 + s.edge, s.edge, alpha.Tan(), alpha.Sin(), alpha.Cos()}, nil
}

// Release of a released prism by a smaller angle changes nothing.
func (s *flare) Release(alpha geom.Angle) (Solid, error) {
	a := max(alpha, geom.Angle(math.Atan(s.tan)))
	return &flare{s.plan, s.z, s.edge, a.Tan(), a.Sin(), a.Cos()}, nil
}

// Release of a moved solid moves the released one, if the move keeps up up.
func (m *moved) Release(alpha geom.Angle) (Solid, error) {
	const level = 1e-12
	a := &m.a.M
	if math.Abs(a[2])+math.Abs(a[5])+math.Abs(a[6])+math.Abs(a[7]) < level*m.k && a[8] > 0 {
		s, err := Release(m.s, alpha)
		if err != nil {
			return nil, err
		}
		return mapped(s, m.a, m.k), nil
	}
	return sweep(m, alpha)
}

func (Nothing) Release(geom.Angle) (Solid, error) { return Nothing{}, nil }

// Release of a released solid by a smaller angle changes nothing.
func (s *released) Release(alpha geom.Angle) (Solid, error) {
	return Release(s.s, max(alpha, s.alpha))
}

// Release of a ball is a ball rolled along the cone: that of a rod's foot.
func (s capsule) Release(alpha geom.Angle) (Solid, error) {
	if s.a.XY() == s.b.XY() { // the upper end stands in the cone of the lower
		return &flare{disc{s.a.XY(), s.r}, min(s.a.Z, s.b.Z), s.r, alpha.Tan(), alpha.Sin(), alpha.Cos()}, nil
	}
	return newTrough(s, alpha), nil
}

type released struct {
	s        Solid
	grade    Grader // s, if it is convex and gives its gradient
	bottom   float64
	alpha    geom.Angle
	sin, tan float64
	hull     bool
}

func (s *released) Dist(p geom.Vec) float64 {
	d, _ := s.search(p)
	return d
}

// search is the distance, and the height of the cone at which it is met.
func (s *released) search(p geom.Vec) (d, t float64) {
	if s.grade != nil {
		return s.graded(p)
	}
	f := func(t float64) float64 { return s.s.Dist(down(p, t)) - t*s.sin }
	first := f(0)
	// Once the shifted point is below the bottom, d >= t - (p.Z - bottom).
	end := (first + p.Z - s.bottom) / (1 - s.sin)
	switch {
	case !(end > 0):
		return first, 0
	case s.hull:
		return least(f, 0, end, first)
	}
	return leastOfAll(f, 0, end, 1+s.sin)
}

func down(p geom.Vec, t float64) geom.Vec { return geom.Vec{X: p.X, Y: p.Y, Z: p.Z - t} }

func (s *released) graded(p geom.Vec) (d, t float64) {
	at := func(t float64) (f, slope float64) {
		d, g := s.grade.Grad(down(p, t))
		return d - t*s.sin, -g.Z - s.sin
	}
	f, slope := at(0)
	// Far down the value is at least the height below the bottom: a line of slope 1 - sin.
	rise := 1 - s.sin
	end := max(0, (f+p.Z-s.bottom)/rise)
	return leastConvex(at, sample{0, f, slope}, sample{end, end*rise - (p.Z - s.bottom), rise})
}

func (s *released) Bounds() geom.Box {
	b := s.s.Bounds()
	b.Max.Z = math.Inf(1)
	if s.sin > 0 {
		b = geom.Everywhere()
		b.Min.Z = s.bottom
	}
	return b
}

func (s *released) ExactOutside() bool       { return true }
func (s *released) ExactInside() bool        { return false }
func (s *released) convex() bool             { return s.hull }
func (s *released) Cell(tol float64) float64 { return s.bends().cell(tol) }
func (s *released) Local(b geom.Ball) Solid  { return s.Near(b, 0) }

// bends: a sharp edge or corner of the solid leaves a cone, of any radius.
func (s *released) bends() bends { return s.bendsAt(0) }

// bendsAt is how the solid curves where the cones are h high.
func (s *released) bendsAt(h float64) bends {
	b := bendsOf(s.s)
	if b.ridge {
		b.convex = min(b.convex, h*s.tan)
	}
	if !s.hull {
		b.valley = true
		if !math.IsInf(b.concave, 1) {
			b.concave = 0
		}
	}
	return b
}

func (s *released) Near(b geom.Ball, m float64) Solid {
	return settled(&releasedPart{s, b.C}, s.Dist(b.C), b.R+m)
}

// releasedPart is a released solid in a ball about c, for whose curvature it
// takes the height of the cones at c.
type releasedPart struct {
	*released
	c geom.Vec
}

func (s *releasedPart) Cell(tol float64) float64 { return s.bends().cell(tol) }

func (s *releasedPart) bends() bends {
	if _, h := s.search(s.c); h > 0 {
		return s.bendsAt(h)
	}
	return bendsOf(s.s) // the solid itself is nearest
}
