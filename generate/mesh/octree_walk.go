package mesh

import "math/bits"

// octWalker traces the loops of one leaf after another.
type octWalker struct {
	*octSkeleton
	leaf  int32
	min   octPoint
	size  int32
	id    [8]int32
	finer bool
	mid   [12]int32 // corner in the middle of each edge
	steps []octStep

	middle map[[2]int32]bool // faces with more than two sign changes: inside in the middle
}

// octStep is a segment on the leaf's boundary, directed so that steps chain.
type octStep struct {
	from, to int32 // edges
	seg      int32
	used     bool
}

// walk finds the loops of a leaf.
func (w *octWalker) walk(leaf int32) {
	n := &w.tree.nodes[leaf]
	w.leaf, w.min, w.size, w.id = leaf, n.min, n.size, w.ids[leaf]
	w.finer = n.finer
	if !w.finer && w.uniform() {
		return
	}
	for e, c := range octEdges {
		w.mid[e] = octNone
		if w.finer {
			w.mid[e] = w.corners.find(w.min.corner(c[0], w.size).plus(c[1], w.size/2))
		}
	}
	w.steps = w.steps[:0]
	for axis := range 3 {
		w.face(axis, 0)
		w.face(axis, 1)
	}
	w.chain()
}

// uniform reports that all corners of the leaf have one sign.
func (w *octWalker) uniform() bool {
	for _, c := range w.id {
		if w.corners.inside[c] != w.corners.inside[w.id[0]] {
			return false
		}
	}
	return true
}

// octEdgeOf is the number in octEdges of the edge between corners i and j, with
// i below j.
func octEdgeOf(i, j int) int {
	axis := bits.TrailingZeros(uint(i ^ j))
	low := i&(1<<axis-1) | i>>(axis+1)<<axis // i without the bit of the axis
	return 4*axis + low
}

// face walks one face of the leaf, whole or in quarters.
func (w *octWalker) face(axis, side int) {
	b, c := (axis+1)%3, (axis+2)%3
	k := [4]int{side << axis, side<<axis | 1<<b, side<<axis | 1<<b | 1<<c, side<<axis | 1<<c}
	var mid [4]int32
	for i := range 4 {
		lo, hi := min(k[i], k[(i+1)%4]), max(k[i], k[(i+1)%4])
		mid[i] = w.mid[octEdgeOf(lo, hi)]
	}
	low := w.min.corner(k[0], w.size)
	centre := octNone
	if w.finer {
		centre = w.corners.find(low.plus(b, w.size/2).plus(c, w.size/2))
	}
	f := octFace{axis: axis, side: side}
	if centre == octNone {
		f.low, f.size = low, w.size
		f.corner = [4]int32{w.id[k[0]], w.id[k[1]], w.id[k[2]], w.id[k[3]]}
		f.mid = mid
		w.trace(&f)
		return
	}
	f.size = w.size / 2
	f.mid = [4]int32{octNone, octNone, octNone, octNone}
	grid := [3][3]int32{
		{w.id[k[0]], mid[0], w.id[k[1]]},
		{mid[3], centre, mid[1]},
		{w.id[k[3]], mid[2], w.id[k[2]]},
	}
	for q := range 4 {
		i, j := q&1, q>>1
		f.corner = [4]int32{grid[j][i], grid[j][i+1], grid[j+1][i+1], grid[j+1][i]}
		f.low = low.plus(b, int32(i)*f.size).plus(c, int32(j)*f.size)
		w.trace(&f)
	}
}

// octFace is a face that no finer leaf divides: corners counterclockwise seen
// from +axis, mid[i] between corner i and the next where the edge is divided.
type octFace struct {
	axis, side  int
	low         octPoint
	size        int32
	corner, mid [4]int32
}

// trace joins the sign changes along the rim of a face in pairs, a choice that
// depends on the face alone. Where there are more than two, the middle of the
// face tells whether the inside or the outside hangs together.
func (w *octWalker) trace(f *octFace) {
	var rim [8]int32
	n := 0
	for i := range 4 {
		if f.corner[i] == octNone {
			return // the far side is empty, so the sign is the same all over
		}
		rim[n] = f.corner[i]
		n++
		if f.mid[i] != octNone {
			rim[n] = f.mid[i]
			n++
		}
	}
	if f.side == 0 { // counterclockwise seen from outside the leaf
		for i, j := 0, n-1; i < j; i, j = i+1, j-1 {
			rim[i], rim[j] = rim[j], rim[i]
		}
	}
	in := w.corners.inside
	changes := 0
	for i := range n {
		if in[rim[i]] != in[rim[(i+1)%n]] {
			changes++
		}
	}
	// Runs of corners with the sign cut are cut off from the rest.
	cut := changes <= 2 || !w.joined(f)
	for i := range n {
		if in[rim[i]] == cut || in[rim[(i+1)%n]] != cut {
			continue
		}
		j := (i + 1) % n
		for in[rim[(j+1)%n]] == cut {
			j = (j + 1) % n
		}
		from, to := w.edge(rim[i], rim[(i+1)%n]), w.edge(rim[j], rim[(j+1)%n])
		if !cut { // a run of outside corners is left where the inside is entered
			from, to = to, from
		}
		w.step(f, from, to)
	}
}

// joined reports that the inside corners of a face hang together across it: the
// solid fills the face's middle. The first cell to come answers for both.
func (w *octWalker) joined(f *octFace) bool {
	key := [2]int32{3*f.corner[0] + int32(f.axis), f.size}
	if in, known := w.middle[key]; known {
		return in
	}
	p := w.tree.at(f.low)
	q := w.tree.at(f.low.plus((f.axis+1)%3, f.size).plus((f.axis+2)%3, f.size))
	in := w.solid(w.leaf).Dist(p.Lerp(q, 0.5)) < 0
	w.middle[key] = in
	return in
}

// edge is the record of the sign-changing edge between two corners.
func (w *octWalker) edge(p, q int32) int32 {
	a, b := w.corners.at[p], w.corners.at[q]
	axis := 0
	for a[axis] == b[axis] {
		axis++
	}
	if a[axis] > b[axis] {
		p, q = q, p
	}
	e := &w.edgeAt[3*p+int32(axis)]
	if *e == octNone {
		*e = int32(len(w.edges))
		none := [4]int32{octNone, octNone, octNone, octNone}
		w.edges = append(w.edges, octEdge{
			corner: [2]int32{p, q}, axis: int8(axis), owner: w.leaf, ring: none, seg: none, v: octNone,
		})
	}
	return *e
}

// step notes a segment on the face. The first cell to come makes it.
func (w *octWalker) step(f *octFace, from, to int32) {
	face := 3*f.corner[0] + int32(f.axis)
	seg := w.faceAt[face]
	for seg != octNone {
		if e := w.segs[seg].edge; e == [2]int32{from, to} || e == [2]int32{to, from} {
			break
		}
		seg = w.segs[seg].next
	}
	if seg == octNone {
		seg = int32(len(w.segs))
		w.segs = append(w.segs, octSegment{
			edge: [2]int32{from, to}, vertex: [2]int32{octNone, octNone},
			axis: int8(f.axis), face: face, size: f.size, mid: octNone, next: w.faceAt[face],
		})
		w.faceAt[face] = seg
	}
	w.steps = append(w.steps, octStep{from: from, to: to, seg: seg})
}

// chain joins the steps to loops, and enters each loop in its edges and segments.
func (w *octWalker) chain() {
	for i := range w.steps {
		if w.steps[i].used {
			continue
		}
		loop := octLoop{leaf: w.leaf}
		v := int32(len(w.loops))
		if w.loopAt[w.leaf] == octNone {
			w.loopAt[w.leaf] = v
		}
		for j := i; j >= 0 && !w.steps[j].used; j = w.after(w.steps[j].to) {
			s := &w.steps[j]
			s.used = true
			loop.edges = append(loop.edges, s.from)
			w.enter(v, s)
		}
		w.loops = append(w.loops, loop)
	}
}

// after is the step that starts on edge e.
func (w *octWalker) after(e int32) int {
	for j := range w.steps {
		if w.steps[j].from == e {
			return j
		}
	}
	return -1
}

// enter puts vertex v into the ring of the step's first edge and into its segment.
func (w *octWalker) enter(v int32, s *octStep) {
	e := &w.edges[s.from]
	at := w.corners.at[e.corner[0]]
	b, c := (int(e.axis)+1)%3, (int(e.axis)+2)%3
	for q, d := range [4][2]int32{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		if w.covers(at, b, d[0]) && w.covers(at, c, d[1]) {
			e.ring[q] = v
		}
	}
	seg := &w.segs[s.seg]
	side := 0
	if w.min[seg.axis] == w.low(seg)[seg.axis] {
		side = 1 // the leaf is above the face
	}
	seg.vertex[side] = v
	w.hang(s.from, s.seg)
	w.hang(s.to, s.seg)
}

// covers reports that the leaf lies on side d of the lattice plane through p
// across the axis, or on both.
func (w *octWalker) covers(p octPoint, axis int, d int32) bool {
	if d > 0 {
		return w.min[axis] <= p[axis] && p[axis] < w.min[axis]+w.size
	}
	return w.min[axis] < p[axis] && p[axis] <= w.min[axis]+w.size
}

// hang enters a segment at the side of the edge where its face is.
func (w *octWalker) hang(edge, seg int32) {
	e, s := &w.edges[edge], &w.segs[seg]
	at := w.corners.at[e.corner[0]]
	b, c := (int(e.axis)+1)%3, (int(e.axis)+2)%3
	axis, slot := b, int32(0) // the face extends along b from the edge
	if int(s.axis) == b {
		axis, slot = c, 1
	}
	if w.low(s)[axis] < at[axis] {
		slot += 2
	}
	e.seg[slot] = seg
}
