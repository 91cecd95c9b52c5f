package mesh

import (
	"math"

	"buckwright/generate/geom"
)

// BVH is a tree of boxes over the triangles of a mesh, for closest points, rays
// and neighbourhoods. It keeps its own copy of the triangles, so the mesh may
// change afterwards. A BVH never changes and may be used from many goroutines.
type BVH struct {
	nodes []bvhNode
	tris  []bvhTri // leaf order: every node owns a run of them
}

// bvhNode holds the triangles first .. first+count-1. An inner node's children
// are the next node and the node at right; a leaf has right == 0.
type bvhNode struct {
	box          geom.Box
	first, count int32
	right        int32
}

const (
	bvhLeaf  = 4  // most triangles in a leaf
	bvhBins  = 16 // candidate planes an axis
	bvhDeep  = 40 // below this depth nodes are halved, so that stacks stay short
	bvhStack = 96 // bvhDeep + log2 of the most triangles there can be
)

// NewBVH builds the tree with the surface area heuristic in bins (Wald 2007,
// "On fast construction of SAH-based bounding volume hierarchies").
func NewBVH(m *Mesh) *BVH {
	b := &bvhBuilder{
		box: make([]geom.Box, len(m.T)),
		mid: make([]geom.Vec, len(m.T)),
		ids: make([]int32, len(m.T)),
	}
	for i := range m.T {
		p, q, r := m.Corners(i)
		b.box[i] = geom.BoxOf(p, q, r)
		b.mid[i] = b.box[i].Center()
		b.ids[i] = int32(i)
	}
	t := &BVH{tris: make([]bvhTri, len(m.T))}
	if len(m.T) > 0 {
		b.build(0, len(m.T), 0)
	}
	t.nodes = b.nodes
	for k, i := range b.ids {
		p, q, r := m.Corners(int(i))
		t.tris[k] = newBVHTri(p, q, r, i)
	}
	return t
}

type bvhBuilder struct {
	box   []geom.Box
	mid   []geom.Vec
	ids   []int32
	nodes []bvhNode
}

func (b *bvhBuilder) build(lo, hi, depth int) {
	box, mids := geom.EmptyBox(), geom.EmptyBox()
	for _, i := range b.ids[lo:hi] {
		box = box.Union(b.box[i])
		mids = mids.Include(b.mid[i])
	}
	at := len(b.nodes)
	b.nodes = append(b.nodes, bvhNode{box: box, first: int32(lo), count: int32(hi - lo)})
	if hi-lo <= bvhLeaf {
		return
	}
	cut := 0
	if depth < bvhDeep {
		cut = b.split(lo, hi, mids)
	}
	if cut <= lo || cut >= hi {
		cut = (lo + hi) / 2
	}
	b.build(lo, cut, depth+1)
	b.nodes[at].right = int32(len(b.nodes))
	b.build(cut, hi, depth+1)
}

// split reorders ids[lo:hi] about the cheapest of the binned planes and returns
// where the second half starts, or 0 if all middles coincide.
func (b *bvhBuilder) split(lo, hi int, mids geom.Box) int {
	best, axis, plane := math.Inf(1), -1, 0
	for a := range 3 {
		if cost, k := b.sweep(lo, hi, a, mids); cost < best {
			best, axis, plane = cost, a, k
		}
	}
	if axis < 0 {
		return 0
	}
	i := lo
	for j := lo; j < hi; j++ {
		if bvhBin(b.mid[b.ids[j]], axis, mids) <= plane {
			b.ids[i], b.ids[j] = b.ids[j], b.ids[i]
			i++
		}
	}
	return i
}

// sweep finds the last bin of the first half that costs least on one axis.
func (b *bvhBuilder) sweep(lo, hi, axis int, mids geom.Box) (best float64, plane int) {
	best = math.Inf(1)
	if !(mids.Max.Axis(axis) > mids.Min.Axis(axis)) {
		return best, 0
	}
	var boxes [bvhBins]geom.Box
	var n [bvhBins]int
	for k := range boxes {
		boxes[k] = geom.EmptyBox()
	}
	for _, i := range b.ids[lo:hi] {
		k := bvhBin(b.mid[i], axis, mids)
		boxes[k] = boxes[k].Union(b.box[i])
		n[k]++
	}
	var above [bvhBins]float64
	box, count := geom.EmptyBox(), 0
	for k := bvhBins - 1; k > 0; k-- {
		box, count = box.Union(boxes[k]), count+n[k]
		above[k] = bvhArea(box) * float64(count)
	}
	box, count = geom.EmptyBox(), 0
	for k := range bvhBins - 1 {
		box, count = box.Union(boxes[k]), count+n[k]
		if count == 0 || count == hi-lo {
			continue
		}
		if cost := bvhArea(box)*float64(count) + above[k+1]; cost < best {
			best, plane = cost, k
		}
	}
	return best, plane
}

func bvhBin(p geom.Vec, axis int, mids geom.Box) int {
	lo, hi := mids.Min.Axis(axis), mids.Max.Axis(axis)
	return min(bvhBins-1, int(bvhBins*((p.Axis(axis)-lo)/(hi-lo))))
}

func bvhArea(b geom.Box) float64 {
	if b.Empty() {
		return 0
	}
	s := b.Size()
	return s.X*s.Y + s.Y*s.Z + s.Z*s.X
}
