package forming

import (
	"math"

	"buckwright/generate/geom"
)

// stiffness is the Laplacian of a region's flat mesh, scaled by the sheet's
// modulus and gauge: the exact stiffness of the harmonic law, and what the other
// laws tend to at large stretch. It is kept as rows, with an incomplete
// factorisation to divide by: modified, diagonal only (Gustafsson, BIT 18:142,
// 1978).
type stiffness struct {
	start  []int32 // of each row in col
	col    []int32
	val    []float64 // off the diagonal
	diag   []float64
	pivot  []float64
	smooth *coarse // nil for small regions
}

// newStiffness adds up the elements of a sheet of this stiffness, modulus times gauge.
func newStiffness(r *region, weight float64) *stiffness {
	k := &stiffness{diag: make([]float64, r.free), start: make([]int32, r.free+1)}
	count := make([]int32, r.free+1)
	for i := range r.elem {
		for _, n := range r.elem[i].v {
			if int(n) < r.free {
				count[n+1] += 2
			}
		}
	}
	for i := range r.free {
		count[i+1] += count[i]
	}
	raw := make([]entry, count[r.free])
	fill := append([]int32(nil), count[:r.free]...)
	for i := range r.elem {
		el := r.elem[i]
		c := cotangents(r.ref[el.t], weight)
		for j := range 3 { // the cotangent at corner j couples the other two
			a, b := el.v[(j+1)%3], el.v[(j+2)%3]
			k.couple(raw, fill, a, b, c[j], r.free)
			k.couple(raw, fill, b, a, c[j], r.free)
		}
	}
	k.gather(raw, count, fill)
	k.smooth = newCoarse(r, k)
	k.factor()
	return k
}

type entry struct {
	col int32
	val float64
}

func (k *stiffness) couple(raw []entry, fill []int32, a, b int32, c float64, free int) {
	if int(a) >= free {
		return
	}
	k.diag[a] += c
	if int(b) < free {
		raw[fill[a]] = entry{b, -c}
		fill[a]++
	}
}

// cotangents are half the cotangents at an element's corners, times its weight.
func cotangents(m refTri, weight float64) [3]float64 {
	// Gradients of the shape functions of corners 1 and 2 are the rows of the inverse.
	w := weight * m.area
	g12 := (m.a*m.c + m.b*m.d) * w
	g11 := (m.a*m.a + m.b*m.b) * w
	g22 := (m.c*m.c + m.d*m.d) * w
	return [3]float64{-g12, g22 + g12, g11 + g12}
}

// gather merges each row's equal columns and sorts them.
func (k *stiffness) gather(raw []entry, from, to []int32) {
	for i := range k.diag {
		row := raw[from[i]:to[i]]
		for j := 1; j < len(row); j++ { // short rows: insertion
			for m := j; m > 0 && row[m].col < row[m-1].col; m-- {
				row[m], row[m-1] = row[m-1], row[m]
			}
		}
		for j, e := range row {
			if j > 0 && e.col == row[j-1].col {
				k.val[len(k.val)-1] += e.val
				continue
			}
			k.col = append(k.col, e.col)
			k.val = append(k.val, e.val)
		}
		k.start[i+1] = int32(len(k.col))
	}
}

// factor finds the pivots. How far the form is modified was found by trial: fully,
// but safely positive, where it works alone; less beside a coarse level, which
// takes the smooth part off it.
func (k *stiffness) factor() {
	relax := 0.97
	if k.smooth != nil {
		relax = 0.4
	}
	n := len(k.diag)
	k.pivot = append([]float64(nil), k.diag...)
	for i := range n {
		if least := 0.05 * k.diag[i]; k.pivot[i] < least {
			k.pivot[i] = least
		}
		after := 0.0 // row i right of the diagonal
		for j := k.start[i]; j < k.start[i+1]; j++ {
			if int(k.col[j]) > i {
				after += k.val[j]
			}
		}
		for j := k.start[i]; j < k.start[i+1]; j++ {
			if m := k.col[j]; int(m) > i {
				v := k.val[j]
				k.pivot[m] -= v * (relax*after + (1-relax)*v) / k.pivot[i]
			}
		}
	}
}

// divide sets y to the incomplete inverse times g.
func (k *stiffness) divide(y, g []geom.Vec) {
	n := len(k.diag)
	for i := range n {
		v := g[i]
		for j := k.start[i]; j < k.start[i+1] && int(k.col[j]) < i; j++ {
			c, u := k.val[j], &y[k.col[j]]
			v.X -= c * u.X
			v.Y -= c * u.Y
			v.Z -= c * u.Z
		}
		y[i] = v.Scale(1 / k.pivot[i])
	}
	for i := n - 1; i >= 0; i-- {
		var v geom.Vec
		for j := k.start[i+1] - 1; j >= k.start[i] && int(k.col[j]) > i; j-- {
			c, u := k.val[j], &y[k.col[j]]
			v.X += c * u.X
			v.Y += c * u.Y
			v.Z += c * u.Z
		}
		y[i] = y[i].Sub(v.Scale(1 / k.pivot[i]))
	}
	if k.smooth != nil {
		k.smooth.add(y, g)
	}
}

// times sets y to the matrix times x.
func (k *stiffness) times(y, x []geom.Vec) {
	for i := range k.diag {
		v := x[i].Scale(k.diag[i])
		for j := k.start[i]; j < k.start[i+1]; j++ {
			v = v.Add(x[k.col[j]].Scale(k.val[j]))
		}
		y[i] = v
	}
}

// solve divides by the matrix itself, to within tol of the right side, by
// conjugate gradients.
func (k *stiffness) solve(b []geom.Vec, tol float64) []geom.Vec {
	n := len(b)
	x, y, q := make([]geom.Vec, n), make([]geom.Vec, n), make([]geom.Vec, n)
	res := append([]geom.Vec(nil), b...)
	k.divide(y, res)
	d := append([]geom.Vec(nil), y...)
	rho := dot(res, y)
	stop := tol * math.Sqrt(dot(b, b))
	for range 4*n + 20 {
		if !(math.Sqrt(dot(res, res)) > stop) {
			break
		}
		k.times(q, d)
		a := rho / dot(d, q)
		for i := range x {
			x[i] = x[i].Add(d[i].Scale(a))
			res[i] = res[i].Sub(q[i].Scale(a))
		}
		k.divide(y, res)
		next := dot(res, y)
		for i := range d {
			d[i] = y[i].Add(d[i].Scale(next / rho))
		}
		rho = next
	}
	return x
}

func dot(a, b []geom.Vec) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i].Dot(b[i])
	}
	return sum
}
