package proof

import (
	"math"
	"testing"

	"buckwright/generate/judge"
)

// rough is what a mesh of draft quality may be off.
const rough = 0.1

// shut is the base and lid of a small case, of draft quality.
func shut(t *testing.T, kind string) *made {
	return run(t, "testdata/"+kind+".yaml", "--parts", "base,lid", "--quality", "draft")
}

// TestClosuresGoOn: a lid without a catch goes down to the shoulder with nothing
// in its way, and both halves print as they lie and are sound.
func TestClosuresGoOn(t *testing.T) {
	for _, kind := range []string{"band", "magnets", "seal"} {
		t.Run(kind, func(t *testing.T) {
			m := shut(t, kind)
			base, lid := m.body(t, "base"), m.body(t, "lid")
			lower(t, "lid", probed(lid, probes), probed(base, probes), 20, 1, func(h float64) float64 {
				if h == 0 {
					return -rough
				}
				return 0.05
			})
			lo, hi := Bounds(lid.Facets)
			blo, bhi := Bounds(base.Facets)
			near(t, "lid's edge on the shoulder", lo[2], m.fit(t, "shoulder"), rough)
			for k := range 2 {
				near(t, "lid flush with the base", hi[k]-lo[k], bhi[k]-blo[k], rough)
			}
			for _, name := range []string{"base", "lid"} {
				judgePrint(t, m, name)
				if problem := judge.CGAL(t, m.files(t, "parts/"+name+".stl")[0]).Problem(); problem != "" {
					t.Errorf("%s: %s", name, problem)
				}
			}
		})
	}
}

// TestMagnetsFace: the bores of base and lid open at the joint, one over the
// other, as deep and as wide as is told, in walls that hold.
func TestMagnetsFace(t *testing.T) {
	m := shut(t, "magnets")
	bore, deep, joint := m.fit(t, "magnet.bore"), m.fit(t, "magnet.depth"), m.fit(t, "shoulder")
	const wall = 1.8 // mm of a lug round its bore
	lo, hi := Bounds(m.body(t, "base").Facets)
	y := (lo[1] + hi[1]) / 2
	for _, x := range []float64{hi[0] - wall - bore/2, lo[0] + wall + bore/2} {
		for _, half := range []struct {
			name  string
			inner Vec // from the joint into the part
		}{{"base", down}, {"lid", up}} {
			tree := m.body(t, half.name).Tree
			at := Vec{x, y, joint}
			near(t, half.name+": depth of a bore", tree.Ray(at.Sub(half.inner), half.inner, 0).Dist-1, deep, rough)
			in := at.Add(half.inner.Mul(deep / 2))
			for i := range 12 {
				s, c := math.Sincos(float64(i) * math.Pi / 6)
				hits := tree.Crossings(in, Vec{c, s, 0}, 0)
				if len(hits) < 2 {
					t.Fatalf("%s: no wall round the bore", half.name)
				}
				near(t, half.name+": radius of a bore", hits[0], bore/2, rough)
				if !(hits[1]-hits[0] >= wall-rough) {
					t.Errorf("%s: %.2f mm of wall round the bore, want %g", half.name, hits[1]-hits[0], wall)
				}
			}
		}
	}
}

// TestBandGroove: an elastic of 8 mm lies in the groove of both halves, one over
// the other, and the wall behind it is no foil.
func TestBandGroove(t *testing.T) {
	const wide, least = 9.0, 1.2
	m := shut(t, "band")
	joint := m.fit(t, "shoulder")
	for name, z := range map[string]float64{"base": joint - 1.5, "lid": joint + 5} {
		b := m.body(t, name)
		lo, hi := Bounds(b.Facets)
		mid := (lo[0] + hi[0]) / 2
		for _, from := range []float64{lo[1] - 5, hi[1] + 5} {
			in := Vec{0, math.Copysign(1, -from), 0}
			depth := func(x float64) float64 { return b.Tree.Ray(Vec{mid + x, from, z}, in, 0).Dist - 5 }
			for _, x := range []float64{-wide/2 + 0.2, 0, wide/2 - 0.2} {
				near(t, name+": depth of the groove", depth(x), 1, rough)
			}
			for _, x := range []float64{-wide/2 - 0.2, wide/2 + 0.2} {
				near(t, name+": beside the groove", depth(x), 0, rough)
			}
			hits := b.Tree.Crossings(Vec{mid, from, z}, in, 0)
			if !(hits[1]-hits[0] >= least) {
				t.Errorf("%s: %.2f mm of wall behind the groove, want %g", name, hits[1]-hits[0], least)
			}
		}
	}
}
