package picture

import (
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// Divided is the same surface in triangles whose sides are no longer than most,
// so that values at its vertices can vary within a flat. Neighbours still share
// their sides, because a side is halved for its own length.
func Divided(m *mesh.Mesh, most float64) *mesh.Mesh {
	out := &mesh.Mesh{V: append([]geom.Vec{}, m.V...), T: append([][3]int32{}, m.T...)}
	for halve(out, most) {
	}
	return out
}

// halve splits every side that is too long once; false when there was none.
func halve(m *mesh.Mesh, most float64) bool {
	mids := map[[2]int32]int32{}
	mid := func(a, b int32) int32 {
		key := [2]int32{min(a, b), max(a, b)}
		i, ok := mids[key]
		if !ok {
			i = int32(len(m.V))
			m.V = append(m.V, m.V[key[0]].Lerp(m.V[key[1]], 0.5))
			mids[key] = i
		}
		return i
	}
	var all [][3]int32
	for _, t := range m.T {
		all = append(all, parts(t, func(a, b int32) (int32, bool) {
			if m.V[a].Dist(m.V[b]) <= most {
				return 0, false
			}
			return mid(a, b), true
		})...)
	}
	m.T = all
	return len(mids) > 0
}

// parts are the one to four triangles that a triangle falls into when some of
// its sides are split.
func parts(t [3]int32, split func(a, b int32) (int32, bool)) [][3]int32 {
	var at [3]int32
	var is [3]bool
	n := 0
	for k := range 3 {
		if at[k], is[k] = split(t[k], t[(k+1)%3]); is[k] {
			n++
		}
	}
	for k := range 3 { // turned until the first side is split and, of two, the last is whole
		a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
		p, q, r := at[k], at[(k+1)%3], at[(k+2)%3]
		switch {
		case n == 3:
			return [][3]int32{{a, p, r}, {p, b, q}, {r, q, c}, {p, q, r}}
		case n == 2 && is[k] && is[(k+1)%3]:
			return [][3]int32{{p, b, q}, {a, p, q}, {a, q, c}}
		case n == 1 && is[k]:
			return [][3]int32{{a, p, c}, {p, b, c}}
		}
	}
	return [][3]int32{t}
}
