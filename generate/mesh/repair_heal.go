package mesh

import (
	"math"
	"slices"
)

// Field is the field of a body model as it comes, clean or dirty. The mesh is
// first healed (see Heal). Where the result is not fit for pseudonormals, the side
// is told by the winding number. Where it passes through itself, distances inside
// are bounds, because parts of the surface lie within the body.
func Field(m *Mesh) *MeshField {
	h := Heal(m)
	bvh := NewBVH(h)
	f := newMeshField(h, bvh, 0)
	unfit := f.ragged() || f.pinched()
	// Exact, as pseudonormals fail where triangles cross through a corner, too.
	f.rough = len(repairCrossings(bvh, h, 1)) > 0 || !unfit && newGate(h).crossings() != nil
	if f.rough || unfit {
		f.wind = NewWinding(h, bvh)
	}
	return f
}

// ragged reports whether some edge has not exactly two triangles, or some
// triangle no normal to speak of.
func (f *MeshField) ragged() bool {
	for k := range f.facets {
		n := &f.facets[k].next
		if min(n[0], n[1], n[2]) < 0 || f.bvh.tris[k].sliver {
			return true
		}
	}
	return false
}

// pinched reports whether some vertex joins two sheets, so that no one normal
// serves it. All edges must have two triangles.
func (f *MeshField) pinched() bool {
	count := make([]int32, len(f.corner))
	start := make([]int32, len(f.corner)) // a triangle at each vertex
	for k := range f.facets {
		for _, v := range f.facets[k].v {
			count[v]++
			start[v] = int32(k)
		}
	}
	for v, k := range start {
		if count[v] == 0 {
			continue
		}
		for {
			count[v]--
			t := &f.facets[k]
			i := 0
			for t.v[i] != int32(v) {
				i++
			}
			if k = t.next[i]; k == start[v] || count[v] == 0 {
				break
			}
		}
		if count[v] != 0 {
			return true
		}
	}
	return false
}

// Heal makes a mesh bound a solid: it welds vertices, drops triangles that are
// points or repeats, turns triangles to agree with their neighbours, closes holes
// by the smallest skin, turns shells that face in to face out, and drops shells
// that face out inside another. A shell that faces in inside another is a cavity
// and stays. The sides of every edge of the result cancel, so its winding number
// is a whole number off the surface. It may still pass through itself.
func Heal(m *Mesh) *Mesh {
	w := m.Weld(repairTolerance(m))
	w = w.without(func(i int) bool { return repairPointed(w.T[i]) })
	w = w.single()
	repairTurn(w)
	repairClose(w)
	out, _ := repairStack(w.single()) // a skin may lie on a fin
	return out
}

// single is the mesh without surplus triangles.
func (m *Mesh) single() *Mesh {
	surplus, _ := repairDuplicates(m)
	return m.without(func(i int) bool { return surplus[i] })
}

// repairTurn turns triangles round, in place, until neighbours agree. In each
// patch most of the area keeps the way it faced.
func repairTurn(m *Mesh) {
	next := make([][3]int32, len(m.T)) // 1 + 2*triangle, odd one more if it must turn; 0 if none
	repairGroups(repairEdges(m), func(g []repairEdge) {
		if len(g) != 2 {
			return
		}
		turn := int32(0)
		if g[0].turned == g[1].turned {
			turn = 1
		}
		next[g[0].half/3][g[0].half%3] = 1 + 2*(g[1].half/3) + turn
		next[g[1].half/3][g[1].half%3] = 1 + 2*(g[0].half/3) + turn
	})
	state := make([]int8, len(m.T)) // 0 not seen, +1 stays, -1 turns
	for i := range m.T {
		if state[i] != 0 {
			continue
		}
		state[i] = 1
		patch := []int32{int32(i)}
		var kept float64
		for n := 0; n < len(patch); n++ {
			t := patch[n]
			a, b, c := m.Corners(int(t))
			kept += float64(state[t]) * b.Sub(a).Cross(c.Sub(a)).Len()
			for _, o := range next[t] {
				if o == 0 || state[(o-1)/2] != 0 {
					continue
				}
				state[(o-1)/2] = state[t] * int8(1-2*((o-1)%2))
				patch = append(patch, (o-1)/2)
			}
		}
		for _, t := range patch {
			if (state[t] < 0) == (kept >= 0) {
				m.T[t][1], m.T[t][2] = m.T[t][2], m.T[t][1]
			}
		}
	}
}

// repairClose adds triangles, in place, until the sides of every edge cancel.
func repairClose(m *Mesh) {
	loops := repairLoops(m)
	long := repairWhole(loops)
	for _, loop := range loops {
		repairSkin(m, loop, long)
	}
}

// repairWhole is the most corners of a loop that are closed in one go: fewer
// where the rims have so many that it would take minutes.
func repairWhole(loops [][]int32) int {
	all := 0
	for _, l := range loops {
		all += len(l)
	}
	if all > repairRims {
		return repairLong / 10
	}
	return repairLong
}

// repairLoops are the closed runs of sides that lack a partner, each in the
// direction that the partner would take.
func repairLoops(m *Mesh) [][]int32 {
	var from []int32
	to := make(map[int32][]int32)
	repairGroups(repairEdges(m), func(g []repairEdge) {
		net := 0
		for _, e := range g {
			if e.turned {
				net--
			} else {
				net++
			}
		}
		a, b := g[0].b, g[0].a
		if net < 0 {
			a, b, net = b, a, -net
		}
		for range net {
			from = append(from, a)
			to[a] = append(to[a], b)
		}
	})
	slices.Sort(from)
	var loops [][]int32
	for _, start := range from {
		if len(to[start]) > 0 {
			loops = append(loops, repairWalk(start, to)...)
		}
	}
	return loops
}

// repairWalk follows sides from start until none is left, and cuts off a loop
// whenever it comes back to a vertex of its path.
func repairWalk(start int32, to map[int32][]int32) (loops [][]int32) {
	path := []int32{start}
	at := map[int32]int{start: 0}
	for v := start; len(to[v]) > 0; {
		out := to[v]
		v, to[v] = out[0], out[1:]
		if k, ok := at[v]; ok {
			loops = append(loops, slices.Clone(path[k:]))
			for _, u := range path[k+1:] {
				delete(at, u)
			}
			path = path[:k+1]
			continue
		}
		at[v] = len(path)
		path = append(path, v)
	}
	return loops
}

// repairLong is the most corners of a hole that are closed in one go, as the time
// rises with the third power; a tenth of that once all rims together have more
// than repairRims.
const repairLong, repairRims = 400, 20_000

// repairSkin closes a loop of vertices by the triangles of least total area
// (Barequet and Sharir 1995). A loop of more than long corners is first cut in two
// by a short chord.
func repairSkin(m *Mesh, loop []int32, long int) {
	n := len(loop)
	if n < 3 {
		return
	}
	if n > long {
		i := repairChord(m, loop)
		repairSkin(m, loop[i:i+n/2+1], long)
		repairSkin(m, append(slices.Clone(loop[i+n/2:]), loop[:i+1]...), long)
		return
	}
	area := make([]float64, n*n)
	apex := make([]int, n*n)
	for span := 2; span < n; span++ {
		for i := 0; i+span < n; i++ {
			k := i + span
			area[i*n+k] = math.Inf(1)
			a, c := m.V[loop[i]], m.V[loop[k]]
			for j := i + 1; j < k; j++ {
				b := m.V[loop[j]]
				s := area[i*n+j] + area[j*n+k] + b.Sub(a).Cross(c.Sub(a)).Len()
				if s < area[i*n+k] || j == i+1 {
					area[i*n+k], apex[i*n+k] = s, j
				}
			}
		}
	}
	var emit func(i, k int)
	emit = func(i, k int) {
		if k < i+2 {
			return
		}
		j := apex[i*n+k]
		m.T = append(m.T, [3]int32{loop[i], loop[j], loop[k]})
		emit(i, j)
		emit(j, k)
	}
	emit(0, n-1)
}

// repairChord is the corner from which the chord to the one half way round is
// shortest.
func repairChord(m *Mesh, loop []int32) int {
	half := len(loop) / 2
	best, at := math.Inf(1), 0
	for i := range half {
		if d := m.V[loop[i]].Dist(m.V[loop[i+half]]); d < best {
			best, at = d, i
		}
	}
	return at
}
