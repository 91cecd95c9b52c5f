package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Taper is the solid whose section at height h, from z0 to z1, is Grow(g,
// (z - h) tan slope): g itself at height z, narrower above it for a slope > 0.
// The side has its true distance (within its own section's reach); where side and
// ends meet outside, the value is a bound. Exact inside if g is convex.
func Taper(g Region, z float64, slope geom.Angle, z0, z1 float64) Solid {
	return &taper{asPlanar(g), z, slope.Tan(), slope.Sin(), slope.Cos(), z0, z1}
}

type taper struct {
	plan          planar
	z             float64
	tan, sin, cos float64
	z0, z1        float64
}

func (s *taper) Dist(p geom.Vec) float64 {
	return max(s.plan.Dist(p.XY())*s.cos+(p.Z-s.z)*s.sin, s.z0-p.Z, p.Z-s.z1)
}

func (s *taper) Bounds() geom.Box {
	lo, hi := s.plan.Bounds2()
	k := max((s.z-s.z0)*s.tan, (s.z-s.z1)*s.tan)
	if math.IsNaN(k) {
		k = 0
	}
	d := geom.Vec2{X: k, Y: k}
	return geom.Box{Min: lo.Sub(d).At(s.z0), Max: hi.Add(d).At(s.z1)}
}

func (s *taper) ExactOutside() bool       { return false }
func (s *taper) ExactInside() bool        { _, i := exact2(s.plan); return i && s.plan.convex2() }
func (s *taper) Cell(tol float64) float64 { return s.bends().cell(tol) }
func (s *taper) convex() bool             { return s.plan.convex2() }

func (s *taper) bends() bends {
	b := slopedBends(s.plan.bends2(), (s.z-s.z0)*s.tan, (s.z-s.z1)*s.tan)
	b.ridge = true
	return b
}

// slopedBends is how the side of a solid curves whose sections are a region with
// the given outline grown by anything from one given amount to the other.
func slopedBends(b bends, k0, k1 float64) bends {
	lo, hi := min(k0, k1), max(k0, k1)
	if math.IsInf(lo, 0) || math.IsInf(hi, 0) || math.IsNaN(lo+hi) {
		return bends{0, 0, b.ridge, b.valley}
	}
	if lo == 0 && hi == 0 {
		return b
	}
	return sectionBends(b, lo).with(sectionBends(b, hi))
}

func sectionBends(b bends, k float64) bends {
	if k == 0 {
		return b
	}
	return b.grow(k)
}

func (s *taper) Local(b geom.Ball) Solid { return s.Near(b, 0) }

func (s *taper) Near(b geom.Ball, m float64) Solid {
	if max(s.z0-b.C.Z, b.C.Z-s.z1) > b.R+m {
		return Nothing{}
	}
	t := *s
	t.z0, t.z1 = max(s.z0, b.C.Z-b.R-m), min(s.z1, b.C.Z+b.R+m)
	k0, k1 := (s.z-b.C.Z+b.R)*s.tan, (s.z-b.C.Z-b.R)*s.tan
	slack := m / s.cos
	t.plan = s.plan.near2(b.C.XY(), b.R, min(k0, k1)-slack, max(k0, k1)+slack)
	var caps []Solid
	if t.z0 == s.z0 {
		caps = append(caps, HalfSpace{geom.V(0, 0, -1), -s.z0})
	}
	if t.z1 == s.z1 {
		caps = append(caps, HalfSpace{geom.V(0, 0, 1), s.z1})
	}
	switch g := t.plan.(type) {
	case none2:
		return Nothing{}
	case all2:
		return Intersect(caps...)
	case plane2:
		return Intersect(append(caps, leaning(g, s.z, s.sin, s.cos))...)
	}
	return &taperPart{t, s.z0, s.z1}
}

// taperPart is a taper in a ball: the ends are those of the whole, the heights
// used for its curvature those of the ball.
type taperPart struct {
	taper
	end0, end1 float64
}

func (s *taperPart) Dist(p geom.Vec) float64 {
	return max(s.plan.Dist(p.XY())*s.cos+(p.Z-s.z)*s.sin, s.end0-p.Z, p.Z-s.end1)
}

// Creased is false where the ball reaches no end and the sections grow, or shrink
// by less than it takes for sides to meet in a roof's ridge.
func (s *taperPart) Creased() bool {
	if s.z0 == s.end0 || s.z1 == s.end1 || !s.plan.convex2() {
		return true
	}
	k0, k1 := (s.z-s.z0)*s.tan, (s.z-s.z1)*s.tan
	return min(k0, k1) < 0 && !roundest2(s.plan) || slopedBends(s.plan.bends2(), k0, k1).sharp()
}

func (s *taperPart) whole() *taper {
	t := s.taper
	t.z0, t.z1 = s.end0, s.end1
	return &t
}

func (s *taperPart) Bounds() geom.Box                  { return s.whole().Bounds() }
func (s *taperPart) Local(b geom.Ball) Solid           { return s.whole().Near(b, 0) }
func (s *taperPart) Near(b geom.Ball, m float64) Solid { return s.whole().Near(b, m) }

// leaning is the half plane g grown by (z - h) tan a at height h.
func leaning(g plane2, z, sin, cos float64) HalfSpace {
	return HalfSpace{geom.V(g.n.X*cos, g.n.Y*cos, sin), g.d*cos + z*sin}
}

// flare is the set dist(x, prism) <= edge, of a prism on plan from z up that
// widens upwards without end: the prism (+) the cone of half angle a.
// core is the distance by which the plan is larger than the prism's own.
type flare struct {
	plan          planar
	z             float64 // bottom of the prism
	edge          float64
	tan, sin, cos float64
}

// Dist is the distance to the wedge d <= w tan a, w >= 0 in the half plane of
// plan distance d and height w, less the edge radius.
func (s *flare) Dist(p geom.Vec) float64 {
	d, w := s.plan.Dist(p.XY())+s.edge, p.Z-s.z
	if d > 0 && d*s.sin+w*s.cos < 0 {
		return math.Sqrt(d*d+w*w) - s.edge
	}
	return max(d*s.cos-w*s.sin, -w) - s.edge
}

func (s *flare) Bounds() geom.Box {
	if s.tan == 0 {
		lo, hi := s.plan.Bounds2()
		return geom.Box{Min: lo.At(s.z - s.edge), Max: hi.At(math.Inf(1))}
	}
	b := geom.Everywhere()
	b.Min.Z = s.z - s.edge
	return b
}

func (s *flare) ExactOutside() bool       { o, _ := exact2(s.plan); return o }
func (s *flare) ExactInside() bool        { o, i := exact2(s.plan); return o && i && s.plan.convex2() }
func (s *flare) Cell(tol float64) float64 { return s.bends().cell(tol) }
func (s *flare) convex() bool             { return s.plan.convex2() }
func (s *flare) bends() bends             { return s.bendsOver(0, math.Inf(1), true) }

// bendsOver is how the surface curves for heights w from w0 to w1 over z.
func (s *flare) bendsOver(w0, w1 float64, foot bool) bends {
	b := s.plan.bends2()
	if s.tan > 0 {
		lo := max(0, w0) * s.tan
		b = sectionBends(b, lo)
		if !math.IsInf(w1, 1) {
			b = b.with(sectionBends(s.plan.bends2(), max(0, w1)*s.tan))
		} else if c := s.plan.bends2(); !math.IsInf(c.concave, 1) {
			b.concave, b.valley = 0, true
		}
	}
	switch {
	case foot && s.edge > 0:
		b.convex = min(b.convex, s.edge)
	case foot:
		b.ridge = true
	}
	return b
}

func (s *flare) Local(b geom.Ball) Solid { return s.Near(b, 0) }

func (s *flare) Near(b geom.Ball, m float64) Solid {
	band := m + s.edge
	w0, w1 := b.C.Z-b.R-s.z, b.C.Z+b.R-s.z // heights in the ball
	if w1 < -band {
		return Nothing{}
	}
	slack := band/s.cos + s.edge
	lo, hi := max(0, w0-band)*s.tan-slack, max(0, w1+band)*s.tan+slack
	t := &flarePart{*s, w0 - band, w1 + band}
	t.plan = s.plan.near2(b.C.XY(), b.R, lo, hi)
	foot := w0 <= band
	bottom := HalfSpace{geom.V(0, 0, -1), -(s.z - s.edge)}
	switch g := t.plan.(type) {
	case none2:
		return Nothing{}
	case all2:
		if foot {
			return settled(bottom, bottom.Dist(b.C), b.R+m)
		}
		return Everything{}
	case plane2:
		side := leaning(plane2{g.n, g.d - s.edge}, s.z, -s.sin, s.cos)
		side.D += s.edge
		if !foot {
			return settled(side, side.Dist(b.C), b.R+m)
		}
		if m == 0 && s.edge == 0 {
			return Intersect(bottom, side).(Localizer).Local(b)
		}
	}
	return t
}

// flarePart is a flare in a ball, which it curves within.
type flarePart struct {
	flare
	w0, w1 float64
}

func (s *flarePart) bends() bends             { return s.bendsOver(s.w0, s.w1, s.w0 <= s.edge) }
func (s *flarePart) Creased() bool            { return !s.plan.convex2() || s.bends().sharp() }
func (s *flarePart) Cell(tol float64) float64 { return s.bends().cell(tol) }
