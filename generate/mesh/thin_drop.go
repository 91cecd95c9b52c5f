package mesh

import (
	"math"

	"buckwright/generate/geom"
)

// linked reports that u may be collapsed onto w: the two have no other common
// neighbours than the third corners of their two triangles, and these keep a fan
// of three or more.
func (h *thinner) linked(u, w int32) bool {
	h.marked += thinSlabs
	for _, id := range h.fan[u] {
		for _, v := range h.t[id] {
			h.mark[v] = h.marked
		}
	}
	h.mark[u] = 0
	common := 0
	for _, id := range h.fan[w] {
		c := h.t[id]
		k := gateCorner(c, w)
		x := c[(k+1)%3] // each neighbour of w once
		if (h.within < 0 || int(h.slab[x]) == h.within) && h.mark[x] == h.marked {
			common++
			if len(h.fan[x]) <= 3 {
				return false
			}
		}
	}
	return common == 2
}

// height is the least height of a triangle, and its normal times twice the area.
func (h *thinner) height(c [3]int32) (float64, geom.Vec) {
	a, b, d := h.v[c[0]], h.v[c[1]], h.v[c[2]]
	ab, ad, bd := b.Sub(a), d.Sub(a), d.Sub(b)
	n := ab.Cross(ad)
	return n.Len() / math.Sqrt(max(ab.Dot(ab), ad.Dot(ad), bd.Dot(bd))), n
}

// dropFlat removes u if the surface around it is made of planes that a
// neighbour shares.
func (h *thinner) dropFlat(u int32) bool {
	for _, id := range h.fan[u] {
		if h.on[id] == nil {
			return false
		}
	}
	best, pick := thinLeast, int32(-1)
	h.around(u, func(_, w, _ int32) {
		if s := h.fitFlat(u, w, best); s > best && h.linked(u, w) {
			best, pick = s, w
		}
	})
	if pick < 0 {
		return false
	}
	h.collapse(u, pick, false)
	return true
}

// planeAt is a plane of the surface, known at one of the corners, that the
// triangle lies on and faces the way of; nil if there is none.
func (h *thinner) planeAt(c [3]int32) *qefPlane {
	for _, v := range c {
		for i := range h.planes[v] {
			if q := &h.planes[v][i]; h.onPlane(c, q) {
				return q
			}
		}
	}
	return nil
}

// holds reports that p is on the plane, as near as rounding allows: exactly, for
// a plane across an axis.
func (q *qefPlane) holds(p geom.Vec) bool {
	n := q.n.Abs()
	return math.Abs(q.off(p)) <= 0.51*splitQuantum*(n.X+n.Y+n.Z)
}

// onPlane reports that a triangle lies on q and faces its way.
func (h *thinner) onPlane(c [3]int32, q *qefPlane) bool {
	for _, v := range c {
		if !q.holds(h.v[v]) {
			return false
		}
	}
	_, n := h.height(c)
	return n.Dot(q.n) > 0
}

// fitFlat is the least height of the triangles that u's fan would leave when
// collapsed onto w; 0 when one would turn over or leave its plane.
func (h *thinner) fitFlat(u, w int32, floor float64) float64 {
	least := math.Inf(1)
	for _, id := range h.fan[u] {
		c := h.t[id]
		if c[0] == w || c[1] == w || c[2] == w {
			continue
		}
		c[gateCorner(c, u)] = w
		s, n := h.height(c)
		if s <= floor || n.Dot(h.on[id].n) <= 0 || !h.on[id].holds(h.v[w]) {
			return 0
		}
		least = min(least, s)
	}
	return least
}

// dropCurved removes u if that keeps within limit of the surface. Only ends at
// most reach from the planes around u are tried.
func (h *thinner) dropCurved(u int32, limit, reach float64) bool {
	if h.tight[u] {
		limit, reach = limit/16, reach/16
	}
	type choice struct {
		w    int32
		cost float64
	}
	var best [3]choice
	n := 0
	h.normals = h.normals[:0]
	for _, id := range h.fan[u] {
		_, n := h.height(h.t[id])
		h.normals = append(h.normals, n.Unit())
	}
	held := h.sharp[u] && h.onSurface(u)
	h.around(u, func(_, w, _ int32) {
		if held && !h.sharp[w] {
			return
		}
		c := choice{w, h.lift(u, w)}
		if c.cost > reach {
			return
		}
		if n < len(best) {
			n++
		} else if best[n-1].cost <= c.cost {
			return
		}
		k := n - 1
		for ; k > 0 && best[k-1].cost > c.cost; k-- {
			best[k] = best[k-1]
		}
		best[k] = c
	})
	for _, c := range best[:n] {
		if h.linked(u, c.w) && h.fitCurved(u, c.w, limit) {
			h.collapse(u, c.w, true)
			return true
		}
	}
	return false
}

// lift is how far w is from the planes of the triangles at u, and a little for
// its distance, so that of equal choices the nearest is taken.
func (h *thinner) lift(u, w int32) float64 {
	d := h.v[w].Sub(h.v[u])
	var most float64
	for _, n := range h.normals {
		most = max(most, math.Abs(n.Dot(d)))
	}
	return most + 1e-5*d.Len()
}

// fitCurved checks the triangles that u's fan would leave when collapsed onto w:
// their shape, that they face as before, that they keep to the surface, and that
// all that was dropped so far keeps to them.
func (h *thinner) fitCurved(u, w int32, limit float64) bool {
	h.fresh = h.fresh[:0]
	var flat float64 // mm², lost of the flats around u
	for _, id := range h.fan[u] {
		c := h.t[id]
		if h.on[id] != nil {
			_, n := h.height(c)
			flat += n.Len() / 2
		}
		if c[0] == w || c[1] == w || c[2] == w {
			continue
		}
		if q := h.on[id]; q != nil && !q.holds(h.v[w]) {
			return false
		}
		before := c
		c[gateCorner(c, u)] = w
		s, is := h.height(c)
		if h.on[id] != nil {
			flat -= is.Len() / 2
		}
		if s < thinLeast || !h.facesStill(before, c, s, is) {
			return false
		}
		h.fresh = append(h.fresh, h.freshTri(id, c))
	}
	if flat > thinRim*h.v[u].Dist(h.v[w]) || !h.covers(u, limit) {
		return false
	}
	allowed := limit
	for i := range h.fresh {
		f := &h.fresh[i]
		f.off = h.error(f.c, allowed)
		if f.off > allowed && allowed == limit {
			allowed = max(limit, h.worst(u)) // no worse than what is there
			f.off = h.error(f.c, allowed)
		}
		if !(f.off <= allowed) {
			return false
		}
	}
	return true
}

// facesStill reports that a triangle of height s and normal n, which was another, faces
// as that did, or out. A needle must face out, or lean no more than that did: a few turns,
// each of them small, could stand it on edge.
func (h *thinner) facesStill(was, is [3]int32, s float64, n geom.Vec) bool {
	old := triNormal(h.v, was)
	same := thinSame(n, old)
	if same && s > h.needle {
		return true
	}
	out := h.outward(is)
	switch {
	case !same && !thinSame(n, out):
		return false
	case s > h.needle || thinUpright(n, out):
		return true
	}
	return thinCos(n, out) >= thinCos(old, h.outward(was))
}

func (h *thinner) freshTri(id int32, c [3]int32) thinTri {
	return thinTri{id, c, newBVHTri(h.v[c[0]], h.v[c[1]], h.v[c[2]], id), math.NaN()}
}

// thinCos is the cosine between two directions.
func thinCos(a, b geom.Vec) float64 { return a.Dot(b) / (a.Len() * b.Len()) }

// thinSame reports that two directions are within 45 degrees.
func thinSame(a, b geom.Vec) bool { return a.Dot(b) > 0.7*a.Len()*b.Len() }

// thinUpright reports that two directions are within 25 degrees.
func thinUpright(a, b geom.Vec) bool { return a.Dot(b) > 0.9*a.Len()*b.Len() }

// outward is the direction out of the solid at the middle of a triangle.
func (h *thinner) outward(c [3]int32) geom.Vec {
	p := h.v[c[0]].Add(h.v[c[1]]).Add(h.v[c[2]]).Scale(1.0 / 3)
	const d = 1e-4 // mm
	return geom.Vec{
		X: h.dist(geom.Vec{X: p.X + d, Y: p.Y, Z: p.Z}) - h.dist(geom.Vec{X: p.X - d, Y: p.Y, Z: p.Z}),
		Y: h.dist(geom.Vec{X: p.X, Y: p.Y + d, Z: p.Z}) - h.dist(geom.Vec{X: p.X, Y: p.Y - d, Z: p.Z}),
		Z: h.dist(geom.Vec{X: p.X, Y: p.Y, Z: p.Z + d}) - h.dist(geom.Vec{X: p.X, Y: p.Y, Z: p.Z - d}),
	}
}

// worst is the error of the triangles at u.
func (h *thinner) worst(u int32) float64 {
	var most float64
	for _, id := range h.fan[u] {
		if math.IsNaN(h.off[id]) {
			h.off[id] = h.error(h.t[id], math.Inf(1))
		}
		most = max(most, h.off[id])
	}
	return most
}

// triInside is how far from the middle of a side, on the way to that of the triangle,
// a sample is.
const triInside = 0.1

// triSamples is the middle of a triangle and a point near the middle of each
// side: not on it, for sides run along creases, where a field tells of both faces.
func triSamples(a, b, c geom.Vec) [4]geom.Vec {
	m := a.Add(b).Add(c).Scale(1.0 / 3)
	return [4]geom.Vec{m, a.Lerp(b, 0.5).Lerp(m, triInside), b.Lerp(c, 0.5).Lerp(m, triInside), c.Lerp(a, 0.5).Lerp(m, triInside)}
}

// dist is the field at p.
func (h *thinner) dist(p geom.Vec) float64 { return h.look.Dist(p) }

// error samples how far a triangle is from the surface, and gives up when that is
// more than stop.
func (h *thinner) error(c [3]int32, stop float64) float64 {
	return h.look.error(h.v[c[0]], h.v[c[1]], h.v[c[2]], stop)
}

// error is the thinner's, of the triangle a, b, c.
func (l *octLook) error(a, b, c geom.Vec, stop float64) float64 {
	var most float64
	for _, p := range triSamples(a, b, c) {
		if most = max(most, math.Abs(l.Dist(p))); most > stop {
			break
		}
	}
	return most
}

// covers reports that u and the vertices dropped around it are near the fresh
// triangles.
func (h *thinner) covers(u int32, limit float64) bool {
	if _, d := h.nearest(h.v[u]); !(d <= limit) && h.onSurface(u) {
		return false
	}
	for _, id := range h.fan[u] {
		for p := h.first[id]; p != octNone; p = h.next[p] {
			if _, d := h.nearest(h.v[p]); !(d <= limit) {
				return false
			}
		}
	}
	return true
}

// onSurface reports that u is a point of the surface; a vertex held back in its
// cell is not, and need not be remembered.
func (h *thinner) onSurface(u int32) bool {
	return math.Abs(h.dist(h.v[u])) <= thinSpeck
}

// nearest is the fresh triangle nearest to p, and its distance.
func (h *thinner) nearest(p geom.Vec) (int32, float64) {
	best, pick := math.Inf(1), int32(-1)
	for i := range h.fresh {
		if d := h.fresh[i].tri.dist2(p); d < best {
			best, pick = d, h.fresh[i].id
		}
	}
	return pick, math.Sqrt(best)
}

// collapse puts w in the place of u, and has u remembered if asked to: then the
// fresh triangles are already at hand.
func (h *thinner) collapse(u, w int32, remember bool) {
	loose := h.loose[:0]
	if !remember {
		h.fresh = h.fresh[:0]
	}
	for _, id := range h.fan[u] {
		for p := h.first[id]; p != octNone; p = h.next[p] {
			loose = append(loose, p)
		}
		h.first[id] = octNone
	}
	h.hand(u, w, func(id int32) {
		c := h.t[id]
		if h.on[id] == nil {
			h.on[id] = h.planeAt(c)
		}
		if !remember {
			h.fresh = append(h.fresh, h.freshTri(id, c))
		}
	})
	for i := range h.fresh {
		h.off[h.fresh[i].id] = h.fresh[i].off
	}
	if remember && h.onSurface(u) {
		loose = append(loose, u)
	}
	for _, p := range loose {
		id, _ := h.nearest(h.v[p])
		h.next[p], h.first[id] = h.first[id], p
	}
	h.loose = loose
	h.around(w, func(_, x, _ int32) { h.stir(x) })
	h.stir(w)
}
