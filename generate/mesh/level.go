package mesh

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// A flat that lies across an axis keeps one coordinate to the last bit: wherever
// the surface is seen to be such a flat, its vertices are put on it and its
// triangles stay on it, whatever the solid around it is made of.

// plateau is one side of a plane across an axis.
type plateau struct {
	axis int8
	up   bool    // whether the solid is below
	at   float64 // mm, not rounded
}

const (
	levelStraight = 1e-6 // radians that the normal of a flat may be off its axis
	levelSame     = 2e-6 // mm: levels no farther apart are one
	levelReach    = 6e-3 // mm: what a vertex on a crease may be off its flat to be put on it
	levelEnd      = 2e-8 // mm: where a curve is this far off its flat, the flat has ended
)

// levelOf is the level that a tangent plane shows, if it lies across an axis.
func levelOf(q qefPlane) (plateau, bool) {
	for axis := range int8(3) {
		n := q.n.Axis(int(axis))
		if math.Abs(n) > 1-levelStraight*levelStraight/2 {
			return plateau{axis, n > 0, q.p.Axis(int(axis))}, true
		}
	}
	return plateau{}, false
}

// holds reports that p is on the level, as near as rounding allows.
func (l plateau) holds(p geom.Vec) bool {
	return math.Abs(p.Axis(int(l.axis))-l.at) <= splitQuantum
}

// plane is the level as a plane through p.
func (l plateau) plane(p geom.Vec) qefPlane {
	n := -1.0
	if l.up {
		n = 1
	}
	return qefPlane{splitSet(p, int(l.axis), l.at), splitSet(geom.Vec{}, int(l.axis), n)}
}

// levelVertex moves the vertex v of a cell to where all flats across an axis go
// on that its crossings show: onto a crease between two, to the end of one that
// a curve goes on from. So a flat ends where it does, and not within a triangle.
func levelVertex(s sdf.Solid, crossings []qefPlane, v geom.Vec) geom.Vec {
	var flats []plateau
	for _, q := range crossings {
		l, ok := levelOf(q)
		if !ok {
			continue
		}
		for _, k := range flats {
			if k.axis == l.axis && math.Abs(k.at-l.at) > levelSame {
				return v
			}
		}
		flats = append(flats, l)
	}
	if len(flats) == 0 {
		return v
	}
	on := func(p geom.Vec) (geom.Vec, bool) {
		for _, l := range flats {
			p = splitSet(p, int(l.axis), l.at)
		}
		return p, math.Abs(s.Dist(p)) <= levelEnd
	}
	far, ok := on(v)
	if ok {
		return far
	}
	near, found := v, false
	for _, q := range crossings {
		if p, ok := on(q.p); ok && (!found || p.Dist(v) < near.Dist(v)) {
			near, found = p, true
		}
	}
	if !found {
		return v
	}
	for range 8 {
		if p, ok := on(near.Lerp(far, 0.5)); ok {
			near = p
		} else {
			far = p
		}
	}
	return near
}

// levels puts the vertices on and at the rim of flats across an axis on them.
func (s *splitter) levels() {
	seen := s.levelsSeen()
	s.level = make([][]plateau, len(s.out.V))
	for v, all := range seen {
		for _, l := range all {
			s.put(int32(v), l, splitQuantum)
		}
	}
	for range 2 { // corners of a flat may have neighbours at its rim only
		s.levelRims()
	}
}

// levelsSeen lists the flats across an axis that show where the surface crosses
// the edges about each vertex. Nearly equal levels are made equal.
func (s *splitter) levelsSeen() [][]plateau {
	seen := make([][]plateau, len(s.out.V))
	note := func(v int32, e int32) {
		if l, ok := levelOf(s.edges[e].x); ok && !slices.Contains(seen[v], l) {
			seen[v] = append(seen[v], l)
		}
	}
	for v, i := range s.loop {
		for _, e := range s.loops[i].edges {
			note(int32(v), e)
		}
	}
	for i := range s.edges {
		if e := &s.edges[i]; e.axis != octGone && e.v != octNone {
			note(e.v, int32(i))
		}
	}
	for i := range s.segs {
		if g := &s.segs[i]; g.axis != octGone && g.mid != octNone {
			note(g.mid, g.edge[0])
			note(g.mid, g.edge[1])
		}
	}
	levelsMerge(seen)
	return seen
}

// levelsMerge makes levels that are nearly equal the same.
func levelsMerge(seen [][]plateau) {
	var all []*plateau
	for _, list := range seen {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	slices.SortStableFunc(all, func(a, b *plateau) int {
		return cmp.Or(cmp.Compare(a.axis, b.axis), cmp.Compare(a.at, b.at))
	})
	for i := 0; i < len(all); {
		first, j := *all[i], i
		for ; j < len(all) && all[j].axis == first.axis && all[j].at-first.at <= levelSame; j++ {
			all[j].at = first.at
		}
		i = j
	}
}

// put moves a vertex onto a level that it is within reach of, unless it is on
// another of that axis.
func (s *splitter) put(v int32, l plateau, reach float64) {
	if s.sharp(v) {
		reach = levelReach
	}
	p := s.out.V[v]
	if !(math.Abs(p.Axis(int(l.axis))-l.at) <= reach) {
		return
	}
	for _, k := range s.level[v] {
		if k == l || k.axis == l.axis && k.at != l.at {
			return
		}
	}
	s.out.V[v] = splitSet(p, int(l.axis), snap(l.at))
	s.level[v] = append(s.level[v], l)
}

// levelRims puts vertices on the flats of their neighbours, where the triangle
// between them faces as the flat does.
func (s *splitter) levelRims() {
	for i, t := range s.out.T {
		a, b, c := s.out.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		for _, v := range t {
			for _, l := range s.level[v] {
				if n.Dot(l.plane(geom.Vec{}).n) > 0.7*n.Len() {
					for _, w := range t {
						s.put(w, l, 0.51*splitQuantum)
					}
				}
			}
		}
	}
}
