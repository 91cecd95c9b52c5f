package mesh

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Thinned, a flat may end in triangles that reach over to the curve it goes on
// in, and tilt by what that curve has fallen away. endFlats cuts them where the
// flat ends, so that all of it is flat.

const (
	endTilt  = 0.9994 // cosine of 2 degrees: what tilts more is the curve
	endShort = 0.03   // mm: shorter pieces of an edge are not made
	endReach = 1e-3   // mm: an end of an edge that is off by no more is put where the flat ends
	endLift  = 2e-4   // mm: or straight onto it
)

// edgeKey names an edge by its ends, the lower first.
type edgeKey [2]int32

func edgeOf(a, b int32) edgeKey { return edgeKey{min(a, b), max(a, b)} }

// endFlats divides edges where they leave a flat across an axis.
func (h *thinner) endFlats() {
	ends := map[edgeKey]int32{}
	h.v, h.planes = slices.Clone(h.v), slices.Clone(h.planes)
	for id, c := range h.t {
		if h.dead[id] || h.on[id] != nil {
			continue
		}
		_, n := h.height(c)
		for k, a := range c {
			for _, q := range h.planes[a] {
				if l, ok := levelOf(q); ok && n.Dot(q.n) > endTilt*n.Len() {
					h.endAt(ends, l, a, c[(k+1)%3])
					h.endAt(ends, l, a, c[(k+2)%3])
				}
			}
		}
	}
	if len(ends) > 0 {
		h.cutAt(ends)
	}
}

// endAt puts a vertex on the edge from a, on the level l, to b, off it, where
// the flat ends.
func (h *thinner) endAt(ends map[edgeKey]int32, l plateau, a, b int32) {
	key := edgeOf(a, b)
	if _, ok := ends[key]; ok || h.v[b].Axis(int(l.axis)) == snap(l.at) {
		return
	}
	p := levelEndBetween(h.dist, l, h.v[a], h.v[b])
	switch q := splitSet(h.v[b], int(l.axis), snap(l.at)); {
	case q.Dist(h.v[b]) <= endReach:
		if near := h.endBy(l, b); h.bears(b, near) {
			h.putOn(b, near, l)
		} else if q.Dist(h.v[b]) <= endLift {
			h.putOn(b, q, l)
		}
		return
	case !(p.Dist(h.v[a]) > endShort && p.Dist(h.v[b]) > endShort) || !h.divides(a, b, p):
		return
	}
	ends[key] = int32(len(h.v))
	h.v = append(h.v, p)
	h.planes = append(h.planes, []qefPlane{l.plane(p)})
	h.sharp, h.tight = append(h.sharp, h.sharp[a] && h.sharp[b]), append(h.tight, h.tight[a] && h.tight[b])
	h.next, h.dirty, h.mark, h.touched = append(h.next, octNone), append(h.dirty, false), append(h.mark, 0), append(h.touched, 0)
}

// divides reports that the triangles at the edge from a to b, divided at p, fall into
// pieces that face as they do.
func (h *thinner) divides(a, b int32, p geom.Vec) bool {
	fits := true
	h.around(a, func(_, x, y int32) {
		if x != b && y != b {
			return
		}
		n := h.v[x].Sub(h.v[a]).Cross(h.v[y].Sub(h.v[a]))
		for _, end := range [2]int32{a, b} { // p takes its place
			c := [3]geom.Vec{h.v[a], h.v[x], h.v[y]}
			c[gateCorner([3]int32{a, x, y}, end)] = p
			fits = fits && thinSame(c[1].Sub(c[0]).Cross(c[2].Sub(c[0])), n)
		}
	})
	return fits
}

// putOn moves vertex v to p, on a level, and has its triangles there stay there.
func (h *thinner) putOn(v int32, p geom.Vec, l plateau) {
	h.v[v] = p
	h.planes[v] = append([]qefPlane{l.plane(p)}, h.planes[v]...)
	for _, id := range h.fan[v] {
		h.off[id] = math.NaN()
		if h.on[id] == nil {
			h.on[id] = h.planeAt(h.t[id])
		}
	}
}

// endBy is the point next to vertex b, off the level l, where the flat ends on the
// way from one of its neighbours.
func (h *thinner) endBy(l plateau, b int32) geom.Vec {
	best := geom.Vec{X: math.Inf(1)}
	h.around(b, func(_, w, _ int32) {
		if h.v[w].Axis(int(l.axis)) != snap(l.at) {
			return
		}
		if p := levelEndBetween(h.dist, l, h.v[w], h.v[b]); p.Dist(h.v[b]) < best.Dist(h.v[b]) {
			best = p
		}
	})
	return best
}

// bears reports that vertex v may move to p: its triangles face as they did.
func (h *thinner) bears(v int32, p geom.Vec) bool {
	was := h.v[v]
	defer func() { h.v[v] = was }()
	for _, id := range h.fan[v] {
		h.v[v] = was
		_, before := h.height(h.t[id])
		h.v[v] = p
		if s, after := h.height(h.t[id]); s < thinLeast || !thinSame(before, after) || h.on[id] != nil && !h.on[id].holds(p) {
			return false
		}
	}
	return true
}

// levelEndBetween is the last point of the flat above or below the line from a to b.
func levelEndBetween(dist func(geom.Vec) float64, l plateau, a, b geom.Vec) geom.Vec {
	near, far := 0.0, 1.0
	at := func(t float64) geom.Vec { return splitSet(a.Lerp(b, t), int(l.axis), l.at) } // not rounded
	for range 12 {
		mid := (near + far) / 2
		if math.Abs(dist(at(mid))) <= levelEnd {
			near = mid
		} else {
			far = mid
		}
	}
	p := at(near)
	return geom.Vec{X: snap(p.X), Y: snap(p.Y), Z: snap(p.Z)}
}

// cutAt divides the triangles whose edges have been given a vertex.
func (h *thinner) cutAt(ends map[edgeKey]int32) {
	for id, c := range h.t {
		if h.dead[id] {
			continue
		}
		mid, n := edgeMids(ends, c)
		if n > 0 {
			h.cut(int32(id), c, mid, n)
		}
	}
	h.fan = make([][]int32, len(h.v))
	for id, c := range h.t {
		if !h.dead[id] {
			for _, v := range c {
				h.fan[v] = append(h.fan[v], int32(id))
			}
		}
	}
}

// cut divides a triangle at n vertices on its edges, by the diagonal that leaves
// the pieces higher.
func (h *thinner) cut(id int32, c, mid [3]int32, n int) {
	h.dead[id] = true
	least := func(t, u [3]int32) float64 {
		s, _ := h.height(t)
		r, _ := h.height(u)
		return min(s, r)
	}
	h.add(appendPieces(nil, c, mid, n, func(a, c, b, d int32) bool {
		return least([3]int32{a, b, c}, [3]int32{a, c, d}) >= least([3]int32{a, b, d}, [3]int32{b, c, d})
	})...)
}

// noMids are the vertices on the edges of a triangle that is not divided.
var noMids = [3]int32{octNone, octNone, octNone}

// edgeMids are the vertices on the edges of a triangle that leave its corners, of
// which there are n.
func edgeMids(at map[edgeKey]int32, c [3]int32) (mid [3]int32, n int) {
	mid = noMids
	for k := range 3 {
		if v, ok := at[edgeOf(c[k], c[(k+1)%3])]; ok {
			mid[k] = v
			n++
		}
	}
	return mid, n
}

// appendPieces adds to t what a triangle falls into that has n vertices on its
// edges. Of the quadrangle that two leave, diagonal prefers the first two of its
// corners over the others.
func appendPieces(t [][3]int32, c, mid [3]int32, n int, diagonal func(a, b, c, d int32) bool) [][3]int32 {
	for n == 1 && mid[0] == octNone || n == 2 && mid[2] != octNone {
		c, mid = [3]int32{c[1], c[2], c[0]}, [3]int32{mid[1], mid[2], mid[0]}
	}
	switch n {
	case 1:
		return append(t, [3]int32{c[0], mid[0], c[2]}, [3]int32{mid[0], c[1], c[2]})
	case 2:
		t = append(t, [3]int32{mid[0], c[1], mid[1]})
		if diagonal(c[0], mid[1], mid[0], c[2]) {
			return append(t, [3]int32{c[0], mid[0], mid[1]}, [3]int32{c[0], mid[1], c[2]})
		}
		return append(t, [3]int32{c[0], mid[0], c[2]}, [3]int32{mid[0], mid[1], c[2]})
	case 3:
		return append(t, [3]int32{c[0], mid[0], mid[2]}, [3]int32{c[1], mid[1], mid[0]}, [3]int32{c[2], mid[2], mid[1]}, mid)
	}
	return append(t, c)
}

func (h *thinner) add(all ...[3]int32) {
	for _, c := range all {
		h.t = append(h.t, c)
		h.dead = append(h.dead, false)
		h.on = append(h.on, h.planeAt(c))
		h.off = append(h.off, math.NaN())
		h.first = append(h.first, octNone)
	}
}
