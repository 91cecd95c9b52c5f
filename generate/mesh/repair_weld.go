package mesh

import (
	"math"

	"buckwright/generate/geom"
)

// weldCell is how many tolerances wide the cells are that near vertices are
// looked for in: of two points in a hundred only is a second cell looked into.
const weldCell = 300

// weldKey is a cell of space.
type weldKey [3]int64

// weldAt is the cell of a point moved by d along each axis.
func weldAt(p geom.Vec, d, size float64) weldKey {
	return weldKey{
		int64(math.Floor((p.X + d) / size)),
		int64(math.Floor((p.Y + d) / size)),
		int64(math.Floor((p.Z + d) / size)),
	}
}

// Weld joins vertices no farther than tol mm apart and drops those that no
// triangle uses; the first of a group stays where it is. Triangles keep their order,
// also those that lose their area by it.
func (m *Mesh) Weld(tol float64) *Mesh {
	b := m.Bounds()
	size := max(weldCell*tol, 1e-9, 1e-12*b.Min.Len(), 1e-12*b.Max.Len()) // small, but countable
	out := &Mesh{T: make([][3]int32, len(m.T))}
	head := make(map[weldKey]int32, len(m.V)) // the last vertex of each cell, and
	var prev []int32                          // the one before each in its cell; -1: none
	to := make([]int32, len(m.V))
	for i := range to {
		to[i] = -1
	}
	join := func(p geom.Vec) int32 {
		first := int32(-1)
		lo, hi := weldAt(p, -tol, size), weldAt(p, tol, size)
		for x := lo[0]; x <= hi[0]; x++ {
			for y := lo[1]; y <= hi[1]; y++ {
				for z := lo[2]; z <= hi[2]; z++ {
					j, ok := head[weldKey{x, y, z}]
					for ok && j >= 0 {
						if out.V[j].Dist(p) <= tol && (first < 0 || j < first) {
							first = j
						}
						j = prev[j]
					}
				}
			}
		}
		if first >= 0 {
			return first
		}
		j, own := int32(len(out.V)), weldAt(p, 0, size)
		before, ok := head[own]
		if !ok {
			before = -1
		}
		out.V, prev, head[own] = append(out.V, p), append(prev, before), j
		return j
	}
	for i, t := range m.T {
		for k, v := range t {
			if to[v] < 0 {
				to[v] = join(m.V[v])
			}
			out.T[i][k] = to[v]
		}
	}
	return out
}
