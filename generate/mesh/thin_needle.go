package mesh

// A triangle lower than the surface may be missed by can stand on edge, or be turned over,
// though its corners are all near the surface. It does no harm to a print but is no part of
// the surface, and looks like a wall where there is none.

// layNeedles collapses edges of needles that stand until none does, or none of them can be;
// new triangles are no farther than limit mm from the surface.
func (h *thinner) layNeedles(limit float64) {
	u := untangler{thinner: h, limit: limit}
	for found := true; found; {
		found = false
		for id := range h.t {
			if !h.dead[id] && h.stands(h.t[id], h.on[id]) && u.lay(int32(id)) {
				found = true
			}
		}
	}
}

// stands reports that triangle c, which may lie on a plane of the surface, is a needle that
// does not face out. By a crease or between two faces that are close, out means little.
func (h *thinner) stands(c [3]int32, on *qefPlane) bool {
	if on != nil {
		return false
	}
	for _, v := range c {
		if h.sharp[v] || h.tight[v] {
			return false
		}
	}
	s, n := h.height(c)
	return s < h.needle && !thinSame(n, h.outward(c))
}

// lay collapses the edge at triangle id that leaves the surface nearest, of those after
// which fewer triangles stand, unless triangles cross then.
func (u *untangler) lay(id int32) bool {
	from, to := u.best(id, u.standing)
	if from == octNone {
		return false
	}
	u.fits(from, to)
	if u.gate == nil {
		u.gate = newGate(&Mesh{V: u.v, T: u.t})
	}
	if u.faults(u.fresh, u.fan[from]) > u.faults(u.asIs(from), u.fan[from]) {
		return false
	}
	u.collapse(from, to, true)
	return true
}

// standing counts the triangles that stand.
func (u *untangler) standing(put []thinTri, _ []int32) (n int) {
	for _, f := range put {
		if u.stands(f.c, u.on[f.id]) {
			n++
		}
	}
	return n
}
