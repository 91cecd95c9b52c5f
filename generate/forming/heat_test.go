package forming

import (
	"math"
	"testing"
)

// near fails unless got is within rel of want.
func near(t *testing.T, name string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s = %.7g, want %.7g (off by %.2g of it)", name, got, want, got/want-1)
	}
}

// digits4 allows half a unit of a fourth digit.
const digits4 = 5e-5

var (
	absSheet = Substance{K: 0.17, Density: 1050, Cp: 1500}
	plaPrint = Substance{K: 0.13, Density: 1240, Cp: 1800}
)

// Throne, Technology of Thermoforming, 1996, section 3.8, prints the black
// body's flux at 316 °C as 0.685 W/cm² and at 900 °C as 107.4 kW/m².
func TestRadiantAgainstThrone(t *testing.T) {
	near(t, "black body at 316 °C", Radiant(1, 316, -kelvin), 6850, 0.004)
	near(t, "black body at 900 °C", Radiant(1, 900, -kelvin), 107400, 5e-4)
}

// The values are worked by hand from the law of Stefan and Boltzmann with
// emissivities of 0.90 and 0.95.
func TestRadiantExchange(t *testing.T) {
	eff := Exchange(0.9, 0.95)
	near(t, "Exchange", eff, 0.85930, 1e-5)
	for _, tt := range []struct{ hot, cold, want float64 }{
		{300, 20, 4898}, {400, 20, 9645}, {500, 20, 17051}, {600, 20, 27961},
		{300, 150, 3696}, {400, 150, 8442}, {500, 150, 15848}, {600, 150, 26759},
	} {
		near(t, "Radiant", Radiant(eff, tt.hot, tt.cold), tt.want, 1.4e-4)
	}
	near(t, "RadiantCoefficient", RadiantCoefficient(eff, 400, 150), 33.77, 2e-4)
	near(t, "coefficient times difference", RadiantCoefficient(eff, 400, 150)*250, Radiant(eff, 400, 150), 1e-12)
}

func TestLumpedTime(t *testing.T) {
	near(t, "ABS 1.5 mm under 400 °C", LumpedTime(absSheet, 1.5, 2, Exchange(0.9, 0.95), 400, 20, 150), 16.807, digits4)
	if got := LumpedTime(absSheet, 1.5, 2, 0.9, 140, 20, 150); !math.IsInf(got, 1) {
		t.Errorf("a heater colder than the sheet takes %g s, want +Inf", got)
	}
}

// Effusivities and contact temperatures worked from handbook constants with
// the formula of Carslaw and Jaeger; the colder body is at 25 °C.
func TestContact(t *testing.T) {
	petg := Substance{K: 0.20, Density: 1270, Cp: 1300}
	hips := Substance{K: 0.16, Density: 1040, Cp: 1500}
	absPrint := Substance{K: 0.17, Density: 1040, Cp: 1400}
	aluminium := Substance{K: 167, Density: 2700, Cp: 896}
	for _, tt := range []struct {
		name string
		of   Substance
		want float64
	}{{"ABS", absSheet, 517.4}, {"PETG", petg, 574.6}, {"HIPS", hips, 499.6}, {"PLA", plaPrint, 538.7}, {"ABS print", absPrint, 497.5}, {"aluminium", aluminium, 20100}} {
		near(t, "effusivity of "+tt.name, tt.of.Effusivity(), tt.want, 1.1e-4)
	}
	for _, tt := range []struct {
		name  string
		sheet Substance
		hot   float64
		print Substance
		want  float64
	}{
		{"ABS on PLA", absSheet, 150, plaPrint, 86.24},
		{"ABS on PETG", absSheet, 150, petg, 84.23},
		{"ABS on ABS", absSheet, 150, absPrint, 88.73},
		{"ABS on aluminium", absSheet, 150, aluminium, 28.14},
		{"PETG on PLA", petg, 140, plaPrint, 84.36},
		{"HIPS on PLA", hips, 145, plaPrint, 82.74},
	} {
		if got := Contact(tt.sheet, tt.hot, tt.print, 25); math.Abs(got-tt.want) > 0.005 { // two decimals are given
			t.Errorf("%s: %.4f °C, want %.2f", tt.name, got, tt.want)
		}
	}
}
