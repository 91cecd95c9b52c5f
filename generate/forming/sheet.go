package forming

import (
	"cmp"
	"math"

	"buckwright/generate/geom"
)

// sheet is the membrane as it is formed. It only ever gains nodes and elements.
type sheet struct {
	flat  []geom.Vec2
	node  []geom.Vec
	state []nodeState

	tri  [][3]int32 // counter-clockwise in the flat
	next [][3]int32 // by element: its neighbour across the side opposite each corner, -1: none
	ref  []refTri
}

// nodeState is what is known of a node beside its place.
type nodeState struct {
	held   bool     // it does not move: it touches the tool, or is in the frame
	frame  bool     // it is clamped
	hangs  bool     // it is held but touches nothing of the tool
	webbed bool     // it hangs, stuck to another layer of the sheet
	seen   geom.Vec // where the tool's distance was last asked
	clear  float64  // and what it was
	press  float64  // pressure on it, kPa
	when   moment   // of contact
	rests  bool     // in equilibrium at full vacuum
}

// moment orders contacts: by stage, by the vacuum reached, by step.
type moment struct {
	stage int
	load  float64
	step  int
}

// compare is negative when m comes before o.
func (m moment) compare(o moment) int {
	return cmp.Or(cmp.Compare(m.stage, o.stage), cmp.Compare(m.load, o.load), cmp.Compare(m.step, o.step))
}

// refTri is an element before forming: the inverse of its side matrix and its area.
type refTri struct {
	a, b, c, d float64 // inverse of [side1 side2], row by row
	area       float64
}

func newRefTri(p, q, r geom.Vec2) refTri {
	u, v := q.Sub(p), r.Sub(p)
	det := u.Cross(v)
	return refTri{v.Y / det, -v.X / det, -u.Y / det, u.X / det, det / 2}
}

func (s *sheet) addNode(flat geom.Vec2, at geom.Vec) int32 {
	s.flat = append(s.flat, flat)
	s.node = append(s.node, at)
	s.state = append(s.state, nodeState{})
	return int32(len(s.node) - 1)
}

// setRef renews what is known of element t before forming.
func (s *sheet) setRef(t int32) {
	v := s.tri[t]
	s.ref[t] = newRefTri(s.flat[v[0]], s.flat[v[1]], s.flat[v[2]])
}

// link finds the neighbours anew.
func (s *sheet) link() {
	type side struct{ a, b int32 }
	across := make(map[side]int32, 3*len(s.tri)) // looked up only, so its order does not matter
	for t, v := range s.tri {
		for k := range 3 {
			across[side{v[(k+1)%3], v[(k+2)%3]}] = int32(t)
		}
	}
	s.next = make([][3]int32, len(s.tri))
	s.ref = make([]refTri, len(s.tri))
	for t, v := range s.tri {
		for k := range 3 {
			s.next[t][k] = -1
			if u, ok := across[side{v[(k+2)%3], v[(k+1)%3]}]; ok {
				s.next[t][k] = u
			}
		}
		s.setRef(int32(t))
	}
}

// onEdge says for each node whether it lies on the outline of the mesh.
func (s *sheet) onEdge() []bool {
	edge := make([]bool, len(s.node))
	for t, v := range s.tri {
		for k, u := range s.next[t] {
			if u < 0 {
				edge[v[(k+1)%3]], edge[v[(k+2)%3]] = true, true
			}
		}
	}
	return edge
}

// normal is the vector area of a formed element.
func (s *sheet) normal(t int32) geom.Vec {
	v := s.tri[t]
	a := s.node[v[0]]
	return s.node[v[1]].Sub(a).Cross(s.node[v[2]].Sub(a)).Scale(0.5)
}

func (s *sheet) centroid(t int32) geom.Vec {
	v := s.tri[t]
	return s.node[v[0]].Add(s.node[v[1]]).Add(s.node[v[2]]).Scale(1.0 / 3)
}

// stretches are the principal stretches of an element, the larger first.
func (s *sheet) stretches(t int32) (a, b float64) {
	v, r := s.tri[t], s.ref[t]
	u, w := s.node[v[1]].Sub(s.node[v[0]]), s.node[v[2]].Sub(s.node[v[0]])
	f1 := u.Scale(r.a).Add(w.Scale(r.c))
	f2 := u.Scale(r.b).Add(w.Scale(r.d))
	return principal(f1.Dot(f1), f1.Dot(f2), f2.Dot(f2))
}

// principal are the roots of the eigenvalues of a symmetric 2 x 2 matrix, the larger first.
func principal(xx, xy, yy float64) (a, b float64) {
	m, d := (xx+yy)/2, math.Hypot((xx-yy)/2, xy)
	return math.Sqrt(m + d), math.Sqrt(max(m-d, 0))
}
