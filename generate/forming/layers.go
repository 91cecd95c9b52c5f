package forming

import (
	"math"

	"buckwright/generate/geom"
)

// Where a tall tool leaves more sheet round its corners than it takes up, the
// rest stands off as a fin whose two sides the vacuum draws together: a web. They
// meet and stick as they would on the tool. Were they let through each other, the
// pressure would open the fin again inside out and blow it up without end.

// steep is the upward part of a unit normal below which an element may overhang.
const steep = 0.02

// never is a share of a step that none reaches.
const never = 2.0

// layers looks for places where the sheet has met itself since the start of a step.
type layers struct {
	*sheet
	start  []geom.Vec // places before the step
	near   float64    // mm: closer than this is met
	cell   float64
	min    geom.Vec2
	nx, ny int
	elem   [][]int32  // by cell in plan: elements there, nil where nothing overhangs
	up     []geom.Vec // by element: its vector area
	swept  []geom.Box // by element that may meet another: about its way in the step
	face   []geom.Vec // by node: sum of its elements' vector areas
	stop   []float64  // by node: the share of its step after which it meets another layer, or never
}

// web holds the nodes that met another layer of the sheet since start, and
// returns how many.
func (f *former) web(start []geom.Vec) int {
	l := &layers{sheet: f.sheet, start: start, near: f.skin(), cell: f.set.Element}
	if !l.overhang() {
		return 0
	}
	l.sort()
	for n := range start {
		l.meet(int32(n))
	}
	hits := 0
	for n := range start {
		if st := &l.state[n]; l.stop[n] < never && !st.held {
			l.node[n] = start[n].Lerp(l.node[n], l.stop[n])
			st.held, st.hangs, st.webbed = true, true, true
			hits++
		}
	}
	return hits
}

// overhang marks the cells in plan over which the sheet hangs over itself, and
// reports whether there are any. The sheet covers each place within the frame
// once more facing up than facing down, so that it cannot meet itself elsewhere.
func (l *layers) overhang() bool {
	var over []geom.Box
	l.up = make([]geom.Vec, len(l.tri))
	for t := range l.tri {
		n := l.normal(int32(t))
		l.up[t] = n
		if n.Z < steep*n.Len() && l.may(int32(t)) {
			over = append(over, l.way(int32(t)))
		}
	}
	if len(over) == 0 {
		return false
	}
	all := over[0]
	for _, b := range over[1:] {
		all = all.Union(b)
	}
	l.min = all.Min.XY()
	size := all.Size()
	l.nx, l.ny = int(size.X/l.cell)+1, int(size.Y/l.cell)+1
	l.elem = make([][]int32, l.nx*l.ny)
	for _, b := range over {
		l.visit(b, func(c int) { l.elem[c] = []int32{} })
	}
	return true
}

// may reports whether an element can meet another: it moves, or it is part of a web.
func (l *layers) may(t int32) bool {
	for _, n := range l.tri[t] {
		if l.loose(n) {
			return true
		}
	}
	return false
}

func (l *layers) loose(n int32) bool { return !l.state[n].held || l.state[n].webbed }

// way is the box about an element's way in the step.
func (l *layers) way(t int32) geom.Box {
	v := l.tri[t]
	return geom.BoxOf(l.start[v[0]], l.start[v[1]], l.start[v[2]], l.node[v[0]], l.node[v[1]], l.node[v[2]])
}

// visit calls do for each cell in plan that a box reaches into.
func (l *layers) visit(b geom.Box, do func(cell int)) {
	at := func(v float64, n int) int { return int(min(max(math.Floor(v/l.cell), -1), float64(n))) }
	x0, x1 := at(b.Min.X-l.min.X, l.nx), at(b.Max.X-l.min.X, l.nx)
	y0, y1 := at(b.Min.Y-l.min.Y, l.ny), at(b.Max.Y-l.min.Y, l.ny)
	for j := max(y0, 0); j <= min(y1, l.ny-1); j++ {
		for i := max(x0, 0); i <= min(x1, l.nx-1); i++ {
			do(j*l.nx + i)
		}
	}
}

// sort puts the elements into the marked cells.
func (l *layers) sort() {
	l.face, l.stop = make([]geom.Vec, len(l.node)), make([]float64, len(l.node))
	for n := range l.stop {
		l.stop[n] = never
	}
	l.swept = make([]geom.Box, len(l.tri))
	for t, v := range l.tri {
		if !l.may(int32(t)) {
			continue
		}
		for _, n := range v {
			l.face[n] = l.face[n].Add(l.up[t])
		}
		l.swept[t] = l.way(int32(t))
		l.visit(l.swept[t], func(c int) {
			if l.elem[c] != nil {
				l.elem[c] = append(l.elem[c], int32(t))
			}
		})
	}
}

// meet finds what node n met.
func (l *layers) meet(n int32) {
	if !l.loose(n) {
		return
	}
	way := geom.BoxOf(l.start[n], l.node[n]).Grow(l.near)
	l.visit(way, func(c int) {
		for _, t := range l.elem[c] {
			if !overlap(&way, &l.swept[t]) {
				continue
			}
			if v := l.tri[t]; v[0] == n || v[1] == n || v[2] == n {
				continue
			}
			if share, corner, ok := l.crossing(n, t); ok {
				l.stop[n] = min(l.stop[n], share)
				l.stop[corner] = min(l.stop[corner], share)
			}
		}
	})
}

func overlap(a, b *geom.Box) bool {
	return a.Min.X <= b.Max.X && b.Min.X <= a.Max.X && a.Min.Y <= b.Max.Y && b.Min.Y <= a.Max.Y &&
		a.Min.Z <= b.Max.Z && b.Min.Z <= a.Max.Z
}

// crossing reports whether node n came through element t from the tool's side,
// after which share of the step, and the corner of t that it is nearest to.
func (l *layers) crossing(n, t int32) (share float64, corner int32, ok bool) {
	if !(l.face[n].Dot(l.up[t]) < 0 && l.height(n, t, 1) < l.near && l.height(n, t, 0) > -l.near) {
		return 0, 0, false
	}
	if l.height(n, t, 0) > l.near/2 {
		lo, hi := 0.0, 1.0
		for range 20 {
			if m := (lo + hi) / 2; l.height(n, t, m) > l.near/2 {
				lo = m
			} else {
				hi = m
			}
		}
		share = lo
	}
	corner, ok = l.within(n, t, share)
	return share, corner, ok
}

// at is the place of a node after a share of the step.
func (l *layers) at(n int32, share float64) geom.Vec { return l.start[n].Lerp(l.node[n], share) }

// height is how far node n is on the tool's side of element t's plane.
func (l *layers) height(n, t int32, share float64) float64 {
	v := l.tri[t]
	a := l.at(v[0], share)
	normal := l.at(v[1], share).Sub(a).Cross(l.at(v[2], share).Sub(a)).Unit()
	return -l.at(n, share).Sub(a).Dot(normal)
}

// within reports whether node n lies over element t, and its nearest corner.
func (l *layers) within(n, t int32, share float64) (corner int32, ok bool) {
	const slack = -0.05 // of the barycentric coordinates: no gap at a common side
	v, p := l.tri[t], l.at(n, share)
	a, b, c := l.at(v[0], share), l.at(v[1], share), l.at(v[2], share)
	normal := b.Sub(a).Cross(c.Sub(a))
	best := math.Inf(-1)
	for k, w := range [3]float64{
		b.Sub(p).Cross(c.Sub(p)).Dot(normal), c.Sub(p).Cross(a.Sub(p)).Dot(normal), a.Sub(p).Cross(b.Sub(p)).Dot(normal),
	} {
		if !(w > slack*normal.Dot(normal)) {
			return 0, false
		}
		if w > best && !l.state[v[k]].held {
			best, corner = w, v[k]
		} else if best == math.Inf(-1) {
			corner = v[k]
		}
	}
	return corner, true
}
