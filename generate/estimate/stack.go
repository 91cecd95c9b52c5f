package estimate

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// stack is a mesh cut into layers, each cut at half its height.
type stack struct {
	s      Settings
	cell   float64 // mm
	inset  int     // cells that the walls take off
	min    geom.Vec2
	layers []*raster
	length []float64 // mm of outline of each layer
	area   []float64 // mm² of each layer
	thin   *raster   // the infill of the layer last looked at
}

// Limits of the raster.
const (
	finest    = 0.3     // mm, about the size of a cell: less than an extrusion
	mostCells = 1 << 30 // bounds the memory: a part of a metre is looked at more coarsely
	pad       = 12      // cells all round, so that nothing spreads over the edge
)

// newStack cuts the mesh.
func newStack(m *mesh.Mesh, s Settings) *stack {
	box := m.Bounds()
	n := max(1, int(math.Round(box.Max.Z/s.Layer)))
	st := &stack{s: s, layers: make([]*raster, n), length: make([]float64, n), area: make([]float64, n)}
	size := box.Size()
	st.grid(size.X * size.Y)
	st.min = box.Min.XY().Sub(geom.Vec2{X: pad * st.cell, Y: pad * st.cell})
	nx, ny := int(size.X/st.cell)+2*pad+1, int(size.Y/st.cell)+2*pad+1
	for i := range st.layers {
		st.layers[i] = newRaster(nx, ny)
	}
	for i := range m.T {
		a, b, c := m.Corners(i)
		st.cut(a, b, c)
	}
	for _, l := range st.layers {
		l.fill()
	}
	return st
}

// grid chooses the cells for a plan of so many mm²: a whole fraction of the
// walls' width, so that erosion takes off exactly that.
func (st *stack) grid(plan float64) {
	inset := st.s.inset()
	if inset == 0 {
		inset = st.s.Width
	}
	for st.inset = max(1, int(math.Round(inset/finest))); ; st.inset-- {
		st.cell = inset / float64(st.inset)
		if st.inset == 1 || plan/(st.cell*st.cell)*float64(len(st.layers)) < mostCells {
			return
		}
	}
}

// height is where layer i is cut.
func (st *stack) height(i int) float64 { return (float64(i) + 0.5) * st.s.Layer }

// cut marks one triangle in every layer that it crosses. A corner at exactly the
// height counts as above, so that neighbours agree.
func (st *stack) cut(a, b, c geom.Vec) {
	lo, hi := min(a.Z, b.Z, c.Z), max(a.Z, b.Z, c.Z)
	first := max(0, int(math.Floor(lo/st.s.Layer-0.5)))
	for i := first; i < len(st.layers); i++ {
		z := st.height(i)
		if z <= lo {
			continue
		}
		if z > hi {
			return
		}
		p, q := crossing(a, b, c, z)
		st.length[i] += p.Sub(q).Len()
		st.area[i] += (p.X*q.Y - p.Y*q.X) / 2
		st.mark(st.layers[i], p, q)
	}
}

// crossing is where the plane at z cuts a triangle that has corners on both
// sides of it, directed so that the solid is on the left.
func crossing(a, b, c geom.Vec, z float64) (p, q geom.Vec2) {
	up := func(v geom.Vec) bool { return v.Z >= z }
	for up(a) == up(b) || up(a) == up(c) { // turn until a is alone on its side
		a, b, c = b, c, a
	}
	at := func(u geom.Vec) geom.Vec2 { return a.Lerp(u, (z-a.Z)/(u.Z-a.Z)).XY() }
	if up(a) {
		return at(b), at(c)
	}
	return at(c), at(b)
}

// mark toggles, in each row whose middle the segment crosses, the first cell
// whose middle is beyond it.
func (st *stack) mark(r *raster, p, q geom.Vec2) {
	if p.Y > q.Y {
		p, q = q, p
	}
	y0 := int(math.Ceil((p.Y-st.min.Y)/st.cell - 0.5))
	y1 := int(math.Ceil((q.Y-st.min.Y)/st.cell - 0.5))
	for y := max(y0, 0); y < min(y1, r.ny); y++ {
		v := st.min.Y + (float64(y)+0.5)*st.cell
		x := p.X + (v-p.Y)/(q.Y-p.Y)*(q.X-p.X)
		i := int(math.Ceil((x-st.min.X)/st.cell - 0.5))
		if i >= 0 && i < r.nx {
			r.row(y)[i>>6] ^= 1 << (i & 63)
		}
	}
}
