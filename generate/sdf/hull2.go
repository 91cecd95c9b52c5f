package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Hull is the convex hull of the regions, exact on both sides.
func Hull(gs ...Region) Region {
	var e []piece
	for _, g := range gs {
		e = append(e, asPlanar(g).pieces()...)
	}
	var tangents []piece
	round := roundEnds(e)
	for i := range round {
		for j := range round {
			if i != j {
				tangents = appendTangent(tangents, e, round[i], round[j])
			}
		}
	}
	// Left of every tangent kept lies all of the hull, so they bound it together
	// with the arcs between them.
	f := func(p geom.Vec2) float64 { return hullSide(e, tangents, p) }
	cand := tangents
	for i := range e {
		if e[i].r > 0 {
			cand = append(cand, e[i])
		}
	}
	out, ok := trace(cand, f)
	if !ok {
		return field2{f}
	}
	return out
}

// round2 is a circle that may touch the hull; r = 0 is a corner.
type round2 struct {
	c geom.Vec2
	r float64
	e *piece // the arc of it that is there; nil for a corner
}

func roundEnds(e []piece) []round2 {
	var out []round2
	seen := map[geom.Vec2]bool{}
	for i := range e {
		if !seen[e[i].a] {
			seen[e[i].a] = true
			out = append(out, round2{c: e[i].a})
		}
		if e[i].r > 0 {
			out = append(out, round2{e[i].c, e[i].r, &e[i]})
		}
	}
	return out
}

// appendTangent adds the segment from circle a to circle b that has both on its
// left, if it has everything on its left.
func appendTangent(out []piece, e []piece, a, b round2) []piece {
	w := b.c.Sub(a.c)
	l := len2(w)
	if l < 10*weld || l <= math.Abs(a.r-b.r) {
		return out
	}
	// The normal n has n·w = a.r - b.r; right(w) is its main part.
	s := (a.r - b.r) / l
	n := w.Scale(s / l).Add(right(w).Scale(math.Sqrt(1-s*s) / l))
	if a.e != nil && !a.e.sector(n) || b.e != nil && !b.e.sector(n) {
		return out
	}
	p, q := a.c.Add(n.Scale(a.r)), b.c.Add(n.Scale(b.r))
	if support(e, n) > n.Dot(p)+touch {
		return out
	}
	return appendSegment(out, p, q)
}

// support is the largest n·p over the pieces.
func support(e []piece, n geom.Vec2) float64 {
	h := math.Inf(-1)
	for i := range e {
		h = max(h, n.Dot(e[i].a), n.Dot(e[i].b))
		if e[i].r > 0 && e[i].sector(n) {
			h = max(h, n.Dot(e[i].c)+e[i].r)
		}
	}
	return h
}

// hullSide is negative inside the hull: the largest of p's distances beyond the
// tangents and beyond the arcs' own supporting lines.
func hullSide(e, tangents []piece, p geom.Vec2) float64 {
	d := math.Inf(-1)
	for i := range tangents {
		d = max(d, right(tangents[i].u).Dot(p.Sub(tangents[i].a)))
	}
	for i := range e {
		if v := p.Sub(e[i].c); e[i].r > 0 && e[i].sector(v) {
			n := v.Unit()
			d = max(d, n.Dot(p)-support(e, n))
		}
	}
	return d
}
