package proof

import (
	"math"
	"path/filepath"
	"testing"

	"buckwright/generate/judge"
)

// TestEstimates holds mass and time of every part against prusa-slicer 2.5.0
// (Debian 12) with the settings that the bundled kits have, typed here again:
// 0.45 mm beads, three walls, four full layers, 15 % infill (grid), 40 mm/s on
// outer walls and tops, 60 inside, 80 on infill, 30 on bridges, 25 on the first
// layer, 150 for travel, 1000 mm/s². The rest is the slicer's own default.
func TestEstimates(t *testing.T) {
	p := bundled
	p.Walls, p.Pattern = 3, "grid"
	p.Options = judge.Paths(0.45, 4, [8]float64{40, 60, 60, 40, 80, 30, 25, 150}, 1000)
	kits(t, func(t *testing.T, m *made) {
		for _, row := range m.Parts {
			if !row.Printed {
				continue
			}
			s := judge.Slicer(t, filepath.Join(m.Dir, "parts", row.Name+".stl"), p)
			mass, time := row.Mass/s.Grams-1, row.Time/s.Time.Seconds()-1
			t.Logf("%s: %.1f g (%+.1f %%), %.0f s (%+.1f %%)", row.Name, row.Mass, 100*mass, row.Time, 100*time)
			if !(math.Abs(mass) <= 0.05) {
				t.Errorf("%s: %.2f g, the slicer says %.2f", row.Name, row.Mass, s.Grams)
			}
			if !(math.Abs(time) <= 0.2) {
				t.Errorf("%s: %.0f s, the slicer says %.0f", row.Name, row.Time, s.Time.Seconds())
			}
		}
	})
}
