package mesh

import (
	"context"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// thinner removes vertices that the surface does not need, by collapsing edges
// onto one of their ends: no vertex moves, so that what is flat stays flat and
// what lies on the surface stays on it. A vertex is dropped without loss when
// all triangles around it lie on planes that the kept end shares; elsewhere the
// new triangles are measured against the solid, and the dropped vertices against
// the new triangles.
type thinner struct {
	v []geom.Vec
	fans
	on     []*qefPlane // the plane a triangle lies on, if any: it stays on it
	planes [][]qefPlane
	sharp  []bool
	tight  []bool    // vertices with another face of the solid close by
	first  []int32   // of each triangle, the first of the dropped vertices that it covers
	next   []int32   // of each dropped vertex, the next at its triangle
	off    []float64 // error of each triangle, NaN when not measured
	look   octLook
	needle float64 // mm, triangles lower than this must face out
	kept   []bool  // vertices that are not dropped

	dirty   []bool  // vertices to be tried again
	touched []int32 // sweep in which the surroundings last changed
	stamp   int32
	slab    []uint8
	within  int     // the slab that is thinned, or -1
	across  []int32 // vertices of other slabs whose surroundings have changed
	mark    []int64
	marked  int64     // every slab counts by thinSlabs, each from another start
	fresh   []thinTri // scratch
	normals []geom.Vec
	loose   []int32
}

// thinTri is a triangle as it would be after a collapse.
type thinTri struct {
	id  int32
	c   [3]int32
	tri bvhTri
	off float64
}

const (
	thinSpeck    = 1e-4     // mm: a vertex no farther off counts as on the surface
	thinLeast    = gateNear // mm: least height of a new triangle
	thinNeedle   = 3        // of the allowance: lower triangles can stand on edge though their corners are near the surface
	thinFan      = 160      // triangles: vertices with more are left
	thinKeep     = 0.2      // mm: about crossings nothing is dropped within so much
	thinKeepMost = 300      // points about which it is tried: where there are more, cells are split
	thinRim      = 0.1      // mm: the rim of a flat that goes on in a curve may come in by so much
)

func newThinner(s *splitter) *thinner {
	n := len(s.out.V)
	h := &thinner{
		v: slices.Clone(s.out.V), fans: newFans(n, append([][3]int32(nil), s.out.T...)),
		planes: s.planes(), sharp: append(slices.Clone(s.crease), make([]bool, n-len(s.crease))...),
		first: octFill(nil, len(s.out.T)), next: octFill(nil, n), look: s.tree.look(),
		within: -1, dirty: make([]bool, n), kept: make([]bool, n), touched: make([]int32, n), mark: make([]int64, n),
	}
	h.slabs()
	h.on = make([]*qefPlane, len(h.t))
	h.off = make([]float64, len(h.t))
	for i := range h.t {
		h.on[i] = h.planeAt(h.t[i])
		h.off[i] = math.NaN()
	}
	return h
}

// fans is triangles, and which of them are at each vertex.
type fans struct {
	t    [][3]int32
	dead []bool    // triangles
	fan  [][]int32 // of each vertex; empty when it is gone
}

// newFans takes triangles that have n vertices.
func newFans(n int, t [][3]int32) fans {
	return fans{t: t, dead: make([]bool, len(t)), fan: thinFans(n, t)}
}

// around calls f with each triangle of u as its id and the two other corners,
// counterclockwise.
func (h *fans) around(u int32, f func(id, x, y int32)) {
	for _, id := range h.fan[u] {
		c := h.t[id]
		k := gateCorner(c, u)
		f(id, c[(k+1)%3], c[(k+2)%3])
	}
}

// hand gives the triangles of u to its neighbour w, and calls kept with each but the
// two that have both: they are dead then.
func (h *fans) hand(u, w int32, kept func(id int32)) {
	for _, id := range h.fan[u] {
		c := h.t[id]
		if c[0] == w || c[1] == w || c[2] == w {
			h.dead[id] = true
			for _, v := range c {
				if v != u {
					h.forget(v, id)
				}
			}
			continue
		}
		c[gateCorner(c, u)] = w
		h.t[id] = c
		h.fan[w] = append(h.fan[w], id)
		kept(id)
	}
	h.fan[u] = nil
}

// left lists the triangles that are not dead.
func (h *fans) left() (out [][3]int32) {
	for i, c := range h.t {
		if !h.dead[i] {
			out = append(out, c)
		}
	}
	return out
}

// forget takes triangle id out of the fan of v.
func (h *fans) forget(v, id int32) {
	f := h.fan[v]
	if i := slices.Index(f, id); i >= 0 {
		f[i] = f[len(f)-1]
		h.fan[v] = f[:len(f)-1]
	}
}

// thinFans lists the triangles of each vertex.
func thinFans(n int, t [][3]int32) [][]int32 {
	count := make([]int32, n)
	for _, c := range t {
		for _, v := range c {
			count[v]++
		}
	}
	all := make([]int32, 3*len(t))
	fan := make([][]int32, n)
	at := 0
	for v, k := range count {
		fan[v] = all[at : at : at+int(k)]
		at += int(k)
	}
	for i, c := range t {
		for _, v := range c {
			fan[v] = append(fan[v], int32(i))
		}
	}
	return fan
}

// keep holds the vertices about the points, near which triangles crossed when they were
// dropped.
func (h *thinner) keep(points []geom.Vec) {
	for u, p := range h.v {
		h.kept[u] = slices.ContainsFunc(points, func(q geom.Vec) bool { return p.Dist(q) < thinKeep })
	}
}

// run thins flats first, then curves with a growing allowance up to limit mm.
func (h *thinner) run(ctx context.Context, workers int, limit float64) error {
	h.needle = thinNeedle * limit
	if err := h.tighten(ctx, workers, 4*limit); err != nil {
		return err
	}
	h.dirtyAll()
	if err := h.sweeps(ctx, workers, (*thinner).dropFlat); err != nil {
		return err
	}
	for _, part := range [...]float64{0.5, 1} { // what costs little goes first
		h.dirtyAll()
		err := h.sweeps(ctx, workers, func(h *thinner, u int32) bool {
			return h.dropFlat(u) || h.dropCurved(u, part*limit, 2*part*limit)
		})
		if err != nil {
			return err
		}
	}
	// Where the mesh is ragged its own planes say little: look further.
	clear(h.dirty)
	for u := range h.v {
		if len(h.fan[u]) > 0 && !h.onSurface(int32(u)) {
			h.dirty[u] = true
			h.around(int32(u), func(_, x, _ int32) { h.dirty[x] = true })
		}
	}
	return h.sweeps(ctx, workers, func(h *thinner, u int32) bool {
		return h.dropFlat(u) || h.dropCurved(u, limit, 20*limit)
	})
}

// tighten finds the vertices where the solid, or the gap outside it, is thinner
// than d: there a curve may be thinned only a little, lest two faces meet.
func (h *thinner) tighten(ctx context.Context, workers int, d float64) error {
	h.tight = make([]bool, len(h.v))
	return octChunks(ctx, len(h.v), workers, func(u int) {
		var n geom.Vec
		flat := true
		for _, id := range h.fan[u] {
			_, k := h.height(h.t[id])
			n = n.Add(k)
			flat = flat && h.on[id] != nil
		}
		if n = n.Unit().Scale(d); !flat {
			look := h.look
			h.tight[u] = !(look.Dist(h.v[u].Sub(n)) < 0 && look.Dist(h.v[u].Add(n)) > 0)
		}
	})
}

func (h *thinner) dirtyAll() {
	for i := range h.dirty {
		h.dirty[i] = true
	}
}

// thinSlabs is into how many slabs the mesh is cut, so that workers can thin
// them at the same time. It does not depend on the workers, nor does the result.
const thinSlabs = 16

// slabs cuts the mesh across its longest side, with as many vertices in each.
func (h *thinner) slabs() {
	size := geom.BoxOf(h.v...).Size()
	axis := 0
	if size.Y > size.X {
		axis = 1
	}
	if size.Z > max(size.X, size.Y) {
		axis = 2
	}
	at := make([]float64, len(h.v))
	for i, p := range h.v {
		at[i] = p.Axis(axis)
	}
	sorted := slices.Clone(at)
	slices.Sort(sorted)
	h.slab = make([]uint8, len(h.v))
	for i, x := range at {
		k, _ := slices.BinarySearch(sorted, x)
		h.slab[i] = uint8(k * thinSlabs / len(sorted))
	}
}

// deep reports that u may be dropped while others thin the other slabs: its
// neighbours are of its own. Triangles with corners in two slabs then stay as they are.
func (h *thinner) deep(u int32) bool {
	k := h.slab[u]
	for _, id := range h.fan[u] {
		if c := h.t[id]; h.slab[c[0]] != k || h.slab[c[1]] != k || h.slab[c[2]] != k {
			return false
		}
	}
	return true
}

// stir notes that the surroundings of v have changed. Vertices of another slab
// than the one that is thinned are told when all are done.
func (h *thinner) stir(v int32) {
	if h.within >= 0 && int(h.slab[v]) != h.within {
		h.across = append(h.across, v)
		return
	}
	h.touched[v], h.dirty[v] = h.stamp, true
}

// sweeps tries all dirty vertices, in an order that spreads them, until none
// gives way. Vertices next to a change wait for the next sweep, so that the
// mesh thins evenly.
func (h *thinner) sweeps(ctx context.Context, workers int, try func(h *thinner, u int32) bool) error {
	var lists [thinSlabs + 1][]int32 // the last: vertices near the cuts
	for _, u := range h.order() {
		lists[h.slab[u]] = append(lists[h.slab[u]], u)
	}
	for {
		h.stamp++
		var dropped [thinSlabs]int
		var used [thinSlabs]int64
		var shallow, across [thinSlabs][]int32
		err := octParallel(ctx, thinSlabs, workers, func(k int) {
			own := *h // its own scratch
			own.fresh, own.normals, own.loose = nil, nil, nil
			own.marked, own.within = h.marked+int64(k), k
			lists[k], shallow[k], dropped[k] = own.sweep(lists[k], try)
			used[k], across[k] = own.marked, own.across
		})
		if err != nil {
			return err
		}
		for k := range thinSlabs {
			h.marked = max(h.marked, used[k])
			lists[thinSlabs] = append(lists[thinSlabs], shallow[k]...)
			for _, v := range across[k] {
				h.stir(v)
			}
		}
		h.marked += thinSlabs
		rest, _, n := h.sweep(lists[thinSlabs], try)
		lists[thinSlabs] = rest
		for _, d := range dropped {
			n += d
		}
		if n == 0 {
			return nil
		}
	}
}

// sweep tries a list of vertices once. It returns those that are left: of a slab,
// apart from those that are not deep in it.
func (h *thinner) sweep(list []int32, try func(h *thinner, u int32) bool) (left, shallow []int32, dropped int) {
	left = list[:0]
	for _, u := range list {
		switch {
		case len(h.fan[u]) == 0:
			continue
		case !h.dirty[u] || h.kept[u] || h.touched[u] == h.stamp || len(h.fan[u]) > thinFan:
		case h.within >= 0 && !h.deep(u):
			shallow = append(shallow, u)
			continue
		default:
			h.dirty[u] = false
			if try(h, u) {
				dropped++
				continue
			}
		}
		left = append(left, u)
	}
	return left, shallow, dropped
}

// order lists the vertices that may be dropped, neighbours far apart.
func (h *thinner) order() []int32 {
	n := uint64(len(h.v))
	step := n*618/1000 | 1
	for thinGCD(step, n) != 1 {
		step += 2
	}
	var list []int32
	for i, u := uint64(0), uint64(0); i < n; i, u = i+1, (u+step)%n {
		if len(h.fan[u]) > 0 {
			list = append(list, int32(u))
		}
	}
	return list
}

func thinGCD(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// mesh gathers what is left.
func (h *thinner) mesh() *Mesh {
	m := &Mesh{V: h.v, T: h.left()}
	return m.used()
}
