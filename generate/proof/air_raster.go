package proof

import "math"

func (a *Air) index(i, j, k int) int { return (k*a.n[1]+j)*a.n[0] + i }

func (a *Air) middle(at int) Vec {
	i, j, k := at%a.n[0], at/a.n[0]%a.n[1], at/(a.n[0]*a.n[1])
	return a.lo.Add(Vec{float64(i) + 0.5, float64(j) + 0.5, float64(k) + 0.5}.Mul(a.cell))
}

// raster marks cells whose middle is solid, column by column.
func raster(f []Tri, s Suction) *Air {
	lo, hi := Bounds(f)
	pad := 2 * s.Cell
	a := &Air{cell: s.Cell, lo: Vec{lo[0] - pad, lo[1] - pad, s.Under - s.Cell}}
	for k := range 3 {
		a.n[k] = int(math.Ceil((hi[k]+pad-a.lo[k])/s.Cell)) + 1
	}
	a.rim = int(math.Round((s.Rim - a.lo[2]) / s.Cell))
	a.state = make([]uint8, a.n[0]*a.n[1]*a.n[2])
	for i := range a.state {
		a.state[i] = buried
	}
	tree := NewTree(f)
	for j := range a.n[1] {
		for i := range a.n[0] {
			p := Vec{a.lo[0] + (float64(i)+0.5)*s.Cell + 1.7e-5, a.lo[1] + (float64(j)+0.5)*s.Cell + 2.9e-5, a.lo[2] - 1}
			cuts := tree.Crossings(p, Vec{0, 0, 1}, 0)
			for c := 0; c+1 < len(cuts); c += 2 {
				from := int(math.Ceil((cuts[c]-1)/s.Cell - 0.5))
				to := int(math.Floor((cuts[c+1]-1)/s.Cell - 0.5))
				for k := max(from, 0); k <= to && k < a.n[2]; k++ {
					a.state[a.index(i, j, k)] = solid
				}
			}
		}
	}
	return a
}

// classify names the air: layer by layer, cells open to the sky are pocket when
// a disc wider than a vent fits round them, outside when they join the border.
func (a *Air) classify(s Suction) {
	sky := make([]bool, a.n[0]*a.n[1])
	for i := range sky {
		sky[i] = true
	}
	reach := (s.Widest/2 + s.Cell) / s.Cell
	for k := a.n[2] - 1; k >= 0; k-- {
		for j := range a.n[1] {
			for i := range a.n[0] {
				at := j*a.n[0] + i
				sky[at] = sky[at] && a.state[a.index(i, j, k)] != solid
			}
		}
		border := a.border(sky)
		wide := a.opened(sky, border, reach)
		for range 2 { // the disc's raster leaves slivers along walls
			wide = a.grown(wide, sky)
		}
		for at, open := range sky {
			switch {
			case border[at]:
				a.state[k*len(sky)+at] = outside
			case wide[at]:
				a.state[k*len(sky)+at] = pocket
			case open:
				a.state[k*len(sky)+at] = shaft
			}
		}
	}
}

// border floods a layer's open cells from its edge.
func (a *Air) border(open []bool) []bool {
	out := make([]bool, len(open))
	var todo []int
	push := func(i, j int) {
		if i < 0 || j < 0 || i >= a.n[0] || j >= a.n[1] {
			return
		}
		if at := j*a.n[0] + i; open[at] && !out[at] {
			out[at] = true
			todo = append(todo, at)
		}
	}
	for i := range a.n[0] {
		push(i, 0)
		push(i, a.n[1]-1)
	}
	for j := range a.n[1] {
		push(0, j)
		push(a.n[0]-1, j)
	}
	for len(todo) > 0 {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		i, j := at%a.n[0], at/a.n[0]
		push(i-1, j)
		push(i+1, j)
		push(i, j-1)
		push(i, j+1)
	}
	return out
}

// opened is the morphological opening of a layer by a disc, the border aside.
func (a *Air) opened(open, border []bool, reach float64) []bool {
	r := int(reach)
	var disc [][2]int
	for y := -r; y <= r; y++ {
		for x := -r; x <= r; x++ {
			if float64(x*x+y*y) <= reach*reach {
				disc = append(disc, [2]int{x, y})
			}
		}
	}
	out := make([]bool, len(open))
	for j := r; j < a.n[1]-r; j++ {
		for i := r; i < a.n[0]-r; i++ {
			if !open[j*a.n[0]+i] {
				continue
			}
			fits := true
			for _, d := range disc {
				at := (j+d[1])*a.n[0] + i + d[0]
				if !open[at] || border[at] {
					fits = false
					break
				}
			}
			if fits {
				for _, d := range disc {
					out[(j+d[1])*a.n[0]+i+d[0]] = true
				}
			}
		}
	}
	return out
}

// grown adds to a layer's cells their neighbours that are open.
func (a *Air) grown(cells, open []bool) []bool {
	out := make([]bool, len(cells))
	for j := 1; j+1 < a.n[1]; j++ {
		for i := 1; i+1 < a.n[0]; i++ {
			at := j*a.n[0] + i
			out[at] = cells[at] || open[at] && (cells[at-1] || cells[at+1] || cells[at-a.n[0]] || cells[at+a.n[0]])
		}
	}
	return out
}

// around calls with each of the six neighbours of a cell below the rim.
func (a *Air) around(at int, visit func(at int)) {
	i, j, k := at%a.n[0], at/a.n[0]%a.n[1], at/(a.n[0]*a.n[1])
	if i > 0 {
		visit(at - 1)
	}
	if i+1 < a.n[0] {
		visit(at + 1)
	}
	if j > 0 {
		visit(at - a.n[0])
	}
	if j+1 < a.n[1] {
		visit(at + a.n[0])
	}
	if k > 0 {
		visit(at - a.n[0]*a.n[1])
	}
	if k+1 < min(a.n[2], a.rim) {
		visit(at + a.n[0]*a.n[1])
	}
}

// label numbers the connected cells below the rim that are of a kind; first
// is one cell of each. The platen's layer, under the tool, is no way through.
func (a *Air) label(kind func(v uint8) bool) (labels []int32, first []int) {
	labels = make([]int32, len(a.state))
	layer := a.n[0] * a.n[1]
	var todo []int
	for at := layer; at < len(a.state) && at < layer*a.rim; at++ {
		if labels[at] != 0 || !kind(a.state[at]) {
			continue
		}
		first = append(first, at)
		id := int32(len(first))
		labels[at] = id
		todo = append(todo[:0], at)
		for len(todo) > 0 {
			c := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			a.around(c, func(n int) {
				if n >= layer && labels[n] == 0 && kind(a.state[n]) {
					labels[n] = id
					todo = append(todo, n)
				}
			})
		}
	}
	return labels, first
}
