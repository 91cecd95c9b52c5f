package mesh

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

// strips pairs triangles that have two edges to be divided, of which the longer is
// the same, and spares that one. Corners where the other two meet are left.
func (d *divider) strips(fresh []int32, edges []divideEdge, at map[edgeKey]int32) []strip {
	chosen := make([]int32, len(edges)) // by a triangle, plus one
	var out []strip
	for _, i := range fresh {
		long, short, ok := d.crossed(d.out.T[i], edges, at)
		if !ok {
			continue
		}
		other := chosen[long] - 1
		chosen[long] = i + 1
		if other < 0 {
			continue
		}
		_, across, _ := d.crossed(d.out.T[other], edges, at)
		if x, y := edges[short].c, edges[across].c; x[0] != y[0] && x[0] != y[1] && x[1] != y[0] && x[1] != y[1] {
			edges[long].spared = true
			out = append(out, strip{tri: [2]int32{other, i}, diagonal: long, cross: [2]int32{across, short}})
		}
	}
	return out
}

// crossed gives the longer and the shorter of the edges of triangle c that sag, if
// there are two and its third edge stays.
func (d *divider) crossed(c [3]int32, edges []divideEdge, at map[edgeKey]int32) (long, short int32, ok bool) {
	var two [2]int32
	n := 0
	for k := range 3 {
		i, found := at[edgeOf(c[k], c[(k+1)%3])]
		if !found {
			continue
		}
		if n == 2 || edges[i].kind != divideSag {
			return 0, 0, false
		}
		two[n] = i
		n++
	}
	if n < 2 {
		return 0, 0, false
	}
	if d.longer(edges[two[1]].c, edges[two[0]].c) {
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

// split finds the pieces of a strip. It is false, and the strip is off, where they
// would leave the surface or face another way.
func (d *divider) split(s *strip, edges []divideEdge, mid map[edgeKey]int32) bool {
	s.off = true
	m, one := mid[edges[s.cross[0]].c]
	n, other := mid[edges[s.cross[1]].c]
	look := d.tree.look()
	if !one || !other || d.sags(&look, d.out.V[m], d.out.V[n]) {
		return false
	}
	a, b, c, e := d.around(s, edges[s.diagonal].c)
	quads := [2][4]int32{{a, b, m, n}, {n, m, c, e}}
	if x := edges[s.cross[0]].c; x[0] == a || x[1] == a {
		quads = [2][4]int32{{m, b, c, n}, {a, m, n, e}}
	}
	faces := triNormal(d.out.V, d.out.T[s.tri[0]]).Unit().Add(triNormal(d.out.V, d.out.T[s.tri[1]]).Unit()).Unit()
	for i, q := range quads {
		if !d.nearer(q[0], q[2], q[1], q[3]) {
			q = [4]int32{q[1], q[2], q[3], q[0]}
		}
		for k, t := range [2][3]int32{{q[0], q[1], q[2]}, {q[0], q[2], q[3]}} {
			if !(triNormal(d.out.V, t).Unit().Dot(faces) > divideFacing) {
				return false
			}
			s.pieces[2*i+k] = t
		}
	}
	s.off = false
	return true
}

// around gives the corners of a strip, counterclockwise: those of its first triangle,
// which has the diagonal from the third to the first, and the other of its second.
func (d *divider) around(s *strip, diagonal edgeKey) (a, b, c, e int32) {
	apart := func(t [3]int32) int {
		for k, v := range t {
			if v != diagonal[0] && v != diagonal[1] {
				return k
			}
		}
		panic("mesh: a triangle without a corner off its edge")
	}
	t, u := d.out.T[s.tri[0]], d.out.T[s.tri[1]]
	k := apart(t)
	return t[(k+2)%3], t[k], t[(k+1)%3], u[apart(u)]
}

// replace puts the pieces of strips in the place of their triangles, and marks them.
func (d *divider) replace(strips []strip) (marked []bool) {
	var all []int32
	for i := range strips {
		if s := &strips[i]; !s.off {
			all = d.put(all, s.tri[0], s.pieces[:2])
			all = d.put(all, s.tri[1], s.pieces[2:])
		}
	}
	marked = make([]bool, len(d.out.T))
	for _, i := range all {
		marked[i] = true
	}
	return marked
}
