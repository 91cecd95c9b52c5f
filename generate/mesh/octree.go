package mesh

import (
	"context"
	"math"
	"math/bits"
	"sync"
	"sync/atomic"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// octGrid is the lattice under an octree. Its points are exact in float32 and
// in the grid that vertices are rounded to.
type octGrid struct {
	origin geom.Vec
	h      float64  // mm, edge of the finest cell
	block  int32    // edge of a root cell, in finest cells
	n      [3]int32 // root cells per axis
}

// at is the position of a lattice point; every cell gets the same bits.
func (g *octGrid) at(p octPoint) geom.Vec {
	return geom.Vec{
		X: g.origin.X + float64(p[0])*g.h,
		Y: g.origin.Y + float64(p[1])*g.h,
		Z: g.origin.Z + float64(p[2])*g.h,
	}
}

// cell is the least corner of the finest cell that holds p.
func (g *octGrid) cell(p geom.Vec) octPoint {
	d := p.Sub(g.origin).Scale(1 / g.h)
	return octPoint{int32(math.Floor(d.X)), int32(math.Floor(d.Y)), int32(math.Floor(d.Z))}
}

// ball is the ball around a cell.
func (g *octGrid) ball(p octPoint, size int32) geom.Ball {
	half := float64(size) * g.h / 2
	c := g.at(p).Add(geom.Vec{X: half, Y: half, Z: half})
	return geom.Ball{C: c, R: half * octRoot3}
}

const octRoot3 = 1.7320508075688773

// octPoint is a lattice point.
type octPoint [3]int32

func (p octPoint) plus(axis int, d int32) octPoint { p[axis] += d; return p }

// octCorner is corner i of a cell: bit 0 is x, bit 1 is y, bit 2 is z.
func (p octPoint) corner(i int, size int32) octPoint {
	for a := range 3 {
		if i>>a&1 != 0 {
			p[a] += size
		}
	}
	return p
}

const (
	octEmpty  = iota // the surface does not reach the cell
	octActive        // a leaf that the surface may cross
	octSplit         // has children
)

// octNode is a cell of the tree.
type octNode struct {
	min   octPoint
	size  int32
	child int32 // first of eight
	kind  int8
	finer bool // a leaf: touches one of half its size
	octNature
	found *[]qefPlane // what a search within it found, when it was judged
	solid sdf.Solid   // shortened to the cell's ball
}

// octNature is what is known of the surface in a leaf.
type octNature struct {
	planar bool // made of planes
	smooth bool // one curve, without a crease
}

// octree is a forest of cells: a box of root cells, each split as the surface asks.
type octree struct {
	octGrid
	octRules
	whole sdf.Solid
	nodes []octNode // the first n[0]*n[1]*n[2] are the roots

	down     []int32 // the index, for those who look
	balanced int     // nodes that balance has seen
	cut      []int32 // leaves split since the skeleton last looked
}

// octRules says how far cells are split.
type octRules struct {
	sag   float64 // mm, chords across a cell may leave the surface by this
	tol   float64 // mm, creases may be missed by a fraction of this
	floor int32   // least cell for the sake of shape, in finest cells
	blind float64 // mm, largest cell where nothing is known of the solid
	soft  bool    // triangles are divided later: cells without a crease may be larger
}

// build splits every root. Roots are independent, so that workers share them.
func (t *octree) build(ctx context.Context, s sdf.Solid, workers int) error {
	t.whole = s
	count := int(t.n[0]) * int(t.n[1]) * int(t.n[2])
	parts := make([][]octNode, count)
	err := octParallel(ctx, count, workers, func(i int) {
		root := octNode{min: t.root(int32(i)), size: t.block, solid: s}
		b := octBuilder{tree: t, nodes: []octNode{root}}
		b.visit(0)
		parts[i] = b.nodes
	})
	if err != nil {
		return err
	}
	t.nodes = make([]octNode, count)
	for i, p := range parts {
		base := int32(len(t.nodes)) - 1 // child 1 of the part comes here
		for j := range p {
			if p[j].kind == octSplit {
				p[j].child += base
			}
		}
		t.nodes[i] = p[0]
		t.nodes = append(t.nodes, p[1:]...)
	}
	return nil
}

// root is the least corner of root cell i.
func (g *octGrid) root(i int32) octPoint {
	return octPoint{i % g.n[0] * g.block, i / g.n[0] % g.n[1] * g.block, i / (g.n[0] * g.n[1]) * g.block}
}

// find is the leaf that holds the finest cell at p, or -1 outside.
func (t *octree) find(p octPoint) int32 {
	i, level := t.rootOf(p)
	for i >= 0 && t.nodes[i].kind == octSplit {
		level--
		i = t.nodes[i].child + p.child(level)
	}
	return i
}

// rootOf is the root that holds the finest cell at p, or -1 outside, and its level.
func (g *octGrid) rootOf(p octPoint) (i int32, level int) {
	level = bits.TrailingZeros32(uint32(g.block)) // it is a power of two
	var r octPoint
	for a := range 3 {
		if r[a] = p[a] >> level; r[a] < 0 || r[a] >= g.n[a] {
			return -1, level
		}
	}
	return r[0] + g.n[0]*(r[1]+g.n[1]*r[2]), level
}

// child is which of eight cells of that level p is in.
func (p octPoint) child(level int) int32 {
	return p[0]>>level&1 | p[1]>>level&1<<1 | p[2]>>level&1<<2
}

// index lists the first child of every node, 0 for a leaf: a walk down it stays
// in the processor's cache, where nodes do not.
func (t *octree) index() []int32 {
	down := make([]int32, len(t.nodes))
	for i := range t.nodes {
		if n := &t.nodes[i]; n.kind == octSplit {
			down[i] = n.child
		}
	}
	return down
}

// octLook asks for the field point after point, and remembers the leaf: the next
// point is mostly in the same.
type octLook struct {
	tree *octree
	down []int32 // the tree's index
	leaf int32
}

// find is the tree's, by the index.
func (l *octLook) find(p octPoint) int32 {
	i, level := l.tree.rootOf(p)
	for i >= 0 && l.down[i] != 0 {
		level--
		i = l.down[i] + p.child(level)
	}
	return i
}

// Dist is the field at p, by the shortest solid that is right there.
func (l *octLook) Dist(p geom.Vec) float64 { return l.solid(p).Dist(p) }

// solid is the shortest that is right at p.
func (l *octLook) solid(p geom.Vec) sdf.Solid {
	t := l.tree
	q := t.cell(p)
	if l.leaf < 0 || !t.nodes[l.leaf].holds(q) {
		l.leaf = l.find(q)
	}
	if l.leaf >= 0 && t.nodes[l.leaf].kind == octActive {
		return t.nodes[l.leaf].solid
	}
	return t.whole
}

// holds reports that the finest cell at p is part of the leaf.
func (n *octNode) holds(p octPoint) bool {
	for a := range 3 {
		if uint32(p[a]-n.min[a]) >= uint32(n.size) {
			return false
		}
	}
	return true
}

// look starts without a leaf. The index must be that of the tree as it is.
func (t *octree) look() octLook {
	if len(t.down) != len(t.nodes) {
		panic("mesh: the octree's index is not up to date")
	}
	return octLook{t, t.down, octNone}
}

// leaves lists the active leaves in a fixed order.
func (t *octree) leaves() []int32 {
	var out []int32
	for i := range t.nodes {
		if t.nodes[i].kind == octActive {
			out = append(out, int32(i))
		}
	}
	return out
}

// split gives leaf i children, and these children of their own where needed.
func (t *octree) split(i int32) {
	t.cut = append(t.cut, i)
	b := octBuilder{tree: t, nodes: t.nodes}
	b.halve(i)
	for k := range int32(8) {
		b.visit(b.nodes[i].child + k)
	}
	t.nodes = b.nodes
}

// balance splits leaves until active neighbours differ by one level at most,
// over faces, edges and corners. Only new leaves can ask for it.
func (t *octree) balance() {
	for ; t.balanced < len(t.nodes); t.balanced++ {
		if t.nodes[t.balanced].kind == octActive {
			t.relieve(int32(t.balanced))
		}
	}
}

// relieve splits the neighbours of a leaf that are more than twice its size, and
// notes which of two neighbours is the finer.
func (t *octree) relieve(self int32) {
	min, size := t.nodes[self].min, t.nodes[self].size
	for k := range 27 {
		p := octPoint{
			min[0] + int32(k%3-1)*size,
			min[1] + int32(k/3%3-1)*size,
			min[2] + int32(k/9-1)*size,
		}
		for {
			i := t.find(p)
			if i < 0 {
				break
			}
			if t.nodes[i].size < size {
				t.nodes[self].finer = true
			}
			if t.nodes[i].kind != octActive || t.nodes[i].size <= size {
				break
			}
			if t.nodes[i].size == 2*size {
				t.nodes[i].finer = true
				break
			}
			t.split(i)
		}
	}
}

// touching calls f for the active leaves that touch the cell of node i or lie in it.
func (t *octree) touching(i int32, f func(leaf int32)) {
	lo, size := t.nodes[i].min, t.nodes[i].size
	var r, first, last octPoint
	for a := range 3 {
		first[a] = max(0, (lo[a]-1)/t.block)
		last[a] = min(t.n[a]-1, (lo[a]+size)/t.block)
	}
	for r[2] = first[2]; r[2] <= last[2]; r[2]++ {
		for r[1] = first[1]; r[1] <= last[1]; r[1]++ {
			for r[0] = first[0]; r[0] <= last[0]; r[0]++ {
				t.touchingIn(r[0]+t.n[0]*(r[1]+t.n[1]*r[2]), lo, size, f)
			}
		}
	}
}

func (t *octree) touchingIn(i int32, lo octPoint, size int32, f func(leaf int32)) {
	n := &t.nodes[i]
	for a := range 3 {
		if n.min[a] > lo[a]+size || n.min[a]+n.size < lo[a] {
			return
		}
	}
	switch n.kind {
	case octActive:
		f(i)
	case octSplit:
		for k := range int32(8) {
			t.touchingIn(n.child+k, lo, size, f)
		}
	}
}

// octParallel runs job(0..n-1) over the workers. Jobs must not depend on order.
func octParallel(ctx context.Context, n, workers int, job func(i int)) error {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(workers, n) {
		wg.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				job(i)
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}

// octBuilder grows the cells of one part of the tree.
type octBuilder struct {
	tree  *octree
	nodes []octNode
}

// halve gives node i eight children.
func (b *octBuilder) halve(i int32) {
	n := b.nodes[i]
	half := n.size / 2
	first := int32(len(b.nodes))
	for k := range 8 {
		b.nodes = append(b.nodes, octNode{min: n.min.corner(k, half), size: half, solid: n.solid})
	}
	b.nodes[i].kind, b.nodes[i].child, b.nodes[i].solid = octSplit, first, nil
}

// prune shortens the solid of node i and tells whether the surface may reach it.
func (b *octBuilder) prune(i int32) bool {
	n := &b.nodes[i]
	ball := b.tree.ball(n.min, n.size)
	if octMisses(n.solid, ball) {
		n.kind, n.solid = octEmpty, nil
		return false
	}
	n.solid = sdf.Local(n.solid, ball)
	n.kind = octActive
	return true
}

// octMisses reports that the surface stays clear of the ball.
func octMisses(s sdf.Solid, ball geom.Ball) bool {
	return math.Abs(s.Dist(ball.C)) > ball.R*(1+1e-9)+1e-9
}

// visit splits node i as far as the surface in it asks.
func (b *octBuilder) visit(i int32) {
	if !b.prune(i) {
		return
	}
	n := &b.nodes[i]
	verdict := b.tree.judge(n)
	if verdict == octEmpty {
		n.kind, n.solid = octEmpty, nil
	}
	if verdict != octSplit {
		return
	}
	b.halve(i)
	first := b.nodes[i].child
	for k := range int32(8) {
		b.visit(first + k)
	}
}
