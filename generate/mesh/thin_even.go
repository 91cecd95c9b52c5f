package mesh

import (
	"context"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Chords of a curve all lie on its hollow side. Moving their ends out a little
// halves the error and takes the bias from the volume.

// thinError is what a triangle is off: on average, signed, and at most.
type thinError struct {
	mean, most float64
	n          geom.Vec // unit normal
	flat       bool     // lies on a plane of the surface, and must stay
	area       float64  // twice
}

// thinMiddle is the weight of the middle of a triangle in the mean over its samples.
// With it the mean is exact for a field that is quadratic over the triangle: the
// samples and the triangle have the same second moments.
const thinMiddle = 1 - 1/((1-triInside)*(1-triInside))

// gauge measures triangle id.
func (h *thinner) gauge(id int32) thinError {
	if q := h.on[id]; q != nil {
		return thinError{n: q.n, flat: true}
	}
	c := h.t[id]
	_, n := h.height(c)
	out := thinError{n: n.Unit(), area: n.Len()}
	for i, p := range triSamples(h.v[c[0]], h.v[c[1]], h.v[c[2]]) {
		d := h.dist(p)
		out.most = max(out.most, math.Abs(d))
		if i == 0 {
			out.mean += thinMiddle * d
		} else {
			out.mean += (1 - thinMiddle) / 3 * d
		}
	}
	return out
}

// evened is the mesh m of the thinner with the vertices of curves moved so that
// the surface lies evenly on both sides of the triangles. Flats stay where they
// are, to the last bit if they lie across an axis; vertices whose move would do
// harm stay too.
func (h *thinner) evened(m *Mesh, round func(geom.Vec) geom.Vec, workers int) *Mesh {
	h.slabs()                                  // ends of flats have been added
	was, locked := h.v, make([]bool, len(h.v)) // vertices that stay
	for range 8 {
		h.v = slices.Clone(was)
		e := evener{thinner: h, round: round, workers: workers, locked: locked, stale: slices.Repeat([]bool{true}, len(h.t)), gauged: make([]thinError, len(h.t)), faced: make([]geom.Vec, len(h.t))}
		for range 3 { // what one move leaves, the next takes up
			e.even()
		}
		out := h.mesh()
		if out.Check() == nil {
			return out
		}
		// m and out have the same triangles.
		g := newGate(out)
		stay := map[geom.Vec]bool{}
		for _, pair := range g.crossingPairs(math.MaxInt) {
			for _, i := range pair {
				for _, v := range g.t[i] {
					stay[m.V[v]] = true
				}
			}
		}
		if len(stay) == 0 {
			break
		}
		for u, p := range was {
			if stay[p] {
				locked[u] = true
			}
		}
	}
	return m
}

// evener moves vertices again and again.
type evener struct {
	*thinner
	round   func(geom.Vec) geom.Vec
	workers int
	locked  []bool // vertices that stay
	gauged  []thinError
	stale   []bool     // triangles whose corners have moved since they were gauged
	faced   []geom.Vec // normals before any corner had moved
}

// even moves the vertices that gain by it, of those whose surroundings have changed.
func (e *evener) even() {
	e.each(len(e.t), func(h *thinner, i int) {
		if !h.dead[i] && e.stale[i] {
			e.gauged[i] = h.gauge(int32(i))
			if e.faced[i] == (geom.Vec{}) {
				e.faced[i] = e.gauged[i].n
			}
		}
	})
	touched := make([]bool, len(e.v))
	for i, c := range e.t {
		if e.stale[i] {
			touched[c[0]], touched[c[1]], touched[c[2]] = true, true, true
		}
	}
	clear(e.stale)
	to := make([]geom.Vec, len(e.v))
	e.each(len(e.v), func(h *thinner, u int) {
		if touched[u] && len(h.fan[u]) > 0 && !e.locked[u] {
			to[u] = h.evenBy(int32(u), e.gauged)
		}
	})
	var lists [thinSlabs + 1][]int32 // the last: vertices near the cuts
	for u := range e.v {
		switch {
		case to[u] == (geom.Vec{}):
		case e.deep(int32(u)):
			lists[e.slab[u]] = append(lists[e.slab[u]], int32(u))
		default:
			lists[thinSlabs] = append(lists[thinSlabs], int32(u))
		}
	}
	_ = octParallel(context.Background(), thinSlabs, e.workers, func(k int) { e.move(lists[k], to) })
	e.move(lists[thinSlabs], to)
}

// move moves vertices, one after the other, where that does no harm.
func (e *evener) move(list []int32, to []geom.Vec) {
	own := *e.thinner // its own place in the tree
	for _, u := range list {
		was := e.v[u]
		e.v[u] = e.round(was.Add(to[u]))
		if !e.harmless(&own, u) {
			e.v[u] = was
			continue
		}
		for _, id := range e.fan[u] {
			e.stale[id] = true
		}
	}
}

// each calls job with 0 to n-1, in runs that processors share; h is theirs to ask.
func (e *evener) each(n int, job func(h *thinner, i int)) {
	const run = 1024
	_ = octParallel(context.Background(), (n+run-1)/run, e.workers, func(r int) {
		own := *e.thinner // its own place in the tree
		for i := r * run; i < min(n, (r+1)*run); i++ {
			job(&own, i)
		}
	})
}

// evenBy is by how much to move u: across the triangles that are off, along
// those that are not.
func (h *thinner) evenBy(u int32, gauged []thinError) geom.Vec {
	var free thinSpan
	for _, id := range h.fan[u] {
		if e := &gauged[id]; e.flat && !free.bar(e.n) {
			return geom.Vec{}
		}
	}
	var a [3][3]float64
	var b geom.Vec
	var weight, most float64
	for _, id := range h.fan[u] {
		e := &gauged[id]
		if e.flat {
			continue
		}
		m := free.project(e.n)
		k := [3]float64{m.X, m.Y, m.Z}
		for i := range 3 {
			for j := range 3 {
				a[i][j] += e.area * k[i] * k[j]
			}
		}
		b = b.Sub(m.Scale(e.area * e.mean))
		weight += e.area
		most = max(most, e.most)
	}
	val, vec := qefEigen(a)
	var d geom.Vec
	for k := range 3 {
		if val[k] > 0.1*weight {
			d = d.Add(vec[k].Scale(vec[k].Dot(b) / val[k]))
		}
	}
	d = free.project(d)
	if !(d.Len() <= 2*most) {
		return geom.Vec{}
	}
	return d
}

// harmless reports that u's triangles still face as they did at first and are off, as h
// finds, by no more than the worst of them was.
func (e *evener) harmless(h *thinner, u int32) bool {
	var was float64
	for _, id := range e.fan[u] {
		was = max(was, e.gauged[id].most)
	}
	for _, id := range e.fan[u] {
		if e.gauged[id].flat && !e.on[id].holds(e.v[u]) {
			return false
		}
		s, n := e.height(e.t[id])
		if s < thinLeast/2 || !thinSame(n, e.faced[id]) || s < e.needle && !thinUpright(n, e.faced[id]) || h.error(e.t[id], was) > was {
			return false
		}
	}
	return true
}

// thinSpan is the directions left when some are barred.
type thinSpan struct {
	n  [2]geom.Vec
	by int
}

// bar takes the direction n away. It is false when none would be left.
func (s *thinSpan) bar(n geom.Vec) bool {
	n = s.project(n)
	const same = 1e-3 // radians: directions nearer than this are one
	if n.Len() < same {
		return true
	}
	if s.by == 2 {
		return false
	}
	s.n[s.by] = n.Unit()
	s.by++
	return true
}

func (s *thinSpan) project(v geom.Vec) geom.Vec {
	for _, n := range s.n[:s.by] {
		v = v.Sub(n.Scale(n.Dot(v)))
	}
	return v
}
