package estimate

import (
	"math"
	"math/bits"
	"slices"
)

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

// rows are the first row with a cell in it and the one after the last; equal
// when the raster is empty.
func (r *raster) rows() (y0, y1 int) {
	first := slices.IndexFunc(r.b, func(w uint64) bool { return w != 0 })
	if first < 0 {
		return 0, 0
	}
	last := len(r.b) - 1
	for r.b[last] == 0 {
		last--
	}
	return first / r.words, last/r.words + 1
}

func (r *raster) empty() bool {
	y0, y1 := r.rows()
	return y0 == y1
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

// combine sets r to each cell of from and the one (dx, dy) from it, |dx| < 64:
// and-ed for erosion, or-ed for dilation, in rows y0 to y1. Beyond the raster
// there is nothing.
func (r *raster) combine(from *raster, dx, dy, y0, y1 int, erode bool) {
	for y := y0; y < y1; y++ {
		to, own := r.row(y), from.row(y)
		if y+dy < 0 || y+dy >= r.ny {
			copy(to, own)
			if erode {
				clear(to)
			}
			continue
		}
		other := from.row(y + dy)
		for i, w := range own {
			if v := shifted(other, i, -dx); erode {
				to[i] = w & v
			} else {
				to[i] = w | v
			}
		}
	}
}

// spreader applies one step after another, with two rasters in turn.
type spreader struct {
	now, spare *raster
	y0, y1     int // rows that may change
	erode      bool
}

// along spreads (or shrinks) by n cells both ways along a direction.
func (s *spreader) along(dx, dy, n int) {
	for _, sign := range [2]int{1, -1} {
		for done, step := 0, 0; done < n; done += step {
			step = sign * min(done+1, n-done) // what is spread by done reaches done+1 farther
			s.spare.combine(s.now, dx*step, dy*step, s.y0, s.y1, s.erode)
			s.now, s.spare = s.spare, s.now
			step *= sign
		}
	}
}

// octagon erodes or dilates by about n cells in every direction: exactly along
// the axes, within 6 % along the diagonals for the sizes used here.
func (r *raster) octagon(n int, erode bool) *raster {
	b := int(float64(n)*0.293 + 0.5) // 1 - 1/sqrt 2: both sorts of sides are n away
	y0, y1 := r.rows()
	if y0 == y1 {
		return r.like()
	}
	s := spreader{r.copy(), r.like(), max(0, y0-n), min(r.ny, y1+n), erode}
	s.along(1, 0, n-2*b)
	s.along(0, 1, n-2*b)
	s.along(1, 1, b)
	s.along(1, -1, b)
	return s.now
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
	return math.Pi / 8 * (float64(axis) + float64(diagonal)/math.Sqrt2)
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
