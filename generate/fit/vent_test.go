package fit

import (
	"math"
	"testing"
)

// Worked values of the membrane cap under 80 kPa: diameter, thickness, mu in kPa, height.
func TestDimple(t *testing.T) {
	for _, tt := range [][4]float64{{.8, 1, 300, .0107}, {1, .5, 300, .0335}, {1.5, .5, 300, .0758}, {1, .5, 100, .1044}} {
		near(t, "Dimple", Dimple(tt[0], tt[1], 80, tt[2]), tt[3], 5e-5)
	}
	if !math.IsInf(Dimple(5.1, 1, 80, 100), 1) {
		t.Error("a load above 2 blows through")
	}
	near(t, "no load", Dimple(1, .5, 1e-9, 300), 1e-9/(16*.5*300), 1e-15)
}

// The cap solves its own equation p a/(mu t) = 4k/(1 + k²), height k a.
func TestDimpleSolvesTheCap(t *testing.T) {
	for _, d := range []float64{.3, 1, 2, 3} {
		k := Dimple(d, .4, 80, 200) / (d / 2)
		near(t, "load", 4*k/(1+k*k), 80*d/2/(200*.4), 1e-9)
	}
}

func TestLargestVent(t *testing.T) {
	for _, tt := range [][3]float64{{.45, 80, 100}, {.3, 80, 100}, {.3, 90, 50}, {1, 60, 150}} {
		d := largestVent(tt[0], tt[1], tt[2])
		at, over := Dimple(d, tt[0], tt[1], tt[2]), Dimple(d+.001, tt[0], tt[1], tt[2])
		if !(at <= mostDimple) || !(over > mostDimple || d == mostVent) {
			t.Errorf("largestVent(%v) = %g with dimples %g, %g", tt, d, at, over)
		}
	}
	if d := largestVent(2, 80, 1000); d != mostVent {
		t.Errorf("thick sheet: %g, want %g", d, mostVent)
	}
}

// Brute force: wherever the buck stands, some channel of the first q overlaps
// some row of holes by 1 mm.
func TestChannelsAlwaysMeetARow(t *testing.T) {
	for _, tt := range []struct{ pitch, hole float64 }{{10, 2}, {10, 3}, {12, 1}, {5, 2}, {20, 4}, {25, 1.5}, {3, 1}, {25.4, 3.2}} {
		gap := channelGap(tt.pitch, tt.hole, channelWidth)
		q := int(math.Ceil(tt.pitch / (channelWidth + tt.hole - 2)))
		if gap < channelWidth+leastRib {
			t.Errorf("%+v: channels %g apart leave no rib", tt, gap)
		}
		for phase := 0.0; phase < tt.pitch; phase += tt.pitch / 997 {
			best := 0.0
			for c := range q {
				x := phase + float64(c)*gap
				row := math.Round(x/tt.pitch) * tt.pitch
				lo, hi := max(x-channelWidth/2, row-tt.hole/2), min(x+channelWidth/2, row+tt.hole/2)
				best = max(best, hi-lo)
			}
			if !(best >= min(1, tt.hole)-1e-9) {
				t.Fatalf("%+v: at phase %g the best overlap of %d channels is %g", tt, phase, q, best)
			}
		}
	}
}

// The worked case of the pitch 10, hole 2 platen: windows of 4, three phases.
func TestChannelGapOfAnUsualPlaten(t *testing.T) {
	near(t, "gap", channelGap(10, 2, 4), 20./3, 1e-12)
}
