package mesh

import (
	"hash/maphash"
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

// welder keeps the vertices that are left, and finds them by their cells. It holds
// four bytes a slot where a map would hold a key.
type welder struct {
	tol, size float64
	salt      maphash.Seed // so that no file can be made to fill one slot; the result does not depend on it
	v         []geom.Vec
	prev      []int32 // the vertex before each in its cell; -1: none
	slot      []int32 // 1 + the last vertex of a cell, 0 if free; at the first free place from its hash on
}

func newWelder(n int, tol, size float64) *welder {
	slots := 4
	for slots < 2*n {
		slots *= 2
	}
	return &welder{tol: tol, size: size, salt: maphash.MakeSeed(), slot: make([]int32, slots)}
}

// find is the slot of a cell: with the cell's last vertex, or free.
func (w *welder) find(k weldKey) *int32 {
	mask := uint64(len(w.slot) - 1)
	for h := maphash.Comparable(w.salt, k) & mask; ; h = (h + 1) & mask {
		s := &w.slot[h]
		if *s == 0 || weldAt(w.v[*s-1], 0, w.size) == k {
			return s
		}
	}
}

// join is the number of the first vertex near p, a new one if there is none.
func (w *welder) join(p geom.Vec) int32 {
	first := int32(-1)
	lo, hi := weldAt(p, -w.tol, w.size), weldAt(p, w.tol, w.size)
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				for j := *w.find(weldKey{x, y, z}) - 1; j >= 0; j = w.prev[j] {
					if w.v[j].Dist(p) <= w.tol && (first < 0 || j < first) {
						first = j
					}
				}
			}
		}
	}
	if first >= 0 {
		return first
	}
	s := w.find(weldAt(p, 0, w.size))
	w.v, w.prev = append(w.v, p), append(w.prev, *s-1)
	*s = int32(len(w.v))
	return *s - 1
}

// Weld joins vertices no farther than tol mm apart and drops those that no
// triangle uses; the first of a group stays where it is. Triangles keep their order,
// also those that lose their area by it.
func (m *Mesh) Weld(tol float64) *Mesh {
	b := m.Bounds()
	size := max(weldCell*tol, 1e-9, 1e-12*b.Min.Len(), 1e-12*b.Max.Len()) // small, but countable
	w := newWelder(len(m.V), tol, size)
	t := make([][3]int32, len(m.T))
	to := make([]int32, len(m.V))
	for i := range to {
		to[i] = -1
	}
	for i, c := range m.T {
		for k, v := range c {
			if to[v] < 0 {
				to[v] = w.join(m.V[v])
			}
			t[i][k] = to[v]
		}
	}
	return &Mesh{V: w.v, T: t}
}
