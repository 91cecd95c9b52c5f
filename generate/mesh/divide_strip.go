package mesh

import "buckwright/generate/geom"

// A curve that is straight one way is divided across that way only. Two triangles
// whose common edge is a diagonal become two quadrangles by way of the middles of
// the edges that cross the curve; the diagonal goes. Were it divided too, triangles
// would become shorter along the curve each time they become narrower.

// strip is two triangles that are cut across together.
type strip struct {
	tri      [2]int32
	diagonal int32    // of the edges
	cross    [2]int32 // the edges that are divided, of either triangle
	pieces   [4][3]int32
	off      bool // it does not serve
}

// pair finds strips: pairs of triangles that have two edges to be divided, of which
// the longer is the same. That one is spared. Corners where the other two meet are left.
func (r *division) pair() {
	chosen := make([]int32, len(r.edges)) // by a triangle, plus one
	for _, i := range r.fresh {
		long, short, ok := r.crossed(r.out.T[i])
		if !ok {
			continue
		}
		other := chosen[long] - 1
		chosen[long] = i + 1
		if other < 0 {
			continue
		}
		_, across, _ := r.crossed(r.out.T[other])
		if x, y := r.edges[short].c, r.edges[across].c; x[0] != y[0] && x[0] != y[1] && x[1] != y[0] && x[1] != y[1] {
			r.edges[long].spared = true
			r.strips = append(r.strips, strip{tri: [2]int32{other, i}, diagonal: long, cross: [2]int32{across, short}})
		}
	}
}

// crossed gives the longer and the shorter of the edges of triangle c that sag, if
// there are two and its third edge stays.
func (r *division) crossed(c [3]int32) (long, short int32, ok bool) {
	var two [2]int32
	n := 0
	for k := range 3 {
		i, found := r.at[edgeOf(c[k], c[(k+1)%3])]
		if !found {
			continue
		}
		if n == 2 || r.edges[i].kind != divideSag {
			return 0, 0, false
		}
		two[n] = i
		n++
	}
	if n < 2 {
		return 0, 0, false
	}
	if r.longer(r.edges[two[1]].c, r.edges[two[0]].c) {
		return two[1], two[0], true
	}
	return two[0], two[1], true
}

// longer compares edges. Of equals, the one with the higher corners is taken.
func (d *divider) longer(x, y edgeKey) bool {
	l, m := d.out.V[x[0]].Dist(d.out.V[x[1]]), d.out.V[y[0]].Dist(d.out.V[y[1]])
	if l != m {
		return l > m
	}
	return x[0] > y[0] || x[0] == y[0] && x[1] > y[1]
}

// split finds the pieces of a strip. Where there are none that serve, the strip is off
// and its diagonal divided after all.
func (r *division) split(s *strip) {
	if s.off = !r.pieces(s); s.off {
		e := &r.edges[s.diagonal]
		e.spared = false
		r.place(e)
	}
}

// pieces cuts a strip. It is false where the pieces would leave the surface or face
// another way.
func (r *division) pieces(s *strip) bool {
	m, one := r.mid[r.edges[s.cross[0]].c]
	n, other := r.mid[r.edges[s.cross[1]].c]
	look := r.tree.look()
	if !one || !other || r.sags(&look, r.out.V[m], r.out.V[n]) {
		return false
	}
	a, b, c, e := r.corners(s)
	quads := [2][4]int32{{a, b, m, n}, {n, m, c, e}}
	if x := r.edges[s.cross[0]].c; x[0] == a || x[1] == a {
		quads = [2][4]int32{{m, b, c, n}, {a, m, n, e}}
	}
	facing := func(t [3]int32) geom.Vec { return triNormal(r.out.V, t).Unit() }
	faces := facing(r.out.T[s.tri[0]]).Add(facing(r.out.T[s.tri[1]])).Unit()
	for i, q := range quads {
		if !r.nearer(q[0], q[2], q[1], q[3]) {
			q = [4]int32{q[1], q[2], q[3], q[0]}
		}
		for k, t := range [2][3]int32{{q[0], q[1], q[2]}, {q[0], q[2], q[3]}} {
			if !(facing(t).Dot(faces) > divideFacing) {
				return false
			}
			s.pieces[2*i+k] = t
		}
	}
	return true
}

// corners gives those of a strip, counterclockwise: of its first triangle, which has
// the diagonal from the third to the first, and the other of its second.
func (r *division) corners(s *strip) (a, b, c, e int32) {
	diagonal := r.edges[s.diagonal].c
	apart := func(t [3]int32) int {
		for k, v := range t {
			if v != diagonal[0] && v != diagonal[1] {
				return k
			}
		}
		panic("mesh: a triangle without a corner off its edge")
	}
	t, u := r.out.T[s.tri[0]], r.out.T[s.tri[1]]
	k := apart(t)
	return t[(k+2)%3], t[k], t[(k+1)%3], u[apart(u)]
}

// replace puts the pieces of strips in the place of their triangles, and marks them.
func (r *division) replace() (marked []bool) {
	var all []int32
	for i := range r.strips {
		if s := &r.strips[i]; !s.off {
			all = r.put(all, s.tri[0], s.pieces[:2])
			all = r.put(all, s.tri[1], s.pieces[2:])
		}
	}
	marked = make([]bool, len(r.out.T))
	for _, i := range all {
		marked[i] = true
	}
	return marked
}
