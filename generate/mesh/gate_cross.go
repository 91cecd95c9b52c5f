package mesh

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"buckwright/generate/geom"
)

// crossings looks for triangles that meet in more than they share. Of several it
// tells the pair with the lowest numbers.
func (g *gate) crossings() *Fault {
	if p := g.crossingPairs(1); len(p) > 0 {
		return g.fault("triangles cross", g.middle(int(p[0][0])), p[0][0], p[0][1])
	}
	return nil
}

// crossingPairs lists up to about most pairs of crossing triangles, sorted; with
// 1 it stops looking beyond the lowest first triangle found so far.
func (g *gate) crossingPairs(most int) [][2]int32 {
	tree := newGateTree(g, nil)
	var mu sync.Mutex
	var out [][2]int32
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for {
				const run = 64
				lo := int(next.Add(run)) - run
				mu.Lock()
				enough := most == 1 && len(out) > 0 && int(slices.MinFunc(out, gateOrder)[0]) < lo
				mu.Unlock()
				if lo >= len(g.t) || enough {
					return
				}
				for i := lo; i < min(lo+run, len(g.t)); i++ {
					tree.meet(int32(i), func(j int32) {
						if int(j) > i && g.cross(int32(i), j) {
							mu.Lock()
							out = append(out, [2]int32{int32(i), j})
							mu.Unlock()
						}
					})
				}
			}
		})
	}
	wg.Wait()
	slices.SortFunc(out, gateOrder)
	return out
}

func gateOrder(a, b [2]int32) int {
	if a[0] != b[0] {
		return int(a[0] - b[0])
	}
	return int(a[1] - b[1])
}

// cross reports that triangles i and j meet in more than they share.
func (g *gate) cross(i, j int32) bool {
	s, t := g.t[i], g.t[j]
	shared, is, it := 0, 0, 0 // is, it: after one match the shared corners, after two the free ones
	for a := range 3 {
		for b := range 3 {
			if s[a] == t[b] {
				shared++
				if shared == 1 {
					is, it = a, b
				} else {
					is, it = 3-is-a, 3-it-b
				}
			}
		}
	}
	switch shared {
	case 0:
		return g.apart(s, t)
	case 1:
		return g.touches(s[(is+1)%3], s[(is+2)%3], t) || g.touches(t[(it+1)%3], t[(it+2)%3], s)
	case 2:
		a, b := s[(is+1)%3], s[(is+2)%3]
		if g.x.side(a, b, s[is], t[it]) != 0 {
			return false
		}
		axis := g.x.flat(s)
		return g.x.turn(a, b, s[is], axis)*g.x.turn(a, b, t[it], axis) > 0
	}
	return true
}

// apart tests two triangles without common vertices.
func (g *gate) apart(s, t [3]int32) bool {
	var d [3]int
	for k := range 3 {
		d[k] = g.x.side(t[0], t[1], t[2], s[k])
	}
	if d[0]*d[1] > 0 && d[0]*d[2] > 0 {
		return false
	}
	for k := range 3 {
		if g.touches(s[k], s[(k+1)%3], t) || g.touches(t[k], t[(k+1)%3], s) {
			return true
		}
	}
	return false
}

// touches reports that the segment pq meets triangle t, rim included.
func (g *gate) touches(p, q int32, t [3]int32) bool {
	a, b := g.x.side(t[0], t[1], t[2], p), g.x.side(t[0], t[1], t[2], q)
	if a*b > 0 {
		return false
	}
	if a == 0 && b == 0 {
		return g.touchesFlat(p, q, t)
	}
	u, v, w := g.x.side(p, q, t[0], t[1]), g.x.side(p, q, t[1], t[2]), g.x.side(p, q, t[2], t[0])
	return u >= 0 && v >= 0 && w >= 0 || u <= 0 && v <= 0 && w <= 0
}

// touchesFlat is touches when all five points lie in one plane.
func (g *gate) touchesFlat(p, q int32, t [3]int32) bool {
	axis := g.x.flat(t)
	if g.x.holds(t, p, axis) || g.x.holds(t, q, axis) {
		return true
	}
	for k := range 3 {
		if g.x.meet(p, q, t[k], t[(k+1)%3], axis) {
			return true
		}
	}
	return false
}

// tangled lists the triangles of tris that are degenerate, have corners that
// nearly coincide, or cross another triangle, and the triangles they cross.
func (g *gate) tangled(tris []int32) []int32 {
	var bad []int32
	for _, i := range tris {
		if g.narrow(g.t[i]) {
			bad = append(bad, i)
		}
	}
	tree := newGateTree(g, tris)
	met := make([][]int32, len(g.t))
	_ = octChunks(context.Background(), len(g.t), runtime.GOMAXPROCS(0), func(j int) {
		tree.meet(int32(j), func(i int32) {
			if int(i) != j && g.cross(i, int32(j)) {
				met[j] = append(met[j], i, int32(j))
			}
		})
	})
	return append(bad, slices.Concat(met...)...)
}

// narrow reports that a triangle is degenerate or has corners that nearly coincide.
func (g *gate) narrow(t [3]int32) bool {
	a, b, c := g.v[t[0]], g.v[t[1]], g.v[t[2]]
	return min(a.Dist(b), b.Dist(c), c.Dist(a)) < gateNear || g.x.collinear(t[0], t[1], t[2])
}

// gateTree finds the triangles whose boxes overlap: a binary tree of boxes over
// triangles sorted along a space-filling curve.
type gateTree struct {
	g     *gate
	order []int32
	node  []geom.Box // heap layout: 1 is the root
	leafs int        // leaves, a power of two
}

const gateBunch = 4 // triangles a leaf

// newGateTree sorts the given triangles, all if there are none given.
func newGateTree(g *gate, tris []int32) *gateTree {
	tr := &gateTree{g: g, order: slices.Clone(tris)}
	if tris == nil {
		tr.order = make([]int32, len(g.t))
		for i := range tr.order {
			tr.order[i] = int32(i)
		}
	}
	tr.leafs = 1
	for tr.leafs*gateBunch < len(tr.order) {
		tr.leafs *= 2
	}
	tr.node = make([]geom.Box, 2*tr.leafs)
	tr.build(1, 0, len(tr.order))
	return tr
}

// box is the box of triangle i.
func (g *gate) box(i int32) geom.Box {
	t := g.t[i]
	a, b, c := g.v[t[0]], g.v[t[1]], g.v[t[2]]
	return geom.Box{Min: a.Min(b).Min(c), Max: a.Max(b).Max(c)}
}

// build makes node k over order[lo:hi], halved across its longest side.
func (tr *gateTree) build(k, lo, hi int) {
	box, mids := geom.EmptyBox(), geom.EmptyBox()
	for _, i := range tr.order[lo:hi] {
		b := tr.g.box(i)
		box = box.Union(b)
		mids = mids.Include(b.Center())
	}
	tr.node[k] = box
	if k >= tr.leafs {
		return
	}
	axis, d := 0, mids.Size()
	if d.Y > d.X {
		axis = 1
	}
	if d.Z > max(d.X, d.Y) {
		axis = 2
	}
	mid := (lo + hi) / 2
	gateSelect(tr.order[lo:hi], mid-lo, func(i int32) float64 {
		t := tr.g.t[i]
		a, b, c := tr.g.v[t[0]].Axis(axis), tr.g.v[t[1]].Axis(axis), tr.g.v[t[2]].Axis(axis)
		return min(a, b, c) + max(a, b, c)
	})
	tr.build(2*k, lo, mid)
	tr.build(2*k+1, mid, hi)
}

// gateSelect puts the n smallest first, by key and then by number.
func gateSelect(s []int32, n int, key func(int32) float64) {
	for len(s) > 16 {
		mid := len(s) / 2
		pivot, pk := s[mid], key(s[mid])
		s[mid], s[len(s)-1] = s[len(s)-1], s[mid]
		m := 0
		for i, v := range s[:len(s)-1] {
			if k := key(v); k < pk || k == pk && v < pivot {
				s[i], s[m] = s[m], s[i]
				m++
			}
		}
		s[m], s[len(s)-1] = s[len(s)-1], s[m]
		switch {
		case n <= m:
			s = s[:m]
		default:
			s, n = s[m+1:], n-m-1
		}
		if n == 0 {
			return
		}
	}
	slices.SortFunc(s, func(a, b int32) int {
		ka, kb := key(a), key(b)
		switch {
		case ka < kb:
			return -1
		case ka > kb:
			return 1
		}
		return int(a - b)
	})
}

// meet calls f for every triangle of the tree whose box meets the box of i.
func (tr *gateTree) meet(i int32, f func(j int32)) {
	var stack [64]struct{ k, lo, hi int }
	stack[0].k, stack[0].lo, stack[0].hi = 1, 0, len(tr.order)
	box := tr.g.box(i)
	b := &box
	for n := 1; n > 0; {
		n--
		e := stack[n]
		if !gateMeets(&tr.node[e.k], b) {
			continue
		}
		if e.k >= tr.leafs {
			for _, j := range tr.order[e.lo:e.hi] {
				if own := tr.g.box(j); gateMeets(&own, b) {
					f(j)
				}
			}
			continue
		}
		mid := (e.lo + e.hi) / 2
		stack[n].k, stack[n].lo, stack[n].hi = 2*e.k, e.lo, mid
		stack[n+1].k, stack[n+1].lo, stack[n+1].hi = 2*e.k+1, mid, e.hi
		n += 2
	}
}

func gateMeets(a, b *geom.Box) bool {
	return a.Min.X <= b.Max.X && b.Min.X <= a.Max.X &&
		a.Min.Y <= b.Max.Y && b.Min.Y <= a.Max.Y &&
		a.Min.Z <= b.Max.Z && b.Min.Z <= a.Max.Z
}
