package mesh

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Here and there triangles fold over their neighbours where they were traced, or
// when many are dropped. untangle collapses edges there until none cross.

// untangleMost is how many faults it tries to undo: where there are more, the mesh
// does not stand for the surface.
const untangleMost = 1000

// untangler collapses edges of a thinned mesh.
type untangler struct {
	*thinner
	gate  *gate // of all triangles, the dead ones too
	limit float64
}

// untangle undoes the crossings of the thinned mesh m, and gives what is left and
// the corners of triangles that still cross. New triangles are no farther than
// limit mm from the surface.
func (h *thinner) untangle(m *Mesh, limit float64) (left *Mesh, tangled []geom.Vec) {
	u := untangler{thinner: h, gate: newGate(&Mesh{V: h.v, T: h.t}), limit: limit}
	for {
		bad := u.faulty(m)
		undone := false
		for _, id := range bad {
			if len(bad) <= untangleMost && !h.dead[id] && u.undo(id) {
				undone = true
			}
		}
		if !undone {
			for _, id := range bad {
				for _, v := range h.t[id] {
					tangled = append(tangled, h.v[v])
				}
			}
			return m, tangled
		}
		m = h.mesh()
	}
}

// faulty lists the triangles that cross others, have no area or corners that nearly
// coincide, by their numbers here; m is the mesh as it is.
func (u *untangler) faulty(m *Mesh) []int32 {
	var all, live []int32
	for id := range u.t {
		if !u.dead[id] {
			all = append(all, int32(len(all)))
			live = append(live, int32(id))
		}
	}
	bad := newGate(m).tangled(all)
	for i, id := range bad {
		bad[i] = live[id]
	}
	slices.Sort(bad)
	return slices.Compact(bad)
}

// undo collapses the edge at triangle id that leaves the surface nearest, of those
// after which there are fewer faults.
func (u *untangler) undo(id int32) bool {
	from, to := u.best(id, u.faults)
	if from == octNone {
		return false
	}
	u.fits(from, to)
	u.collapse(from, to, true)
	return true
}

// best is the edge at triangle id to collapse, from one end onto the other: that which
// leaves the surface nearest, of those after which count finds fewer triangles in the
// place of the fan. It is octNone if there is none.
func (u *untangler) best(id int32, count func(put []thinTri, fan []int32) int) (from, to int32) {
	off := math.Inf(1)
	from, to = octNone, octNone
	for _, v := range u.t[id] {
		before := -1
		u.around(v, func(_, w, _ int32) {
			d, ok := u.fits(v, w)
			if !ok || d >= off {
				return
			}
			if before < 0 {
				before = count(u.asIs(v), u.fan[v])
			}
			if count(u.fresh, u.fan[v]) < before {
				off, from, to = d, v, w
			}
		})
	}
	return from, to
}

// asIs is the fan of v as if it were fresh.
func (u *untangler) asIs(v int32) (out []thinTri) {
	for _, id := range u.fan[v] {
		out = append(out, thinTri{id: id, c: u.t[id]})
	}
	return out
}

// fits lays out the triangles that v's fan leaves when collapsed onto w, and tells
// how far they are from the surface; ok is false when that is too far, or when one
// turns away from outside.
func (u *untangler) fits(v, w int32) (off float64, ok bool) {
	u.fresh = u.fresh[:0]
	if len(u.fan[v]) > thinFan || u.sharp[v] && u.onSurface(v) && !u.sharp[w] || !u.linked(v, w) {
		return 0, false
	}
	limit := u.limit
	for _, id := range u.fan[v] {
		was := u.t[id]
		if was[0] == w || was[1] == w || was[2] == w {
			continue
		}
		q := u.on[id]
		if q != nil && !q.holds(u.v[w]) {
			return 0, false
		}
		c := was
		c[gateCorner(c, v)] = w
		s, n := u.height(c)
		if s < thinLeast || !u.outside(q, c, n) && u.outside(q, was, triNormal(u.v, was)) {
			return 0, false
		}
		f := u.freshTri(id, c)
		if q == nil {
			if f.off = u.error(c, limit); !(f.off <= limit) {
				return 0, false
			}
			off = max(off, f.off)
		}
		u.fresh = append(u.fresh, f)
	}
	return off, u.covers(v, limit)
}

// outside reports that triangle c, with normal n, faces out of the solid.
func (u *untangler) outside(on *qefPlane, c [3]int32, n geom.Vec) bool {
	if on != nil {
		return n.Dot(on.n) > 0
	}
	return thinSame(n, u.outward(c))
}

// faults counts the triangles that those in the place of a fan would cross, and of
// them those that are degenerate.
func (u *untangler) faults(put []thinTri, fan []int32) (count int) {
	gone := map[int32]bool{}
	for _, id := range fan {
		gone[id] = true
	}
	box := geom.EmptyBox()
	for _, f := range put {
		was := u.t[f.id]
		defer func() { u.t[f.id] = was }()
		u.t[f.id], gone[f.id] = f.c, false
		box = box.Union(u.gate.box(f.id))
		if u.gate.narrow(f.c) {
			count++
		}
	}
	for k := range u.t {
		k := int32(k)
		if u.dead[k] || gone[k] {
			continue
		}
		if b := u.gate.box(k); !gateMeets(&b, &box) {
			continue
		}
		for _, f := range put {
			if f.id != k && u.gate.cross(f.id, k) {
				count++
			}
		}
	}
	return count
}
