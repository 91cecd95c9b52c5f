package generate

import "buckwright/generate/forming"

// room is the temperature, °C, that sheet and buck start from.
const room = 20.0

func (r *Result) sheetSubstance() forming.Substance {
	s := r.sheet
	out := forming.Substance{K: s.K.Mid(), Density: s.Density, Cp: s.Cp.Most, Melting: s.Melting * 1000}
	if s.Melts != nil {
		out.Melts = [2]float64{s.Melts.Least, s.Melts.Most}
	}
	return out
}

// heating is how the kit's sheet warms up under its former's heater.
func (r *Result) heating() forming.Heating {
	s, f := r.sheet, r.Kit.Former
	return forming.Heat(forming.HeatSetup{
		Sheet: r.sheetSubstance(), Gauge: r.Dims.Insert.Gauge,
		Window: forming.Window{Set: s.Set, Low: s.Low, Core: s.Core, Up: s.Up},
		Heater: f.Heater, TwoSided: f.TwoSided, Room: room,
	})
}
