package mesh

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// choose picks the neighbour to collapse u onto: of the nearest three to the
// planes around it the first that will do.
func (h *simplifier) choose(u int32) (pick int32, ok bool) {
	type choice struct {
		w    int32
		lift float64
	}
	var best [3]choice
	n := 0
	reach := simplifyReach * h.limit
	h.face(u)
	h.around(u, func(_, w, _ int32) {
		c := choice{w, h.lift(u, w, reach)}
		if !(c.lift <= reach) {
			return
		}
		k, _ := slices.BinarySearchFunc(best[:n], c, func(a, b choice) int {
			if a.lift <= b.lift {
				return -1
			}
			return 1
		})
		if k < len(best) {
			n = min(n+1, len(best))
			copy(best[k+1:n], best[k:])
			best[k] = c
		}
	})
	for _, c := range best[:n] {
		if h.linked(u, c.w) && h.faces(u, c.w) && h.covers(u) && h.keeps(u, c.w) {
			return c.w, true
		}
	}
	return -1, false
}

// linked reports that the surface stays what it is when u is collapsed onto w:
// the two have no other common neighbours than the third corners of their two
// triangles, and these keep a fan of three or more.
func (h *simplifier) linked(u, w int32) bool {
	if len(h.fan[u])+len(h.fan[w]) > simplifyFan+4 {
		return false
	}
	h.stamp++
	beside := h.stamp
	h.around(u, func(_, x, y int32) { h.mark[x], h.mark[y] = beside, beside })
	h.stamp++
	common := 0
	h.around(w, func(_, x, y int32) {
		for _, v := range [2]int32{x, y} {
			if h.mark[v] == beside && v != u {
				h.mark[v] = h.stamp // counted
				common++
				if len(h.fan[v]) <= 3 {
					common = 3
				}
			}
		}
	})
	return common == 2
}

// faces lists the triangles that u's fan would leave when collapsed onto w, and
// reports that they keep their shape and face as before.
func (h *simplifier) faces(u, w int32) bool {
	h.fresh = h.fresh[:0]
	for i, id := range h.fan[u] {
		c := h.t[id]
		if c[0] == w || c[1] == w || c[2] == w {
			continue
		}
		c[gateCorner(c, u)] = w
		t := newBVHTri(h.p[c[0]], h.p[c[1]], h.p[c[2]], id)
		if !(t.n.Dot(h.normals[i]) > 0.7) || !(t.width() >= thinLeast) {
			return false
		}
		h.fresh = append(h.fresh, t)
	}
	return true
}

// covers reports that the fresh triangles are near what u's fan is, and all that
// it covers.
func (h *simplifier) covers(u int32) bool {
	p := h.p[u]
	if !h.near(p, 0) {
		return false
	}
	for i, id := range h.fan[u] {
		c := h.t[id]
		if k := gateCorner(c, u); !h.near(p.Lerp(h.p[c[(k+1)%3]], 0.5), i) {
			return false
		}
	}
	for i, id := range h.fan[u] {
		for q := h.first[id]; q >= 0; q = h.next[q] {
			if !h.near(h.p[q], i) {
				return false
			}
		}
	}
	return true
}

// near reports that p is within the limit of some fresh triangle; guess is which
// of them to look at first.
func (h *simplifier) near(p geom.Vec, guess int) bool {
	n := len(h.fresh)
	for i := range n {
		if h.fresh[(guess+i)%n].dist2(p) <= h.limit*h.limit {
			return true
		}
	}
	return false
}

// keeps reports that the middles of the fresh triangles, and of the sides that they
// have anew, are within the limit of the given mesh. It is looked at around the
// point nearest to each of what u's fan covers, and of its corners.
func (h *simplifier) keeps(u, w int32) bool {
	h.about = append(h.about[:0], u)
	for _, id := range h.fan[u] {
		c := h.t[id]
		h.about = append(h.about, c[(gateCorner(c, u)+1)%3])
		for q := h.first[id]; q >= 0; q = h.next[q] {
			h.about = append(h.about, q)
		}
	}
	for i := range h.fresh {
		f := &h.fresh[i]
		c := h.t[f.id]
		side := h.p[w].Lerp(h.p[c[(gateCorner(c, u)+1)%3]], 0.5)
		if !h.onGiven(f.a.Add(f.ab.Add(f.ac).Scale(1.0/3))) || !h.onGiven(side) {
			return false
		}
	}
	return true
}

// onGiven reports that p is within the limit of the given mesh.
func (h *simplifier) onGiven(p geom.Vec) bool { return h.given.near(h.closest(p), p, h.limit) }

// closest is a vertex of the given mesh at or beside the point about the collapse
// that is nearest to p.
func (h *simplifier) closest(p geom.Vec) (v int32) {
	best := math.Inf(1)
	for _, q := range h.about {
		d := h.p[q].Sub(p)
		if l := d.Dot(d); l < best {
			best, v = l, q
		}
	}
	if k := int(v) - len(h.fan); k >= 0 {
		v = h.home[k]
	}
	return v
}

// near reports that p is within limit of a triangle at vertex v, or of one that is
// come to by walking on from there as long as that leads nearer.
func (g *givenFans) near(v int32, p geom.Vec, limit float64) bool {
	best := math.Inf(1)
	for {
		pick := int32(-1)
		for _, id := range g.fan[v] {
			a, b, c := g.m.Corners(int(id))
			t := newBVHTri(a, b, c, id)
			d := t.dist2(p)
			if d <= limit*limit {
				return true
			}
			if d < best {
				best, pick = d, id
			}
		}
		if pick < 0 {
			return false
		}
		c := g.m.T[pick]
		k := gateCorner(c, v)
		if v = c[(k+1)%3]; g.m.V[c[(k+2)%3]].Dist(p) < g.m.V[v].Dist(p) {
			v = c[(k+2)%3]
		}
	}
}

// nearest is the fresh triangle nearest to p.
func (h *simplifier) nearest(p geom.Vec) int32 {
	best, pick := math.Inf(1), h.fresh[0].id
	for i := range h.fresh {
		if d := h.fresh[i].dist2(p); d < best {
			best, pick = d, h.fresh[i].id
		}
	}
	return pick
}

// collapse puts w in the place of u; the fresh triangles are at hand, and cover
// from now on what u's did, and u.
func (h *simplifier) collapse(u, w int32) {
	loose := int32(-1) // points, chained
	for _, id := range h.fan[u] {
		for q := h.first[id]; q >= 0; {
			after := h.next[q]
			h.next[q], loose = loose, q
			q = after
		}
		h.first[id] = -1
	}
	h.hand(u, w, func(int32) {})
	h.next[u], loose = loose, u
	for q := loose; q >= 0; {
		after := h.next[q]
		h.cover(h.nearest(h.p[q]), q)
		q = after
	}
	h.rate(w)
	for _, id := range h.fan[w] {
		c := h.t[id]
		h.rate(c[(gateCorner(c, w)+1)%3])
	}
}
