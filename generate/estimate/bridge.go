package estimate

import "math"

// Common practice, no source: a printer lays a bead that rests on the one below
// by half, which is a wall at 45 degrees; what is held at one end only reaches a
// third as far as what is held at both.
const (
	rests    = 2   // cells that a layer may stand out beyond the one below
	freeCost = 3.0 // span that a free edge is as bad as, as a multiple of its reach
)

// ways are the directions that a gap is bridged in, as steps between cells.
func ways() [8][2]int {
	return [8][2]int{{1, 0}, {0, 1}, {1, 1}, {1, -1}, {2, 1}, {1, 2}, {2, -1}, {1, -2}}
}

// hang is how a place over air is held: a bridge with both ends on something, of
// so much span, or a free edge, which stands out so far. One of the two is 0.
type hang struct{ span, reach float64 }

func (h hang) cost() float64 { return max(h.span, freeCost*h.reach) }

// hangs is the widest bridge under layer i and the free edge that stands out
// farthest, in mm. Every place is bridged in the direction that is best for it;
// what is in one piece is as good as its worst place.
// What stands out by less than a bead rests on the layer below.
func (st *stack) hangs(i int) hang {
	if i == 0 {
		return hang{}
	}
	air := st.layers[i].copy().andNot(st.layers[i-1])
	if air.empty() {
		return hang{}
	}
	air = st.layers[i].copy().andNot(st.layers[i-1].dilate(rests))
	places, _ := runs(air)
	if len(places) == 0 {
		return hang{}
	}
	best := make(map[[2]int]hang)
	for _, way := range ways() {
		for _, r := range places {
			for x := r.from; x < r.to; x++ {
				if !air.has(x-way[0], r.y-way[1]) {
					st.span(st.layers[i], air, [2]int{x, r.y}, way, best)
				}
			}
		}
	}
	worst := make(map[int]hang) // by island
	for _, r := range places {
		for x := r.from; x < r.to; x++ {
			if h := best[[2]int{x, r.y}]; h.cost() > worst[r.group].cost() {
				worst[r.group] = h
			}
		}
	}
	var most hang
	for _, h := range worst { // the greatest is the same in any order
		most.span, most.reach = max(most.span, h.span), max(most.reach, h.reach)
	}
	return most
}

// span follows one way across the air from a cell at its edge and notes how it is
// held, for each cell passed, if that is better than what was found before.
func (st *stack) span(solid, air *raster, at, way [2]int, best map[[2]int]hang) {
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
	long := float64(n) * math.Hypot(float64(way[0]), float64(way[1]))
	var h hang
	switch ends {
	case 2:
		h.span = (long + 2*rests) * st.cell
	case 1:
		h.reach = (long + rests) * st.cell
	default:
		return
	}
	for ; n > 0; n-- {
		if old, ok := best[at]; !ok || h.cost() < old.cost() {
			best[at] = h
		}
		at[0], at[1] = at[0]+way[0], at[1]+way[1]
	}
}
