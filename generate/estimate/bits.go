package estimate

import "math/bits"

// raster is a rectangle of cells, one bit each, rows of whole words.
type raster struct {
	nx, ny, words int
	b             []uint64
}

func newRaster(nx, ny int) *raster {
	w := (nx + 63) / 64
	return &raster{nx, ny, w, make([]uint64, w*ny)}
}

func (r *raster) row(y int) []uint64 { return r.b[y*r.words : (y+1)*r.words] }

func (r *raster) like() *raster { return newRaster(r.nx, r.ny) }

func (r *raster) copy() *raster {
	c := r.like()
	copy(c.b, r.b)
	return c
}

func (r *raster) has(x, y int) bool {
	return x >= 0 && y >= 0 && x < r.nx && y < r.ny && r.b[y*r.words+x>>6]>>(x&63)&1 == 1
}

func (r *raster) count() (n int) {
	for _, w := range r.b {
		n += bits.OnesCount64(w)
	}
	return n
}

func (r *raster) empty() bool {
	for _, w := range r.b {
		if w != 0 {
			return false
		}
	}
	return true
}

func (r *raster) and(o *raster) *raster {
	for i, w := range o.b {
		r.b[i] &= w
	}
	return r
}

func (r *raster) or(o *raster) *raster {
	for i, w := range o.b {
		r.b[i] |= w
	}
	return r
}

func (r *raster) andNot(o *raster) *raster {
	for i, w := range o.b {
		r.b[i] &^= w
	}
	return r
}

// fill turns the marks where a row enters and leaves the solid into the cells
// between: a running parity along each row.
func (r *raster) fill() {
	for y := range r.ny {
		carry := uint64(0)
		for i, w := range r.row(y) {
			for s := 1; s < 64; s <<= 1 {
				w ^= w << s
			}
			w ^= carry
			r.b[y*r.words+i] = w
			carry = -(w >> 63)
		}
	}
}

// shifted is the word i of a row moved by n columns, |n| < 64, towards larger
// columns for n > 0. Nothing comes in from beyond the row.
func shifted(row []uint64, i, n int) uint64 {
	switch {
	case n == 0:
		return row[i]
	case n > 0:
		w := row[i] << n
		if i > 0 {
			w |= row[i-1] >> (64 - n)
		}
		return w
	}
	w := row[i] >> -n
	if i+1 < len(row) {
		w |= row[i+1] << (64 + n)
	}
	return w
}

// combine is each cell and the one (dx, dy) from it, and-ed for erosion, or-ed
// for dilation.
func (r *raster) combine(dx, dy int, erode bool) *raster {
	out := r.like()
	for y := range r.ny {
		to, from := out.row(y), r.row(y)
		if y+dy < 0 || y+dy >= r.ny {
			if !erode {
				copy(to, from)
			}
			continue
		}
		other := r.row(y + dy)
		for i, w := range from {
			if v := shifted(other, i, -dx); erode {
				to[i] = w & v
			} else {
				to[i] = w | v
			}
		}
	}
	return out
}

// along spreads (or shrinks) by n cells both ways along a direction.
func (r *raster) along(dx, dy, n int, erode bool) *raster {
	out := r
	for done, step := 0, 1; done < n; done += step {
		step = min(done+1, n-done) // what is spread by done already reaches done+1 farther
		out = out.combine(dx*step, dy*step, erode)
	}
	for done, step := 0, 1; done < n; done += step {
		step = min(done+1, n-done)
		out = out.combine(-dx*step, -dy*step, erode)
	}
	return out
}

// octagon erodes or dilates by about n cells in every direction: exactly along
// the axes, within 6 % along the diagonals for the sizes used here.
func (r *raster) octagon(n int, erode bool) *raster {
	b := int(float64(n)*0.293 + 0.5)
	a := n - 2*b
	return r.along(1, 0, a, erode).along(0, 1, a, erode).along(1, 1, b, erode).along(1, -1, b, erode)
}

func (r *raster) erode(n int) *raster  { return r.octagon(n, true) }
func (r *raster) dilate(n int) *raster { return r.octagon(n, false) }

// edge is the length, in cells, of the outline: crossings counted in four
// directions (Cauchy and Crofton).
func (r *raster) edge() float64 {
	var axis, diagonal int
	for y := range r.ny {
		row := r.row(y)
		for i, w := range row {
			axis += bits.OnesCount64(w ^ shifted(row, i, 1))
		}
		if y == 0 {
			continue
		}
		above := r.row(y - 1)
		for i, w := range row {
			axis += bits.OnesCount64(w ^ above[i])
			diagonal += bits.OnesCount64(w^shifted(above, i, 1)) + bits.OnesCount64(w^shifted(above, i, -1))
		}
	}
	const pi = 3.141592653589793
	return pi / 8 * (float64(axis) + float64(diagonal)/1.4142135623730951)
}

// next is the first stretch of set cells of row y that begins at or after x; it
// begins at nx if there is none.
func (r *raster) next(y, x int) (from, to int) {
	row := r.row(y)
	from = scan(row, x, r.nx, 0)
	return from, scan(row, from, r.nx, ^uint64(0))
}

// scan is the first column from x on whose bit differs from those of flip.
func scan(row []uint64, x, end int, flip uint64) int {
	for x < end {
		w := (row[x>>6] ^ flip) >> (x & 63)
		if w != 0 {
			return min(end, x+bits.TrailingZeros64(w))
		}
		x = (x | 63) + 1
	}
	return end
}

// clear takes a stretch of cells away.
func (r *raster) clear(e run) {
	row := r.row(e.y)
	for x := e.from; x < e.to; x++ {
		row[x>>6] &^= 1 << (x & 63)
	}
}

// euler is the number of islands less the number of holes in them, cells joined
// by their sides: cells, less pairs side by side, plus squares of four.
func (r *raster) euler() (n int) {
	for y := range r.ny {
		row := r.row(y)
		for i, w := range row {
			pair := w & shifted(row, i, 1)
			n += bits.OnesCount64(w) - bits.OnesCount64(pair)
			if y > 0 {
				above := r.row(y - 1)
				n += bits.OnesCount64(pair&above[i]&shifted(above, i, 1)) - bits.OnesCount64(w&above[i])
			}
		}
	}
	return n
}
