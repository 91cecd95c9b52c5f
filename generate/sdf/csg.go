package sdf

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Union is the points in any of the solids: none gives Nothing. Its field is the
// least of theirs: exact outside if all are, a bound inside.
func Union(s ...Solid) Solid {
	var kids []Solid
	for _, k := range s {
		switch t := k.(type) {
		case Nothing:
		case Everything:
			return t
		case *union:
			kids = append(kids, t.kids...)
		default:
			kids = append(kids, k)
		}
	}
	kids = parallel(kids, func(a, b float64) bool { return a >= b })
	switch len(kids) {
	case 0:
		return Nothing{}
	case 1:
		return kids[0]
	}
	return newUnion(kids)
}

// parallel keeps, of half spaces that face the same way, the one that wins.
func parallel(kids []Solid, wins func(a, b float64) bool) []Solid {
	var out []Solid
next:
	for _, k := range kids {
		h, ok := k.(HalfSpace)
		for i := range out {
			if g, is := out[i].(HalfSpace); ok && is && h.N.Sub(g.N).Len() < parallelTurn {
				if wins(h.D, g.D) {
					out[i] = h
				}
				continue next
			}
		}
		out = append(out, k)
	}
	return out
}

const parallelTurn = 1e-12 // radians

// facing reports whether two of the half spaces face opposite ways and overlap by
// no less than touch (over false: by no more), so that they fill space (are empty).
func facing(kids []Solid, over bool) bool {
	for i, k := range kids {
		h, ok := k.(HalfSpace)
		if !ok {
			continue
		}
		for _, l := range kids[i+1:] {
			g, ok := l.(HalfSpace)
			if !ok || h.N.Add(g.N).Len() >= parallelTurn {
				continue
			}
			if lap := h.D + g.D; over && lap > -touch || !over && lap < touch {
				return true
			}
		}
	}
	return false
}

// union keeps apart the kids that a tree of boxes can skip: those that are exact
// outside and finite, so that no value is less than the distance to the box.
type union struct {
	kids []Solid
	tree tree3
	free []int // the others
	box  geom.Box
}

func newUnion(kids []Solid) *union {
	u := &union{kids: kids, box: geom.EmptyBox()}
	boxes := make([]geom.Box, len(kids))
	var boxed []int
	for i, k := range kids {
		boxes[i] = k.Bounds()
		u.box = u.box.Union(boxes[i])
		if boxes[i].Min.Finite() && boxes[i].Max.Finite() && exactOutside(k) {
			boxed = append(boxed, i)
		} else {
			u.free = append(u.free, i)
		}
	}
	if len(boxed) <= 2 {
		boxed, u.free = nil, append(u.free, boxed...)
	}
	u.tree = newTree3(boxed, boxes)
	return u
}

func (u *union) Dist(p geom.Vec) float64 {
	return u.below(p, math.Inf(1))
}

// below is the value at p if that is less than best, or best.
func (u *union) below(p geom.Vec, best float64) float64 {
	for _, i := range u.free {
		best = min(best, u.kids[i].Dist(p))
	}
	return u.tree.least(u.kids, p, best)
}

func (u *union) Bounds() geom.Box         { return u.box }
func (u *union) ExactInside() bool        { return false }
func (u *union) ExactOutside() bool       { return allExact(u.kids, exactOutside) }
func (u *union) Cell(tol float64) float64 { return u.bends().cell(tol) }

func (u *union) bends() bends {
	b := bendsOfAll(u.kids)
	b.valley = true
	return b
}

func allExact(s []Solid, side func(Solid) bool) bool {
	for _, k := range s {
		if !side(k) {
			return false
		}
	}
	return true
}

func bendsOfAll(s []Solid) bends {
	b := flat()
	for _, k := range s {
		b = b.with(bendsOf(k))
	}
	return b
}

func (u *union) Local(b geom.Ball) Solid { return u.Near(b, 0) }

// Near drops the kids that win nowhere in the ball.
func (u *union) Near(b geom.Ball, m float64) Solid {
	at := u.tree.within(0, b.C, b.R+m, slices.Clone(u.free))
	slices.Sort(at)
	vals := make([]float64, len(at))
	least := math.Inf(1)
	for i, k := range at {
		vals[i] = u.kids[k].Dist(b.C)
		least = min(least, vals[i])
	}
	if least < -b.R-m {
		return Everything{}
	}
	var keep []Solid
	for i, k := range at {
		if vals[i] <= b.R+m && vals[i] <= least+2*b.R {
			keep = append(keep, Near(u.kids[k], b, m))
		}
	}
	if m == 0 && facing(keep, true) {
		return Everything{} // two parts that share a face
	}
	return Union(keep...)
}

// Intersect is the points in all of the solids: none gives Everything. Its field
// is the greatest of theirs: exact inside if all are, a bound outside.
func Intersect(s ...Solid) Solid {
	var kids []Solid
	for _, k := range s {
		switch t := k.(type) {
		case Everything:
		case Nothing:
			return t
		case *intersection:
			kids = append(kids, t.kids...)
		default:
			kids = append(kids, k)
		}
	}
	kids = parallel(kids, func(a, b float64) bool { return a <= b })
	switch len(kids) {
	case 0:
		return Everything{}
	case 1:
		return kids[0]
	}
	x := &intersection{kids: kids, box: geom.Everywhere()}
	for _, k := range kids {
		x.box = x.box.Intersect(k.Bounds())
		if u, ok := cutUnion(k); ok {
			x.cuts = append(x.cuts, u)
		} else {
			x.plain = append(x.plain, k)
		}
	}
	return x
}

// intersection keeps the complements of unions apart from its other kids:
// they need only look for values that would win.
type intersection struct {
	kids  []Solid
	plain []Solid
	cuts  []*union
	box   geom.Box
}

func cutUnion(s Solid) (*union, bool) {
	c, ok := s.(complement)
	if !ok {
		return nil, false
	}
	u, ok := c.s.(*union)
	return u, ok
}

func (x *intersection) Dist(p geom.Vec) float64 {
	d := math.Inf(-1)
	for _, k := range x.plain {
		d = max(d, k.Dist(p))
	}
	for _, u := range x.cuts {
		d = -u.below(p, -d)
	}
	return d
}

func (x *intersection) Bounds() geom.Box         { return x.box }
func (x *intersection) ExactInside() bool        { return allExact(x.kids, exactInside) }
func (x *intersection) ExactOutside() bool       { return false }
func (x *intersection) Cell(tol float64) float64 { return x.bends().cell(tol) }

func (x *intersection) bends() bends {
	b := bendsOfAll(x.kids)
	b.ridge = true
	return b
}

func (x *intersection) convex() bool {
	for _, k := range x.kids {
		if !convex(k) {
			return false
		}
	}
	return true
}

func (x *intersection) Local(b geom.Ball) Solid { return x.Near(b, 0) }

// Near drops the kids that win nowhere in the ball.
func (x *intersection) Near(b geom.Ball, m float64) Solid {
	vals := make([]float64, len(x.kids))
	most := math.Inf(-1)
	for i, k := range x.kids {
		vals[i] = k.Dist(b.C)
		most = max(most, vals[i])
		if most > b.R+m {
			return Nothing{}
		}
	}
	var keep []Solid
	for i, k := range x.kids {
		if vals[i] >= -b.R-m && vals[i] >= most-2*b.R {
			keep = append(keep, Near(k, b, m))
		}
	}
	if m == 0 && facing(keep, false) {
		return Nothing{} // a cut flush with the face it leaves
	}
	return Intersect(keep...)
}

// Difference is the points of a in none of the cutters: exact inside if a is
// so inside and the cutters outside; a bound outside.
func Difference(a Solid, cutters ...Solid) Solid {
	if c := Union(cutters...); c != (Solid)(Nothing{}) {
		return Intersect(a, Complement(c))
	}
	return a
}

// Complement is all that is not in s.
func Complement(s Solid) Solid {
	switch t := s.(type) {
	case Nothing:
		return Everything{}
	case Everything:
		return Nothing{}
	case HalfSpace:
		return HalfSpace{t.N.Scale(-1), -t.D}
	case complement:
		return t.s
	case *union:
		if planes(t.kids) {
			return Intersect(complements(t.kids)...)
		}
	case *intersection:
		if planes(t.kids) {
			return Union(complements(t.kids)...)
		}
	}
	return complement{s}
}

func complements(s []Solid) []Solid {
	out := make([]Solid, len(s))
	for i, k := range s {
		out[i] = Complement(k)
	}
	return out
}

type complement struct{ s Solid }

func (c complement) Dist(p geom.Vec) float64           { return -c.s.Dist(p) }
func (c complement) Bounds() geom.Box                  { return geom.Everywhere() }
func (c complement) ExactOutside() bool                { return exactInside(c.s) }
func (c complement) ExactInside() bool                 { return exactOutside(c.s) }
func (c complement) bends() bends                      { return bendsOf(c.s).flip() }
func (c complement) Local(b geom.Ball) Solid           { return c.Near(b, 0) }
func (c complement) Near(b geom.Ball, m float64) Solid { return Complement(Near(c.s, b, m)) }

// Cell is that of the same surface seen from the other side.
func (c complement) Cell(tol float64) float64 {
	if r, ok := c.s.(Resolver); ok {
		return r.Cell(tol)
	}
	return c.bends().cell(tol)
}
