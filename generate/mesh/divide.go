package mesh

import (
	"context"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Where no crease can be, cells are larger than a chord may be: the triangles
// there are divided across the curve afterwards, and stay long along it.

const (
	// divideSoft is how much larger a cell may be where no crease can be than
	// the chord rule asks.
	divideSoft = 8

	// divideArc is the largest such cell as a part of the radius of the curve: a
	// quarter circle is seen by two cells or more.
	divideArc = 1

	// divideShare of the distance that is allowed between mesh and surface is
	// taken up by the middles of edges: triangles sag more in their middle.
	divideShare = 0.7

	divideRounds = 12
	divideStray  = 0.25 // of a cell that a vertex in it may be off the surface
	divideLeast  = 0.05 // mm: shorter edges are not divided
	divideFacing = 0.5  // cosine of 60 degrees: what the surface may turn within a cell
)

// softReach is the largest cell, in mm, for a curve that the chord rule gives
// cells of reach to, when its triangles are divided later: sag = reach²/(8 radius).
func (r *octRules) softReach(reach float64) float64 {
	if !r.soft {
		return octTrust * reach
	}
	radius := reach * reach / (8 * r.sag)
	return max(octTrust*reach, min(divideSoft*reach, divideArc*radius))
}

// divider divides the triangles of a splitter.
type divider struct {
	*splitter
	limit float64     // mm, distance allowed between mesh and surface
	flats [][]plateau // across an axis, that each vertex is on
}

// divide lands the vertices that are off the surface, and divides edges until
// triangles are no farther from it than limit. Edges along creases stay.
func (s *splitter) divide(ctx context.Context, workers int, limit float64) error {
	s.unfold()
	s.origin = append([][3]int32(nil), s.out.T...)
	d := &divider{splitter: s, limit: limit}
	if err := d.land(ctx, workers); err != nil {
		return err
	}
	d.flats = s.levelsSeen()
	for v := range d.flats {
		d.flats[v] = slices.DeleteFunc(d.flats[v], func(l plateau) bool { return !l.holds(s.out.V[v]) })
	}
	s.near = make([]bool, len(s.out.T))
	fresh := make([]int32, len(s.out.T)) // triangles to look at
	for i := range fresh {
		fresh[i] = int32(i)
	}
	for range divideRounds {
		var err error
		if fresh, err = d.round(ctx, workers, fresh); err != nil || len(fresh) == 0 {
			return err
		}
	}
	return nil
}

// land moves vertices that are off the surface onto it, save those of creases.
func (d *divider) land(ctx context.Context, workers int) error {
	was, cell := slices.Clone(d.out.V), d.cells()
	moved := make([]bool, len(was))
	err := octChunks(ctx, len(was), workers, func(v int) {
		look := d.tree.look()
		if d.splitter.sharp(int32(v)) || !(math.Abs(look.Dist(was[v])) > d.limit/16) {
			return
		}
		if q, _, ok := look.land(was[v], divideStray*cell[v]); ok {
			d.out.V[v], moved[v] = d.splitter.round(q), true
		}
	})
	for err == nil && d.unmeet(moved, func(v int32) geom.Vec { return was[v] }) {
	}
	d.moved = moved
	return err
}

// cells is the size of the cell that each vertex is in, in mm.
func (d *divider) cells() []float64 {
	out := make([]float64, len(d.out.V))
	set := func(v, size int32) { out[v] = float64(size) * d.tree.h }
	for v, i := range d.loop {
		set(int32(v), d.tree.nodes[d.loops[i].leaf].size)
	}
	for i := range d.edges {
		if e := &d.edges[i]; e.axis != octGone && e.v != octNone {
			set(e.v, d.tree.nodes[e.owner].size)
		}
	}
	for i := range d.segs {
		if g := &d.segs[i]; g.axis != octGone && g.mid != octNone {
			set(g.mid, g.size)
		}
	}
	return out
}

// land is the point of the surface next to p, no farther than reach, and its normal.
func (l *octLook) land(p geom.Vec, reach float64) (q, n geom.Vec, ok bool) {
	q, n = qefSettle(l, p, 6, 1e-7)
	return q, n, math.Abs(l.Dist(q)) < 1e-5 && q.Dist(p) <= reach
}

// measure finds the edges of triangle i, from each corner to the next, that sag, and
// those from a flat into a curve. Each edge is looked at from the triangle that has its
// lower vertex first.
func (d *divider) measure(i int32) (out [3]divideKind) {
	c := d.out.T[i]
	n := triNormal(d.out.V, c).Unit()
	look := d.tree.look()
	for k := range 3 {
		a, b := c[k], c[(k+1)%3]
		if a > b || d.creased(a, b) {
			continue
		}
		if _, _, ok := d.ends(&look, a, b, n); ok {
			out[k] = divideEnd
		} else if d.sags(&look, d.out.V[a], d.out.V[b]) {
			out[k] = divideSag
		}
	}
	return out
}

// sags reports that a chord of the surface is too far from it in its middle.
func (d *divider) sags(look *octLook, p, q geom.Vec) bool {
	return math.Abs(look.Dist(p.Lerp(q, 0.5))) > divideShare*d.limit
}

// flush reports that triangle i, whose edges are near enough to the surface, is so in
// its middle too. An edge along a crease was not looked at.
func (d *divider) flush(look *octLook, i int32) bool {
	a, b, c := d.out.Corners(int(i))
	for k, v := range d.out.T[i] {
		if d.creased(v, d.out.T[i][(k+1)%3]) {
			return look.error(a, b, c, d.limit) <= d.limit
		}
	}
	return math.Abs(look.Dist(a.Add(b).Add(c).Scale(1.0/3))) <= d.limit
}

// creased reports that an edge may run along a crease: both its ends do.
func (d *divider) creased(a, b int32) bool {
	return d.splitter.sharp(a) && d.splitter.sharp(b)
}

// landed is where the edge from a to b is divided: on the surface by its middle,
// where that faces as it does at the ends.
func (d *divider) landed(look *octLook, a, b int32) (geom.Vec, bool) {
	p, q := d.out.V[a], d.out.V[b]
	long := p.Dist(q)
	if long < divideLeast {
		return p, false
	}
	m, n, ok := look.land(p.Lerp(q, 0.5), long/4)
	for _, v := range [2]int32{a, b} {
		ok = ok && (d.splitter.sharp(v) || qefNormal(look, d.out.V[v]).Dot(n) > divideFacing)
		for _, l := range d.flats[v] {
			if l.holds(m) { // it would be rounded onto a flat that has ended
				m = levelEndBetween(look.Dist, l, d.out.V[v], m)
			}
		}
	}
	return d.splitter.round(m), ok
}

// ends is where on the edge from a to b a flat ends that one of the two is on, if
// that is well within the edge; n is the normal of a triangle there, which must
// not lead away from the flat over a crease.
func (d *divider) ends(look *octLook, a, b int32, n geom.Vec) (geom.Vec, plateau, bool) {
	for _, way := range [2][2]int32{{a, b}, {b, a}} {
		if d.splitter.sharp(way[0]) {
			continue // the flat ends in the vertex
		}
		p, q := d.out.V[way[0]], d.out.V[way[1]]
		for _, l := range d.flats[way[0]] {
			if l.holds(q) || !(n.Dot(l.plane(p).n) > divideFacing) {
				continue
			}
			end := levelEndBetween(look.Dist, l, p, q)
			if end.Dist(p) > endShort && end.Dist(q) > endShort {
				return end, l, true
			}
		}
	}
	return geom.Vec{}, plateau{}, false
}

// nearer reports that the edge from a to b is nearer to the surface in its middle
// than that from c to e, or as near and shorter.
func (d *divider) nearer(a, b, c, e int32) bool {
	look := d.tree.look()
	v := d.out.V
	off := func(p, q geom.Vec) float64 { return math.Abs(look.Dist(p.Lerp(q, 0.5))) }
	x, y := off(v[a], v[b]), off(v[c], v[e])
	if math.Abs(x-y) > d.limit/16 {
		return x < y
	}
	return v[a].Dist(v[b]) <= v[c].Dist(v[e])
}
