package forming

import (
	"math"
	"slices"

	"buckwright/generate/fit"
)

// Window is the range of temperature, °C, in which a sheet can be formed.
type Window struct {
	Set  float64 // below it the part may leave the tool
	Low  float64 // the coldest place of the sheet must be warmer
	Core float64 // normal forming temperature of the middle
	Up   float64 // no place of the sheet may be hotter
}

// HeatSetup is a cold sheet under a former's heater.
type HeatSetup struct {
	Sheet    Substance
	Gauge    float64 // mm
	Window   Window
	Heater   float64 // °C, of its surface
	TwoSided bool
	Room     float64 // °C
}

// Heating is what the heater does to the sheet. Times are s from cold.
type Heating struct {
	// Ready is when to form, a value to start from: the middle is at Window.Core
	// and the coldest place above Window.Low. Where a face would be at Window.Up
	// before that, it is half-way from Earliest to Latest, to err on neither side, or
	// Latest if not all of the sheet is warm by then. Its least and most are for a sheet
	// that absorbs more or less of the radiation.
	Ready     fit.Span
	Earliest  float64 // all of the sheet is above Window.Low; +Inf: never
	Latest    float64 // a face reaches Window.Up; +Inf: never
	Surface   float64 // °C, hottest face when ready
	Coldest   float64 // °C, coldest place when ready; the warmest it gets if never
	Lumped    float64 // s, the handbook's estimate: no loss, all absorbed, no inner difference
	Absorbed  fit.Span
	Chill     float64 // s after the heater is gone until a place falls below Window.Low
	Cooler    float64 // °C, hottest heater that leaves a window; 0 when this one does or none does
	Reached   float64 // °C, of the coldest place at the end of Longest, or when the other fields were known
	Longest   float64 // s, the time that was looked at
	Crosswise float64 // K, hottest less coldest when ready
}

// Even reports whether there is a time at which all of the sheet is in its window.
func (h Heating) Even() bool { return h.Earliest <= h.Latest && !math.IsInf(h.Earliest, 1) }

// The surfaces and the air.
const (
	heaterEmissivity = 0.9  // ceramic; from memory, confirm
	sheetEmissivity  = 0.95 // plastics 0.90 to 0.95; from memory, confirm
	stillAir         = 8.0  // W/(m² K), natural convection off a hot sheet; common practice, no source
)

// Absorbed is the share of the heater's radiation that a sheet of a gauge in
// mm takes up. Sources: thin sheet takes up 40 to 60 %, Throne, Technology of
// Thermoforming, 1996, sections 3.11 and 3.12; thin is up to 1.5 mm, and above
// 3 mm the surface is opaque, Throne's paper on radiant absorption. Between
// the two: a straight line, this program's own choice.
func Absorbed(gauge float64) fit.Span {
	const thin, heavy, least, spread = 1.5, 3.0, 0.5, 0.2
	a := least + (1-least)*min(max((gauge-thin)/(heavy-thin), 0), 1)
	return fit.Span{Nominal: a, Least: a * (1 - spread), Most: min(a*(1+spread), 1)}
}

const (
	sheetLayers = 24
	heatSteps   = 1500 // of one heating
	patience    = 12   // times the lumped estimate that is waited for
)

// Heat follows the sheet from room temperature under the heater. It takes up
// radiation on the heated sides, radiates to the room on the other, and loses
// heat to still air on both.
func Heat(s HeatSetup) Heating {
	absorbed := Absorbed(s.Gauge)
	h := s.heat(absorbed.Nominal)
	h.Absorbed = absorbed
	h.Ready.Least = s.heat(absorbed.Most).Ready.Nominal
	h.Ready.Most = s.heat(absorbed.Least).Ready.Nominal
	if !h.Even() {
		h.Cooler = s.cooler(absorbed.Nominal)
	}
	return h
}

// sides is 1 or 2.
func (s HeatSetup) sides() int {
	if s.TwoSided {
		return 2
	}
	return 1
}

// faces are the upper and the lower face under the heater, for a share of
// radiation absorbed; what absorbs less emits less (Kirchhoff's law).
func (s HeatSetup) faces(absorbed float64) (top, under face) {
	air := convective(stillAir, s.Room)
	hot := both(radiating(absorbed*Exchange(heaterEmissivity, sheetEmissivity), s.Heater), air)
	if s.TwoSided {
		return hot, hot
	}
	return hot, both(radiating(absorbed*sheetEmissivity, s.Room), air)
}

// stored is the heat, as a multiple of what warming alone takes, that the
// sheet needs up to its forming temperature.
func (s HeatSetup) stored() float64 {
	warming := s.Sheet.Cp * (s.Window.Core - s.Room)
	return (warming + s.Sheet.Melting) / warming
}

// heat is one heating.
func (s HeatSetup) heat(absorbed float64) Heating {
	top, under := s.faces(absorbed)
	b := newSlab(even(s.Sheet, s.Gauge, sheetLayers), top, under, s.Room)
	eff := Exchange(heaterEmissivity, sheetEmissivity)
	h := Heating{Earliest: math.Inf(1), Latest: math.Inf(1), Ready: fit.Fixed(math.Inf(1))}
	h.Lumped = LumpedTime(s.Sheet, s.Gauge, s.sides(), eff, s.Heater, s.Room, s.Window.Core)
	slow := LumpedTime(s.Sheet, s.Gauge, s.sides(), eff*absorbed, s.Heater, s.Room, min(s.Window.Core, 0.9*s.Heater))
	h.Longest = patience * slow * s.stored()
	dt := h.Longest / heatSteps
	was := reading{}
	var warm [][]float64 // the sheet after each step since Earliest
	for n := range heatSteps {
		b.step(dt)
		now := s.read(b)
		at := func(a, b, level float64) float64 { return (float64(n) + crossing(a, b, level)) * dt }
		if now.cold >= s.Window.Low && math.IsInf(h.Earliest, 1) {
			h.Earliest = at(was.cold, now.cold, s.Window.Low)
		}
		if !math.IsInf(h.Earliest, 1) {
			warm = append(warm, slices.Clone(b.t))
		}
		full := now.hot >= s.Window.Up
		if full && math.IsInf(h.Latest, 1) {
			h.Latest = at(was.hot, now.hot, s.Window.Up)
		}
		switch {
		case !math.IsInf(h.Ready.Nominal, 1):
		case now.core >= s.Window.Core && now.cold >= s.Window.Low && !full:
			h.Ready.Nominal = max(at(was.core, now.core, s.Window.Core), at(was.cold, now.cold, s.Window.Low))
			s.ready(&h, b.t)
		case full && h.Even():
			h.Ready.Nominal = (h.Earliest + h.Latest) / 2
			s.ready(&h, warm[len(warm)/2])
		case full:
			h.Ready.Nominal = h.Latest
			s.ready(&h, b.t)
		}
		if full && !math.IsInf(h.Earliest, 1) {
			break
		}
		was = now
	}
	h.Reached, _ = b.extremes()
	if math.IsInf(h.Ready.Nominal, 1) {
		h.Coldest = h.Reached
	}
	return h
}

// ready notes how warm the sheet is when it is to be formed.
func (s HeatSetup) ready(h *Heating, t []float64) {
	cold, hot := slices.Min(t), slices.Max(t)
	h.Surface, h.Coldest, h.Crosswise = hot, cold, hot-cold
	h.Chill = s.chill(t)
}

// reading is what counts of a sheet's temperatures.
type reading struct{ cold, core, hot float64 }

func (s HeatSetup) read(b *slab) reading {
	cold, hot := b.extremes()
	return reading{cold, (b.t[sheetLayers/2] + b.t[sheetLayers/2+1]) / 2, hot}
}

// crossing is where between a and b > a a level lies, held to 0 to 1.
func crossing(a, b, level float64) float64 {
	if b > a {
		return min(max((level-a)/(b-a), 0), 1)
	}
	return 1
}

// chill is how long the sheet stays formable with the heater taken away.
func (s HeatSetup) chill(t []float64) float64 {
	air := both(radiating(sheetEmissivity, s.Room), convective(stillAir, s.Room))
	b := newSlab(even(s.Sheet, s.Gauge, sheetLayers), air, air, s.Room)
	copy(b.t, t)
	const dt, most = 0.05, 2000
	for n := range most {
		if cold, _ := b.extremes(); cold < s.Window.Low {
			return float64(n) * dt
		}
		b.step(dt)
	}
	return most * dt
}

// cooler is the hottest heater, to 5 °C, that leaves a window; 0 if none does.
func (s HeatSetup) cooler(absorbed float64) float64 {
	const step = 5.0
	for s.Heater -= step; s.Heater > s.Window.Low; s.Heater -= step {
		if s.heat(absorbed).Even() {
			return s.Heater
		}
	}
	return 0
}
