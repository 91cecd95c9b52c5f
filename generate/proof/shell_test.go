package proof

import (
	"math"
	"testing"
)

// outerWalls are places on a part's upright outer walls between two heights.
func outerWalls(b *Body, bottom, top float64) []Point {
	z := NewZone(b, up)
	keep := func(i int, f Tri) bool {
		return z.Skirt[i] && math.Abs(f.Normal()[2]) < 0.2 && f.LeastAltitude() > 1e-4
	}
	return Clipped(Sample(b.Facets, plenty, keep), bottom, top)
}

// sideways is the free way from places straight out to another body.
func sideways(pts []Point, to *Body) Spread {
	var s Spread
	for _, p := range pts {
		d := Vec{p.Normal[0], p.Normal[1], 0}.Unit()
		if h := to.Tree.Ray(p.At, d, 0); h.Facet >= 0 {
			s.Add(h.Dist, p.At)
		}
	}
	return s
}

// TestPlainLidSlips: without a closure the gap between neck and lid is the
// slip row, all round.
func TestPlainLidSlips(t *testing.T) {
	m := run(t, "testdata/plain.yaml", "--parts", "base,lid,insert")
	base, lid := m.body(t, "base"), m.body(t, "lid")
	want := m.fit(t, "slip.side")
	near(t, "slip.side, worst case of two faces of 0.15 and 0.1", want, 0.4, 1e-9)
	shoulder, neck := m.fit(t, "shoulder"), m.fit(t, "neck.top")
	pts := outerWalls(base, shoulder+1, neck-1.5)
	if len(pts) < 500 {
		t.Fatalf("%d places on the neck", len(pts))
	}
	flush := ungrooved(t, pts, base, m.fit(t, "wall"))
	within(t, "neck to lid", sideways(flush, lid), want, exact)

	insert := m.body(t, "insert")
	gap := m.fit(t, "insert.gap")
	trim := m.fit(t, "trim")
	within(t, "skirt at the trim line to base", atTrim(insert, base, trim, 5), gap, exact)
}

// ungrooved leaves out the air paths: places where the wall behind is thinner by
// 0.2 or more. They may take a tenth of the neck.
func ungrooved(t *testing.T, pts []Point, b *Body, wall float64) []Point {
	t.Helper()
	var out []Point
	for _, p := range pts {
		d := Vec{p.Normal[0], p.Normal[1], 0}.Unit().Mul(-1)
		if b.Tree.Ray(p.At, d, 0.01).Dist > wall-0.2 {
			out = append(out, p)
		}
	}
	fewSkipped(t, "air paths in the neck", 1-float64(len(out))/float64(len(pts)), 0.1)
	return out
}

// atTrim is the level gap from the foot of the skirt to the base, taken back to the trim line.
func atTrim(insert, base *Body, trim, draft float64) Spread {
	var s Spread
	for _, p := range outerWalls(insert, trim+0.001, trim+1.5) {
		d := Vec{p.Normal[0], p.Normal[1], 0}.Unit()
		if h := base.Tree.Ray(p.At, d, 0); h.Facet >= 0 {
			s.Add(h.Dist-(p.At[2]-trim)*math.Tan(draft*deg), p.At)
		}
	}
	return s
}

// TestDemoInsertGap: the felt on the skirt has the room it should have.
func TestDemoInsertGap(t *testing.T) {
	m := demo(t)
	gap := m.fit(t, "insert.gap")
	near(t, "insert.gap: felt squeezed by a tenth, and the cement", gap, demoFelt*0.9+demoCement, 1e-9)
	within(t, "skirt at the trim line to base", atTrim(m.body(t, "insert"), m.body(t, "base"), m.fit(t, "trim"), demoSkirt), gap, exact)
}

// TestDemoLidSlips: the gap is the slip row everywhere but at the tongues,
// which are four of catch size.
func TestDemoLidSlips(t *testing.T) {
	m := demo(t)
	base, lid := m.body(t, "base"), m.body(t, "lid")
	want := m.fit(t, "slip.side")
	near(t, "slip.side, 0.1 and the RSS of two faces of 0.15", want, 0.1+math.Hypot(0.15, 0.15), 1e-9)
	pts := outerWalls(base, m.fit(t, "shoulder")+1, m.fit(t, "neck.top")-1.5)
	var all, off Spread
	for _, p := range pts {
		d := Vec{p.Normal[0], p.Normal[1], 0}.Unit()
		h := lid.Tree.Ray(p.At, d, 0)
		if h.Facet < 0 {
			continue
		}
		if Off(h.Dist, want) <= exact {
			all.Add(h.Dist, p.At)
		} else {
			off.Add(h.Dist, p.At)
		}
	}
	within(t, "neck to lid", all, want, exact)
	t.Logf("elsewhere, at the catch: %v", off)
	if share := float64(off.N) / float64(all.N+off.N); !(share < 0.35) {
		t.Errorf("the gap is not %.4f on %.0f %% of the neck", want, share*100)
	}
}

// TestPads: the boss stands tn (1 - cn) above the item's top.
func TestPads(t *testing.T) {
	m := demo(t)
	lid := m.body(t, "lid")
	for name, at := range map[string]Vec{"logger": {-33, 0, 27 - 19}, "probe-lead": {72, 0, 22 - 22}} {
		var s Spread
		for _, dx := range []float64{-2, 0, 2} {
			for _, dy := range []float64{-2, 0, 2} {
				p := at.Add(Vec{dx, dy, 0})
				s.Add(lid.Tree.Ray(p, up, 0).Dist, p)
			}
		}
		within(t, "boss over "+name, s, 4*(1-0.25), exact)
		t.Logf("area of the boss over %s: %.1f mm², pad.area %.1f", name, bossArea(lid, at), m.fit(t, "pad.area."+name))
	}
}

// bossArea is the flat over an item at its boss's height.
func bossArea(lid *Body, at Vec) float64 {
	z := at[2] + lid.Tree.Ray(at, up, 0).Dist
	a := 0.0
	for _, f := range lid.Facets {
		if f.Normal()[2] < -0.999 && math.Abs(f.Mid()[2]-z) < 0.01 && math.Hypot(f.Mid()[0]-at[0], f.Mid()[1]-at[1]) < 60 {
			a += f.Area()
		}
	}
	return a
}

// TestWalls: the neck is whole extrusions thick, air paths aside.
func TestWalls(t *testing.T) {
	m := run(t, "testdata/plain.yaml", "--parts", "base,lid,insert")
	base, wall := m.body(t, "base"), m.fit(t, "wall")
	pts := outerWalls(base, m.fit(t, "shoulder")+1, m.fit(t, "neck.top")-1.5)
	var s Spread
	for _, p := range ungrooved(t, pts, base, wall) {
		d := Vec{p.Normal[0], p.Normal[1], 0}.Unit().Mul(-1)
		s.Add(base.Tree.Ray(p.At, d, 0.01).Dist, p.At)
	}
	within(t, "neck wall", s, wall, exact)
}
