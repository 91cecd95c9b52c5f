package mesh

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// filler cuts flats across z into triangles, which side a point is on being
// decided without rounding.
type filler struct {
	v    []geom.Vec
	x    gateExact
	side int     // +1 when loops run counterclockwise round the flat seen from above, -1 from below
	loop []int32 // loop of each vertex
}

var errFill = errors.New("mesh: outlines of a flat meet")

// fillFlat cuts the flat that the loops bound, all at one height, into triangles
// with no other corners than theirs. The loops run counterclockwise round the
// flat seen from its outside, those of holes clockwise; it may be in several
// pieces. It is an error when loops meet.
func fillFlat(v []geom.Vec, loops [][]int32) ([][3]int32, error) {
	f := &filler{v: v, x: newGateExact(v), side: 1, loop: make([]int32, len(v))}
	var total float64
	for i, l := range loops {
		total += f.area(l)
		for _, p := range l {
			f.loop[p] = int32(i)
		}
	}
	if total < 0 {
		f.side = -1
	}
	rims, holes, err := f.nest(loops)
	if err != nil {
		return nil, err
	}
	var out [][3]int32
	for i, ring := range rims {
		if ring, err = f.bridged(ring, holes[i]); err != nil {
			return nil, err
		}
		if out, err = f.ears(out, ring); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// area is the area within a loop, in mm², negative when it runs clockwise seen
// from above.
func (f *filler) area(loop []int32) (sum float64) {
	o := f.v[loop[0]].XY()
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		sum += f.v[a].XY().Sub(o).Cross(f.v[b].XY().Sub(o)) / 2
	}
	return sum
}

// turn is positive when a, b, c run counterclockwise seen from the flat's outside.
func (f *filler) turn(a, b, c int32) int { return f.side * f.x.turn(a, b, c, flatAxis) }

const flatAxis = 2 // flats lie across z

// nest sorts the loops into rims and the holes of each.
func (f *filler) nest(loops [][]int32) (rims [][]int32, holes [][][]int32, err error) {
	for _, l := range loops {
		if float64(f.side)*f.area(l) > 0 {
			rims = append(rims, l)
		}
	}
	holes = make([][][]int32, len(rims))
	for _, l := range loops {
		if float64(f.side)*f.area(l) > 0 {
			continue
		}
		home, least := -1, math.Inf(1)
		for i, r := range rims {
			if a := math.Abs(f.area(r)); a < least && f.within(r, l[0]) {
				home, least = i, a
			}
		}
		if home < 0 {
			return nil, nil, errFill
		}
		holes[home] = append(holes[home], l)
	}
	return rims, holes, nil
}

// within reports that vertex p lies in a loop: a ray from it to +x crosses an
// odd number of sides.
func (f *filler) within(loop []int32, p int32) bool {
	in := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		up := f.v[b].Y > f.v[p].Y
		if (f.v[a].Y > f.v[p].Y) != up && (f.x.turn(a, b, p, flatAxis) > 0) == up {
			in = !in
		}
	}
	return in
}

// fillBridge is a segment from corner i of a ring to corner j of a hole.
type fillBridge struct {
	long       float64
	i, hole, j int
}

// bridged joins the holes to the ring, each by the shortest segment that crosses
// nothing, run along both ways: one ring is left.
func (f *filler) bridged(ring []int32, holes [][]int32) ([]int32, error) {
	holes = slices.Clone(holes)
	for len(holes) > 0 {
		all := f.bridges(ring, holes)
		k := slices.IndexFunc(all, func(b fillBridge) bool { return f.clear(b, ring, holes) })
		if k < 0 {
			return nil, errFill
		}
		b := all[k]
		h := holes[b.hole]
		ring = slices.Concat(ring[:b.i+1], h[b.j:], h[:b.j+1], ring[b.i:])
		holes = slices.Delete(holes, b.hole, b.hole+1)
	}
	return ring, nil
}

// bridges lists the segments from a ring to holes, the shortest first.
func (f *filler) bridges(ring []int32, holes [][]int32) (out []fillBridge) {
	for n, h := range holes {
		for j, q := range h {
			for i, p := range ring {
				out = append(out, fillBridge{f.v[p].Dist(f.v[q]), i, n, j})
			}
		}
	}
	slices.SortFunc(out, func(a, b fillBridge) int {
		return cmp.Or(cmp.Compare(a.long, b.long), a.hole-b.hole, a.j-b.j, a.i-b.i)
	})
	return out
}

// clear reports that a bridge leaves the ring's corner inwards and meets no side.
func (f *filler) clear(b fillBridge, ring []int32, holes [][]int32) bool {
	n := len(ring)
	p, q := ring[b.i], holes[b.hole][b.j]
	if !f.inward(ring[(b.i+n-1)%n], p, ring[(b.i+1)%n], q) {
		return false
	}
	for _, loop := range append([][]int32{ring}, holes...) {
		for i, a := range loop {
			c := loop[(i+1)%len(loop)]
			if a != p && a != q && c != p && c != q && f.x.meet(p, q, a, c, flatAxis) {
				return false
			}
		}
	}
	return true
}

// inward reports that from the corner a, p, c of a ring q is seen within it.
func (f *filler) inward(a, p, c, q int32) bool {
	left, right := f.turn(p, c, q) > 0, f.turn(a, p, q) > 0
	if f.turn(a, p, c) > 0 {
		return left && right
	}
	return left || right
}

// ears cuts a ring into triangles by cutting off ears, corners that stick out
// and have no other corner within (Meisters 1975). Ears that join two loops go
// first, those with the shortest third side before others: a triangle within one
// loop is a sliver along a curve and turns over when the curve is bent a little.
func (f *filler) ears(out [][3]int32, ring []int32) ([][3]int32, error) {
	ring = slices.Clone(ring)
	cost := make([]fillCost, len(ring))
	for i := range ring {
		cost[i] = f.ear(ring, i)
	}
	for n := len(ring); ; n-- {
		i := 0
		for k := range cost {
			if cost[k].less(cost[i]) {
				i = k
			}
		}
		if cost[i] == noEar() {
			return nil, errFill
		}
		out = append(out, [3]int32{ring[(i+n-1)%n], ring[i], ring[(i+1)%n]})
		if n == 3 {
			return out, nil
		}
		ring, cost = slices.Delete(ring, i, i+1), slices.Delete(cost, i, i+1)
		for _, k := range [2]int{(i + n - 2) % (n - 1), i % (n - 1)} {
			cost[k] = f.ear(ring, k)
		}
	}
}

// fillCost is what speaks against cutting an ear off.
type fillCost struct {
	rank int     // 0 joins two loops, 1 lies within one, 2 is no ear
	long float64 // third side, in mm
}

func noEar() fillCost { return fillCost{rank: 2} }

func (c fillCost) less(d fillCost) bool {
	return c.rank < d.rank || c.rank == d.rank && c.long < d.long
}

// ear judges the triangle at corner i of a ring. A corner that a bridge has put
// into the ring twice is no obstacle to itself.
func (f *filler) ear(ring []int32, i int) fillCost {
	n := len(ring)
	t := [3]int32{ring[(i+n-1)%n], ring[i], ring[(i+1)%n]}
	if f.turn(t[0], t[1], t[2]) <= 0 {
		return noEar()
	}
	for _, p := range ring {
		if p != t[0] && p != t[1] && p != t[2] && f.x.holds(t, p, flatAxis) {
			return noEar()
		}
	}
	c := fillCost{long: f.v[t[0]].Dist(f.v[t[2]])}
	if f.loop[t[0]] == f.loop[t[1]] && f.loop[t[1]] == f.loop[t[2]] {
		c.rank = 1
	}
	return c
}
