package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Prism is the region g between heights z0 and z1, which may be infinite.
// Exact on both sides if g is.
func Prism(g Region, z0, z1 float64) Solid {
	if _, none := g.(none2); none || !(z0 <= z1) {
		return Nothing{}
	}
	return &prism{plan: asPlanar(g), z0: z0, z1: z1}
}

// RoundPrism is a prism whose top and bottom edges have the radius edge. Upright
// convex edges sharper than that are rounded too: it is the offset of a prism
// smaller by edge. The radius is held to half the height; what of g is narrower than
// twice the radius goes, and if that is all of it, Nothing is left. Exact on both sides
// if g is; only outside if a re-entrant corner of g lies within edge of another wall.
func RoundPrism(g Region, z0, z1, edge float64) Solid {
	edge = max(0, min(edge, (z1-z0)/2))
	if edge == 0 {
		return Prism(g, z0, z1)
	}
	plan := asPlanar(opened(g, edge))
	if _, none := plan.(none2); none {
		return Nothing{}
	}
	if loose(plan, edge) {
		return Offset(Prism(Grow(plan, -edge), z0+edge, z1-edge), edge)
	}
	return &prism{plan, z0, z1, edge}
}

// Box is the box with the given opposite corners. Exact on both sides.
func Box(lo, hi geom.Vec) Solid {
	half := hi.Sub(lo).Scale(0.5)
	g := Place2(Rect(half.X, half.Y, 0), lo.Lerp(hi, 0.5).XY(), 0)
	return Prism(g, lo.Z, hi.Z)
}

// Rod is the upright round rod of radius r about at. Exact on both sides.
func Rod(at geom.Vec2, r, z0, z1 float64) Solid {
	return Prism(Place2(Disc(r), at, 0), z0, z1)
}

type prism struct {
	plan   planar
	z0, z1 float64
	edge   float64 // the plan has no convex corner sharper than this
}

func (s *prism) Dist(p geom.Vec) float64 {
	u := s.plan.Dist(p.XY()) + s.edge
	v := max(s.z0-p.Z, p.Z-s.z1) + s.edge
	if u <= 0 || v <= 0 {
		return max(u, v) - s.edge
	}
	return math.Sqrt(u*u+v*v) - s.edge
}

func (s *prism) Bounds() geom.Box {
	lo, hi := s.plan.Bounds2()
	return geom.Box{Min: lo.At(s.z0), Max: hi.At(s.z1)}
}

func (s *prism) ExactOutside() bool       { o, _ := exact2(s.plan); return o }
func (s *prism) ExactInside() bool        { _, i := exact2(s.plan); return i }
func (s *prism) Cell(tol float64) float64 { return s.bends().cell(tol) }
func (s *prism) convex() bool             { return s.plan.convex2() }

func (s *prism) bends() bends {
	b := s.plan.bends2()
	capped := !math.IsInf(s.z0, -1) || !math.IsInf(s.z1, 1)
	switch {
	case s.edge > 0 && capped:
		b.convex = min(b.convex, s.edge)
	case capped:
		b.ridge = true
	}
	return b
}

func (s *prism) Local(b geom.Ball) Solid { return s.Near(b, 0) }

func (s *prism) Near(b geom.Ball, m float64) Solid {
	band := max(m, s.edge)
	t := *s
	t.plan = s.plan.near2(b.C.XY(), b.R, -band, band)
	if t.z0 < b.C.Z-b.R-band {
		t.z0 = math.Inf(-1)
	}
	if t.z1 > b.C.Z+b.R+band {
		t.z1 = math.Inf(1)
	}
	if max(s.z0-b.C.Z, b.C.Z-s.z1) > b.R+m {
		return Nothing{}
	}
	return t.simplest(m == 0 && s.edge == 0)
}

// simplest replaces the prism by half spaces where few of its faces are left.
// Signs alone may take the place of rounded corner distances.
func (s *prism) simplest(signs bool) Solid {
	caps := s.caps()
	if len(caps) == 0 {
		s.edge = 0 // there is no edge to round
	}
	switch g := s.plan.(type) {
	case none2:
		return Nothing{}
	case all2:
		return Intersect(caps...)
	case plane2:
		if len(caps) == 0 || signs {
			return Intersect(append(caps, upright(g))...)
		}
	case sides2:
		if !signs {
			break
		}
		var sides []Solid
		for _, h := range g.h {
			sides = append(sides, upright(h))
		}
		if g.reflex {
			sides = []Solid{Union(sides...)}
		}
		return Intersect(append(caps, sides...)...)
	}
	return s
}

func (s *prism) caps() []Solid {
	var out []Solid
	if !math.IsInf(s.z0, -1) {
		out = append(out, HalfSpace{geom.V(0, 0, -1), -s.z0})
	}
	if !math.IsInf(s.z1, 1) {
		out = append(out, HalfSpace{geom.V(0, 0, 1), s.z1})
	}
	return out
}

func upright(g plane2) HalfSpace { return HalfSpace{g.n.At(0), g.d} }

// offset keeps a prism a prism: always when it shrinks, and when a convex one
// grows. (A re-entrant corner stays sharp in the plan of the dilation, and no
// plan with a rounded edge gives what becomes of it at the top.)
func (s *prism) offset(r float64) (Solid, bool) {
	if r > 0 && !s.plan.convex2() {
		return nil, false
	}
	t := &prism{asPlanar(Grow(s.plan, r)), s.z0 - r, s.z1 + r, max(0, s.edge+r)}
	if _, gone := t.plan.(none2); gone || t.z0 > t.z1 {
		return Nothing{}, true
	}
	return t, t.ExactInside()
}

// loose reports whether the inward normals at a re-entrant corner of g run into
// another wall before they are r long. Points there are farther from
// the core of g (what shrinking by r leaves) than their own distance tells.
func loose(g planar, r float64) bool {
	if g.convex2() {
		return false
	}
	e := g.pieces()
	for i := range e {
		var arcs []piece
		for _, f := range appendCorner(arcs, &e[i], -r) {
			m, _ := f.mid()
			for _, p := range [3]geom.Vec2{f.a, m, f.b} {
				if g.Dist(p) > touch-r {
					return true
				}
			}
		}
	}
	return false
}
