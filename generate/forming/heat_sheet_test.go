package forming

import (
	"math"
	"testing"
)

var absWindow = Window{Set: 85, Low: 127, Core: 149, Up: 182}

func heating(gauge, heater float64, twoSided bool) Heating {
	return Heat(HeatSetup{Sheet: absSheet, Gauge: gauge, Window: absWindow, Heater: heater, TwoSided: twoSided, Room: 25})
}

// Throne, "Model heating part 2", technical minutes: at the end of heating less
// than 10 °C across 1.5 mm and less than 5 °C across 1 mm; real times are 1.5
// to 2.5 times those of the lump that loses nothing.
func TestHeatAgainstThrone(t *testing.T) {
	for _, tt := range []struct{ gauge, across float64 }{{1, 5}, {1.5, 10}} {
		h := heating(tt.gauge, 400, true)
		if !(h.Crosswise > 0 && h.Crosswise < tt.across) {
			t.Errorf("%g mm: %.2f K across, want under %g", tt.gauge, h.Crosswise, tt.across)
		}
		if more := h.Ready.Nominal / h.Lumped; !(more > 1.5 && more < 2.5) {
			t.Errorf("%g mm: %.2f times the lump's time, want 1.5 to 2.5", tt.gauge, more)
		}
		if !h.Even() || !(h.Earliest < h.Ready.Nominal && h.Ready.Nominal < h.Latest) {
			t.Errorf("%g mm: no window: %+v", tt.gauge, h)
		}
	}
}

// A sheet heated on one side takes longer, is colder below, and loses what the
// balance of both faces says once it no longer changes.
func TestHeatOnOneSide(t *testing.T) {
	one, two := heating(1, 400, false), heating(1, 400, true)
	if !(one.Ready.Nominal > 2*two.Ready.Nominal && one.Crosswise > 2*two.Crosswise) {
		t.Errorf("one side %+v, two sides %+v", one, two)
	}
	if !(one.Ready.Least < one.Ready.Nominal && one.Ready.Nominal < one.Ready.Most) {
		t.Errorf("ready in %+v", one.Ready)
	}
	s := HeatSetup{Sheet: absSheet, Gauge: 0.1, Window: absWindow, Heater: 300, Room: 25}
	h := s.heat(0.5)
	gained := 0.5*Radiant(Exchange(heaterEmissivity, sheetEmissivity), 300, h.Reached) + stillAir*(25-h.Reached)
	lost := 0.5*Radiant(sheetEmissivity, h.Reached, 25) + stillAir*(h.Reached-25)
	if s.Window.Low < h.Reached {
		t.Fatalf("%+v: this heater should be too cool to end the run", h)
	}
	if math.Abs(gained-lost) > 0.01*gained {
		t.Errorf("at %.2f °C %.1f W/m² come in and %.1f go out", h.Reached, gained, lost)
	}
}

// Thick sheet over one strong heater burns before its back is warm; the heater
// that is advised instead leaves a window, and is the hottest that does.
func TestHeatAdvisesACoolerHeater(t *testing.T) {
	h := heating(3, 400, false)
	if h.Even() || h.Cooler == 0 {
		t.Fatalf("3 mm on one side: %+v", h)
	}
	if !heating(3, h.Cooler, false).Even() || heating(3, h.Cooler+5, false).Even() {
		t.Errorf("%g °C is not the hottest heater with a window", h.Cooler)
	}
}

func TestHeatMelts(t *testing.T) {
	s := HeatSetup{
		Sheet: Substance{K: 0.2, Density: 905, Cp: 2100, Melting: 100e3, Melts: [2]float64{130, 160}},
		Gauge: 1, Window: Window{Set: 88, Low: 150, Core: 165, Up: 175}, Heater: 400, TwoSided: true, Room: 25,
	}
	with := Heat(s)
	s.Sheet.Melting = 0
	without := Heat(s)
	more := with.Ready.Nominal / without.Ready.Nominal
	if !(more > 1.3 && more < 1.5) { // 100 kJ/kg on 2100 x 140 = 294
		t.Errorf("melting takes %.3f times as long, want about 1.34 and some for the losses", more)
	}
}

func TestHeatNeverHangs(t *testing.T) {
	for _, gauge := range []float64{0.1, 6, 8} {
		for _, heater := range []float64{150, 160, 400, 900} {
			h := heating(gauge, heater, false)
			for _, v := range []float64{h.Ready.Nominal, h.Earliest, h.Latest, h.Surface, h.Coldest, h.Chill, h.Cooler} {
				if math.IsNaN(v) {
					t.Errorf("%g mm, %g °C: %+v", gauge, heater, h)
				}
			}
		}
	}
	if h := heating(1, 160, false); !math.IsInf(h.Ready.Nominal, 1) || h.Even() {
		t.Errorf("a heater of 160 °C cannot warm one side to 149: %+v", h)
	}
}

// PETG's window is narrow: under one heater its face is at the upper limit before its
// middle is at the temperature that is usual. To start from the limit would burn
// every second sheet; the time told lies between the two.
func TestHeatStartsWithinTheWindow(t *testing.T) {
	petg := Substance{K: 0.2, Density: 1270, Cp: 1300}
	h := Heat(HeatSetup{Sheet: petg, Gauge: 1, Window: Window{Set: 60, Low: 135, Core: 149, Up: 154}, Heater: 400, Room: 25})
	if !h.Even() {
		t.Fatalf("no window: %+v", h)
	}
	if margin := 0.4 * (h.Latest - h.Earliest); !(h.Ready.Nominal-h.Earliest > margin && h.Latest-h.Ready.Nominal > margin) {
		t.Errorf("ready after %.1f s, warm enough after %.1f, too hot after %.1f", h.Ready.Nominal, h.Earliest, h.Latest)
	}
	if !(h.Coldest > 135 && h.Surface < 154 && h.Chill > 0) {
		t.Errorf("when ready %.1f to %.1f °C, formable for %.1f s; want within 135 to 154", h.Coldest, h.Surface, h.Chill)
	}
}
