package sdf

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

func randPlanar(r *rand.Rand, depth int) Solid {
	if depth == 0 || r.IntN(4) == 0 {
		n := geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
		if r.IntN(2) == 0 {
			n = [6]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}, {X: -1}, {Y: -1}, {Z: -1}}[r.IntN(6)]
		}
		return HalfSpace{n, r.NormFloat64()}
	}
	var kids []Solid
	for range 2 + r.IntN(2) {
		kids = append(kids, randPlanar(r, depth-1))
	}
	switch r.IntN(3) {
	case 0:
		return Union(kids...)
	case 1:
		return Intersect(kids...)
	}
	return Complement(Intersect(kids...))
}

func TestFacetsAgainstSurface(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	box := geom.Box{Min: geom.V(-1, -1, -1), Max: geom.V(1, 1, 1)}
	for i := range 3000 {
		s := randPlanar(r, 3)
		f, ok := Facets(s, box)
		if !ok {
			continue
		}
		for range 200 {
			p := geom.V(2*r.Float64()-1, 2*r.Float64()-1, 2*r.Float64()-1)
			q := geom.V(2*r.Float64()-1, 2*r.Float64()-1, 2*r.Float64()-1)
			a, b := s.Dist(p), s.Dist(q)
			if (a < 0) == (b < 0) {
				continue
			}
			for range 60 {
				m := p.Lerp(q, 0.5)
				if (s.Dist(m) < 0) == (a < 0) {
					p = m
				} else {
					q = m
				}
			}
			found := false
			for _, h := range f {
				found = found || math.Abs(h.Dist(p)) < 1e-9
			}
			if !found {
				t.Fatalf("case %d: surface at %v lies on none of %d facets of %#v", i, p, len(f), s)
			}
		}
		for _, h := range f {
			if !(math.Abs(s.Dist(h.P)) < 1e-9) || !(math.Abs(h.Dist(h.P)) < 1e-9) || !box.Grow(1e-9).Contains(h.P) {
				t.Fatalf("case %d: %v is no facet", i, h)
			}
		}
	}
}
