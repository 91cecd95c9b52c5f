package proof

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// floor is the deepest pocket underside that kit.json tells.
func (m *made) floor() float64 {
	z := 0.0
	for _, f := range m.Fits {
		if strings.HasPrefix(f.ID, "under.") {
			z = math.Min(z, f.Nominal)
		}
	}
	return z
}

// pull is the contract for a buck in the kit's frame.
func pull(b *Body, floor, pocket, skirt float64) Pull {
	lo, hi := Bounds(b.Facets)
	return Pull{
		PocketDraft: pocket, SkirtDraft: skirt, Slack: 0.05, Sag: 0.02,
		Under: lo[2], Floor: floor, Channel: 3.2, Bore: 4.3, Vent: 1.6, Band: 1, Top: hi[2] - 3.5, Bottom: lo[2] + 3.5,
	}
}

func judgeRelease(t *testing.T, name string, m *made, pocket, skirt float64) {
	t.Helper()
	b := m.body(t, "buck")
	r := JudgeRelease(b.Facets, pull(b, m.floor(), pocket, skirt))
	blame(t, name+" hidden", r.Hidden)
	blame(t, name+" steep", r.Steep)
	if !(math.Abs(r.Skirt.Mean-skirt) <= 0.05) {
		t.Errorf("%s: the skirt leans %.4f degrees on average, want %g +- 0.05", name, r.Skirt.Mean, skirt)
	}
	if r.Skirt.Area < 1000 {
		t.Errorf("%s: a skirt of %.0f mm² was found", name, r.Skirt.Area)
	}
	t.Logf("%s: pocket %+v; skirt %+v; %d facets seen", name, r.Pocket, r.Skirt, r.Seen)
}

func TestDemoReleases(t *testing.T) {
	m := demo(t)
	judgeRelease(t, "demo", m, demoDraft, demoSkirt)
	wallsLean(t, "demo", m.body(t, "buck"), demoDraft, nowhere, m.grown(t, demoItems(t, m, true)))
}

// wallsLean fails unless the walls that were swept from the bodies below lean
// by the draft, on average over their area. A facet counts when its middle was
// swept by more than a millimetre, its corners somewhat, and it lies on what was swept.
func wallsLean(t *testing.T, name string, b *Body, draft float64, skip func(p Vec) bool, items []Distance) {
	t.Helper()
	z := NewZone(b, up)
	_, hi := Bounds(b.Facets)
	keep := z.Cavity(hi[2] - 0.01)
	var w Wall
	for i, f := range b.Facets {
		if !keep(i, f) || highest(f) > hi[2]-1.8 || f.LeastAltitude() < 0.05 {
			continue
		}
		if !skip(f.Mid()) && swept(f, draft, items) {
			w.add(f, f.Draft())
		}
	}
	if w.Area < 500 {
		t.Errorf("%s: only %.0f mm² of drafted walls", name, w.Area)
	}
	if !(math.Abs(w.Mean-draft) <= 0.05) {
		t.Errorf("%s: pocket walls lean %.4f degrees on average, want %g +- 0.05", name, w.Mean, draft)
	}
	t.Logf("%s: drafted pocket walls %+v", name, w)
}

func swept(f Tri, draft float64, items []Distance) bool {
	m := f.Mid()
	for i, p := range []Vec{m, f[0], f[1], f[2]} {
		q := m.Add(p.Sub(m).Mul(0.9))
		best, time := math.Inf(1), 0.0
		for _, d := range items {
			if v, t := Swept(d, draft, 45, q); v < best {
				best, time = v, t
			}
		}
		if !(math.Abs(best) < 0.06 && time > 0.02 && (i > 0 || time > 1)) {
			return false // a notch, a crease, a vent, or the body's own surface
		}
	}
	return true
}

// buckOf makes a kit's buck alone.
func buckOf(t *testing.T, kit string) *made { return run(t, kit, "--parts", "buck") }

func nowhere(Vec) bool { return false }

// onBody fails unless a buck's pockets are the items, grown by r_buck and released.
func onBody(t *testing.T, name string, m *made, draft float64, skip func(p Vec) bool, items ...Distance) {
	t.Helper()
	b, z := m.body(t, "buck"), m.zone(t, "buck", up)
	_, hi := Bounds(b.Facets)
	items = m.grown(t, items)
	holes := NewHoles(b, z, up, hi[2]-3, ventWide)
	var released []Distance
	for _, d := range items {
		released = append(released, Released(d, draft, 45))
	}
	d := Union(released...)
	var s Spread
	all := 0
	for _, p := range Clipped(Sample(b.Facets, 4000, z.Cavity(hi[2]-0.01)), math.Inf(-1), hi[2]-2.1) {
		if skip(p.At) {
			continue
		}
		if all++; !holes.By(p.At, 0.3) {
			s.Add(d(p.At), p.At)
		}
	}
	fewSkipped(t, name+": beside vents", 1-float64(s.N)/float64(all), 0.25) // every vent has a hundred small facets, and each is probed
	if s.N < 3000 {
		t.Errorf("%s: only %d places", name, s.N)
	}
	within(t, name+": buck pocket to released item, grown by r_buck", s, 0, exact)
	wallsLean(t, name, b, draft, skip, items)
}

func TestLyingCylindersRelease(t *testing.T) {
	m := buckOf(t, "testdata/lying.yaml")
	judgeRelease(t, "lying", m, 4, 5)
	tube := LyingCylinder(26, 50)
	onBody(t, "lying", m, 4, nowhere,
		Placed(tube, 0, Vec{0, -24, -9 - m.fit(t, "seat_rise.shallow")}),
		Placed(tube, 0, Vec{0, 24, -23 - m.fit(t, "seat_rise.deep")}))
}

func TestRoundBodiesRelease(t *testing.T) {
	m := buckOf(t, "testdata/round.yaml")
	judgeRelease(t, "round", m, 3, 5)
	onBody(t, "round", m, 3, nowhere,
		Placed(Ellipsoid(Vec{60, 44, 28}), 0, Vec{-30, 0, -26 - m.fit(t, "seat_rise.pebble")}),
		Placed(LyingCapsule(14, 44), 90, Vec{30, 0, -9 - m.fit(t, "seat_rise.pen")}))
}

const meshKit = `kit: spindle
items:
  - name: spindle
    shape: {mesh: {file: spindle.stl, unit: mm, up: z}}
    depth: 26
    mass: 100
pocket: {draft: 3}
`

// TestMeshProductReleases: a turned body with a waist, as a mesh; the pocket
// must bridge the waist.
func TestMeshProductReleases(t *testing.T) {
	dir := t.TempDir()
	f := lathe([][2]float64{{0, 0}, {20, 0}, {24, 5}, {17, 14}, {26, 22}, {26, 30}, {0, 34}}, 96)
	if err := WriteSTL(filepath.Join(dir, "spindle.stl"), f); err != nil {
		t.Fatal(err)
	}
	kit := filepath.Join(dir, "spindle.yaml")
	if err := os.WriteFile(kit, []byte(meshKit), 0o666); err != nil {
		t.Fatal(err)
	}
	m := buckOf(t, kit)
	judgeRelease(t, "spindle", m, 3, 5)
	item := NewBody(f)
	d := func(p Vec) float64 { return item.Tree.Signed(p, math.Inf(1)) }
	// Where the swept waist meets the upper bulge is a crease that the gauge rounds.
	rise := m.fit(t, "seat_rise.spindle")
	crease := func(p Vec) bool { return math.Abs(p[2]-(21-26-rise-1)) < 2 }
	onBody(t, "spindle", m, 3, crease, Placed(d, 0, Vec{0, 0, -26 - rise}))
}
