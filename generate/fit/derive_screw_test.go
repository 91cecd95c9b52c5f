package fit

import (
	"math"
	"testing"

	"buckwright/params"
)

// ISO 2306:1972, table for coarse threads, and ISO 273:1979, medium series, both
// from memory, confirm. The drill is the thread less its pitch, ISO 261.
func TestScrewsFollowTheStandards(t *testing.T) {
	for thread, want := range map[params.Thread][4]float64{ // diameter, pitch, drill, clearance
		params.M3: {3, 0.5, 2.5, 3.4}, params.M4: {4, 0.7, 3.3, 4.5}, params.M5: {5, 0.8, 4.2, 5.5}, params.M6: {6, 1, 5, 6.6},
	} {
		r := screwOf(thread)
		if r.nominal != want[0] || !(math.Abs(r.tap-(want[0]-want[1])) < 1e-9) || r.tap != want[2] || r.clearance != want[3] {
			t.Errorf("%s: %+v, want %v", thread, r, want)
		}
		if !(r.insertHole > r.clearance && r.insertHole < 1.6*r.nominal && r.insertLength > 1.5*r.nominal) {
			t.Errorf("%s: an insert in a hole of %g, %g long", thread, r.insertHole, r.insertLength)
		}
	}
}

func TestScrewsAreDerivedFromTheKit(t *testing.T) {
	hole, length := 5.0, 6.0
	for _, tt := range []struct {
		s                params.Screws
		bore, deep, boss float64
	}{
		{params.Screws{Thread: params.M4, Hold: params.HoldInsert}, 5.6 - 0.1, 8.1 + 1.5, 11.2},
		{params.Screws{Thread: params.M4, Hold: params.HoldTapped}, 3.3 - 0.1, 10 + 1.5, 10},
		{params.Screws{Thread: params.M3, Hold: params.HoldInsert, Hole: &hole, Length: &length}, 4.9, 7.5, 10},
	} {
		b := &builder{k: &params.Kit{}, d: &Dims{}}
		b.k.Buck.Screws, b.k.Printer.Hole = &tt.s, 0.1
		b.screws()
		d := b.d.Buck.Screw
		if !(math.Abs(d.Bore-tt.bore) < 1e-9 && math.Abs(d.Deep-tt.deep) < 1e-9 && math.Abs(d.Boss-tt.boss) < 1e-9) {
			t.Errorf("%+v: %+v, want bore %g, depth %g, boss %g", tt.s, d, tt.bore, tt.deep, tt.boss)
		}
	}
	b := &builder{k: &params.Kit{}, d: &Dims{}}
	if b.screws(); b.d.Buck.Screw.Thread != "" {
		t.Error("a kit without screws has some")
	}
}
