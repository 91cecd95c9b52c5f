package mesh

import (
	"context"
	"fmt"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// splitQuantum is the grid that vertices are rounded to, in mm.
const splitQuantum = SnapGrid

// splitMargin keeps vertices off the faces, edges and corners of their cells, in
// mm, so that no two vertices come nearer than a micrometre.
const splitMargin = 1.1e-3

// splitter turns the traced surface into triangles.
type splitter struct {
	*octSkeleton
	quantum float64
	out     *Mesh
	at      []int32 // vertex of each loop
	loop    []int32 // loop of each of the first vertices
	crease  []bool  // of the first vertices, whether they are on a crease or corner
	level   [][]plateau
	moved   []bool     // the first vertices, when divided: put on the surface
	origin  [][3]int32 // of each triangle, once divided: the corners of what it is a piece of
	near    []bool     // triangles, once divided, that were found to be near enough
}

// round puts p on the grid.
func (s *splitter) round(p geom.Vec) geom.Vec {
	q := s.quantum
	return geom.Vec{X: math.Round(p.X/q) * q, Y: math.Round(p.Y/q) * q, Z: math.Round(p.Z/q) * q}
}

// place finds the crossings and the vertices.
func (s *splitter) place(ctx context.Context, workers int) error {
	err := octChunks(ctx, len(s.edges), workers, func(i int) {
		if e := &s.edges[i]; e.axis != octGone && !e.placed {
			s.cross(e)
			e.placed = true
		}
	})
	if err != nil {
		return err
	}
	return octChunks(ctx, len(s.loops), workers, func(i int) {
		if l := &s.loops[i]; l.leaf != octNone && !l.placed {
			s.settle(i)
			l.placed = true
		}
	})
}

// cross finds where the surface crosses an edge.
func (s *splitter) cross(e *octEdge) {
	c := s.corners
	a, b := s.tree.at(c.at[e.corner[0]]), s.tree.at(c.at[e.corner[1]])
	solid := s.solid(e.owner)
	p := qefRoot(solid, a, b, c.value[e.corner[0]], c.value[e.corner[1]])
	e.x = qefPlane{p, qefNormal(solid, p)}
	e.planar = s.tree.nodes[e.owner].planar
	d := b.Sub(a).Scale(min(splitMargin/b.Dist(a), 0.125))
	p = p.Max(a.Add(d)).Min(b.Sub(d))
	e.at = s.round(p)
}

// settle places the vertex of loop i.
func (s *splitter) settle(i int) {
	l := &s.loops[i]
	planes := make([]qefPlane, len(l.edges))
	for j, e := range l.edges {
		planes[j] = s.edges[e].x
	}
	n := &s.tree.nodes[l.leaf]
	c := octProbe{octRules: &s.tree.octRules, octNature: n.octNature, solid: n.solid, planes: planes, found: n.found, box: s.box(l.leaf).Grow(-splitMargin)}
	c.ball = s.tree.ball(n.min, n.size)
	if s.crowded(i) {
		l.p = s.round(qefMass(planes).Max(c.box.Min).Min(c.box.Max))
		l.want = l.p
		return
	}
	if _, flat := n.solid.(sdf.HalfSpace); !flat {
		c.gather()
	}
	v, sharp := c.vertex()
	l.smooth = c.soft && c.smooth
	if !v.Finite() {
		v = qefMass(planes)
	}
	if !c.planar {
		v = levelVertex(n.solid, planes, v)
	}
	l.p = s.round(v.Max(c.box.Min).Min(c.box.Max))
	l.want = l.p
	l.sharp = sharp
	if c.planar {
		var d octProbe
		for _, q := range c.planes {
			d.add(q)
		}
		l.planes = d.planes
	}
	if sharp && v.Dist(c.ball.C) <= 2*c.ball.R && math.Abs(s.distAt(v)) < splitMargin {
		l.want = s.round(v)
	}
}

// distAt is the field at a point.
func (s *splitter) distAt(p geom.Vec) float64 {
	look := s.tree.look()
	return look.Dist(p)
}

// triangles builds the mesh.
func (s *splitter) triangles() error {
	s.out = &Mesh{}
	s.at = make([]int32, len(s.loops))
	for i := range s.loops {
		if s.loops[i].leaf != octNone {
			s.at[i] = s.vertex(s.loops[i].p)
			s.loop = append(s.loop, int32(i))
		}
	}
	for i := range s.segs {
		if g := &s.segs[i]; g.axis != octGone {
			g.mid = octNone
			s.bend(g)
		}
	}
	for i := range s.edges {
		e := &s.edges[i]
		if e.axis == octGone {
			continue
		}
		e.v = octNone
		if err := s.polygon(e); err != nil {
			return err
		}
	}
	s.creases()
	return nil
}

// creases notes which vertices are on a crease: those of cells that say so, and
// between two such cells those on a face where it is crossed at an angle.
func (s *splitter) creases() {
	s.crease = make([]bool, len(s.out.V))
	for v, i := range s.loop {
		s.crease[v] = s.loops[i].sharp
	}
	const bent = 0.98 // cosine of 11 degrees
	for i := range s.segs {
		if g := &s.segs[i]; g.axis != octGone && g.mid != octNone {
			x, y := &s.edges[g.edge[0]].x, &s.edges[g.edge[1]].x
			s.crease[g.mid] = s.loops[g.vertex[0]].sharp && s.loops[g.vertex[1]].sharp && x.n.Dot(y.n) < bent
		}
	}
}

// sharp reports that a vertex is on a crease or corner.
func (s *splitter) sharp(v int32) bool { return int(v) < len(s.crease) && s.crease[v] }

// loopOf is the loop of vertex v, nil for a vertex on an edge or a face.
func (s *splitter) loopOf(v int32) *octLoop {
	if int(v) < len(s.loop) {
		return &s.loops[s.loop[v]]
	}
	return nil
}

// smooth reports that there is no crease in the cells of a triangle's corners.
func (s *splitter) smooth(c [3]int32) bool {
	for _, v := range c {
		if l := s.loopOf(v); l != nil && !l.smooth {
			return false
		}
	}
	return true
}

func (s *splitter) vertex(p geom.Vec) int32 {
	s.out.V = append(s.out.V, p)
	return int32(len(s.out.V) - 1)
}

// bend gives a segment a vertex within its face when the straight line between
// the two cell vertices would leave the face (Ju & Udeshi 2006).
func (s *splitter) bend(g *octSegment) {
	if g.vertex[0] == octNone || g.vertex[1] == octNone {
		return // polygon will tell
	}
	low := s.low(g)
	face := geom.Box{Min: s.tree.at(low), Max: s.tree.at(low)}
	side := float64(g.size) * s.tree.h
	b, c := (int(g.axis)+1)%3, (int(g.axis)+2)%3
	face.Max = s.tree.at(low.plus(b, g.size).plus(c, g.size))
	alone := g.next == octNone && &s.segs[s.faceAt[g.face]] == g
	if alone {
		p, q := s.loops[g.vertex[0]].p, s.loops[g.vertex[1]].p
		z := face.Min.Axis(int(g.axis))
		x := p.Lerp(q, (z-p.Axis(int(g.axis)))/(q.Axis(int(g.axis))-p.Axis(int(g.axis))))
		if splitWithin(x, face, b) && splitWithin(x, face, c) {
			return
		}
	}
	x, y := &s.edges[g.edge[0]], &s.edges[g.edge[1]]
	m := x.at.Lerp(y.at, 0.5)
	if alone {
		if p, ok := splitMeet(x.x, y.x, int(g.axis)); ok && splitWithin(p, face, b) && splitWithin(p, face, c) {
			m = p
		}
	}
	inset := min(splitMargin, side/8)
	lo, hi := face.Min, face.Max
	for _, a := range [2]int{b, c} {
		lo, hi = splitSet(lo, a, lo.Axis(a)+inset), splitSet(hi, a, hi.Axis(a)-inset)
	}
	g.mid = s.vertex(s.round(m.Max(lo).Min(hi)))
}

// planes lists the planes of the surface at each vertex, where it is made of
// planes.
func (s *splitter) planes() [][]qefPlane {
	out := make([][]qefPlane, len(s.out.V))
	for v, i := range s.loop {
		out[v] = s.loops[i].planes
	}
	for i := range s.edges {
		if e := &s.edges[i]; e.axis != octGone && e.v != octNone && e.planar {
			out[e.v] = []qefPlane{e.x}
		}
	}
	for i := range s.segs {
		g := &s.segs[i]
		if g.axis == octGone || g.mid == octNone {
			continue
		}
		if x, y := &s.edges[g.edge[0]], &s.edges[g.edge[1]]; x.planar && y.planar {
			var c octProbe
			c.add(x.x)
			c.add(y.x)
			out[g.mid] = c.planes
		}
	}
	for v, all := range s.level {
		var c octProbe
		for _, l := range all {
			c.add(l.plane(s.out.V[v]))
		}
		for _, q := range out[v] {
			c.add(q)
		}
		out[v] = c.planes
	}
	return out
}

func splitSet(p geom.Vec, axis int, v float64) geom.Vec {
	switch axis {
	case 0:
		p.X = v
	case 1:
		p.Y = v
	default:
		p.Z = v
	}
	return p
}

// splitWithin reports that p is well inside the box along the axis.
func splitWithin(p geom.Vec, box geom.Box, axis int) bool {
	const off = 4 * splitQuantum
	v := p.Axis(axis)
	return v > box.Min.Axis(axis)+off && v < box.Max.Axis(axis)-off
}

// splitMeet is where the traces of two tangent planes meet in a plane across the
// axis, if they do at more than a slight angle.
func splitMeet(x, y qefPlane, axis int) (geom.Vec, bool) {
	n := splitSet(x.n, axis, 0).Unit()
	m := splitSet(y.n, axis, 0).Unit()
	b, c := (axis+1)%3, (axis+2)%3
	det := n.Axis(b)*m.Axis(c) - n.Axis(c)*m.Axis(b)
	if math.Abs(det) < 0.05 {
		return geom.Vec{}, false
	}
	// The coordinate along the axis is the same all over the face.
	flat := func(n, p geom.Vec) float64 { return n.Dot(splitSet(p, axis, 0)) }
	dn, dm := flat(x.n, x.p), flat(y.n, y.p)
	k := [4]float64{x.n.Axis(b), x.n.Axis(c), y.n.Axis(b), y.n.Axis(c)}
	det = k[0]*k[3] - k[1]*k[2]
	p := splitSet(x.p, b, (dn*k[3]-dm*k[1])/det)
	return splitSet(p, c, (k[0]*dm-k[2]*dn)/det), true
}

// polygon triangulates the ring of cells around an edge.
func (s *splitter) polygon(e *octEdge) error {
	var ring [8]int32
	n, cells := 0, 0
	last := e.ring[3]
	for q := range 4 {
		v := e.ring[q]
		if v == octNone {
			p := e.x.p
			return fmt.Errorf("mesh: surface is open at (%.3f, %.3f, %.3f)", p.X, p.Y, p.Z)
		}
		if v != last {
			if g := e.seg[q]; g != octNone && s.segs[g].mid != octNone {
				ring[n] = s.segs[g].mid
				n++
			}
			ring[n] = s.at[v]
			n++
			cells++
		}
		last = v
	}
	r := ring[:n]
	if !s.corners.inside[e.corner[0]] {
		for i, j := 0, n-1; i < j; i, j = i+1, j-1 {
			r[i], r[j] = r[j], r[i]
		}
	}
	if n == cells && s.flatRing(e, r) {
		return nil
	}
	if e.v == octNone {
		e.v = s.vertex(e.at)
	}
	for i := range r {
		s.out.T = append(s.out.T, [3]int32{e.v, r[i], r[(i+1)%n]})
	}
	return nil
}

// flatRing tries to do without a vertex on the edge: one triangle for three
// cells, two for four, when they keep within the tetrahedra that the edge spans
// with the ring's sides, which no other polygon enters.
func (s *splitter) flatRing(e *octEdge, r []int32) bool {
	p, q := s.tree.at(s.corners.at[e.corner[0]]), s.tree.at(s.corners.at[e.corner[1]])
	v := s.out.V
	if len(r) == 3 {
		if !splitPierces(p, q, v[r[0]], v[r[1]], v[r[2]]) {
			return false
		}
		s.out.T = append(s.out.T, [3]int32{r[0], r[1], r[2]})
		return true
	}
	if len(r) != 4 {
		return false
	}
	var best float64
	pick := -1
	for k := range 2 {
		a, b, c, d := v[r[k]], v[r[k+1]], v[r[k+2]], v[r[(k+3)%4]]
		fits := splitPierces(a, c, p, q, b) && splitPierces(p, q, a, c, d) ||
			splitPierces(a, c, p, q, d) && splitPierces(p, q, a, c, b)
		ab := c.Sub(a)
		height := min(ab.Cross(b.Sub(a)).Len(), ab.Cross(d.Sub(a)).Len()) / ab.Len()
		if fits && height > best {
			best, pick = height, k
		}
	}
	if pick < 0 || best < splitMargin {
		return false
	}
	k := pick
	s.out.T = append(s.out.T,
		[3]int32{r[k], r[k+1], r[k+2]},
		[3]int32{r[k], r[k+2], r[(k+3)%4]})
	return true
}

// splitPierces reports that the segment pq crosses the inside of triangle abc
// and not merely touches it.
func splitPierces(p, q, a, b, c geom.Vec) bool {
	vol := func(a, b, c, d geom.Vec) float64 {
		return b.Sub(a).Cross(c.Sub(a)).Dot(d.Sub(a))
	}
	const least = 1e-9 // mm³, well over rounding
	x, y := vol(a, b, c, p), vol(a, b, c, q)
	if !(x > least && y < -least || x < -least && y > least) {
		return false
	}
	u, v, w := vol(p, q, a, b), vol(p, q, b, c), vol(p, q, c, a)
	return u > least && v > least && w > least || u < -least && v < -least && w < -least
}
