package sdf

import (
	"fmt"

	"buckwright/generate/geom"
)

// Offset is the points within r mm of s (r > 0, dilation), or the points of s at
// least -r from its surface (r < 0, erosion). Both are true offsets. It panics
// unless s is exact on the side that is needed: outside to grow, inside to shrink.
//
// A dilation is exact outside. Inside it is exact only for a convex s that is
// exact on both sides: at a re-entrant edge the dilation keeps a sharp crease,
// to which its field underrates the distance. An erosion is exact inside. Outside
// it is only a bound: it keeps sharp edges that its field sees as round.
// Prisms, balls and capsules stay what they are, exact on both sides; a
// dilation is distributed over a union, an erosion over an intersection, so
// that each part keeps what it can.
func Offset(s Solid, r float64) Solid {
	if r == 0 {
		return s
	}
	if t, ok := s.(interface{ offset(float64) (Solid, bool) }); ok {
		if out, ok := t.offset(r); ok {
			return out
		}
	}
	switch {
	case r > 0 && !exactOutside(s):
		panic(fmt.Sprintf("sdf: Offset(%T, %g): growing needs the exact distance outside", s, r))
	case r < 0 && !exactInside(s):
		panic(fmt.Sprintf("sdf: Offset(%T, %g): shrinking needs the exact distance inside", s, r))
	}
	return offset{s, r}
}

type offset struct {
	s Solid
	r float64
}

func (o offset) Dist(p geom.Vec) float64  { return o.s.Dist(p) - o.r }
func (o offset) Bounds() geom.Box         { return o.s.Bounds().Grow(o.r) }
func (o offset) ExactOutside() bool       { return o.r > 0 }
func (o offset) ExactInside() bool        { return o.r < 0 || convex(o.s) && exactInside(o.s) }
func (o offset) Cell(tol float64) float64 { return o.bends().cell(tol) }
func (o offset) bends() bends             { return bendsOf(o.s).grow(o.r) }
func (o offset) convex() bool             { return convex(o.s) }
func (o offset) Local(b geom.Ball) Solid  { return o.Near(b, 0) }

func (o offset) Near(b geom.Ball, m float64) Solid {
	v := o.Dist(b.C)
	if t := settled(nil, v, b.R+m); t != nil {
		return t
	}
	return nearOffset(Near(o.s, b, m+max(o.r, -o.r)), o.r)
}

func nearOffset(s Solid, r float64) Solid {
	switch t := s.(type) {
	case Nothing, Everything:
		return t
	case HalfSpace:
		return HalfSpace{t.N, t.D + r}
	}
	return offset{s, r}
}

// offset joins two offsets of the same sense; of a convex solid any two that
// end at a dilation.
func (o offset) offset(r float64) (Solid, bool) {
	if o.r > 0 == (r > 0) || o.r+r >= 0 && o.r > 0 && convex(o.s) {
		return Offset(o.s, o.r+r), true
	}
	return nil, false
}

func (h HalfSpace) offset(r float64) (Solid, bool) { return HalfSpace{h.N, h.D + r}, true }
func (Nothing) offset(float64) (Solid, bool)       { return Nothing{}, true }
func (Everything) offset(float64) (Solid, bool)    { return Everything{}, true }

func (c complement) offset(r float64) (Solid, bool) { return Complement(Offset(c.s, -r)), true }

func (u *union) offset(r float64) (Solid, bool) {
	if r < 0 {
		return nil, false
	}
	return Union(offsetAll(u.kids, r)...), true
}

func (x *intersection) offset(r float64) (Solid, bool) {
	if r > 0 {
		return nil, false
	}
	return Intersect(offsetAll(x.kids, r)...), true
}

func offsetAll(s []Solid, r float64) []Solid {
	out := make([]Solid, len(s))
	for i, k := range s {
		out[i] = Offset(k, r)
	}
	return out
}
