package forming

import "buckwright/generate/geom"

// split halves element t across its longest side, after halving its neighbours
// as far as it takes for the mesh to stay whole (Rivara, Int. J. Numer. Methods
// Eng. 20:745, 1984: no angle becomes less than half of the least at the start).
// Lengths are those of the flat sheet. made is called with each new node and
// the two that it lies between.
func (s *sheet) split(t int32, made func(m, a, b int32)) {
	for {
		k := s.longest(t)
		u := s.next[t][k]
		if u < 0 {
			s.halve(t, k, -1, 0, made)
			return
		}
		ku := s.longest(u)
		if s.next[u][ku] == t {
			s.halve(t, k, u, ku, made)
			return
		}
		s.split(u, made)
	}
}

// longest is the corner opposite the longest side. Equal sides are told apart
// by their nodes, alike from both elements.
func (s *sheet) longest(t int32) int {
	best := 0
	for k := 1; k < 3; k++ {
		if s.longer(t, k, best) {
			best = k
		}
	}
	return best
}

func (s *sheet) longer(t int32, k, than int) bool {
	a, b := s.side(t, k)
	c, d := s.side(t, than)
	p, q := s.flat[a].Sub(s.flat[b]), s.flat[c].Sub(s.flat[d])
	if l, m := p.Dot(p), q.Dot(q); l != m { // exact, so that the way to the longest side ends
		return l > m
	}
	if a != c {
		return a < c
	}
	return b < d
}

// side are the nodes of the side opposite corner k, the lower first.
func (s *sheet) side(t int32, k int) (lo, hi int32) {
	a, b := s.tri[t][(k+1)%3], s.tri[t][(k+2)%3]
	return min(a, b), max(a, b)
}

// halve puts a node in the middle of the side opposite corner k of t, which u
// shares as its side opposite ku; u is -1 on the outline.
func (s *sheet) halve(t int32, k int, u int32, ku int, made func(m, a, b int32)) {
	a, b := s.tri[t][(k+1)%3], s.tri[t][(k+2)%3]
	m := s.addNode(s.flat[a].Lerp(s.flat[b], 0.5), s.node[a].Lerp(s.node[b], 0.5))
	t2 := s.halveOne(t, k, m)
	u2 := int32(-1)
	if u >= 0 {
		u2 = s.halveOne(u, ku, m)
		// t = (c, a, m), t2 = (c, m, b); u = (d, b, m), u2 = (d, m, a)
		s.next[t][0], s.next[u2][0] = u2, t
		s.next[t2][0], s.next[u][0] = u, t2
	}
	made(m, a, b)
}

// halveOne makes of element t = (c, a, b), c its corner k, the halves
// t = (c, a, m) and the new (c, m, b), which it returns.
func (s *sheet) halveOne(t int32, k int, m int32) int32 {
	v, n := s.tri[t], s.next[t]
	c, a, b := v[k], v[(k+1)%3], v[(k+2)%3]
	beyondA, beyondB := n[(k+1)%3], n[(k+2)%3]
	t2 := int32(len(s.tri))
	s.tri[t] = [3]int32{c, a, m}
	s.next[t] = [3]int32{-1, t2, beyondB}
	s.tri = append(s.tri, [3]int32{c, m, b})
	s.next = append(s.next, [3]int32{-1, beyondA, t})
	s.ref = append(s.ref, refTri{})
	s.setRef(t)
	s.setRef(t2)
	if beyondA >= 0 {
		for i, x := range s.next[beyondA] {
			if x == t {
				s.next[beyondA][i] = t2
			}
		}
	}
	return t2
}

// flatEdge is the longest side of an element before forming.
func (s *sheet) flatEdge(t int32) float64 {
	v := s.tri[t]
	return longestSide(s.flat[v[0]].At(0), s.flat[v[1]].At(0), s.flat[v[2]].At(0))
}

// formedEdge is the longest side of an element as formed.
func (s *sheet) formedEdge(t int32) float64 {
	v := s.tri[t]
	return longestSide(s.node[v[0]], s.node[v[1]], s.node[v[2]])
}

func longestSide(a, b, c geom.Vec) float64 { return max(a.Dist(b), b.Dist(c), c.Dist(a)) }
