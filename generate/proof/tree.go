package proof

import (
	"math"
	"slices"
)

// Tree finds the nearest facet and the facets along a ray. The facets of a
// closed body also give inside and outside.
type Tree struct {
	Facets []Tri // in the tree's own order
	Index  []int // of each facet in the list that the tree was made from
	nodes  []node
}

type node struct {
	lo, hi      Vec
	left, right int32 // children, or -1
	from, to    int32 // facets of a leaf
}

const leafSize = 4

// NewTree builds a tree by halving along the longest side.
func NewTree(f []Tri) *Tree {
	t := &Tree{Facets: make([]Tri, len(f)), Index: make([]int, len(f))}
	mids := make([]Vec, len(f))
	for i := range f {
		t.Index[i] = i
		mids[i] = f[i].Mid()
	}
	if len(f) > 0 {
		t.split(f, mids, 0, len(f))
	}
	for i, k := range t.Index {
		t.Facets[i] = f[k]
	}
	return t
}

func (t *Tree) split(f []Tri, mids []Vec, from, to int) int32 {
	id := int32(len(t.nodes))
	t.nodes = append(t.nodes, node{left: -1, right: -1, from: int32(from), to: int32(to)})
	part := t.Index[from:to]
	lo := Vec{math.Inf(1), math.Inf(1), math.Inf(1)}
	hi := lo.Mul(-1)
	for _, i := range part {
		for _, p := range f[i] {
			for k := range 3 {
				lo[k], hi[k] = math.Min(lo[k], p[k]), math.Max(hi[k], p[k])
			}
		}
	}
	t.nodes[id].lo, t.nodes[id].hi = lo, hi
	if to-from <= leafSize {
		return id
	}
	axis, size := 0, hi.Sub(lo)
	for k := range 3 {
		if size[k] > size[axis] {
			axis = k
		}
	}
	slices.SortFunc(part, func(a, b int) int {
		switch d := mids[a][axis] - mids[b][axis]; {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return a - b
	})
	half := (from + to) / 2
	left := t.split(f, mids, from, half)
	right := t.split(f, mids, half, to)
	t.nodes[id].left, t.nodes[id].right = left, right
	return id
}

// Hit is a place on a facet.
type Hit struct {
	Dist  float64 // from the query
	At    Vec
	Facet int  // in Tree.Facets; -1: none
	Face  bool // At lies within the facet, not on its edge
}

// Nearest is the closest place within a distance.
func (t *Tree) Nearest(p Vec, within float64) Hit {
	best := Hit{Dist: within, Facet: -1}
	if len(t.nodes) == 0 {
		return best
	}
	best2 := within * within
	var stack [64]int32
	n := 1
	for n > 0 {
		n--
		nd := &t.nodes[stack[n]]
		if nd.dist2(p) >= best2 {
			continue
		}
		if nd.left < 0 {
			for i := nd.from; i < nd.to; i++ {
				q, face := closest(p, &t.Facets[i])
				d := q.Sub(p)
				if d2 := d.Dot(d); d2 < best2 {
					best2 = d2
					best = Hit{At: q, Facet: int(i), Face: face}
				}
			}
			continue
		}
		a, b := nd.left, nd.right
		if t.nodes[a].dist2(p) < t.nodes[b].dist2(p) {
			a, b = b, a
		}
		stack[n], stack[n+1] = a, b // the nearer is taken first
		n += 2
	}
	best.Dist = math.Sqrt(best2)
	return best
}

func (n *node) dist2(p Vec) float64 {
	s := 0.0
	for k := range 3 {
		d := math.Max(0, math.Max(n.lo[k]-p[k], p[k]-n.hi[k]))
		s += d * d
	}
	return s
}

// closest is the point of a facet closest to p, and whether it lies within it: Ericson, Real-Time Collision
// Detection, 2005, section 5.1.5.
func closest(p Vec, t *Tri) (at Vec, face bool) {
	a, b, c := t[0], t[1], t[2]
	ab, ac, ap := b.Sub(a), c.Sub(a), p.Sub(a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return a, false
	}
	bp := p.Sub(b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return b, false
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 {
		return a.Add(ab.Mul(d1 / (d1 - d3))), false
	}
	cp := p.Sub(c)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return c, false
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 {
		return a.Add(ac.Mul(d2 / (d2 - d6))), false
	}
	va := d3*d6 - d5*d4
	if va <= 0 && d4-d3 >= 0 && d5-d6 >= 0 {
		return b.Add(c.Sub(b).Mul((d4 - d3) / ((d4 - d3) + (d5 - d6)))), false
	}
	den := 1 / (va + vb + vc)
	return a.Add(ab.Mul(vb * den)).Add(ac.Mul(vc * den)), true
}

// Ray is the first facet that a ray from p along the unit vector d meets
// farther than from; Facet is -1 when it meets none.
func (t *Tree) Ray(p, d Vec, from float64) Hit {
	best := Hit{Dist: math.Inf(1), Facet: -1}
	t.along(p, d, from, func(i int, at float64) {
		if at < best.Dist {
			best = Hit{Dist: at, Facet: i}
		}
	})
	if best.Facet >= 0 {
		best.At = p.Add(d.Mul(best.Dist))
	}
	return best
}

// Escapes tells whether nothing stands in the way of a ray.
func (t *Tree) Escapes(p, d Vec) bool { return t.Ray(p, d, 1e-7).Facet < 0 }

// Crossings are the distances of all facets along a ray, sorted.
func (t *Tree) Crossings(p, d Vec, from float64) []float64 {
	var all []float64
	t.along(p, d, from, func(_ int, at float64) { all = append(all, at) })
	slices.Sort(all)
	return all
}

func (t *Tree) along(p, d Vec, from float64, hit func(i int, at float64)) {
	if len(t.nodes) == 0 {
		return
	}
	inv := Vec{1 / d[0], 1 / d[1], 1 / d[2]}
	var stack [64]int32
	n := 1
	for n > 0 {
		n--
		nd := &t.nodes[stack[n]]
		if !nd.meets(p, inv, from) {
			continue
		}
		if nd.left < 0 {
			for i := nd.from; i < nd.to; i++ {
				if at, ok := pierce(p, d, &t.Facets[i]); ok && at > from {
					hit(int(i), at)
				}
			}
			continue
		}
		stack[n], stack[n+1] = nd.left, nd.right
		n += 2
	}
}

func (n *node) meets(p, inv Vec, from float64) bool {
	lo, hi := from, math.Inf(1)
	for k := range 3 {
		a, b := (n.lo[k]-p[k])*inv[k], (n.hi[k]-p[k])*inv[k]
		if math.IsNaN(a) || math.IsNaN(b) { // the ray runs within this side's plane
			continue
		}
		if a > b {
			a, b = b, a
		}
		lo, hi = math.Max(lo, a), math.Min(hi, b)
	}
	return lo <= hi+1e-12
}

// pierceEdge is what rounding may take from both triangles at an edge, in parts
// of a side, so that no ray slips through between them.
const pierceEdge = 1e-10

// pierce: Möller and Trumbore, "Fast, minimum storage ray/triangle
// intersection", Journal of Graphics Tools 2(1), 1997.
func pierce(p, d Vec, t *Tri) (float64, bool) {
	e1, e2 := t[1].Sub(t[0]), t[2].Sub(t[0])
	h := d.Cross(e2)
	det := e1.Dot(h)
	if math.Abs(det) < 1e-14 {
		return 0, false
	}
	s := p.Sub(t[0])
	u := s.Dot(h) / det
	if u < -pierceEdge || u > 1+pierceEdge {
		return 0, false
	}
	q := s.Cross(e1)
	v := d.Dot(q) / det
	if v < -pierceEdge || u+v > 1+pierceEdge {
		return 0, false
	}
	return e2.Dot(q) / det, true
}

// lots are the directions that Inside votes with: none lies along an axis or a diagonal.
var lots = [3]Vec{
	Vec{0.5377, 0.2231, 0.8131}.Unit(), Vec{-0.3121, 0.8417, 0.4401}.Unit(), Vec{0.2719, -0.6143, -0.7407}.Unit(),
}

// Inside tells whether p lies in the closed body, by the parity of three rays.
func (t *Tree) Inside(p Vec) bool {
	if len(t.nodes) == 0 || t.nodes[0].dist2(p) > 0 {
		return false
	}
	votes := 0
	for i, d := range lots {
		if len(t.Crossings(p, d, 0))%2 == 1 {
			votes++
		}
		if i == 1 && votes != 1 {
			break
		}
	}
	return votes >= 2
}

// Signed is the distance to the body's surface, negative inside; farther than
// within it is within, on either side. Where the nearest place lies within a
// facet, the facet's side tells, because nothing stands between; on edges and
// corners rays do.
func (t *Tree) Signed(p Vec, within float64) float64 {
	h := t.Nearest(p, within)
	if h.Facet < 0 {
		return h.Dist
	}
	inside := false
	if h.Face && h.Dist > 1e-9 {
		f := &t.Facets[h.Facet]
		inside = f[1].Sub(f[0]).Cross(f[2].Sub(f[0])).Dot(p.Sub(h.At)) < 0
	} else {
		inside = t.Inside(p)
	}
	if inside {
		return -h.Dist
	}
	return h.Dist
}
