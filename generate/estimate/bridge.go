package estimate

import "math"

// Common practice, no source: a printer lays a bead that rests on the one below
// by half, which is a wall at 45 degrees; what is held at one end only reaches a
// third as far as what is held at both.
const (
	rests    = 2   // cells that a layer may stand out beyond the one below
	freeCost = 3.0 // gap that an end in the air counts for, as a multiple of its reach
)

// ways are the directions that a gap is bridged in, as steps between cells.
func ways() [8][2]int {
	return [8][2]int{{1, 0}, {0, 1}, {1, 1}, {1, -1}, {2, 1}, {1, 2}, {2, -1}, {1, -2}}
}

// gap is the widest place under layer i that is bridged, in mm: every place is
// bridged in the direction in which it is narrowest. An end in the air counts
// thrice its reach. What stands out by less than a bead rests on the layer below.
func (st *stack) gap(i int) float64 {
	if i == 0 {
		return 0
	}
	air := st.layers[i].copy().andNot(st.layers[i-1])
	if air.empty() {
		return 0
	}
	air = st.layers[i].copy().andNot(st.layers[i-1].dilate(rests))
	places, _ := runs(air)
	if len(places) == 0 {
		return 0
	}
	best := make(map[[2]int]float64)
	for _, way := range ways() {
		for _, r := range places {
			for x := r.from; x < r.to; x++ {
				if !air.has(x-way[0], r.y-way[1]) {
					st.span(st.layers[i], air, [2]int{x, r.y}, way, best)
				}
			}
		}
	}
	widest := 0.0
	for _, v := range best { // the greatest is the same in any order
		if !math.IsInf(v, 1) {
			widest = max(widest, v)
		}
	}
	return widest
}

// span follows one way across the air from a cell at its edge and notes, for
// each cell passed, the gap if it is less than what was found before.
func (st *stack) span(solid, air *raster, at, way [2]int, best map[[2]int]float64) {
	ends := 0
	if solid.has(at[0]-way[0], at[1]-way[1]) {
		ends++
	}
	n := 0
	end := at
	for air.has(end[0], end[1]) {
		end[0], end[1] = end[0]+way[0], end[1]+way[1]
		n++
	}
	if solid.has(end[0], end[1]) {
		ends++
	}
	step := math.Hypot(float64(way[0]), float64(way[1]))
	gap := math.Inf(1)
	switch ends {
	case 2:
		gap = (float64(n)*step + 2*rests) * st.cell
	case 1:
		gap = freeCost * (float64(n)*step + rests) * st.cell
	}
	for ; n > 0; n-- {
		if old, ok := best[at]; !ok || gap < old {
			best[at] = gap
		}
		at[0], at[1] = at[0]+way[0], at[1]+way[1]
	}
}
