package proof

import (
	"math"
	"testing"
)

// TestScrewsHoldTheBuck: four bores stand in the underside where kit.json says,
// as wide and deep as it says, in solid all round and above; and though their
// bosses fill channels, every vent still reaches the platen.
func TestScrewsHoldTheBuck(t *testing.T) {
	m := run(t, "testdata/screws.yaml", "--parts", "buck", "--quality", "draft")
	judgeVents(t, m, Platen{10, 2}, 1)
	judgePrint(t, m, "buck")
	if len(m.Screws) != 4 {
		t.Fatalf("%d screws, want 4", len(m.Screws))
	}
	buck := m.body(t, "buck")
	lo, _ := Bounds(buck.Facets)
	plo, phi := Bounds(m.printed(t, "buck"))
	printed := NewTree(m.printed(t, "buck"))
	bore, deep, boss := m.fit(t, "screw.bore"), m.fit(t, "screw.depth"), m.fit(t, "screw.boss")
	for _, s := range m.Screws {
		at := Vec{s.At[0], s.At[1], lo[2] - 1}
		hits := buck.Tree.Crossings(at, up, 0)
		if len(hits) != 2 {
			t.Fatalf("screw at %v: %d crossings upwards, want the bore's end and the rim", s.At, len(hits))
		}
		near(t, "depth of a bore", hits[0]-1, deep, rough+0.3) // its tip is cut off flat
		if !(hits[1]-hits[0] >= 3) {
			t.Errorf("screw at %v: %.2f mm of solid above", s.At, hits[1]-hits[0])
		}
		for _, z := range []float64{lo[2] + 1, lo[2] + deep/2} {
			for i := range 24 {
				sin, cos := math.Sincos(float64(i) * math.Pi / 12)
				wall := buck.Tree.Crossings(Vec{s.At[0], s.At[1], z}, Vec{cos, sin, 0}, 0)
				near(t, "radius of a bore", wall[0], bore/2, rough)
				if !(wall[1] >= boss/2-rough) {
					t.Errorf("screw at %v, %.1f up: solid to %.2f mm, want %.2f", s.At, z-lo[2], wall[1], boss/2)
				}
			}
		}
		// The same place on the buck as it is printed, from its middle.
		mid := Vec{(plo[0] + phi[0]) / 2, (plo[1] + phi[1]) / 2, plo[2] + deep/2}
		at = mid.Add(Vec{s.FromMiddle[0], s.FromMiddle[1], 0})
		near(t, "printed: radius to the right", printed.Ray(at, Vec{1, 0, 0}, 0).Dist, bore/2, rough+0.03)
		near(t, "printed: radius to the left", printed.Ray(at, Vec{-1, 0, 0}, 0).Dist, bore/2, rough+0.03)
	}
}
