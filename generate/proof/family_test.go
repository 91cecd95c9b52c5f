package proof

import (
	"math"
	"strings"
	"testing"
)

// The demo's own numbers, from its kit file.
const (
	demoGauge, demoMouth = 1.0, 2.0
	demoDraft, demoSkirt = 3.0, 5.0
	demoFelt, demoPress  = 2.0, 0.15
	demoCement           = 0.1
	exact                = 0.05 // mm, of every gap and surface: README, "What comes out", normal
	plenty               = 20000
	notchWidth           = 30.0
	ventWide             = 1.6 // no vent is wider
	reliefWide           = 3.0 // nor an air relief of the plugs
	edgeBall             = 2.0 // more than a plug's edge radius, less than any other of the demo's plugs
	edgeReach            = 1.6 // how far a rounding goes on beyond where the ball shows it
)

var up, down = Vec{0, 0, 1}, Vec{0, 0, -1}

// insertPockets are places on the finished pockets, product side, below the mouth.
func insertPockets(t *testing.T, m *made, band float64) (*Body, *Zone, []Point) {
	t.Helper()
	b, z := m.body(t, "insert"), m.zone(t, "insert", up)
	return b, z, Clipped(Sample(b.Facets, plenty, z.Cavity(-0.01)), math.Inf(-1), -band)
}

func buckPockets(t *testing.T, m *made, band float64) (*Body, *Zone, []Point) {
	t.Helper()
	b, z := m.body(t, "buck"), m.zone(t, "buck", up)
	return b, z, Clipped(Sample(b.Facets, plenty, z.Cavity(-demoGauge-0.01)), math.Inf(-1), -band-demoGauge)
}

// gaps measures from places to a body; nil skip takes them all. skipped is the
// share left out.
func gaps(from []Point, to *Tree, skip func(p Point, h Hit) bool) (s Spread, skipped float64) {
	return gapsLess(from, to, func(p Point) (Vec, float64) { return p.At, 0 }, skip)
}

// gapsLess is gaps from where each place is moved to, less what it should be.
func gapsLess(from []Point, to *Tree, want func(p Point) (at Vec, gap float64), skip func(p Point, h Hit) bool) (s Spread, skipped float64) {
	n := 0
	for _, p := range from {
		at, gap := want(p)
		h := to.Nearest(at, 50)
		if skip != nil && skip(p, h) {
			n++
			continue
		}
		s.Add(h.Dist-gap, p.At)
	}
	return s, float64(n) / float64(len(from))
}

func fewSkipped(t *testing.T, what string, share, most float64) {
	t.Helper()
	if !(share <= most) {
		t.Errorf("%s: %.1f %% of the places were left out, at most %.1f %%", what, share*100, most*100)
	}
}

// sheet tells, for the pocket nearest to a place, by how much the sheet's sides
// are moved against each other along z, and how far they are apart before that: tw and floor.step.
func (m *made) sheet(t *testing.T) func(p Vec) (step, thick float64) {
	t.Helper()
	r := m.fit(t, "r_pocket")
	radii, steps := m.each(t, "r_buck."), m.each(t, "floor.step.")
	var items []Distance
	switch m.Kit {
	case "tide-logger":
		items = demoItems(t, m, true)
	case "drift-buoy":
		items = buoyItems(t, m, true)
	}
	return func(p Vec) (step, thick float64) {
		best := 0
		for i, d := range items {
			if d(p) < items[best](p) {
				best = i
			}
		}
		return steps[best], radii[best] - r
	}
}

// each is a size that kit.json tells for every item, in the kit's order.
func (m *made) each(t *testing.T, id string) []float64 {
	t.Helper()
	var out []float64
	for _, f := range m.Fits {
		if strings.HasPrefix(f.ID, id) {
			out = append(out, f.Nominal)
		}
	}
	if len(out) == 0 {
		t.Fatalf("kit.json tells no %sITEM", id)
	}
	return out
}

// grown are the items, each grown to the buck's surface and where that was cut for it.
func (m *made) grown(t *testing.T, items []Distance) []Distance {
	t.Helper()
	radii, steps := m.each(t, "r_buck."), m.each(t, "floor.step.")
	out := make([]Distance, len(items))
	for i, d := range items {
		out[i] = func(p Vec) float64 { return d(p.Add(Vec{0, 0, steps[i]})) - radii[i] }
	}
	return out
}

// TestSheetLiesOnBuck: the finished pocket is r_buck - r_pocket inside the
// buck's, but for the step that floors are thinner than walls by, everywhere but over the mouth and the vents, creases included.
func TestSheetLiesOnBuck(t *testing.T) {
	kits(t, func(t *testing.T, m *made) { sheetLies(t, m) })
}

// Both bundled kits have the same gauge, mouth, felt and cement.
func sheetLies(t *testing.T, m *made) {
	const band = demoMouth + demoGauge
	sheet := m.sheet(t)
	near(t, "r_pocket", m.fit(t, "r_pocket"), demoFelt*(1-demoPress)+demoCement, 1e-9)
	insert, _, inner := insertPockets(t, m, band)
	buck, bz, outer := buckPockets(t, m, band)
	if len(inner) < plenty*9/10 || len(outer) < plenty*9/10 { // some lie over the mouth
		t.Fatalf("%d and %d places: the pockets were not found", len(inner), len(outer))
	}
	holes := NewHoles(buck, bz, up, -demoGauge-band, ventWide)
	lowered := func(p Point) (Vec, float64) { step, thick := sheet(p.At); return p.At.Sub(Vec{0, 0, step}), thick }
	raised := func(p Point) (Vec, float64) { step, thick := sheet(p.At); return p.At.Add(Vec{0, 0, step}), thick }
	s, skipped := gapsLess(inner, buck.Tree, lowered, func(_ Point, h Hit) bool { return holes.By(h.At, 0.1) })
	within(t, "finished pocket to buck, less the sheet", s, 0, exact)
	fewSkipped(t, "finished pocket over vents", skipped, 0.05)

	seen := insert.Seen(up)
	product := insert.Part(func(i int, _ Tri) bool { return seen[i] })
	s, skipped = gapsLess(outer, product.Tree, raised, func(p Point, _ Hit) bool { return holes.By(p.At, 0.1) })
	within(t, "buck to finished pocket, less the sheet", s, 0, exact)
	fewSkipped(t, "buck at vents", skipped, 0.05)
}

// TestPlugFitsPocket: from plug to finished pocket r_pocket - r_plug, where
// the plug's edges are not rounded and no air relief is.
func TestPlugFitsPocket(t *testing.T) {
	kits(t, func(t *testing.T, m *made) { plugFits(t, m, 0.25) })
}

// edges is the share of places that rounded edges and reliefs may take.
func plugFits(t *testing.T, m *made, edges float64) {
	band := demoMouth + demoGauge
	want := m.fit(t, "r_pocket") - m.fit(t, "r_plug")
	insert, _, outer := insertPockets(t, m, band)
	plug := m.body(t, "press-tool")
	pz := m.zone(t, "press-tool", down)
	inner := Clipped(Sample(plug.Facets, plenty, pz.Below(0)), math.Inf(-1), -band)
	if len(inner) < plenty/2 {
		t.Fatalf("%d places: the plugs were not found", len(inner))
	}
	holes := NewHoles(plug, pz, down, -band, reliefWide)
	sharp := Edges(plug, inner, edgeBall)
	rounded := func(p Vec) bool { return sharp.Nearest(p, edgeReach).Facet >= 0 }
	s, skipped := gaps(inner, insert.Tree, func(p Point, _ Hit) bool { return holes.By(p.At, 0.1) || rounded(p.At) })
	within(t, "plug to finished pocket", s, want, exact)
	fewSkipped(t, "plug's rounded edges and reliefs", skipped, edges)
	all, _ := gaps(inner, insert.Tree, nil)
	atLeast(t, "plug to finished pocket, edges and all", all, want-exact)
	s, skipped = gaps(outer, plug.Tree, func(_ Point, h Hit) bool { return holes.By(h.At, 0.1) || rounded(h.At) })
	within(t, "finished pocket to plug", s, want, exact)
	fewSkipped(t, "pocket opposite the plug's edges and reliefs", skipped, edges+0.1)
}

// demoItems are the demo's items where they lie while their pockets are cut,
// or at rest.
func demoItems(t *testing.T, m *made, lowered bool) []Distance {
	rise := func(id string) float64 {
		if !lowered {
			return 0
		}
		return m.fit(t, "seat_rise."+id)
	}
	return []Distance{
		Placed(RoundedBox(Vec{118, 64, 27}, 10, 4), 0, Vec{-33, 0, -19 - rise("logger")}),
		Placed(Cylinder(46, 22), 0, Vec{72, 0, -22 - rise("probe-lead")}),
	}
}

// TestPocketHoldsItem: nowhere is the sheet nearer to the item than r_pocket,
// and where no notch and no other item interfere the pocket is exactly the
// item, grown and released.
func TestPocketHoldsItem(t *testing.T) {
	m := demo(t)
	const band = demoMouth + demoGauge
	r := m.fit(t, "r_pocket")
	_, _, pts := insertPockets(t, m, band)
	items := demoItems(t, m, true)
	reach := 40.0
	released := []Distance{Released(items[0], demoDraft, reach), Released(items[1], demoDraft, reach)}
	var least, rel, clean Spread
	for _, p := range pts {
		least.Add(math.Min(items[0](p.At), items[1](p.At)), p.At)
		d := math.Min(released[0](p.At), released[1](p.At))
		rel.Add(d, p.At)
		if !byDemoNotch(p.At) {
			clean.Add(d, p.At)
		}
	}
	atLeast(t, "sheet to item", least, r-exact)
	atLeast(t, "sheet to released item", rel, r-exact)
	within(t, "sheet to released item away from notches", clean, r, exact)
	if clean.N < plenty/3 {
		t.Errorf("only %d places away from notches", clean.N)
	}
}

// byDemoNotch tells whether a notch, grown and released, can reach p: the
// notches are 30 wide and run along y from the items' middles.
func byDemoNotch(p Vec) bool {
	const wide = notchWidth/2 + 6
	logger := math.Abs(p[0]+33) < wide
	lead := math.Abs(p[0]-72) < wide && p[1] < 8
	return logger || lead
}

// TestSheetThickness: the insert is as thick as kit.json says, measured
// through the sheet, and its underside is the buck's surface.
func TestSheetThickness(t *testing.T) {
	kits(t, func(t *testing.T, m *made) { sheetThick(t, m) })
}

func sheetThick(t *testing.T, m *made) {
	insert := m.body(t, "insert")
	buck := m.body(t, "buck")
	z := m.zone(t, "insert", up)
	lo, hi := Bounds(insert.Facets)
	near(t, "rim of the insert", hi[2], 0, 0.02)
	near(t, "trim line", lo[2], m.fit(t, "trim"), 0.02)
	_, top := Bounds(buck.Facets)
	near(t, "rim of the buck", top[2], -m.fit(t, "t_rim"), 0.02)
	pts := Clipped(Sample(insert.Facets, plenty, z.Outer(lo[2]-1, -0.5)), lo[2]+1, -4)
	s, _ := gaps(pts, buck.Tree, nil)
	within(t, "skirt, outside to buck", s, m.fit(t, "t_skirt"), exact)

	under := m.zone(t, "insert", down)
	var below Spread
	for _, p := range Clipped(Sample(insert.Facets, plenty, func(i int, t Tri) bool { return under.Open[i] }), lo[2]+0.5, 0) {
		below.Add(math.Abs(buck.Tree.Signed(p.At, 5)), p.At)
	}
	bz := m.zone(t, "buck", up)
	holes := NewHoles(buck, bz, up, -demoGauge, ventWide)
	var clear Spread
	for _, p := range Clipped(Sample(insert.Facets, plenty, func(i int, t Tri) bool { return under.Open[i] }), lo[2]+0.5, 0) {
		if h := buck.Tree.Nearest(p.At, 5); !holes.By(h.At, 0.1) {
			clear.Add(h.Dist, p.At)
		}
	}
	within(t, "underside of the sheet to buck", clear, 0, exact)
	t.Logf("over vents too: %v", below)
}
