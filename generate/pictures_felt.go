package generate

import (
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/picture"
)

// feltBody suggests the felt: a skin over the insert's product side, as far as
// the felt is wrapped.
func (r *Result) feltBody() picture.Body {
	all := func(_, _ geom.Vec) bool { return true }
	m := picture.Raised(picture.Clipped(upperSide(r.made("insert")), r.lined), r.Kit.Liner.Cement+r.Kit.Liner.Thickness, all)
	return picture.Body{Mesh: m, Paint: paintFelt, Thin: true}
}

// upperSide is the upper side of a formed sheet that stands on its cut edge: all
// that hangs together with its highest place without crossing the cut. Triangles of a
// steep wall cannot be told apart by the way they face.
func upperSide(m *mesh.Mesh) *mesh.Mesh {
	const level = 1e-3 // mm
	low, first := m.Bounds().Min.Z+level, -1
	cut := make([]bool, len(m.T))
	sides := map[[2]int32]int{} // a triangle by its directed sides
	for i, t := range m.T {
		a, b, c := m.Corners(i)
		cut[i] = max(a.Z, b.Z, c.Z) < low
		for k := range t {
			sides[[2]int32{t[k], t[(k+1)%3]}] = i
		}
		if first < 0 || a.Z > m.V[m.T[first][0]].Z {
			first = i
		}
	}
	out := &mesh.Mesh{V: m.V}
	if first < 0 {
		return out
	}
	seen := make([]bool, len(m.T))
	seen[first] = true
	for todo := []int{first}; len(todo) > 0; {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		t := m.T[i]
		out.T = append(out.T, t)
		for k := range t {
			if j, ok := sides[[2]int32{t[(k+1)%3], t[k]}]; ok && !seen[j] && !cut[j] {
				seen[j] = true
				todo = append(todo, j)
			}
		}
	}
	return out
}
