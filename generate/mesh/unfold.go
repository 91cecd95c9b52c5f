package mesh

// Where cells of unequal size meet, polygons about a smooth surface may lie folded
// over each other. They do not cross, but would once their corners are put on the
// surface.

const (
	// unfoldBent is the cosine of the angle between neighbours that are taken for
	// a fold: 107 degrees, where a smooth surface turns by 60 within a cell.
	unfoldBent = -0.3

	// unfoldFacing is the least cosine between a triangle and the surface for it to
	// face out: 75 degrees.
	unfoldFacing = 0.25
)

// unfolder collapses edges of a splitter's mesh.
type unfolder struct {
	*splitter
	fans
	look octLook
}

// unfold takes out folds, where that can be done by collapsing edges.
func (s *splitter) unfold() {
	u := unfolder{s, newFans(len(s.out.V), s.out.T), s.tree.look()}
	found := false
	for u.pass() {
		found = true
	}
	if !found {
		return
	}
	s.out.T = u.left()
}

// pass goes over the triangles once, and tells whether it collapsed an edge.
func (u *unfolder) pass() (found bool) {
	for i := range u.t {
		for k := 0; k < 3 && !u.dead[i]; k++ {
			if j := u.beyond(int32(i), k); j != octNone && u.folded(int32(i), j) {
				found = u.undo(int32(i)) || u.undo(j) || found
			}
		}
	}
	return found
}

// beyond is the triangle across edge k of triangle i, if its number is higher.
func (u *unfolder) beyond(i int32, k int) int32 {
	a, b := u.t[i][k], u.t[i][(k+1)%3]
	for _, j := range u.fan[a] {
		if c := u.t[j]; j > i && c[(gateCorner(c, a)+2)%3] == b {
			return j
		}
	}
	return octNone
}

// folded reports that two neighbours lie folded where no crease can be.
func (u *unfolder) folded(i, j int32) bool {
	m, n := triNormal(u.out.V, u.t[i]), triNormal(u.out.V, u.t[j])
	return m.Dot(n) < unfoldBent*m.Len()*n.Len() && u.smooth(u.t[i]) && u.smooth(u.t[j])
}

// facing is the cosine between a triangle and the surface at its middle.
func (u *unfolder) facing(c [3]int32) float64 {
	p := u.out.V[c[0]].Add(u.out.V[c[1]]).Add(u.out.V[c[2]]).Scale(1.0 / 3)
	return triNormal(u.out.V, c).Unit().Dot(qefNormal(u.look.solid(p), p))
}

// undo collapses the edge at triangle i that leaves all triangles there facing out
// best, if the triangle itself does not.
func (u *unfolder) undo(i int32) bool {
	if u.dead[i] || u.facing(u.t[i]) >= unfoldFacing {
		return false
	}
	best, from, to := unfoldFacing, octNone, octNone
	for _, v := range u.t[i] {
		u.around(v, func(_, w, _ int32) {
			if f := u.facingWithout(v, w); f > best && u.linked(v, w) {
				best, from, to = f, v, w
			}
		})
	}
	if from == octNone {
		return false
	}
	u.hand(from, to, func(int32) {})
	return true
}

// facingWithout is the worst cosine of the triangles that v's fan leaves when
// collapsed onto w, -1 where there may be a crease.
func (u *unfolder) facingWithout(v, w int32) float64 {
	worst := 1.0
	for _, id := range u.fan[v] {
		c := u.t[id]
		if !u.smooth(c) {
			return -1
		}
		if c[0] == w || c[1] == w || c[2] == w {
			continue
		}
		c[gateCorner(c, v)] = w
		if worst = min(worst, u.facing(c)); worst < unfoldFacing {
			break
		}
	}
	return worst
}

// linked reports that v may be collapsed onto w: they have two neighbours in
// common, each with more than three triangles.
func (u *unfolder) linked(v, w int32) bool {
	common := 0
	u.around(v, func(_, x, _ int32) {
		u.around(w, func(_, y, _ int32) {
			if x == y && len(u.fan[x]) > 3 {
				common++
			} else if x == y {
				common = 3
			}
		})
	})
	return common == 2
}
