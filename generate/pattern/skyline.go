package pattern

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// skyline is the matrix of flatten's global step, factored: L D L', each row of
// L kept from its first entry to the diagonal. Rows are ordered along the longer
// side of the plan, which keeps them short. Source: Bathe, Finite Element
// Procedures, 1996, 8.2.3.
type skyline struct {
	order []int32 // row -> vertex
	rank  []int32 // vertex -> row
	first []int32 // of each row
	row   [][]float64
	diag  []float64
}

// global is the matrix of the cotangent weights, its first row held in place so
// that it has an inverse.
func (m *net) global() *skyline {
	s := m.skyline()
	for _, t := range m.T {
		x := m.local(t)
		for k := range 3 {
			i, j := s.rank[t[(k+1)%3]], s.rank[t[(k+2)%3]]
			w := cot(x, k)
			s.diag[i] += w
			s.diag[j] += w
			i, j = max(i, j), min(i, j)
			s.row[i][j-s.first[i]] -= w
		}
	}
	s.diag[0]++
	s.factor()
	return s
}

// skyline makes room for the entries that the triangles make.
func (m *net) skyline() *skyline {
	n := len(m.P)
	s := &skyline{order: make([]int32, n), rank: make([]int32, n), first: make([]int32, n), row: make([][]float64, n), diag: make([]float64, n)}
	lo, hi := m.P[0], m.P[0]
	for i, p := range m.P {
		s.order[i] = int32(i)
		lo, hi = lo.Min(p), hi.Max(p)
	}
	wide := hi.X-lo.X > hi.Y-lo.Y
	slices.SortStableFunc(s.order, func(a, b int32) int {
		p, q := m.P[a], m.P[b]
		if wide {
			return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
		}
		return cmp.Or(cmp.Compare(p.Y, q.Y), cmp.Compare(p.X, q.X))
	})
	for i, v := range s.order {
		s.rank[v], s.first[i] = int32(i), int32(i)
	}
	for _, t := range m.T {
		a, b, c := s.rank[t[0]], s.rank[t[1]], s.rank[t[2]]
		low := min(a, b, c)
		for _, i := range [3]int32{a, b, c} {
			s.first[i] = min(s.first[i], low)
		}
	}
	for i := range s.row {
		s.row[i] = make([]float64, int32(i)-s.first[i])
	}
	return s
}

func (s *skyline) factor() {
	for i := range s.row {
		f, r := s.first[i], s.row[i]
		for j := int(f); j < i; j++ {
			g := s.first[j]
			from := max(f, g)
			sum := r[j-int(f)]
			a, b := r[from-f:j-int(f)], s.row[j][from-g:]
			for k := range a {
				sum -= a[k] * b[k]
			}
			r[j-int(f)] = sum
		}
		for k := range r { // r holds L D so far
			l := r[k] / s.diag[int(f)+k]
			s.diag[i] -= l * r[k]
			r[k] = l
		}
		s.diag[i] = math.Copysign(max(math.Abs(s.diag[i]), 1e-12), 1)
	}
}

// solve finds the places of all vertices for the right side b.
func (s *skyline) solve(b []geom.Vec2) []geom.Vec2 {
	n := len(b)
	v := make([]geom.Vec2, n)
	for i := range v {
		sum := b[s.order[i]]
		for k, l := range s.row[i] {
			w := v[int(s.first[i])+k]
			sum.X -= l * w.X
			sum.Y -= l * w.Y
		}
		v[i] = sum
	}
	for i := range v {
		v[i] = v[i].Scale(1 / s.diag[i])
	}
	for i := n - 1; i >= 0; i-- {
		for k, l := range s.row[i] {
			w := &v[int(s.first[i])+k]
			w.X -= l * v[i].X
			w.Y -= l * v[i].Y
		}
	}
	out := make([]geom.Vec2, n)
	for i, w := range v {
		out[s.order[i]] = w
	}
	return out
}
