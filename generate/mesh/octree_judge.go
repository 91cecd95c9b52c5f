package mesh

import (
	"math"

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
		return r.smooth, false
	}
	reach = c.Cell(r.tol)
	return reach, math.IsInf(reach, 1)
}

// judge tells whether a cell is fine enough (octActive) or must be split.
func (t *octree) judge(n *octNode) int8 {
	if _, flat := n.solid.(sdf.HalfSpace); flat || n.size <= t.floor {
		return octActive
	}
	reach, planar := t.octReach(n.solid)
	if float64(n.size)*t.h > reach {
		return octSplit
	}
	c := octProbe{tree: t, solid: n.solid, size: float64(n.size) * t.h, planar: planar}
	c.min = t.at(n.min)
	if !c.explained() {
		return octSplit
	}
	return octActive
}

// octProbe looks at one cell on its own.
type octProbe struct {
	tree   *octree
	solid  sdf.Solid
	min    geom.Vec
	size   float64 // mm
	planar bool
	p      [8]geom.Vec
	f      [8]float64
	planes []qefPlane
}

// explained reports that one vertex can stand for all of the surface in the cell.
func (c *octProbe) explained() bool {
	for i := range 8 {
		c.p[i] = c.min
		if i&1 != 0 {
			c.p[i].X += c.size
		}
		if i&2 != 0 {
			c.p[i].Y += c.size
		}
		if i&4 != 0 {
			c.p[i].Z += c.size
		}
		c.f[i] = c.solid.Dist(c.p[i])
	}
	if !c.plain() || !c.edges() {
		return false
	}
	middle := c.min.Lerp(c.p[7], 0.5)
	if len(c.planes) == 0 {
		return !c.hidden(c.solid, middle, c.size/2, nil)
	}
	box := geom.Box{Min: c.min, Max: c.p[7]}
	v, sharp := qefVertex(c.solid, c.planes, box, c.planar)
	if !box.Contains(v) {
		return false
	}
	if sharp && math.Abs(c.solid.Dist(v)) > c.tree.tol/4 {
		return false
	}
	for _, q := range c.planes {
		if math.Abs(q.off(v)) > c.slack() {
			return false
		}
	}
	return !c.hidden(c.solid, middle, c.size/2, &v)
}

// slack is how far the vertex may be from a tangent plane of the cell: planes
// must pass through it, a curve falls away from them.
func (c *octProbe) slack() float64 {
	if c.planar {
		return c.tree.tol / 4
	}
	return 2 * c.tree.tol
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

// edges gathers the tangent planes at the cell's edges. It is false when the
// surface comes through an edge whose ends do not tell.
func (c *octProbe) edges() bool {
	for _, e := range octEdges {
		i, j := e[0], e[0]|1<<e[1]
		if (c.f[i] < 0) == (c.f[j] < 0) {
			if c.poked(i, j) {
				return false
			}
			continue
		}
		p := qefRoot(c.solid, c.p[i], c.p[j], c.f[i], c.f[j])
		c.planes = append(c.planes, qefPlane{p, qefNormal(c.solid, p)})
	}
	return true
}

// poked walks an edge whose ends have the same sign and tells whether the sign
// changes on the way.
func (c *octProbe) poked(i, j int) bool {
	end := c.size - math.Abs(c.f[j])
	least := max(c.tree.tol, c.size/32)
	for x := max(math.Abs(c.f[i]), least); x < end; {
		f := c.solid.Dist(c.p[i].Lerp(c.p[j], x/c.size))
		if (f < 0) != (c.f[i] < 0) {
			return true
		}
		x += max(math.Abs(f), least)
	}
	return false
}

// hidden looks for surface in the cube about m that vertex v does not stand for;
// without a vertex there must be none.
func (c *octProbe) hidden(s sdf.Solid, m geom.Vec, half float64, v *geom.Vec) bool {
	ball := geom.Ball{C: m, R: half * octRoot3}
	f := s.Dist(m)
	if math.Abs(f) > ball.R {
		return false
	}
	s = sdf.Local(s, ball)
	if h, ok := s.(sdf.HalfSpace); ok {
		a := h.N.Abs()
		if math.Abs(f) > half*(a.X+a.Y+a.Z) {
			return false
		}
		return v == nil || math.Abs(h.Dist(*v)) > c.slack()
	}
	if half > 0.125 || half == c.size/2 { // mm: holes of a quarter are seen
		for i := range 8 {
			q := geom.Vec{X: m.X - half/2, Y: m.Y - half/2, Z: m.Z - half/2}
			if i&1 != 0 {
				q.X += half
			}
			if i&2 != 0 {
				q.Y += half
			}
			if i&4 != 0 {
				q.Z += half
			}
			if c.hidden(s, q, half/2, v) {
				return true
			}
		}
		return false
	}
	if v == nil {
		return (f < 0) != (c.f[0] < 0)
	}
	p, n := qefLand(s, m)
	return math.Abs(n.Dot(v.Sub(p))) > 2*c.slack()
}
