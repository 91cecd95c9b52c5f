package proof

import "math"

// Thin is a piece of a level cut that a line of the printer's width does not fit into.
type Thin struct {
	At   Vec     // its middle
	Area float64 // mm²
}

// JudgeThin cuts a part at height z and finds the pieces of the cut that no disc of
// the diameter width within the part covers. The cut is rastered with cells of the
// size given. What a disc leaves out of a corner is no piece: under width²/2 where the
// corner has 34 degrees or more.
func JudgeThin(f []Tri, z, width, cell float64) []Thin {
	c := cutAt(f, z, cell)
	if c == nil {
		return nil
	}
	r := width / 2 / cell
	clear := c.distances(func(i int) bool { return !c.in[i] })
	covered := c.distances(func(i int) bool { return clear[i] >= r*r })
	lost := make([]bool, len(c.in))
	for i := range lost {
		lost[i] = c.in[i] && covered[i] > (r+0.71)*(r+0.71) // half a cell's diagonal
	}
	return c.pieces(lost, width*width/2)
}

// cut is a raster of a level cut: true within the part.
type cut struct {
	lo   Vec
	cell float64
	n    [2]int
	in   []bool
}

// cutAt fills the raster line by line, between where the facets cross the line.
func cutAt(f []Tri, z, cell float64) *cut {
	lo, hi := Bounds(f)
	c := &cut{lo: Vec{lo[0] - 2*cell, lo[1] - 2*cell, z}, cell: cell}
	for a := range 2 {
		c.n[a] = int((hi[a]-lo[a])/cell) + 5
	}
	c.in = make([]bool, c.n[0]*c.n[1])
	for _, t := range f {
		var ends []Vec
		for k := range 3 {
			p, q := t[k], t[(k+1)%3]
			if (p[2] > z) != (q[2] > z) {
				ends = append(ends, p.Add(q.Sub(p).Mul((z-p[2])/(q[2]-p[2]))))
			}
		}
		if len(ends) == 2 {
			c.flip(ends[0], ends[1])
		}
	}
	any := false
	for j := range c.n[1] {
		for i := 1; i < c.n[0]; i++ {
			at := j*c.n[0] + i
			c.in[at] = c.in[at] != c.in[at-1]
			any = any || c.in[at]
		}
	}
	if !any {
		return nil
	}
	return c
}

// flip changes sides, on every line that the segment from p to q crosses, at the
// first cell beyond it.
func (c *cut) flip(p, q Vec) {
	if p[1] > q[1] {
		p, q = q, p
	}
	first := int(math.Ceil((p[1] - c.lo[1]) / c.cell))
	for j := first; c.lo[1]+float64(j)*c.cell < q[1]; j++ {
		y := c.lo[1] + float64(j)*c.cell
		x := p[0] + (q[0]-p[0])*(y-p[1])/(q[1]-p[1])
		i := int(math.Ceil((x - c.lo[0]) / c.cell))
		c.in[j*c.n[0]+i] = !c.in[j*c.n[0]+i]
	}
}

// distances are the squared distances, in cells, from each cell to the nearest that is
// there. Felzenszwalb and Huttenlocher 2012, "Distance transforms of sampled functions".
func (c *cut) distances(there func(i int) bool) []float64 {
	out := make([]float64, len(c.in))
	for i := range out {
		if !there(i) {
			out[i] = 1e12
		}
	}
	line := newEnvelope(max(c.n[0], c.n[1]))
	for j := range c.n[1] {
		line.pass(out[j*c.n[0]:], 1, c.n[0])
	}
	for i := range c.n[0] {
		line.pass(out[i:], c.n[0], c.n[1])
	}
	return out
}

// envelope is room for the lowest of parabolas over a line.
type envelope struct {
	f, z []float64
	v    []int
}

func newEnvelope(n int) *envelope {
	return &envelope{make([]float64, n), make([]float64, n+1), make([]int, n)}
}

// pass replaces n values, step apart, by the least of those values and the squared ways
// to them.
func (e *envelope) pass(s []float64, step, n int) {
	f, v, z := e.f[:n], e.v, e.z
	for i := range f {
		f[i] = s[i*step]
	}
	k := 0
	v[0], z[0], z[1] = 0, math.Inf(-1), math.Inf(1)
	for q := 1; q < n; q++ {
		for {
			p := v[k]
			x := (f[q] + float64(q*q) - f[p] - float64(p*p)) / float64(2*(q-p))
			if x > z[k] {
				k++
				v[k], z[k], z[k+1] = q, x, math.Inf(1)
				break
			}
			k--
		}
	}
	k = 0
	for q := range n {
		for z[k+1] < float64(q) {
			k++
		}
		d := q - v[k]
		s[q*step] = float64(d*d) + f[v[k]]
	}
}

// pieces are the parts of a set of cells that hang together over corners, those larger
// than least mm².
func (c *cut) pieces(set []bool, least float64) (out []Thin) {
	for i := range set {
		if !set[i] {
			continue
		}
		set[i] = false
		stack := []int{i}
		var sum Vec
		n := 0
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			n++
			sum = sum.Add(Vec{float64(at % c.n[0]), float64(at / c.n[0]), 0})
			for d := range 9 {
				to := at + d%3 - 1 + (d/3-1)*c.n[0]
				if set[to] {
					set[to] = false
					stack = append(stack, to)
				}
			}
		}
		if area := float64(n) * c.cell * c.cell; area > least {
			out = append(out, Thin{c.lo.Add(sum.Mul(c.cell / float64(n))), area})
		}
	}
	return out
}
