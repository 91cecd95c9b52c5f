package mesh

import (
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// octEdges are the edges of a cell: lower corner and axis.
var octEdges = [12][2]int{
	{0, 0}, {2, 0}, {4, 0}, {6, 0},
	{0, 1}, {1, 1}, {4, 1}, {5, 1},
	{0, 2}, {1, 2}, {2, 2}, {3, 2},
}

// octReach is the largest cell, in mm, that the curvature of s allows, and
// whether s is made of planes only.
func (r *octRules) octReach(s sdf.Solid) (reach float64, planar bool) {
	c, ok := s.(sdf.Resolver)
	if !ok {
		return r.blind, false
	}
	reach = c.Cell(r.sag)
	return reach, math.IsInf(reach, 1)
}

// octTrust is how much larger than the chord rule asks a cell may be, if what is
// found in it says so: the rule goes by the tightest curve there could be.
const octTrust = 2.1

// octTurn is how far apart the normals of a smooth cell may be: those of 60 degrees.
const octTurn = 1

// judge tells whether a cell is fine enough (octActive) or must be split, and
// notes the nature of one that is.
func (t *octree) judge(n *octNode) int8 {
	if _, flat := n.solid.(sdf.HalfSpace); flat {
		n.planar = true
		return octActive
	}
	reach, planar := t.octReach(n.solid)
	least, size := n.size <= t.floor, float64(n.size)*t.h
	if n.planar = planar; !planar {
		if size > t.softReach(reach) && !least {
			return octSplit
		}
		n.smooth = !sdf.Creased(n.solid)
	}
	switch {
	case least:
		return octActive
	case size > octTrust*reach && !(t.soft && n.smooth):
		return octSplit
	}
	c := octProbe{octRules: &t.octRules, octNature: n.octNature, solid: n.solid, ball: t.ball(n.min, n.size)}
	c.box = geom.Box{Min: t.at(n.min), Max: t.at(n.min.corner(7, n.size))}
	if !c.explained() {
		return octSplit
	}
	n.found = c.found
	return octActive
}

// octProbe looks at one cell on its own.
type octProbe struct {
	*octRules
	octNature
	solid  sdf.Solid
	box    geom.Box
	ball   geom.Ball
	p      [8]geom.Vec
	f      [8]float64
	planes []qefPlane
	found  *[]qefPlane // those that a search has added
}

// explained reports that one vertex can stand for all of the surface in the
// cell. The vertex may lie a little outside: where a crease just misses the cell.
func (c *octProbe) explained() bool {
	for i := range 8 {
		c.p[i] = c.box.Corner(i)
		c.f[i] = c.solid.Dist(c.p[i])
	}
	if !c.plain() {
		return false
	}
	c.edges()
	if c.soft && c.smooth {
		return qefSpread(c.planes) <= octTurn
	}
	crossed := len(c.planes) > 0
	if crossed {
		if v, _ := c.vertex(); c.strays(v) {
			return false // more planes will not bring it nearer to these
		}
	}
	c.gather()
	if len(c.planes) == 0 {
		return true
	}
	var v geom.Vec
	sharp := true
	if crossed {
		v, sharp = c.vertex()
	} else {
		v, _ = qefSolve(c.planes, c.box, 1e-3)
	}
	if !(v.Dist(c.ball.C) <= c.ball.R) {
		return false
	}
	if crossed && sharp && math.Abs(c.solid.Dist(v)) > c.tol/4 {
		return false
	}
	return !c.strays(v)
}

// strays reports that v is too far from one of the planes found.
func (c *octProbe) strays(v geom.Vec) bool {
	for _, q := range c.planes {
		if math.Abs(q.off(v)) > c.slack() {
			return true
		}
	}
	return false
}

// slack is how far the vertex may be from a tangent plane of the cell: planes
// must pass through it, a curve falls away from them.
func (c *octProbe) slack() float64 {
	if c.planar {
		return c.tol / 4
	}
	return 2 * c.sag
}

// plain reports that the corners inside hang together, and those outside too.
func (c *octProbe) plain() bool {
	var in uint8
	for i, f := range c.f {
		if f < 0 {
			in |= 1 << i
		}
	}
	return octConnected(in) && octConnected(^in)
}

// octConnected reports that a set of cube corners is empty or joined by edges.
func octConnected(set uint8) bool {
	reached := set & -set
	for range 8 {
		const x, y, z = 0x55, 0x33, 0x0f // corners on the low side
		grow := (reached&x)<<1 | (reached>>1)&x | (reached&y)<<2 | (reached>>2)&y | (reached&z)<<4 | (reached>>4)&z
		reached |= grow & set
	}
	return reached == set
}

// edges adds the tangent planes where the cell's edges cross the surface.
func (c *octProbe) edges() {
	for _, e := range octEdges {
		i, j := e[0], e[0]|1<<e[1]
		if (c.f[i] < 0) != (c.f[j] < 0) {
			p := qefRoot(c.solid, c.p[i], c.p[j], c.f[i], c.f[j])
			c.planes = append(c.planes, qefPlane{p, qefNormal(c.solid, p)})
		}
	}
}

const (
	octFine = 0.25 // mm: within a larger cell, features of this size are looked for
	octSafe = 0.5  // mm: a curved cell smaller than this is not searched
)

// gather adds the planes of the surface within the cell that its edges may miss.
func (c *octProbe) gather() {
	size := c.box.Max.X - c.box.Min.X
	if facets, ok := sdf.Facets(c.solid, c.box); ok {
		for _, f := range facets {
			c.add(qefPlane{f.P, f.N})
		}
		return
	}
	if !c.planar && (size <= octSafe || c.smooth) {
		return
	}
	if c.found == nil {
		known := len(c.planes)
		for i := range 8 {
			c.search(c.solid, octCube(c.ball.C, size/4, i), size/4, max(octFine/2, size/64))
		}
		found := slices.Clone(c.planes[known:])
		c.found = &found
		return
	}
	for _, q := range *c.found {
		c.add(q)
	}
}

// octCube is the middle of child i of the cube about m, half the half of a child.
func octCube(m geom.Vec, half float64, i int) geom.Vec {
	d := geom.Vec{X: half, Y: half, Z: half}
	return geom.Box{Min: m.Sub(d), Max: m.Add(d)}.Corner(i)
}

// search adds the planes that cross the cube about m, down to cubes of half
// edge least.
func (c *octProbe) search(s sdf.Solid, m geom.Vec, half, least float64) {
	ball := geom.Ball{C: m, R: half * octRoot3}
	f := s.Dist(m)
	if math.Abs(f) > ball.R {
		return
	}
	s = sdf.Local(s, ball)
	if h, ok := s.(sdf.HalfSpace); ok {
		a := h.N.Abs()
		if math.Abs(f) <= half*(a.X+a.Y+a.Z) {
			c.add(qefPlane{m.Sub(h.N.Scale(f)), h.N})
		}
		return
	}
	if half > least {
		for i := range 8 {
			c.search(s, octCube(m, half/2, i), half/2, least)
		}
		return
	}
	// Landing from four sides finds both faces of a thin wall.
	for _, i := range [4]int{0, 3, 5, 6} {
		p, n := qefLand(s, octCube(m, half, i))
		if d := p.Sub(m).Abs(); max(d.X, d.Y, d.Z) <= half && qefOnFace(s, p, n, 1e-3) {
			c.add(qefPlane{p, n})
		}
	}
}

// add adds a plane unless it is known.
func (c *octProbe) add(q qefPlane) {
	for _, k := range c.planes {
		if k.n.Dist(q.n) < 1e-6 && math.Abs(k.off(q.p)) < 1e-6 {
			return
		}
	}
	c.planes = append(c.planes, q)
}

// vertex places the vertex of the cell; sharp tells that sheets meet in it.
func (c *octProbe) vertex() (v geom.Vec, sharp bool) {
	if c.soft && c.smooth {
		v, _ = qefLand(c.solid, qefMass(c.planes))
		return v, false
	}
	return qefVertex(c.solid, c.planes, c.box, c.planar)
}
