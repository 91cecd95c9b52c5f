package sdf

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// tree3 is a binary tree of boxes over some kids of a union: those whose value
// is never less than the distance to their box. Node i has the children 2i+1 and
// 2i+2; the kids are in the leaves.
type tree3 struct {
	nodes []node3
}

type node3 struct {
	box geom.Box
	kid int // -1 in a branch
}

// newTree3 sorts kids, given by index and box, into a tree.
func newTree3(kids []int, boxes []geom.Box) tree3 {
	if len(kids) == 0 {
		return tree3{}
	}
	depth := 0
	for 1<<depth < len(kids) {
		depth++
	}
	t := tree3{make([]node3, 2<<depth-1)}
	for i := range t.nodes {
		t.nodes[i] = node3{geom.EmptyBox(), -1}
	}
	t.fill(0, slices.Clone(kids), boxes)
	return t
}

func (t *tree3) fill(i int, kids []int, boxes []geom.Box) {
	n := &t.nodes[i]
	for _, k := range kids {
		n.box = n.box.Union(boxes[k])
	}
	if len(kids) == 1 {
		n.kid = kids[0]
		return
	}
	axis := longest(n.box.Size())
	slices.SortStableFunc(kids, func(a, b int) int {
		return cmp.Compare(boxes[a].Center().Axis(axis), boxes[b].Center().Axis(axis))
	})
	mid := (len(kids) + 1) / 2
	t.fill(2*i+1, kids[:mid], boxes)
	t.fill(2*i+2, kids[mid:], boxes)
}

// longest is the axis along which v is longest.
func longest(v geom.Vec) int {
	switch {
	case v.X >= v.Y && v.X >= v.Z:
		return 0
	case v.Y >= v.Z:
		return 1
	}
	return 2
}

// sqDist is the squared distance from p to b.
func sqDist(b *geom.Box, p geom.Vec) float64 {
	x := max(b.Min.X-p.X, p.X-b.Max.X, 0)
	y := max(b.Min.Y-p.Y, p.Y-b.Max.Y, 0)
	z := max(b.Min.Z-p.Z, p.Z-b.Max.Z, 0)
	return x*x + y*y + z*z
}

// least is the least value of the kids at p if that is below best, or best.
func (t *tree3) least(s []Solid, p geom.Vec, best float64) float64 {
	if len(t.nodes) == 0 {
		return best
	}
	return t.leastUnder(0, s, p, best)
}

func (t *tree3) leastUnder(i int, s []Solid, p geom.Vec, best float64) float64 {
	if k := t.nodes[i].kid; k >= 0 {
		return min(best, s[k].Dist(p))
	}
	a, b := 2*i+1, 2*i+2
	qa, qb := sqDist(&t.nodes[a].box, p), sqDist(&t.nodes[b].box, p)
	if qb < qa {
		a, b, qa, qb = b, a, qb, qa
	}
	if !beyond(qa, best) {
		best = t.leastUnder(a, s, p, best)
	}
	if !beyond(qb, best) {
		best = t.leastUnder(b, s, p, best)
	}
	return best
}

// beyond reports whether nothing at that squared distance can be below best.
func beyond(sq, best float64) bool {
	best = max(best, 0)
	return sq > best*best*(1+1e-12) || math.IsInf(sq, 1)
}

// within appends the kids whose boxes come within r of p.
func (t *tree3) within(i int, p geom.Vec, r float64, out []int) []int {
	if len(t.nodes) == 0 || !(sqDist(&t.nodes[i].box, p) <= r*r*(1+1e-12)) {
		return out
	}
	if k := t.nodes[i].kid; k >= 0 {
		return append(out, k)
	}
	return t.within(2*i+2, p, r, t.within(2*i+1, p, r, out))
}
