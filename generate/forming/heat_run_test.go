package forming

import (
	"math"
	"testing"
)

// An independent finite-difference program, sheet of ABS at 150 °C on PLA at
// 25, gave 0.5 mm under the skin a peak of 48.9, 58.8 (at 10 s) and 67.5 °C (at
// 22 s) for 0.5, 1 and 2 mm, and 7.9 s until the mean of 1 mm is below 85. Its
// loss to the air is not known; 10 W/(m² K) is taken.
func TestSheetOnPLA(t *testing.T) {
	for _, tt := range []struct{ gauge, peak, at, set float64 }{{0.5, 48.9, math.NaN(), math.NaN()}, {1, 58.8, 10, 7.9}, {2, 67.5, 22, math.NaN()}} {
		const n, dt = 40, 0.1
		b := newSlab(append(even(absSheet, tt.gauge, n), even(plaPrint, 20, 800)...), convective(10, 25), tight, 25)
		for i := range n + 1 {
			b.t[i] = 150
		}
		peak, at, set := 0.0, 0.0, math.NaN()
		for i := range 400 {
			b.step(dt)
			now := float64(i+1) * dt
			if v := b.faceBetween(n + 20); v > peak { // 20 layers of 0.025 mm
				peak, at = v, now
			}
			if math.IsNaN(set) && b.mean(0, n) < 85 {
				set = now
			}
		}
		if math.Abs(peak-tt.peak) > 0.5 || math.Abs(at-tt.at) > 0.6 || math.Abs(set-tt.set) > 0.2 {
			t.Errorf("%g mm: peak %.2f °C at %.1f s, set after %.1f s, want %+v", tt.gauge, peak, at, set, tt)
		}
	}
}

func runSetup(soft float64) RunSetup {
	print := Substance{K: 0.17, Density: 1040, Cp: 1400}
	return RunSetup{Sheet: absSheet, Formed: 0.7, Hot: 149, Set: 85, Print: print, Solid: 1.35, Infill: 0.15, Soft: soft, Room: 25, Shots: 12}
}

// The first sheet on a cool buck meets it at the temperature of two thick
// bodies; a solid skin too thin for that comes out a little hotter.
func TestRunBeginsAtContact(t *testing.T) {
	s := runSetup(115)
	s.Solid = 4
	r := s.Run(0)
	if d := r.Skin[0] - r.Contact; !(d > -0.2 && d < 0.2) {
		t.Errorf("first skin %.2f °C, contact %.2f", r.Skin[0], r.Contact)
	}
	s.Solid = 0.4
	if thin := s.Run(0); !(thin.Skin[0] > r.Skin[0]+1) {
		t.Errorf("skin of 0.4 mm: %.2f °C, no hotter than %.2f on a solid buck", thin.Skin[0], r.Skin[0])
	}
}

func TestRunWarmsUp(t *testing.T) {
	s := runSetup(115)
	short, long := s.Run(20), s.Run(7200)
	for i := 1; i < s.Shots; i++ {
		if short.Skin[i] < short.Skin[i-1]-0.3 || short.Start[i] < short.Start[i-1]-0.3 {
			t.Errorf("shot %d is cooler than the one before: %.2f after %.2f °C", i, short.Skin[i], short.Skin[i-1])
		}
		if math.Abs(long.Skin[i]-long.Skin[0]) > 0.05 || long.Start[i] > 25.1 {
			t.Errorf("two hours between shots and the skin still starts at %.2f °C", long.Start[i])
		}
	}
	if !(short.Peak() > long.Peak()+5 && short.Longest() > long.Longest()) {
		t.Errorf("20 s: %.1f °C, %.1f s; two hours: %.1f °C, %.1f s", short.Peak(), short.Longest(), long.Peak(), long.Longest())
	}
}

func TestLeastPauseIsTheLeast(t *testing.T) {
	s := runSetup(100)
	pause, r := s.LeastPause()
	if !(pause > 1 && pause < 3600) || len(r.Skin) != s.Shots || !(r.Peak() < 100) {
		t.Fatalf("pause %g s, peak %.2f °C over %d shots", pause, r.Peak(), len(r.Skin))
	}
	if s.Run(0.95*pause).Peak() < 100 {
		t.Errorf("%g s would do as well", 0.95*pause)
	}
	if pause, r := runSetup(62).LeastPause(); !math.IsInf(pause, 1) || !(r.Skin[0] > 62) {
		t.Errorf("below the contact temperature no pause helps: %g s", pause)
	}
	if pause, _ := runSetup(140).LeastPause(); pause != 0 {
		t.Errorf("a skin that stands 140 °C needs no pause, got %g s", pause)
	}
}
