package proof

import (
	"math"
	"math/rand/v2"
	"testing"
)

// onEach is how many places of each edge and face are judged at least, both ways.
const onEach = 2000

// zone tells whether a place belongs to something that the drawing leaves out.
type zone func(p Vec) bool

// anyOf is all of them together.
func anyOf(all ...zone) zone {
	return func(p Vec) bool {
		for _, in := range all {
			if in(p) {
				return true
			}
		}
		return false
	}
}

// apart is how far a part and one feature of its drawing are apart.
type apart struct {
	name     string
	to, back Spread // drawing to part; part, near the feature, to drawing
}

// most is the larger of the two.
func (a apart) most() float64 {
	return math.Max(a.to.Most, math.Max(a.back.Most, -a.back.Least))
}

// judge measures each feature on its own, from the drawing to the whole part and
// from what is given of its surface to the drawing. Places of the surface are found
// near places of the drawing, up to half a millimetre off in any direction.
func (b *Body) judge(whole *Body, d Distance, all []Feature, out zone) []apart {
	rnd := rand.New(rand.NewPCG(41, 43))
	var found []apart
	for _, f := range all {
		a := apart{name: f.Name}
		for _, p := range f.Spots {
			if out(p) {
				continue
			}
			a.to.Add(whole.Tree.Nearest(p, math.Inf(1)).Dist, p)
			by := Vec{rnd.Float64() - 0.5, rnd.Float64() - 0.5, rnd.Float64() - 0.5}
			if q := b.Tree.Nearest(p.Add(by), math.Inf(1)).At; !out(q) {
				a.back.Add(d(q), q)
			}
		}
		found = append(found, a)
	}
	return found
}

// isDrawn holds a part, or what of its surface is given, to its drawing: every
// edge and every face of the drawing, then every place of the surface but those in
// the zone, which may take no more than so large a share.
func (m *made) isDrawn(t *testing.T, part string, b *Body, d Distance, all []Feature, out zone, left float64) {
	t.Helper()
	by := m.promised(t, part)
	for _, a := range b.judge(m.body(t, part), d, all, out) {
		if a.to.N < onEach || a.back.N < onEach {
			t.Errorf("%s, %s: only %d and %d places", part, a.name, a.to.N, a.back.N)
		}
		within(t, part+", drawing to part, "+a.name, a.to, 0, by)
		within(t, part+", part to drawing, "+a.name, a.back, 0, by)
	}
	everywhere := Sample(b.Facets, 3*plenty, All)
	var s Spread
	for _, p := range everywhere {
		if !out(p.At) {
			s.Add(d(p.At), p.At)
		}
	}
	within(t, part+" to drawing, everywhere", s, 0, by)
	fewSkipped(t, part+", what its drawing leaves out", 1-float64(s.N)/float64(len(everywhere)), left)
}
