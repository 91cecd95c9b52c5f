package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// RoundIntersect is the points in both a and b, the edge between their surfaces
// rounded by r. Where both reach within r of the edge the field is
// hypot(r + da, r + db) - r, elsewhere max(da, db). A circle of radius r results
// where the faces meet at a right angle, an ellipse elsewhere. maxCos is the
// largest |cosine| of the angle between the two gradients where both surfaces
// are within r (0 for perpendicular faces): the field is divided by sqrt(1 +
// maxCos), which keeps it 1-Lipschitz and its zero set as it is. A bound on both sides.
func RoundIntersect(a, b Solid, r, maxCos float64) Solid {
	if r <= 0 {
		return Intersect(a, b)
	}
	c := max(0, min(math.Abs(maxCos), 1))
	return &blend{a, b, r, 1 / math.Sqrt(1+c), r * math.Sqrt(1-c) / (1 + c)}
}

// RoundIntersectAny is RoundIntersect where the gradients of surfaces that are both within
// r may be at any angle; edgeCos is the largest |cosine| between them at the edge itself,
// which the least radius of the rounded edge goes by.
func RoundIntersectAny(a, b Solid, r, edgeCos float64) Solid {
	s := RoundIntersect(a, b, r, edgeCos)
	if t, ok := s.(*blend); ok {
		t.unit = 1 / math.Sqrt2
	}
	return s
}

type blend struct {
	a, b      Solid
	r         float64
	unit      float64 // factor that makes the field 1-Lipschitz
	tightness float64 // least radius of the rounded edge
}

func (s *blend) Dist(p geom.Vec) float64 {
	u, v := s.r+s.a.Dist(p), s.r+s.b.Dist(p)
	if u <= 0 || v <= 0 {
		return (max(u, v) - s.r) * s.unit
	}
	return (math.Sqrt(u*u+v*v) - s.r) * s.unit
}

func (s *blend) Bounds() geom.Box         { return s.a.Bounds().Intersect(s.b.Bounds()) }
func (s *blend) ExactOutside() bool       { return false }
func (s *blend) ExactInside() bool        { return false }
func (s *blend) Cell(tol float64) float64 { return s.bends().cell(tol) }

func (s *blend) bends() bends {
	b := bendsOf(s.a).with(bendsOf(s.b))
	b.convex = min(b.convex, s.tightness)
	return b
}

func (s *blend) Local(b geom.Ball) Solid { return s.Near(b, 0) }

func (s *blend) Near(b geom.Ball, m float64) Solid {
	va, vb := s.a.Dist(b.C), s.b.Dist(b.C)
	raw := m / s.unit
	if m == 0 || s.unit == 1 {
		switch deep := -s.r - b.R - raw; {
		case max(va, vb) > b.R+raw:
			return Nothing{}
		case vb < deep:
			return Near(s.a, b, m)
		case va < deep:
			return Near(s.b, b, m)
		}
	}
	t := *s
	t.a, t.b = Near(s.a, b, s.r+raw), Near(s.b, b, s.r+raw)
	return &t
}
