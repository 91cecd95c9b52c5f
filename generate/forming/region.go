package forming

import (
	"math"

	"buckwright/generate/geom"
)

// region is a connected part of the sheet that is free to move, bounded by
// nodes that are held. Its nodes are numbered 0 to free-1, then the held ones.
type region struct {
	*sheet
	law   Law
	gauge float64

	node []int32 // of the sheet
	free int
	elem []regionElem
	x    []geom.Vec // places of node, in its order
	at   geom.Vec   // volumes are measured from here

	k       *stiffness
	pushing []geom.Vec // slope of the volume by free node, at the start of the step
	side    float64    // of an element
	load    load
}

// regionElem is an element with the region's own node numbers.
type regionElem struct {
	v [3]int32
	t int32 // of the sheet
}

// regions finds the parts of the sheet that are free. local is working space,
// one entry a node.
func regions(s *sheet, law Law, gauge float64) []*region {
	of := newUnion(len(s.node))
	for _, v := range s.tri {
		for k := range 3 {
			if a, b := v[k], v[(k+1)%3]; !s.state[a].held && !s.state[b].held {
				of.join(a, b)
			}
		}
	}
	local := make([]int32, len(s.node)) // by node: its number in its region, 1 up
	byRoot := make([]*region, len(s.node))
	var out []*region
	for n := range s.node {
		if s.state[n].held {
			continue
		}
		root := of.root(int32(n))
		r := byRoot[root]
		if r == nil {
			r = &region{sheet: s, law: law, gauge: gauge, at: s.node[n]}
			byRoot[root] = r
			out = append(out, r)
		}
		r.node = append(r.node, int32(n))
		local[n] = int32(len(r.node))
	}
	for t, v := range s.tri {
		for _, n := range v {
			if !s.state[n].held {
				r := byRoot[of.root(n)]
				r.elem = append(r.elem, regionElem{v, int32(t)})
				break
			}
		}
	}
	for _, r := range out {
		r.number(local)
	}
	return out
}

// number gives the region's elements its own node numbers.
func (r *region) number(local []int32) {
	r.free = len(r.node)
	first := len(r.node)
	for i := range r.elem {
		for k, n := range r.elem[i].v {
			if local[n] == 0 {
				r.node = append(r.node, n)
				local[n] = int32(len(r.node))
			}
			r.elem[i].v[k] = local[n] - 1
		}
	}
	for _, n := range r.node[first:] {
		local[n] = 0 // held nodes may bound another region too
	}
	r.x = make([]geom.Vec, len(r.node))
	for i, n := range r.node {
		r.x[i] = r.sheet.node[n]
	}
}

// load is the pressure on a region as a soft control of its volume: from the
// volume full on it falls by rate a mm³, and it never exceeds cap. The
// pressure-stretch curve of a membrane has a summit beyond which it bursts
// forward under a given pressure; under a given volume it has none.
type load struct {
	full, rate, cap float64 // mm³, kPa/mm³, kPa
}

// pressure and the work it has yet to do, kPa and kPa mm³.
func (l load) pressure(volume float64) (p, work float64) {
	if l.rate == 0 {
		return 0, 0
	}
	p = l.rate * (l.full - volume)
	if p <= l.cap {
		return p, p * p / (2 * l.rate)
	}
	knee := l.full - l.cap/l.rate
	return l.cap, l.cap*l.cap/(2*l.rate) + l.cap*(knee-volume)
}

// energy is that of the region's elements and its load at the places x, and its
// slope by node; g has room for every node of x. It also gives the pressure.
func (r *region) energy(x, g []geom.Vec) (e, p float64) {
	clear(g)
	h := r.gauge
	volume := 0.0
	for i := range r.elem {
		v := &r.elem[i].v
		volume += x[v[0]].Sub(r.at).Dot(x[v[1]].Sub(r.at).Cross(x[v[2]].Sub(r.at)))
	}
	volume /= -6 // downwards is forwards
	p, work := r.load.pressure(volume)
	for i := range r.elem {
		el := &r.elem[i]
		m := &r.ref[el.t]
		a := x[el.v[0]]
		u, w := x[el.v[1]].Sub(a), x[el.v[2]].Sub(a)
		f1 := geom.Vec{X: u.X*m.a + w.X*m.c, Y: u.Y*m.a + w.Y*m.c, Z: u.Z*m.a + w.Z*m.c}
		f2 := geom.Vec{X: u.X*m.b + w.X*m.d, Y: u.Y*m.b + w.Y*m.d, Z: u.Z*m.b + w.Z*m.d}
		density, s11, s12, s22 := r.law.stress(f1.Dot(f1), f1.Dot(f2), f2.Dot(f2))
		vol := m.area * h
		e += density * vol
		p1 := f1.Scale(s11 * vol).Add(f2.Scale(s12 * vol))
		p2 := f1.Scale(s12 * vol).Add(f2.Scale(s22 * vol))
		gu := geom.Vec{X: p1.X*m.a + p2.X*m.b, Y: p1.Y*m.a + p2.Y*m.b, Z: p1.Z*m.a + p2.Z*m.b}
		gw := geom.Vec{X: p1.X*m.c + p2.X*m.d, Y: p1.Y*m.c + p2.Y*m.d, Z: p1.Z*m.c + p2.Z*m.d}
		third := u.Cross(w).Scale(p / 6) // pressure acts downwards, so up is against it
		g[el.v[1]] = g[el.v[1]].Add(gu).Add(third)
		g[el.v[2]] = g[el.v[2]].Add(gw).Add(third)
		g[el.v[0]] = g[el.v[0]].Sub(gu).Sub(gw).Add(third)
	}
	return e + work, p
}

// push is the slope of the region's volume by node, free nodes only.
func (r *region) push(x []geom.Vec) []geom.Vec {
	f := make([]geom.Vec, len(x))
	for i := range r.elem {
		v := &r.elem[i].v
		third := x[v[1]].Sub(x[v[0]]).Cross(x[v[2]].Sub(x[v[0]])).Scale(-1.0 / 6)
		for _, n := range v {
			f[n] = f[n].Add(third)
		}
	}
	return f[:r.free]
}

func (r *region) volume(x []geom.Vec) float64 {
	volume := 0.0
	for i := range r.elem {
		v := &r.elem[i].v
		volume += x[v[0]].Sub(r.at).Dot(x[v[1]].Sub(r.at).Cross(x[v[2]].Sub(r.at)))
	}
	return volume / -6
}

// stress is the second Piola-Kirchhoff stress for the metric C, kPa, and the
// energy per volume.
func (l Law) stress(xx, xy, yy float64) (w, s11, s12, s22 float64) {
	switch l.Kind {
	case Harmonic:
		mu := l.Mu[0]
		return mu / 2 * (xx + yy - 2), mu, 0, mu
	case NeoHookean, "":
		mu := l.Mu[0]
		det := xx*yy - xy*xy
		if det > 1e-9 {
			c := mu / (det * det)
			s11, s12, s22 = mu-c*yy, c*xy, mu-c*xx
			if s11+s22 >= 0 && s11*s22 >= s12*s12 {
				return mu / 2 * (xx + yy + 1/det - 3), s11, s12, s22
			}
		}
	}
	return l.stressByStretch(xx, xy, yy)
}

// stressByStretch goes by the principal stretches.
func (l Law) stressByStretch(xx, xy, yy float64) (w, s11, s12, s22 float64) {
	const thin = 1e-6 // keeps a collapsed element's numbers finite
	a, b := principal(xx, xy, yy)
	a, b = max(a, thin), max(b, thin)
	w, wa, wb := l.relaxed(a, b)
	sa, sb := wa/a, wb/b
	// The larger stretch lies along (c, s): double-angle form of the eigenvector.
	d := math.Hypot((xx-yy)/2, xy)
	c2, s2 := 1.0, 0.0
	if d > 0 {
		c2, s2 = (xx-yy)/2/d, xy/d
	}
	mean, half := (sa+sb)/2, (sa-sb)/2
	return w, mean + half*c2, half * s2, mean - half*c2
}
