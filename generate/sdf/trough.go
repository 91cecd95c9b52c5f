package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// trough is the points within r of a segment (+) the upward cone of half angle a.
type trough struct {
	a, b          geom.Vec
	along         geom.Vec2 // horizontal direction from a to b
	run, rise     float64   // from a to b
	r             float64
	lean          float64 // see Dist
	tan, sin, cos float64
}

func newTrough(s capsule, alpha geom.Angle) *trough {
	w := s.b.Sub(s.a)
	t := &trough{a: s.a, b: s.b, along: w.XY().Unit(), run: len2(w.XY()), rise: w.Z, r: s.r,
		tan: alpha.Tan(), sin: alpha.Sin(), cos: alpha.Cos()}
	if g := -w.Z * t.tan / t.run; math.Abs(g) < 1 {
		t.lean = g / math.Sqrt(1-g*g)
	} else {
		t.lean = math.Copysign(math.Inf(1), g)
	}
	return t
}

// Dist is the least distance to the cones that stand on the segment, which is
// convex along it. Its minimum is where the distance to the side of the cone or
// where the distance to its apex has one: for the side, at horizontal distances u
// along and v across with u/hypot(u, v) = -rise tan a / run.
func (s *trough) Dist(p geom.Vec) float64 {
	w := p.Sub(s.a)
	along := w.XY().Dot(s.along)
	across := math.Abs(w.X*s.along.Y - w.Y*s.along.X)
	u := 0.0
	if across > 0 || math.IsInf(s.lean, 0) {
		u = s.lean * max(across, math.SmallestNonzeroFloat64)
	}
	side := s.cone(along, across, w.Z, (along+u)/s.run)
	apex := s.cone(along, across, w.Z, (along*s.run+w.Z*s.rise)/(s.run*s.run+s.rise*s.rise))
	return min(side, apex) - s.r
}

// cone is the distance to the cone at the given part of the way from a to b.
func (s *trough) cone(along, across, z, part float64) float64 {
	part = max(0, min(1, part))
	x, w := along-part*s.run, z-part*s.rise
	d := math.Sqrt(x*x + across*across)
	if d*s.sin+w*s.cos < 0 {
		return math.Sqrt(d*d + w*w)
	}
	return d*s.cos - w*s.sin
}

func (s *trough) Bounds() geom.Box {
	b := geom.BoxOf(s.a, s.b).Grow(s.r)
	if s.tan > 0 {
		b.Min.X, b.Min.Y = math.Inf(-1), math.Inf(-1)
		b.Max.X, b.Max.Y = math.Inf(1), math.Inf(1)
	}
	b.Max.Z = math.Inf(1)
	return b
}

func (s *trough) ExactOutside() bool       { return true }
func (s *trough) ExactInside() bool        { return true } // it is convex, and so is the search
func (s *trough) convex() bool             { return true }
func (s *trough) Cell(tol float64) float64 { return s.bends().cell(tol) }
func (s *trough) bends() bends             { return bends{convex: s.r, concave: math.Inf(1)} }
func (s *trough) Local(b geom.Ball) Solid  { return s.Near(b, 0) }
func (s *trough) Near(b geom.Ball, m float64) Solid {
	return settled(s, s.Dist(b.C), b.R+m)
}

func (s *trough) Release(alpha geom.Angle) (Solid, error) {
	return Release(capsule{s.a, s.b, s.r}, max(alpha, geom.Angle(math.Atan(s.tan))))
}

func (s *trough) offset(r float64) (Solid, bool) {
	t := *s
	t.r += r
	return &t, t.r >= 0
}
