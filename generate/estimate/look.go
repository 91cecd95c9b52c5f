package estimate

import "math"

// Common practice of slicing programs, no source.
const (
	overlap   = 0.25 // of a spacing that infill reaches into the walls
	anchor    = 3.0  // mm that a skin reaches beyond what it closes, to hold on to
	leastThin = 70.0 // mm²; smaller areas are filled full
)

// layer is what one layer is made of: areas in mm², lengths in mm.
type layer struct {
	outline                          float64 // length of the solid's outline
	inside                           float64 // length of the infill's edge
	extent                           float64 // mm² of the box around the part
	walls, full, top, bridge, sparse float64
	loops                            int // outlines, those of holes included
}

// zones are the cells of one layer, by what is laid there.
type zones struct{ solid, inner, full, top, bridge, sparse *raster }

// look measures layer i. Layers are looked at in turn, from the bed up.
func (st *stack) look(i int) layer {
	z := st.zones(i)
	st.thin = z.sparse
	l := layer{
		outline: st.length[i], inside: z.inner.edge() * st.cell, extent: st.extent(),
		top: st.mm2(z.top), bridge: st.mm2(z.bridge), sparse: st.mm2(z.sparse),
	}
	l.full = st.mm2(z.full) - l.top - l.bridge
	_, islands := runs(z.solid)
	l.loops = 2*islands - z.solid.euler()
	inner := st.mm2(z.inner)
	exact := inner
	if l.outline > 0 { // cells at the edge count whole: what that makes the solid too large is known
		exact = max(0, inner-(st.mm2(z.solid)-st.area[i])*l.inside/l.outline)
	}
	// What is left between the last bead and the infill's edge is no wall.
	slack := st.s.inset() - float64(st.s.Walls)*st.s.spacing()
	l.walls = max(0, st.area[i]-exact-slack*l.inside)
	if inner > 0 { // the correction and the overlap, shared out by area
		l.scale((exact + overlap*st.s.spacing()*l.inside) / inner)
	}
	return l
}

// zones sorts the cells of layer i. What lies on the infill of the layer below,
// or on nothing, is bridged.
func (st *stack) zones(i int) zones {
	z := zones{solid: st.layers[i]}
	z.inner = z.solid.erode(st.inset)
	if st.s.Walls < 1 {
		z.inner = z.solid.copy()
	}
	skin := st.skin(i, z.inner)
	if st.s.Infill < 1 {
		skin = skin.dilate(st.cells(anchor)).and(z.inner)
	}
	z.sparse = z.inner.copy().andNot(skin)
	small(z.sparse, int(leastThin/(st.cell*st.cell)))
	z.full = z.inner.copy().andNot(z.sparse)
	z.top = z.full.copy()
	if i+1 < len(st.layers) {
		z.top.andNot(st.layers[i+1])
	}
	z.bridge = z.solid.like()
	if i > 0 {
		air := z.full.copy().andNot(st.layers[i-1])
		z.bridge.or(st.thin).or(air).and(z.full).andNot(z.top)
	}
	return z
}

// scale multiplies the areas of the inside.
func (l *layer) scale(k float64) {
	l.full, l.top, l.bridge, l.sparse = l.full*k, l.top*k, l.bridge*k, l.sparse*k
}

// skin is what of the inside has air within the full layers above or below.
func (st *stack) skin(i int, inner *raster) *raster {
	out := inner.copy()
	for k := 1; k <= st.s.Top; k++ {
		if i+k >= len(st.layers) {
			return inner.copy()
		}
		out.and(st.layers[i+k])
	}
	for k := 1; k <= st.s.Bottom; k++ {
		if i-k < 0 {
			return inner.copy()
		}
		out.and(st.layers[i-k])
	}
	return inner.copy().andNot(out)
}

// extent is the area of the box around the part, mm².
func (st *stack) extent() float64 {
	return float64(st.layers[0].nx*st.layers[0].ny) * st.cell * st.cell
}

func (st *stack) mm2(r *raster) float64 { return float64(r.count()) * st.cell * st.cell }
func (st *stack) cells(mm float64) int  { return int(math.Round(mm / st.cell)) }

// run is a stretch of set cells in a row; group is the island it belongs to.
type run struct{ y, from, to, group int } // to is the first cell beyond

// runs lists the stretches of a raster and how many islands they make, cells
// joined by their sides.
func runs(r *raster) (all []run, islands int) {
	var parent []int
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	last, begin := 0, 0 // runs of the row before: all[last:begin]
	for y := range r.ny {
		last, begin = begin, len(all)
		at := last
		for from, to := r.next(y, 0); from < r.nx; from, to = r.next(y, to) {
			n := len(all)
			all = append(all, run{y, from, to, n})
			parent = append(parent, n)
			for at < begin && all[at].to <= from {
				at++
			}
			for j := at; j < begin && all[j].from < to; j++ {
				parent[find(j)] = find(n)
			}
		}
	}
	for i := range all {
		all[i].group = find(i)
		if all[i].group == i {
			islands++
		}
	}
	return all, islands
}

// small takes islands of less than so many cells away.
func small(r *raster, least int) {
	all, _ := runs(r)
	size := make([]int, len(all))
	for _, e := range all {
		size[e.group] += e.to - e.from
	}
	for _, e := range all {
		if size[e.group] < least {
			r.clear(e)
		}
	}
}
