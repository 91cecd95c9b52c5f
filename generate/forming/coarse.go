package forming

import (
	"math"

	"buckwright/generate/geom"
)

// coarse is a second, coarse level for dividing by a region's stiffness: bilinear
// functions on a grid over the flat sheet, restricted to the free nodes. What
// the incomplete factorisation is slow at, the smooth part, is solved on it.
type coarse struct {
	weight []corner4 // by free node
	band   int       // width of the matrix beside its diagonal
	lower  []float64 // its Cholesky factor, band+1 a row, diagonal last
	work   []geom.Vec
}

// corner4 are a node's grid points and how much of each it takes.
type corner4 struct {
	at    [4]int32
	share [4]float64
}

const (
	coarseSides = 5.0 // side of a grid square, in elements
	coarseMost  = 800 // grid points, about
)

// newCoarse lays the grid over the region's free nodes. A region of few nodes has none.
func newCoarse(r *region, k *stiffness) *coarse {
	if r.free < 100 {
		return nil
	}
	box := geom.EmptyBox()
	for _, n := range r.node[:r.free] {
		box = box.Include(r.flat[n].At(0))
	}
	size := box.Size()
	side := max(coarseSides*r.side, math.Sqrt(size.X*size.Y/coarseMost))
	nx, ny := int(size.X/side)+2, int(size.Y/side)+2
	stepX, stepY := 1, nx
	if nx > ny { // the shorter way counts first, so that the band is narrow
		stepX, stepY = ny, 1
	}
	c := &coarse{weight: make([]corner4, r.free), band: min(nx, ny) + 1, work: make([]geom.Vec, nx*ny)}
	for i, n := range r.node[:r.free] {
		u := r.flat[n].Sub(box.Min.XY()).Scale(1 / side)
		x, y := int(u.X), int(u.Y)
		fx, fy := u.X-float64(x), u.Y-float64(y)
		base := x*stepX + y*stepY
		c.weight[i] = corner4{
			[4]int32{int32(base), int32(base + stepX), int32(base + stepY), int32(base + stepX + stepY)},
			[4]float64{(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy},
		}
	}
	c.assemble(k)
	c.factor()
	return c
}

// assemble projects the stiffness onto the grid; only the lower band is kept.
func (c *coarse) assemble(k *stiffness) {
	w := c.band + 1
	c.lower = make([]float64, len(c.work)*w)
	put := func(i, j int, v float64) {
		for a, p := range c.weight[i].at {
			for b, q := range c.weight[j].at {
				if q <= p {
					c.lower[int(p)*w+c.band-int(p-q)] += v * c.weight[i].share[a] * c.weight[j].share[b]
				}
			}
		}
	}
	for i := range k.diag {
		put(i, i, k.diag[i])
		for j := k.start[i]; j < k.start[i+1]; j++ {
			put(i, int(k.col[j]), k.val[j])
		}
	}
}

// factor is Cholesky's, in the band. Points without nodes are left out.
func (c *coarse) factor() {
	w, n := c.band+1, len(c.work)
	most := 0.0
	for i := range n {
		most = max(most, c.lower[i*w+c.band])
	}
	for i := range n {
		row := c.lower[i*w : (i+1)*w]
		for j := max(0, i-c.band); j <= i; j++ {
			other := c.lower[j*w : (j+1)*w]
			sum := row[c.band-(i-j)]
			for m := max(0, i-c.band, j-c.band); m < j; m++ {
				sum -= row[c.band-(i-m)] * other[c.band-(j-m)]
			}
			switch {
			case j < i:
				row[c.band-(i-j)] = sum / other[c.band]
			case sum > 1e-8*most:
				row[c.band] = math.Sqrt(sum)
			default:
				row[c.band] = math.Inf(1)
			}
		}
	}
}

// add adds to y the coarse inverse of g.
func (c *coarse) add(y, g []geom.Vec) {
	b, w := c.work, c.band+1
	clear(b)
	for i := range c.weight {
		p := &c.weight[i]
		for a, n := range p.at {
			b[n] = b[n].Add(g[i].Scale(p.share[a]))
		}
	}
	for i := range b {
		row := c.lower[i*w : (i+1)*w]
		for m := max(0, i-c.band); m < i; m++ {
			b[i] = b[i].Sub(b[m].Scale(row[c.band-(i-m)]))
		}
		b[i] = b[i].Scale(1 / row[c.band])
	}
	for i := len(b) - 1; i >= 0; i-- {
		row := c.lower[i*w : (i+1)*w]
		b[i] = b[i].Scale(1 / row[c.band])
		for m := max(0, i-c.band); m < i; m++ {
			b[m] = b[m].Sub(b[i].Scale(row[c.band-(i-m)]))
		}
	}
	for i := range c.weight {
		p := &c.weight[i]
		for a, n := range p.at {
			y[i] = y[i].Add(b[n].Scale(p.share[a]))
		}
	}
}
