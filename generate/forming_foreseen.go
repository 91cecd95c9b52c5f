package generate

import (
	"math"
	"slices"

	"buckwright/generate/check"
	"buckwright/generate/forming"
)

const (
	heatSource  = "heat across sheet and buck by finite volumes, package forming"
	flowSource  = "flow through holes, NACA Report 1135, 1953; the air stays at room temperature"
	linerSource = "gap from item to formed sheet at every place, the liner's law"
)

// foreseen lists heating, air and liners in report order. What has no end is
// left to the findings.
func (r *Result) foreseen() []Predicted {
	var out []Predicted
	if r.Heat != nil {
		out = append(out, heatTold(r.Heat)...)
	}
	if r.Shots != nil {
		out = append(out, shotsTold(r.Shots)...)
	}
	for _, a := range r.Air {
		out = append(out, airTold(a)...)
	}
	for i, m := range r.Liners {
		out = append(out, linerTold(r.Kit.Items[i].Name, m)...)
	}
	return slices.DeleteFunc(out, func(p Predicted) bool { return math.IsInf(p.Value, 0) || math.IsNaN(p.Value) })
}

func heatTold(h *forming.Heating) []Predicted {
	told := func(name string, v float64, unit string) Predicted {
		return Predicted{Name: name, Where: "sheet", Value: v, Unit: unit, Source: heatSource}
	}
	return []Predicted{
		told("heating, to start from", h.Ready.Nominal, "s"),
		told("heating, all warm enough after", h.Earliest, "s"),
		told("heating, too hot after", h.Latest, "s"),
		told("hot face less cold face when ready", h.Crosswise, "K"),
		told("formable after the heater for", h.Chill, "s"),
	}
}

func shotsTold(s *forming.Run) []Predicted {
	told := func(name string, v float64, unit string) Predicted {
		return Predicted{Name: name, Where: "buck", Value: v, Unit: unit, Source: heatSource}
	}
	return []Predicted{
		told("skin under the first sheet", s.Skin[0], "°C"),
		told("skin over the run, hottest", s.Peak(), "°C"),
		told("sheet on the buck until set, longest", s.Longest(), "s"),
		told("least pause between sheets, no margin", s.Pause, "s"),
	}
}

func airTold(a check.AirFact) []Predicted {
	return []Predicted{
		{Name: "vents", Where: a.Pocket, Value: float64(a.Holes), Source: flowSource},
		{Name: "time until the sheet feels 90 % of the vacuum", Where: a.Pocket, Value: a.Time, Unit: "s", Source: flowSource},
	}
}

func linerTold(item string, m *forming.LinerMap) []Predicted {
	told := func(name string, v float64, unit string) Predicted {
		return Predicted{Name: name, Where: item, Value: v, Unit: unit, Source: linerSource}
	}
	tightest := told("liner's largest compression", 100*m.Tightest, "%")
	tightest.At = &m.At
	return []Predicted{
		told("liner presses on its sides with, in all", m.Grip, "N"),
		told("push until home", m.Push, "N"),
		told("rests higher than drawn by", m.Rest, "mm"),
		told("pull to take out", m.Pull, "N"),
		told("held upside down, times its weight", m.HoldsG, ""),
		told("liner touches up to, mean round it", m.Band, "mm"),
		tightest,
	}
}
