package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Nearer is a Localizer that can also keep values, not only signs. Near returns
// a solid whose field, inside the ball, equals the full field wherever either is
// at most m in size, and has the same sign elsewhere. It stays 1-Lipschitz.
// An offset by r needs its child's field kept to r on both sides.
type Nearer interface {
	Near(b geom.Ball, m float64) Solid
}

// Near shortens s for the ball and keeps values up to m mm, or all by
// LocalValue; s itself if it can do neither.
func Near(s Solid, b geom.Ball, m float64) Solid {
	if n, ok := s.(Nearer); ok {
		return n.Near(b, m)
	}
	v := s.Dist(b.C)
	switch {
	case v > b.R+m:
		return Nothing{}
	case v < -b.R-m:
		return Everything{}
	case m == 0:
		return Local(s, b)
	}
	if l, ok := s.(ValueLocalizer); ok {
		return l.LocalValue(b)
	}
	return s
}

// Near keeps a plane as it is while it passes through the ball.
func (h HalfSpace) Near(b geom.Ball, m float64) Solid { return settled(h, h.Dist(b.C), b.R+m) }

// Local is Near with nothing kept but the sign.
func (h HalfSpace) Local(b geom.Ball) Solid { return h.Near(b, 0) }

// Cell is +Inf: a plane may be sampled at any size.
func (h HalfSpace) Cell(float64) float64 { return math.Inf(1) }

func (h HalfSpace) bends() bends { return flat() }
func (h HalfSpace) convex() bool { return true }

// settled replaces s by all or nothing when its value at the centre of a ball
// shows that no value within reach of 0 occurs in it.
func settled(s Solid, centre, reach float64) Solid {
	switch {
	case centre > reach:
		return Nothing{}
	case centre < -reach:
		return Everything{}
	}
	return s
}

func (Nothing) ExactOutside() bool    { return true }
func (Nothing) ExactInside() bool     { return true }
func (Everything) ExactOutside() bool { return true }
func (Everything) ExactInside() bool  { return true }

func (Nothing) Cell(float64) float64    { return math.Inf(1) }
func (Everything) Cell(float64) float64 { return math.Inf(1) }

func (Nothing) bends() bends    { return flat() }
func (Everything) bends() bends { return flat() }
func (Nothing) convex() bool    { return true }
func (Everything) convex() bool { return true }

func exactOutside(s Solid) bool {
	e, ok := s.(Exact)
	return ok && e.ExactOutside()
}

func exactInside(s Solid) bool {
	e, ok := s.(Exact)
	return ok && e.ExactInside()
}

// convex reports whether s is known to be convex.
func convex(s Solid) bool {
	c, ok := s.(interface{ convex() bool })
	return ok && c.convex()
}

// bends tells how a surface curves: the least radius of its outward (convex)
// and inward (concave) curvature, +Inf for none, and whether it has sharp
// convex or concave edges. Sharp edges do not count until an offset rounds them.
type bends struct {
	convex, concave float64
	ridge, valley   bool
}

func flat() bends { return bends{convex: math.Inf(1), concave: math.Inf(1)} }

func (a bends) with(b bends) bends {
	return bends{min(a.convex, b.convex), min(a.concave, b.concave), a.ridge || b.ridge, a.valley || b.valley}
}

func (a bends) sharp() bool { return a.ridge || a.valley }

// flip is the same surface seen from the other side.
func (a bends) flip() bends { return bends{a.concave, a.convex, a.valley, a.ridge} }

// grow is the surface at distance k outside (k > 0) or inside (k < 0).
func (a bends) grow(k float64) bends {
	if k < 0 {
		return a.flip().grow(-k).flip()
	}
	out := bends{convex: a.convex + k, concave: math.Inf(1), valley: a.valley}
	if a.ridge {
		out.convex = min(out.convex, k)
	}
	if a.concave > k {
		out.concave = a.concave - k
	} else {
		out.valley = true
	}
	return out
}

// cell is the largest cell edge whose chords stay within tol of the surface.
// Curves tighter than tol are within tol of any chord, whatever their radius.
func (a bends) cell(tol float64) float64 {
	return math.Sqrt(8 * tol * max(min(a.convex, a.concave), tol))
}

func bendsOf(s Solid) bends {
	switch t := s.(type) {
	case interface{ bends() bends }:
		return t.bends()
	case Resolver:
		const tol = 1e-2 // any value: the radius is the same
		c := t.Cell(tol)
		r := c * c / (8 * tol)
		k, ok := s.(Creaser)
		sharp := !ok || k.Creased()
		return bends{r, r, sharp, sharp}
	}
	return bends{0, 0, true, true}
}
