package forming

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// open gathers the nodes that hang free at the end into connected places: the
// foot of a web is one place all along.
func (f *former) open(out *Formed) []Open {
	s := f.sheet
	of := mesh.NewJoined(len(s.node))
	for _, v := range s.tri {
		for k := range 3 {
			if a, b := v[k], v[(k+1)%3]; out.Gap[a] > 0 && out.Gap[b] > 0 {
				of.Join(a, b)
			}
		}
	}
	deepest := map[int32]int32{} // by component; looked up only
	var roots []int32
	for n, g := range out.Gap {
		if !f.opens(out, int32(n)) {
			continue
		}
		root := of.Root(int32(n))
		best, known := deepest[root]
		if !known {
			roots = append(roots, root)
		}
		if !known || g > out.Gap[best] {
			deepest[root] = int32(n)
		}
	}
	area := f.openArea(out, of)
	var places []Open
	for _, root := range roots {
		n := deepest[root]
		o := Open{At: s.node[n], Gap: out.Gap[n], Area: area[root], Radius: f.radius(n)}
		if f.set.Place != nil {
			o.Place = f.set.Place(o.At)
		}
		places = append(places, o)
	}
	slices.SortStableFunc(places, func(a, b Open) int { return cmp.Compare(b.Gap, a.Gap) })
	return places
}

// opens reports whether a node is off the tool and in no web.
func (f *former) opens(out *Formed, n int32) bool { return out.Gap[n] > 0 && !f.sheet.state[n].webbed }

// openArea shares each element's area among the components of its open corners.
func (f *former) openArea(out *Formed, of mesh.Joined) []float64 {
	s := f.sheet
	area := make([]float64, len(s.node))
	for t, v := range s.tri {
		a := s.normal(int32(t)).Len() / 3
		for _, n := range v {
			if f.opens(out, n) {
				area[of.Root(n)] += a
			}
		}
	}
	return area
}

// radius is the least radius of curvature of the sheet about a node: the
// curvature tensor of a mesh, each side counting by its length and the angle
// across it (Cohen-Steiner and Morvan, Restricted Delaunay triangulations and
// normal cycle, SoCG 2003).
func (f *former) radius(n int32) float64 {
	s := f.sheet
	var tensor [3]geom.Vec // rows
	area := 0.0
	for t, v := range s.tri {
		if v[0] != n && v[1] != n && v[2] != n {
			continue
		}
		nt := s.normal(int32(t))
		area += nt.Len()
		for k, u := range s.next[t] {
			if u < 0 {
				continue
			}
			a, b := s.node[v[(k+1)%3]], s.node[v[(k+2)%3]]
			e := b.Sub(a)
			nu := s.normal(u)
			angle := math.Atan2(nt.Unit().Cross(nu.Unit()).Dot(e.Unit()), nt.Unit().Dot(nu.Unit()))
			w, d := angle*e.Len()/2, e.Unit() // half: met from both elements, or shared with one beyond
			tensor[0] = tensor[0].Add(d.Scale(w * d.X))
			tensor[1] = tensor[1].Add(d.Scale(w * d.Y))
			tensor[2] = tensor[2].Add(d.Scale(w * d.Z))
		}
	}
	k := spectralRadius(tensor) / area
	if !(k > 0) {
		return math.Inf(1)
	}
	return 1 / k
}

// spectralRadius is the largest size of an eigenvalue of a symmetric matrix, by power iteration.
func spectralRadius(m [3]geom.Vec) float64 {
	v, size := geom.V(0.5773, 0.5774, 0.5775), 0.0
	for range 100 {
		w := geom.V(m[0].Dot(v), m[1].Dot(v), m[2].Dot(v))
		size = w.Len()
		if size == 0 {
			return 0
		}
		v = w.Scale(1 / size)
	}
	return size
}
