package mesh

import "buckwright/generate/geom"

// Section cuts a closed mesh with the plane at height z and returns the
// outlines, each a closed loop of points, solid on its left seen from above. A
// vertex at exactly z counts as above. Loops come in the order of their first triangle.
func (m *Mesh) Section(z float64) [][]geom.Vec2 {
	type edge [2]int32
	next := map[edge]edge{} // crossing of a mesh edge -> the crossing that follows it
	var order []edge
	up := func(v int32) bool { return m.V[v].Z >= z }
	for _, t := range m.T {
		for i := range 3 {
			a, b, c := t[i], t[(i+1)%3], t[(i+2)%3]
			if up(a) == up(b) || up(a) == up(c) {
				continue // a is not the corner alone on its side
			}
			from, to := key(a, b), key(a, c)
			if !up(a) {
				from, to = to, from
			}
			next[from] = to
			order = append(order, from)
		}
	}
	var loops [][]geom.Vec2
	for _, start := range order {
		var loop []geom.Vec2
		for e, ok := start, true; ok; {
			to, there := next[e]
			if !there {
				break
			}
			delete(next, e)
			p, q := m.V[e[0]], m.V[e[1]]
			loop = append(loop, p.Lerp(q, (z-p.Z)/(q.Z-p.Z)).XY())
			e = to
			ok = e != start
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

func key(a, b int32) [2]int32 { return [2]int32{min(a, b), max(a, b)} }
