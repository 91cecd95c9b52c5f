package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// tree2 is a binary tree over runs of consecutive pieces, which lie close
// together because they follow each other. Node i has the children 2i+1 and 2i+2.
type tree2 struct {
	nodes []node2
}

type node2 struct {
	lo, hi   geom.Vec2
	from, to int32 // pieces of a leaf; from < 0 in a branch
}

const leaf2 = 4

func newTree2(e []piece) tree2 {
	if len(e) <= 3*leaf2 {
		return tree2{}
	}
	depth := 0
	for leaf2<<depth < len(e) {
		depth++
	}
	t := tree2{make([]node2, 2<<depth-1)}
	t.fill(0, e, 0, len(e), depth)
	return t
}

func (t *tree2) fill(i int, e []piece, from, to, depth int) (lo, hi geom.Vec2) {
	n := &t.nodes[i]
	n.lo, n.hi = inf2(), inf2().Scale(-1)
	if depth == 0 {
		n.from, n.to = int32(from), int32(to)
		for k := from; k < to; k++ {
			n.include(e[k].box())
		}
		return n.lo, n.hi
	}
	n.from = -1
	mid := (from + to) / 2
	n.include(t.fill(2*i+1, e, from, mid, depth-1))
	n.include(t.fill(2*i+2, e, mid, to, depth-1))
	return n.lo, n.hi
}

func (n *node2) include(lo, hi geom.Vec2) {
	n.lo, n.hi = lower(n.lo, lo), upper(n.hi, hi)
}

// sq is the squared distance from p to the node's box.
func (n *node2) sq(p geom.Vec2) float64 {
	x := max(n.lo.X-p.X, p.X-n.hi.X, 0)
	y := max(n.lo.Y-p.Y, p.Y-n.hi.Y, 0)
	return x*x + y*y
}

// dist is the signed distance from p to the nearest piece.
func (t *tree2) dist(e []piece, p geom.Vec2) float64 {
	best := math.Inf(1)
	if t.nodes == nil {
		for i := range e {
			best = e[i].closer(p, best)
		}
		return best
	}
	return t.closer(0, e, p, best)
}

func (t *tree2) closer(i int, e []piece, p geom.Vec2, best float64) float64 {
	n := &t.nodes[i]
	if n.from >= 0 {
		for k := n.from; k < n.to; k++ {
			best = e[k].closer(p, best)
		}
		return best
	}
	a, b := 2*i+1, 2*i+2
	qa, qb := t.nodes[a].sq(p), t.nodes[b].sq(p)
	if qb < qa {
		a, b, qa, qb = b, a, qb, qa
	}
	if qa < best*best {
		best = t.closer(a, e, p, best)
	}
	if qb < best*best {
		best = t.closer(b, e, p, best)
	}
	return best
}
