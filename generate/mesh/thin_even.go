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
	was := h.v
	h.v = slices.Clone(was)
	e := evener{thinner: h, round: round, workers: workers, gauged: make([]thinError, len(h.t)), stale: slices.Repeat([]bool{true}, len(h.t))}
	e.gauge()
	first := e.worst()
	e.faced = make([]geom.Vec, len(h.t))
	for i := range e.faced {
		e.faced[i] = e.gauged[i].n
	}
	e.moved = slices.Repeat([]bool{true}, len(h.v)) // all are looked at once
	for range 3 {                                   // what one move leaves, the next takes up
		e.even()
	}
	for range 8 {
		out := h.mesh()
		if out.Check() == nil {
			return out
		}
		if !e.putBack(m, newGate(out), was) {
			break
		}
		e.settle(was, first)
	}
	h.v = was
	return m
}

// evener moves vertices again and again.
type evener struct {
	*thinner
	round   func(geom.Vec) geom.Vec
	workers int
	gauged  []thinError
	stale   []bool     // triangles whose corners have moved since they were gauged
	faced   []geom.Vec // normals before any corner had moved
	moved   []bool     // vertices that the last round moved
}

// even moves the vertices that gain by it, of those whose surroundings have changed.
func (e *evener) even() {
	touched := make([]bool, len(e.v))
	for i, c := range e.t {
		if !e.dead[i] && (e.moved[c[0]] || e.moved[c[1]] || e.moved[c[2]]) {
			touched[c[0]], touched[c[1]], touched[c[2]] = true, true, true
		}
	}
	from, worst := slices.Clone(e.v), e.worst()
	e.each(len(e.v), func(h *thinner, u int) {
		if touched[u] && len(h.fan[u]) > 0 {
			if by := h.evenBy(int32(u), e.gauged); by != (geom.Vec{}) {
				e.v[u] = e.round(from[u].Add(by))
			}
		}
	})
	for u, p := range from {
		if e.moved[u] = e.v[u] != p; e.moved[u] {
			e.touch(u)
		}
	}
	e.settle(from, worst)
}

// settle gauges triangles anew, and puts vertices back to where they came from that have
// done harm there, until none has; worst is by how much triangles were off then.
func (e *evener) settle(from []geom.Vec, worst []float64) {
	harm := make([]bool, len(e.v))
	for {
		e.gauge()
		e.each(len(e.v), func(h *thinner, u int) { harm[u] = h.v[u] != from[u] && !e.harmless(int32(u), worst) })
		found := false
		for u := range harm {
			if harm[u] {
				e.v[u], e.moved[u], found = from[u], false, true
				e.touch(u)
			}
		}
		if !found {
			return
		}
	}
}

// touch makes the triangles of a vertex that has moved stale.
func (e *evener) touch(u int) {
	for _, id := range e.fan[u] {
		e.stale[id] = true
	}
}

// gauge measures the triangles that are stale.
func (e *evener) gauge() {
	e.each(len(e.t), func(h *thinner, i int) {
		if !h.dead[i] && e.stale[i] {
			e.gauged[i], e.stale[i] = h.gauge(int32(i)), false
		}
	})
}

// worst is by how much each triangle is off at most.
func (e *evener) worst() []float64 {
	out := make([]float64, len(e.gauged))
	for i := range e.gauged {
		out[i] = e.gauged[i].most
	}
	return out
}

// putBack puts the corners of triangles that cross back to where they were at first.
// It is false when all are there. The gate's triangles are those of m, moved.
func (e *evener) putBack(m *Mesh, g *gate, was []geom.Vec) (found bool) {
	stay := map[geom.Vec]bool{}
	for _, pair := range g.crossingPairs(math.MaxInt) {
		for _, i := range pair {
			for _, v := range g.t[i] {
				stay[m.V[v]] = true
			}
		}
	}
	for u, p := range was {
		if stay[p] && e.v[u] != p {
			e.v[u], found = p, true
			e.touch(u)
		}
	}
	return found
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

// harmless reports that u's triangles still face as they did at first and are off by
// no more than the worst of them was.
func (e *evener) harmless(u int32, worst []float64) bool {
	var was float64
	for _, id := range e.fan[u] {
		was = max(was, worst[id])
	}
	for _, id := range e.fan[u] {
		g := &e.gauged[id]
		if g.flat && !e.on[id].holds(e.v[u]) || g.most > was {
			return false
		}
		s, n := e.height(e.t[id])
		if s < thinLeast/2 || !thinSame(n, e.faced[id]) || s < e.needle && !thinUpright(n, e.faced[id]) {
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
