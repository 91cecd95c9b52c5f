package pattern

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// overPlan is a surface over the plan region, cut to it: squares of side h,
// their corners near the edge moved onto it. height gives z from a place and a
// first guess. edge is the surface's outline, counterclockwise.
func overPlan(g sdf.Region, height func(at geom.Vec2, guess float64) float64, guess, h float64) (m *net, edge []int32) {
	lo, hi := g.Bounds2()
	b := &netting{g: g, h: h, lo: lo.Sub(pt(h/2, h/2)), nx: int((hi.X-lo.X)/h) + 3, net: &net{}}
	ny := int((hi.Y-lo.Y)/h) + 3
	b.node, b.dist = make([]int32, b.nx*ny), make([]float64, b.nx*ny)
	b.cut = map[[2]int]int32{}
	for i := range b.node {
		b.place(i)
	}
	for y := range ny - 1 {
		for x := range b.nx - 1 {
			b.square(x, y)
		}
	}
	last := guess
	for i, p := range b.net.P {
		last = height(p.XY(), last)
		b.net.P[i].Z = last
	}
	return b.net, b.net.outline()
}

type netting struct {
	g    sdf.Region
	h    float64
	lo   geom.Vec2
	nx   int
	node []int32          // vertex of each lattice point, -1 outside
	dist []float64        // from the region, 0 on its edge
	cut  map[[2]int]int32 // vertex where a side crosses the edge
	net  *net
}

// snap is the share of a square's side within which a corner is moved onto the
// region's edge: no triangle then gets narrower than about that.
const snap = 0.2

func (b *netting) at(i int) geom.Vec2 {
	return b.lo.Add(pt(float64(i%b.nx)*b.h, float64(i/b.nx)*b.h))
}

func (b *netting) add(p geom.Vec2) int32 {
	b.net.P = append(b.net.P, p.At(0))
	return int32(len(b.net.P) - 1)
}

// place makes the vertex of a lattice point, if it is inside or near the edge.
func (b *netting) place(i int) {
	p := b.at(i)
	d := b.g.Dist(p)
	b.node[i], b.dist[i] = -1, d
	if math.Abs(d) < snap*b.h {
		const e = 1e-4
		grad := pt((b.g.Dist(p.Add(pt(e, 0)))-d)/e, (b.g.Dist(p.Add(pt(0, e)))-d)/e)
		p, d = p.Sub(grad.Scale(d)), 0
		b.dist[i] = 0
	}
	if d <= 0 {
		b.node[i] = b.add(p)
	}
}

// square adds what of one square is inside: its corners and its crossings, as
// a fan. Of two opposite corners inside, both are kept in one piece.
func (b *netting) square(x, y int) {
	i := y*b.nx + x
	c := [4]int{i, i + 1, i + 1 + b.nx, i + b.nx}
	var ring []int32
	inner := false
	for k := range 4 {
		p, q := c[k], c[(k+1)%4]
		if b.node[p] >= 0 {
			ring = append(ring, b.node[p])
			inner = inner || b.dist[p] < 0
		}
		if (b.dist[p] < 0 && b.node[q] < 0) || (b.node[p] < 0 && b.dist[q] < 0) {
			ring = append(ring, b.crossing(p, q))
		}
	}
	if !inner || len(ring) < 3 {
		return
	}
	if len(ring) == 4 && (x+y)%2 == 1 {
		ring = append(ring[1:], ring[0]) // alternate the diagonals, so that none prevails
	}
	for k := 1; k+1 < len(ring); k++ {
		b.net.T = append(b.net.T, [3]int32{ring[0], ring[k], ring[k+1]})
	}
}

func (b *netting) crossing(p, q int) int32 {
	key := [2]int{min(p, q), max(p, q)}
	v, seen := b.cut[key]
	if !seen {
		v = b.add(zero(b.g.Dist, b.at(p), b.at(q), b.dist[p], b.dist[q]))
		b.cut[key] = v
	}
	return v
}

// outline is the longest loop of sides that belong to one triangle only.
func (m *net) outline() []int32 {
	next := map[int32]int32{}
	seen := map[[2]int32]bool{}
	for _, t := range m.T {
		for k := range 3 {
			seen[[2]int32{t[k], t[(k+1)%3]}] = true
		}
	}
	var order []int32
	for _, t := range m.T {
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			if !seen[[2]int32{b, a}] {
				next[a] = b
				order = append(order, a)
			}
		}
	}
	var best []int32
	for _, start := range order {
		var loop []int32
		for v := start; ; {
			w, ok := next[v]
			if !ok {
				break
			}
			delete(next, v)
			loop = append(loop, v)
			if v = w; v == start {
				break
			}
		}
		if len(loop) > len(best) && seen[[2]int32{loop[len(loop)-1], start}] {
			best = loop
		}
	}
	return best
}

// pressStrain is what a flat piece of the outline's own size must stretch by
// when it is pressed into the surface: the area's share, and that of the line
// across the deepest place that stretches most.
func (m *net) pressStrain(edge []int32) (area, line float64) {
	area = m.area()/m.plan(edge).Area() - 1
	deep := m.P[0]
	for _, q := range m.P {
		if q.Z < deep.Z {
			deep = q
		}
	}
	for k := range 8 {
		a := geom.Angle(math.Pi * float64(k) / 8)
		line = max(line, m.across(deep.XY(), pt(a.Cos(), a.Sin())))
	}
	return area, line
}

// plan is an edge seen from above.
func (m *net) plan(edge []int32) Path {
	var p Path
	for _, v := range edge {
		p.P = append(p.P, m.P[v].XY())
	}
	return p
}

// across is how much longer the surface is than its plan along a line.
func (m *net) across(at, dir geom.Vec2) float64 {
	var length, plan float64
	side := func(v int32) float64 { return dir.Cross(m.P[v].XY().Sub(at)) }
	for _, t := range m.T {
		var hit []geom.Vec
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			if da, db := side(a), side(b); (da < 0) != (db < 0) {
				hit = append(hit, m.P[a].Lerp(m.P[b], da/(da-db)))
			}
		}
		if len(hit) == 2 {
			d := hit[1].Sub(hit[0])
			length += d.Len()
			plan += d.XY().Len()
		}
	}
	if plan == 0 {
		return 0
	}
	return length/plan - 1
}
