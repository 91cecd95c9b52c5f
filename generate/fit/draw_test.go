package fit

import (
	"math"
	"testing"

	"buckwright/generate/geom"
)

// Crawford, Plastics Engineering 3rd ed., example 4.7: a box of 150 x 100 x 60 has
// 45 000 mm² and 2 mm sheet a mean of .6667. A shop's page on the draw ratio: a box
// of 10 x 12 x 2 in has 208/120. The tray is worked from its own area, 32 813.5 mm².
func TestArealDrawRatio(t *testing.T) {
	near(t, "box", 2/DrawTray(150, 100, 60, 0), .6667, 5e-5)
	near(t, "shop box", DrawTray(10, 12, 2, 0), 208./120, 1e-12)
	near(t, "another", DrawTray(10, 11, 5, 0), 2.9091, 5e-5)
	near(t, "tray", DrawTray(150, 100, 40, 5*geom.Degree), 2.1876, 5e-5)
	near(t, "tray thickness", 1/DrawTray(150, 100, 40, 5*geom.Degree), .4571, 5e-5)
}

// Crawford's example, part b: a plug keeps 140 x 90 mm at 2 mm; the walls of
// 30 000 mm² share the rest, .1600 mm. Volume balance.
func TestVolumeBalance(t *testing.T) {
	whole := 150 * 100 * 2.
	walls := DrawTray(150, 100, 60, 0)*150*100 - 150*100
	near(t, "walls", walls, 30000, 1e-9)
	near(t, "wall", (whole-140*90*2)/walls, .16, 1e-9)
}

func TestDrape(t *testing.T) {
	near(t, "80/50/40", Drape(80, 50, 40), .6000, 5e-5)
	near(t, "100/50/30", Drape(100, 50, 30), .8575, 5e-5)
}

// Shrink compensation is 1/(1 - S), not 1 + S.
func TestMouldScale(t *testing.T) {
	for _, tt := range []struct{ s, want float64 }{{.006, 150.9054}, {.018, 152.7495}, {.025, 153.8462}} {
		near(t, "150 mm", 150*MouldScale(tt.s), tt.want, 5e-5)
	}
}

// A slicing program tells, for lines of .45 and layers of .2, walls of .86 for
// two and 1.67 for four (from memory, confirm).
func TestPrintWall(t *testing.T) {
	near(t, "one", PrintWall(1, .45, .2), .45, 0)
	near(t, "two", PrintWall(2, .45, .2), .86, .005)
	near(t, "four", PrintWall(4, .45, .2), 1.67, .005)
	for _, wall := range []float64{.1, .5, .8, 1.2, 2.4, 5} {
		n, got := wholeWall(wall, .45, .3)
		if n < 1 {
			t.Fatalf("wholeWall(%g) has %d lines", wall, n)
		}
		for m := 1; m < 20; m++ {
			if d := math.Abs(PrintWall(m, .45, .3) - wall); d < math.Abs(got-wall)-1e-12 {
				t.Errorf("wholeWall(%g) = %g, but %d lines are nearer", wall, got, m)
			}
		}
	}
}
