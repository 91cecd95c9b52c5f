package mesh

import (
	"cmp"
	"slices"

	"buckwright/generate/geom"
)

// repairEdge is one side of a triangle: half = 3*triangle + side, side i running
// from corner i to corner i+1. Vertices a < b, whichever way the side runs.
type repairEdge struct {
	a, b, half int32
	turned     bool // the side runs from b to a
}

// repairEdges lists the sides of all triangles, those of one edge together: by
// the lower vertex, then the upper, then the triangle. They are dealt out by the
// lower vertex first; few sides share one, so that little is left to sort.
func repairEdges(m *Mesh) []repairEdge {
	end := make([]int32, len(m.V)+1) // where the next side with each lower vertex goes
	for _, t := range m.T {
		for k := range 3 {
			end[min(t[k], t[(k+1)%3])+1]++
		}
	}
	for v := range m.V {
		end[v+1] += end[v]
	}
	out := make([]repairEdge, 3*len(m.T))
	for i, t := range m.T {
		for k := range 3 {
			e := repairEdge{t[k], t[(k+1)%3], int32(3*i + k), false}
			if e.a > e.b {
				e.a, e.b, e.turned = e.b, e.a, true
			}
			out[end[e.a]] = e
			end[e.a]++
		}
	}
	lo := int32(0)
	for _, hi := range end[:len(m.V)] {
		slices.SortStableFunc(out[lo:hi], func(x, y repairEdge) int { return int(x.b) - int(y.b) })
		lo = hi
	}
	return out
}

// repairGroups calls f with the sides that share each edge.
func repairGroups(edges []repairEdge, f func(group []repairEdge)) {
	for i := 0; i < len(edges); {
		j := i + 1
		for j < len(edges) && edges[j].a == edges[i].a && edges[j].b == edges[i].b {
			j++
		}
		f(edges[i:j])
		i = j
	}
}

// repairNeighbours gives, for each side of each triangle, the side that runs
// against it, or -1 unless the edge has exactly these two.
func repairNeighbours(m *Mesh) [][3]int32 {
	out := make([][3]int32, len(m.T))
	for i := range out {
		out[i] = [3]int32{-1, -1, -1}
	}
	repairGroups(repairEdges(m), func(g []repairEdge) {
		if len(g) == 2 && g[0].turned != g[1].turned {
			out[g[0].half/3][g[0].half%3] = g[1].half
			out[g[1].half/3][g[1].half%3] = g[0].half
		}
	})
	return out
}

// edges sorts the edges of m into the report.
func (r *Report) edges(m *Mesh) {
	repairGroups(repairEdges(m), func(g []repairEdge) {
		ends := [2]geom.Vec{m.V[g[0].a], m.V[g[0].b]}
		switch {
		case len(g) == 1:
			r.Open = append(r.Open, ends)
		case len(g) > 2:
			r.NonManifold = append(r.NonManifold, ends)
		case g[0].turned == g[1].turned:
			r.Flipped = append(r.Flipped, ends)
		}
	})
}

// repairDuplicates finds triangles on the same three corners. Of a group that
// faces one way all but the first are surplus; two that face each other are a
// wall without thickness, and both are. The second list picks all that repeat an
// earlier one, whichever way they face.
func repairDuplicates(m *Mesh) (surplus, repeat []bool) {
	order := make([]int32, len(m.T))
	key := make([][3]int32, len(m.T))
	for i, t := range m.T {
		order[i] = int32(i)
		slices.Sort(t[:])
		key[i] = t
	}
	slices.SortFunc(order, func(x, y int32) int {
		return cmp.Or(slices.Compare(key[x][:], key[y][:]), cmp.Compare(x, y))
	})
	surplus, repeat = make([]bool, len(m.T)), make([]bool, len(m.T))
	for lo := 0; lo < len(order); {
		hi := lo + 1
		for hi < len(order) && key[order[hi]] == key[order[lo]] {
			hi++
		}
		net := 0
		for n, i := range order[lo:hi] {
			surplus[i], repeat[i] = true, n > 0
			net += repairParity(m.T[i])
		}
		for _, i := range order[lo:hi] {
			if repairParity(m.T[i])*net > 0 {
				surplus[i] = false
				break
			}
		}
		lo = hi
	}
	return surplus, repeat
}

// repairParity is +1 if the corners rise in cyclic order, else -1.
func repairParity(t [3]int32) int {
	if (t[0] < t[1]) == (t[1] < t[2]) == (t[2] > t[0]) {
		return 1
	}
	return -1
}

// repairPieces joins triangles that have an edge in common, and counts the pieces.
func repairPieces(m *Mesh) (pieces Joined, n int) {
	pieces, n = NewJoined(len(m.T)), len(m.T)
	repairGroups(repairEdges(m), func(g []repairEdge) {
		for _, e := range g[1:] {
			if pieces.Join(g[0].half/3, e.half/3) {
				n--
			}
		}
	})
	return pieces, n
}

// repairShells sorts triangles into pieces that hang together by edges, whatever
// way the triangles face. Pieces are in the order of their first triangle.
func repairShells(m *Mesh) [][]int32 {
	pieces, _ := repairPieces(m)
	var shells [][]int32
	at := make(map[int32]int)
	for i := range m.T {
		r := pieces.Root(int32(i))
		k, ok := at[r]
		if !ok {
			k = len(shells)
			at[r] = k
			shells = append(shells, nil)
		}
		shells[k] = append(shells[k], int32(i))
	}
	return shells
}

// part is the mesh of some of the triangles. at is room for a number a vertex,
// all 0 before and after, so that a small part costs little.
func (m *Mesh) part(tris []int32, at []int32) *Mesh {
	out := &Mesh{T: make([][3]int32, len(tris))}
	for k, i := range tris {
		for c, v := range m.T[i] {
			if at[v] == 0 {
				out.V = append(out.V, m.V[v])
				at[v] = int32(len(out.V))
			}
			out.T[k][c] = at[v] - 1
		}
	}
	for _, i := range tris {
		for _, v := range m.T[i] {
			at[v] = 0
		}
	}
	return out
}
