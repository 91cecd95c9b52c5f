package proof

import (
	"math"
	"os"
	"path/filepath"
	"testing"
)

// pull is the contract for a buck in the kit's frame.
func pull(b *Body, pocket, skirt float64) Pull {
	lo, hi := Bounds(b.Facets)
	return Pull{
		PocketDraft: pocket, SkirtDraft: skirt, Slack: 0.05, Sag: 0.02,
		Under: lo[2], Channel: 3.2, Bore: 4.3, Vent: 1.6, Band: 1, Top: hi[2] - 3.5, Bottom: lo[2] + 3.5,
	}
}

func judgeRelease(t *testing.T, name string, m *made, pocket, skirt float64) {
	t.Helper()
	b := m.body(t, "buck")
	r := JudgeRelease(b.Facets, pull(b, pocket, skirt))
	blame(t, name+" hidden", r.Hidden)
	blame(t, name+" steep", r.Steep)
	if !(math.Abs(r.Pocket.Mean-pocket) <= 0.05) {
		t.Errorf("%s: pocket walls lean %.4f degrees on average, want %g +- 0.05", name, r.Pocket.Mean, pocket)
	}
	if !(math.Abs(r.Skirt.Mean-skirt) <= 0.05) {
		t.Errorf("%s: the skirt leans %.4f degrees on average, want %g +- 0.05", name, r.Skirt.Mean, skirt)
	}
	if r.Pocket.Area < 100 || r.Skirt.Area < 1000 {
		t.Errorf("%s: walls of %.0f and %.0f mm² were found", name, r.Pocket.Area, r.Skirt.Area)
	}
	t.Logf("%s: pocket %+v; skirt %+v; %d facets seen", name, r.Pocket, r.Skirt, r.Seen)
}

func TestDemoReleases(t *testing.T) { judgeRelease(t, "demo", demo(t), demoDraft, demoSkirt) }

// buckOf makes a kit's buck alone.
func buckOf(t *testing.T, kit string) *made { return run(t, kit, "--parts", "buck") }

// onBody fails unless a buck's pockets are the items, grown by r_buck and released.
func onBody(t *testing.T, name string, m *made, draft float64, items ...Distance) {
	t.Helper()
	b := m.body(t, "buck")
	z := NewZone(b, up)
	_, hi := Bounds(b.Facets)
	r := m.fit(t, "r_buck")
	holes := NewHoles(b, z, up, hi[2]-3, ventWide)
	var released []Distance
	for _, d := range items {
		released = append(released, Released(d, draft, 45))
	}
	d := Union(released...)
	var s Spread
	for _, p := range Clipped(Sample(b.Facets, 4000, z.Cavity(hi[2]-0.01)), math.Inf(-1), hi[2]-2.1) {
		if !holes.By(p.At, 0.02) {
			s.Add(d(p.At), p.At)
		}
	}
	if s.N < 3000 {
		t.Errorf("%s: only %d places", name, s.N)
	}
	within(t, name+": buck pocket to released item", s, r, exact)
}

func TestLyingCylindersRelease(t *testing.T) {
	m := buckOf(t, "testdata/lying.yaml")
	judgeRelease(t, "lying", m, 4, 5)
	tube := LyingCylinder(36, 70)
	onBody(t, "lying", m, 4,
		Placed(tube, 0, Vec{0, -32, -13 - m.fit(t, "seat_rise.shallow")}),
		Placed(tube, 0, Vec{0, 32, -24 - m.fit(t, "seat_rise.deep")}))
}

func TestRoundBodiesRelease(t *testing.T) {
	m := buckOf(t, "testdata/round.yaml")
	judgeRelease(t, "round", m, 3, 5)
	onBody(t, "round", m, 3,
		Placed(Ellipsoid(Vec{80, 50, 30}), 0, Vec{-48, 0, -22 - m.fit(t, "seat_rise.pebble")}),
		Placed(LyingCapsule(18, 70), 90, Vec{48, 0, -12 - m.fit(t, "seat_rise.pen")}))
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
	onBody(t, "spindle", m, 3, Placed(d, 0, Vec{0, 0, -26 - m.fit(t, "seat_rise.spindle")}))
}
