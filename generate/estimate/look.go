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

// look sorts the cells of layer i. Layers are looked at in turn, from the bed up.
func (st *stack) look(i int) layer {
	solid := st.layers[i]
	inner := solid.erode(st.inset)
	if st.s.Walls < 1 {
		inner = solid.copy()
	}
	skin := st.skin(i, inner)
	if st.s.Infill < 1 {
		skin = skin.dilate(st.cells(anchor)).and(inner)
	}
	sparse := inner.copy().andNot(skin)
	small(sparse, int(leastThin/(st.cell*st.cell)))
	full := inner.copy().andNot(sparse)
	top := full.copy()
	if i+1 < len(st.layers) {
		top.andNot(st.layers[i+1])
	}
	bridge := newRaster(solid.nx, solid.ny)
	if i > 0 {
		bridge.or(st.thin).or(full.copy().andNot(st.layers[i-1])).and(full).andNot(top)
	}
	st.thin = sparse
	l := layer{outline: st.length[i], inside: inner.edge() * st.cell, extent: float64(solid.nx*solid.ny) * st.cell * st.cell}
	_, islands := runs(solid)
	l.loops = 2*islands - solid.euler()
	l.top, l.bridge, l.sparse = st.mm2(top), st.mm2(bridge), st.mm2(sparse)
	l.full = st.mm2(full) - l.top - l.bridge
	all := st.mm2(inner)
	exact := all
	if l.outline > 0 { // cells at the edge count whole: what that makes the solid too large is known
		exact = max(0, all-(st.mm2(solid)-st.area[i])*l.inside/l.outline)
	}
	// What is left between the last bead and the infill's edge is no wall.
	slack := st.s.inset() - float64(st.s.Walls)*st.s.spacing()
	l.walls = max(0, st.area[i]-exact-slack*l.inside)
	if all > 0 { // the correction and the overlap, shared out by area
		l.scale((exact + overlap*st.s.spacing()*l.inside) / all)
	}
	return l
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
