package forming

import (
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
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
	up   []geom.Vec // working space, as long as x

	k       *stiffness
	pushing []geom.Vec // slope of the volume by free node, at the start of the step
	side    float64    // of an element
	load    load
}

// regionElem is an element with the region's own node numbers.
type regionElem struct {
	v   [3]int32
	t   int32 // of the sheet
	ref refTri
}

// regions finds the parts of the sheet that are free.
func regions(s *sheet, law Law, gauge float64) []*region {
	of := mesh.NewJoined(len(s.node))
	for _, v := range s.tri {
		for k := range 3 {
			if a, b := v[k], v[(k+1)%3]; !s.state[a].held && !s.state[b].held {
				of.Join(a, b)
			}
		}
	}
	local := make([]int32, len(s.node)) // by node: its number in its region, from 1
	byRoot := make([]*region, len(s.node))
	var out []*region
	for n := range s.node {
		if s.state[n].held {
			continue
		}
		root := of.Root(int32(n))
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
				r := byRoot[of.Root(n)]
				r.elem = append(r.elem, regionElem{v, int32(t), s.ref[t]})
				break
			}
		}
	}
	for _, r := range out {
		r.number(local)
	}
	return out
}

// number gives the region's elements its own node numbers. local holds, by node of
// the sheet, those of the free nodes, counted from 1.
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
	r.up = make([]geom.Vec, len(r.node))
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
	clear(r.up)
	up := r.up
	six := 0.0 // times the volume above r.at
	for i := range r.elem {
		el := &r.elem[i]
		v0, v1, v2 := el.v[0], el.v[1], el.v[2]
		a, b, c := x[v0], x[v1], x[v2]
		ux, uy, uz := b.X-a.X, b.Y-a.Y, b.Z-a.Z
		wx, wy, wz := c.X-a.X, c.Y-a.Y, c.Z-a.Z
		m := &el.ref
		f1x, f1y, f1z := ux*m.a+wx*m.c, uy*m.a+wy*m.c, uz*m.a+wz*m.c
		f2x, f2y, f2z := ux*m.b+wx*m.d, uy*m.b+wy*m.d, uz*m.b+wz*m.d
		xx := f1x*f1x + f1y*f1y + f1z*f1z
		xy := f1x*f2x + f1y*f2y + f1z*f2z
		yy := f2x*f2x + f2y*f2y + f2z*f2z
		density, s11, s12, s22 := r.law.stress(xx, xy, yy)
		vol := m.area * r.gauge
		e += density * vol
		// Forces are F S times the inverse of the sides, transposed.
		ka, kb := (s11*m.a+s12*m.b)*vol, (s12*m.a+s22*m.b)*vol
		kc, kd := (s11*m.c+s12*m.d)*vol, (s12*m.c+s22*m.d)*vol
		gux, guy, guz := ka*f1x+kb*f2x, ka*f1y+kb*f2y, ka*f1z+kb*f2z
		gwx, gwy, gwz := kc*f1x+kd*f2x, kc*f1y+kd*f2y, kc*f1z+kd*f2z
		add(&g[v0], -gux-gwx, -guy-gwy, -guz-gwz)
		add(&g[v1], gux, guy, guz)
		add(&g[v2], gwx, gwy, gwz)
		cx, cy, cz := uy*wz-uz*wy, uz*wx-ux*wz, ux*wy-uy*wx
		six += (a.X-r.at.X)*cx + (a.Y-r.at.Y)*cy + (a.Z-r.at.Z)*cz
		add(&up[v0], cx, cy, cz)
		add(&up[v1], cx, cy, cz)
		add(&up[v2], cx, cy, cz)
	}
	p, work := r.load.pressure(-six / 6) // downwards is forwards
	if p != 0 {
		addScaled(g, up, p/6)
	}
	return e + work, p
}

func add(a *geom.Vec, x, y, z float64) {
	a.X += x
	a.Y += y
	a.Z += z
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
