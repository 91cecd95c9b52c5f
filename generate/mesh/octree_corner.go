package mesh

import (
	"context"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// octNone marks what does not exist.
const octNone = int32(-1)

// octCorners numbers the corners of the active leaves and knows the sign at each.
// A sign is asked of one leaf only, so that all cells agree.
type octCorners struct {
	key   []uint64 // open addressing; 0 is free
	id    []int32
	shift uint

	at     []octPoint
	owner  []int32 // leaf whose solid is asked
	value  []float64
	inside []bool
}

func octKey(p octPoint) uint64 {
	return uint64(p[0])<<42 | uint64(p[1])<<21 | uint64(p[2]) | 1<<63
}

func newOctCorners(leaves int) *octCorners {
	bits := uint(10)
	for 1<<bits < 4*leaves {
		bits++
	}
	return &octCorners{key: make([]uint64, 1<<bits), id: make([]int32, 1<<bits), shift: 64 - bits}
}

// slot is where p is or would be.
func (c *octCorners) slot(k uint64) int {
	mask := len(c.key) - 1
	i := int(k * 0x9e3779b97f4a7c15 >> c.shift)
	for c.key[i] != 0 && c.key[i] != k {
		i = (i + 1) & mask
	}
	return i
}

// find is the number of the corner at p, or octNone.
func (c *octCorners) find(p octPoint) int32 {
	k := octKey(p)
	if i := c.slot(k); c.key[i] == k {
		return c.id[i]
	}
	return octNone
}

// add is the number of the corner at p, made for leaf if it is new.
func (c *octCorners) add(p octPoint, leaf int32) int32 {
	k := octKey(p)
	i := c.slot(k)
	if c.key[i] == k {
		return c.id[i]
	}
	if 2*len(c.at) > len(c.key) {
		c.grow()
		i = c.slot(k)
	}
	n := int32(len(c.at))
	c.key[i], c.id[i] = k, n
	c.at = append(c.at, p)
	c.owner = append(c.owner, leaf)
	return n
}

func (c *octCorners) grow() {
	key, id := c.key, c.id
	c.key, c.id = make([]uint64, 2*len(key)), make([]int32, 2*len(key))
	c.shift--
	for i, k := range key {
		if k != 0 {
			j := c.slot(k)
			c.key[j], c.id[j] = k, id[i]
		}
	}
}

// octSpeck is how near 0 a value still counts as outside, in mm.
const octSpeck = 1e-9

// evaluate asks the solid for the value at the corners that have none yet.
func (c *octCorners) evaluate(ctx context.Context, t *octree, workers int) error {
	done := len(c.value)
	c.value = append(c.value, make([]float64, len(c.at)-done)...)
	c.inside = append(c.inside, make([]bool, len(c.at)-done)...)
	return octChunks(ctx, len(c.at)-done, workers, func(i int) {
		i += done
		f := t.nodes[c.owner[i]].solid.Dist(t.at(c.at[i]))
		c.inside[i] = f < -octSpeck
		if !c.inside[i] && f < octSpeck {
			f = octSpeck
		}
		c.value[i] = f
	})
}

// octChunks is octParallel in runs, for jobs too small to hand out one by one.
func octChunks(ctx context.Context, n, workers int, job func(i int)) error {
	const run = 256
	return octParallel(ctx, (n+run-1)/run, workers, func(r int) {
		for i := r * run; i < min(n, (r+1)*run); i++ {
			job(i)
		}
	})
}

// octEdge is a sign-changing edge that no finer leaf divides.
type octEdge struct {
	corner [2]int32 // lower and upper
	axis   int8
	owner  int32    // leaf that found it
	ring   [4]int32 // vertices of the four quadrants, counterclockwise seen from +axis
	seg    [4]int32 // segments of the four faces: +b, +c, -b, -c, with b, c the next axes
	x      qefPlane // where the surface crosses
	at     geom.Vec // the crossing kept off the corners and rounded
	v      int32    // mesh vertex there, if one is needed
	planar bool     // on a solid made of planes
	placed bool     // x, at and planar are known
}

// octSegment is the trace of one surface sheet on a face that no finer leaf
// divides: from one edge of it to another.
type octSegment struct {
	edge   [2]int32
	vertex [2]int32 // of the cell on the low side and on the high side
	axis   int8     // of the face's normal
	face   int32    // place of the face in faceAt
	size   int32
	mid    int32 // mesh vertex within the face, if one is needed
	next   int32 // another segment on the same face
}

// octLoop is one closed trace of the surface on the boundary of a leaf: it gets
// one vertex.
type octLoop struct {
	leaf  int32
	edges []int32
	p     geom.Vec // the vertex, within the leaf
	want  geom.Vec // where a crease or corner would have it

	sharp  bool       // on a crease or corner
	smooth bool       // in a cell without a crease
	planes []qefPlane // the planes of the surface there, if it is made of planes
	placed bool       // all of these are known
}

// octSkeleton is the surface as the tree sees it: loops, and how they join.
// What has gone when leaves were split stays in the lists, marked.
type octSkeleton struct {
	tree    *octree
	corners *octCorners
	ids     [][8]int32 // corners of each leaf, by node
	edgeAt  []int32    // by 3*corner+axis
	faceAt  []int32    // by 3*corner+axis: first segment
	loopAt  []int32    // first loop of each leaf, by node
	edges   []octEdge
	segs    []octSegment
	loops   []octLoop
	walker  octWalker
	fresh   []int32 // leaves walked last
}

func newOctSkeleton(t *octree) *octSkeleton {
	k := &octSkeleton{tree: t}
	k.walker = octWalker{octSkeleton: k, middle: map[[2]int32]bool{}}
	return k
}

// update traces the surface over all leaves, or those that splits have touched.
func (k *octSkeleton) update(ctx context.Context, workers int) error {
	t := k.tree
	if k.corners == nil {
		k.fresh = t.leaves()
		k.corners = newOctCorners(len(k.fresh))
	} else {
		k.fresh = k.touched()
	}
	t.cut = nil
	k.ids = append(k.ids, make([][8]int32, len(t.nodes)-len(k.ids))...)
	k.loopAt = octFill(k.loopAt, len(t.nodes))
	for _, leaf := range k.fresh {
		k.erase(leaf)
		if k.ids[leaf] != ([8]int32{}) {
			continue
		}
		n := &t.nodes[leaf]
		for c := range 8 {
			k.ids[leaf][c] = k.corners.add(n.min.corner(c, n.size), leaf)
		}
	}
	if err := k.corners.evaluate(ctx, t, workers); err != nil {
		return err
	}
	k.edgeAt = octFill(k.edgeAt, 3*len(k.corners.at))
	k.faceAt = octFill(k.faceAt, 3*len(k.corners.at))
	for _, leaf := range k.fresh {
		k.walker.walk(leaf)
	}
	return nil
}

// touched lists the leaves in and around those that were split, and erases the
// latter.
func (k *octSkeleton) touched() []int32 {
	var out []int32
	seen := map[int32]bool{}
	for _, i := range k.tree.cut {
		if int(i) < len(k.loopAt) {
			k.erase(i)
		}
		k.tree.touching(i, func(leaf int32) {
			if !seen[leaf] {
				seen[leaf] = true
				out = append(out, leaf)
			}
		})
	}
	slices.Sort(out)
	return out
}

// erase takes the loops of a leaf out of their edges and segments.
func (k *octSkeleton) erase(leaf int32) {
	first := k.loopAt[leaf]
	if first == octNone {
		return
	}
	k.loopAt[leaf] = octNone
	for i := first; int(i) < len(k.loops) && k.loops[i].leaf == leaf; i++ {
		l := &k.loops[i]
		l.leaf = octNone
		for _, e := range l.edges {
			k.leaveEdge(e, i)
		}
	}
}

// leaveEdge takes loop i out of the ring of an edge and of the segments there.
func (k *octSkeleton) leaveEdge(edge, i int32) {
	e := &k.edges[edge]
	left := false
	for q := range e.ring {
		if e.ring[q] == i {
			e.ring[q] = octNone
		}
		left = left || e.ring[q] != octNone
		if g := e.seg[q]; g != octNone {
			k.leaveSegment(g, i)
		}
	}
	if !left {
		k.edgeAt[3*e.corner[0]+int32(e.axis)] = octNone
		e.axis = octGone
	}
}

// octGone marks the axis of edges and segments that are no more.
const octGone = -1

// leaveSegment takes loop i out of a segment, and the segment out of its face and
// edges when no loop is left.
func (k *octSkeleton) leaveSegment(seg, i int32) {
	g := &k.segs[seg]
	for s := range g.vertex {
		if g.vertex[s] == i {
			g.vertex[s] = octNone
		}
	}
	if g.axis == octGone || g.vertex != [2]int32{octNone, octNone} {
		return
	}
	at := &k.faceAt[g.face]
	for *at != seg {
		at = &k.segs[*at].next
	}
	*at = g.next
	for _, edge := range g.edge {
		e := &k.edges[edge]
		for q := range e.seg {
			if e.seg[q] == seg {
				e.seg[q] = octNone
			}
		}
	}
	g.axis = octGone
}

// low is the least corner of a segment's face.
func (k *octSkeleton) low(g *octSegment) octPoint { return k.corners.at[g.face/3] }

// crowded reports that loop i shares its leaf with another.
func (k *octSkeleton) crowded(i int) bool {
	leaf := k.loops[i].leaf // not octNone
	return i > 0 && k.loops[i-1].leaf == leaf || i+1 < len(k.loops) && k.loops[i+1].leaf == leaf
}

// octFill makes s n long; what is new is octNone.
func octFill(s []int32, n int) []int32 {
	for i := len(s); i < n; i++ {
		s = append(s, octNone)
	}
	return s
}

// solid is the shortened solid of a leaf.
func (k *octSkeleton) solid(leaf int32) sdf.Solid { return k.tree.nodes[leaf].solid }

// box is the cell of a leaf.
func (k *octSkeleton) box(leaf int32) geom.Box {
	n := &k.tree.nodes[leaf]
	return geom.Box{Min: k.tree.at(n.min), Max: k.tree.at(n.min.corner(7, n.size))}
}
