package sdf

import "buckwright/generate/geom"

// Facet is a plane that the surface of a solid lies on, and a point of it.
type Facet struct {
	HalfSpace
	P geom.Vec
}

// Facets lists the facets of s in the box: of each, the middle of its outline
// there, or of one piece of it where others cut it up. It is false when s is
// not made of half spaces alone, or of too many.
func Facets(s Solid, box geom.Box) ([]Facet, bool) {
	f := facets{box: box}
	if !f.walk(s, false) {
		return nil, false
	}
	return f.found, true
}

// facets goes down the tree of a solid and cuts the face of each half space by
// what lies beside its way.
type facets struct {
	box    geom.Box
	beside []besides // on the way to the half space at hand
	left   int       // pieces that may still be cut
	found  []Facet
}

// besides is a node on the way: its kids but the one that was taken. The face
// must be inside of them, or outside.
type besides struct {
	kids   []Solid
	taken  int
	inside bool
}

// facetCuts is the most pieces that are cut from one face, before it is given up.
const facetCuts = 400

// walk is false when s is not made of half spaces.
func (f *facets) walk(s Solid, flip bool) bool {
	switch t := s.(type) {
	case Nothing, Everything:
		return true
	case HalfSpace:
		if flip {
			t = HalfSpace{t.N.Scale(-1), -t.D}
		}
		return f.face(t)
	case complement:
		return f.walk(t.s, !flip)
	case *union:
		return f.descend(t.kids, flip, flip)
	case *intersection:
		return f.descend(t.kids, flip, !flip)
	}
	return false
}

// descend takes each kid in turn. Of an inverted node, all kids are inverted.
func (f *facets) descend(kids []Solid, flip, inside bool) bool {
	if flip {
		kids = complements(kids)
	}
	n := len(f.beside)
	for i, k := range kids {
		f.beside = append(f.beside[:n], besides{kids, i, inside})
		if !f.walk(k, false) {
			return false
		}
	}
	f.beside = f.beside[:n]
	return true
}

// face adds the half space if some of its plane is on the surface.
func (f *facets) face(h HalfSpace) bool {
	f.left = facetCuts
	p, ok := facetOf(h, f.box)
	if ok {
		if at, is := f.open(&p, len(f.beside)-1); is {
			f.found = append(f.found, Facet{h, at})
		}
	}
	return f.left > 0
}

// open is the middle of a piece of p that no node up to number n cuts off.
func (f *facets) open(p *facet, n int) (geom.Vec, bool) {
	if n < 0 {
		return p.middle(), true
	}
	b := &f.beside[n]
	return f.past(p, b, 0, n)
}

// past goes by the kids of node b from number i on.
func (f *facets) past(p *facet, b *besides, i, n int) (geom.Vec, bool) {
	if i == b.taken {
		i++
	}
	if i >= len(b.kids) {
		return f.open(p, n-1)
	}
	return f.cut(p, b.kids[i], b.inside, func(q *facet) (geom.Vec, bool) { return f.past(q, b, i+1, n) })
}

// cut hands on the pieces of p that are inside s, or outside, until one is open.
func (f *facets) cut(p *facet, s Solid, inside bool, next func(*facet) (geom.Vec, bool)) (geom.Vec, bool) {
	if f.left--; f.left <= 0 {
		return geom.Vec{}, false
	}
	switch t := s.(type) {
	case Nothing, Everything:
		if _, all := s.(Everything); all == inside {
			return next(p)
		}
	case HalfSpace:
		if !inside {
			t = HalfSpace{t.N.Scale(-1), -t.D}
		}
		if q, ok := p.within(t, inside); ok {
			return next(&q)
		}
	case complement:
		return f.cut(p, t.s, !inside, next)
	case *union:
		return f.cutNode(p, t.kids, inside, !inside, next)
	case *intersection:
		return f.cutNode(p, t.kids, inside, inside, next)
	default:
		f.left = 0
	}
	return geom.Vec{}, false
}

// cutNode cuts by a node of which a point must be on the same side of all kids,
// or of any.
func (f *facets) cutNode(p *facet, kids []Solid, inside, all bool, next func(*facet) (geom.Vec, bool)) (geom.Vec, bool) {
	if all {
		if len(kids) == 0 {
			return next(p)
		}
		return f.cut(p, kids[0], inside, func(q *facet) (geom.Vec, bool) { return f.cutNode(q, kids[1:], inside, true, next) })
	}
	for _, k := range kids {
		if at, ok := f.cut(p, k, inside, next); ok {
			return at, true
		}
	}
	return geom.Vec{}, false
}
