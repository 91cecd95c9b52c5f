package forming

import (
	"buckwright/generate/geom"
)

// snapShare is how near to an end of a side, in parts of the side, a crossing
// must be for the node to be moved there; the rest of the sides are divided. At
// 0.3 no element is thinner than a third of its neighbours.
const snapShare = 0.3

// cut fits the flat mesh to the line where phi changes sign: sides of elements
// run along it afterwards. Nodes near the line are moved onto it, sides that
// still cross it get a node there. Nodes on the mesh's outline stay on it.
func (s *sheet) cut(phi func(geom.Vec2) float64) {
	c := &cutter{sheet: s, phi: phi, sign: make([]int8, len(s.node)), edge: s.onEdge()}
	for i, p := range s.flat {
		c.sign[i] = signOf(phi(p))
	}
	c.snap()
	c.divide()
	s.link()
}

type cutter struct {
	*sheet
	phi  func(geom.Vec2) float64
	sign []int8 // 0: on the line
	edge []bool
	mid  map[[2]int32]int32 // nodes put on sides
}

func signOf(v float64) int8 {
	if v < 0 {
		return -1
	}
	return 1
}

// root finds where the line crosses from a to b, as a share of the way. Only
// signs are asked, because phi may be far from linear.
func (c *cutter) root(a, b geom.Vec2, sa int8) float64 {
	lo, hi := 0.0, 1.0
	for range 18 {
		m := (lo + hi) / 2
		if signOf(c.phi(a.Lerp(b, m))) == sa {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}

// snap moves nodes that lie near the line onto it.
func (c *cutter) snap() {
	move := make([]geom.Vec2, len(c.node))
	count := make([]int, len(c.node))
	pull := func(n, other int32, share float64, outline bool) {
		if share > snapShare || c.edge[n] && !outline {
			return
		}
		move[n] = move[n].Add(c.flat[other].Sub(c.flat[n]).Scale(share))
		count[n]++
	}
	for t, v := range c.tri {
		for k, u := range c.next[t] {
			a, b := v[(k+1)%3], v[(k+2)%3]
			if u > int32(t) || c.sign[a] == c.sign[b] {
				continue // each side once
			}
			share := c.root(c.flat[a], c.flat[b], c.sign[a])
			pull(a, b, share, u < 0)
			pull(b, a, 1-share, u < 0)
		}
	}
	for n, k := range count {
		if k > 0 {
			c.moveTo(n, move[n].Scale(1/float64(k)))
		}
	}
}

// moveTo puts node n onto the line, which lies about d away from it.
func (c *cutter) moveTo(n int, d geom.Vec2) {
	far := c.flat[n].Add(d.Scale(1.5))
	share := 1.0 / 1.5
	if signOf(c.phi(far)) != c.sign[n] {
		share = c.root(c.flat[n], far, c.sign[n])
	}
	c.flat[n] = c.flat[n].Lerp(far, share)
	c.node[n] = c.flat[n].At(c.node[n].Z)
	c.sign[n] = 0
}

// divide splits the elements that the line still crosses.
func (c *cutter) divide() {
	c.mid = map[[2]int32]int32{}
	for t := range len(c.tri) {
		v := c.tri[t]
		for k := range 3 { // bring the lone corner to the front
			a, p, q := v[k], v[(k+1)%3], v[(k+2)%3]
			sa, sp, sq := c.sign[a], c.sign[p], c.sign[q]
			switch {
			case sa != 0 && sp == -sa && sq == -sa:
				c.divideTwo(t, a, p, q)
			case sa == 0 && sp != 0 && sp == -sq:
				m := c.midOf(p, q)
				c.tri[t] = [3]int32{a, p, m}
				c.tri = append(c.tri, [3]int32{a, m, q})
			default:
				continue
			}
			break
		}
	}
}

// divideTwo cuts corner a off element t and halves the rest by its shorter diagonal.
func (c *cutter) divideTwo(t int, a, p, q int32) {
	ap, aq := c.midOf(a, p), c.midOf(a, q)
	c.tri[t] = [3]int32{a, ap, aq}
	if c.flat[ap].Sub(c.flat[q]).Len() < c.flat[aq].Sub(c.flat[p]).Len() {
		c.tri = append(c.tri, [3]int32{ap, p, q}, [3]int32{ap, q, aq})
	} else {
		c.tri = append(c.tri, [3]int32{ap, p, aq}, [3]int32{p, q, aq})
	}
}

func (c *cutter) midOf(a, b int32) int32 {
	if a > b {
		a, b = b, a
	}
	if m, ok := c.mid[[2]int32{a, b}]; ok {
		return m
	}
	p := c.flat[a].Lerp(c.flat[b], c.root(c.flat[a], c.flat[b], c.sign[a]))
	m := c.addNode(p, p.At(c.node[a].Z))
	c.sign = append(c.sign, 0)
	c.mid[[2]int32{a, b}] = m
	return m
}
