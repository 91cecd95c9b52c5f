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

// foreseen lists heating, air and liners in report order. What is never reached is
// left to the findings.
func (r *Result) foreseen() []Predicted {
	var out []Predicted
	if r.Heat != nil {
		out = append(out, heatResults(r.Heat)...)
	}
	if r.Shots != nil {
		out = append(out, shotResults(r.Shots)...)
	}
	for _, a := range r.Air {
		out = append(out, airResults(a)...)
	}
	for i, m := range r.Liners {
		out = append(out, linerResults(r.Kit.Items[i].Name, m)...)
	}
	return slices.DeleteFunc(out, func(p Predicted) bool { return math.IsInf(p.Value, 0) || math.IsNaN(p.Value) })
}

// predictedAt makes the predictions for one place that have one source.
func predictedAt(where, source string) func(name string, v float64, unit string) Predicted {
	return func(name string, v float64, unit string) Predicted {
		return Predicted{Name: name, Where: where, Value: v, Unit: unit, Source: source}
	}
}

func heatResults(h *forming.Heating) []Predicted {
	row := predictedAt("sheet", heatSource)
	return []Predicted{
		row("heating, to start from", h.Ready.Nominal, "s"),
		row("heating, all warm enough after", h.Earliest, "s"),
		row("heating, too hot after", h.Latest, "s"),
		row("hot face less cold face when ready", h.Crosswise, "K"),
		row("formable after the heater for", h.Chill, "s"),
	}
}

func shotResults(s *forming.Run) []Predicted {
	row := predictedAt("buck", heatSource)
	return []Predicted{
		row("skin under the first sheet", s.Skin[0], "°C"),
		row("skin over the run, hottest", s.Peak(), "°C"),
		row("sheet on the buck until set, longest", s.Longest(), "s"),
		row("least pause between sheets, no margin", s.Pause, "s"),
	}
}

func airResults(a check.AirFact) []Predicted {
	return []Predicted{
		{Name: "vents", Where: a.Pocket, Value: float64(a.Holes), Source: flowSource},
		{Name: "time until the sheet feels 90 % of the vacuum", Where: a.Pocket, Value: a.Time, Unit: "s", Source: flowSource},
	}
}

func linerResults(item string, m *forming.LinerMap) []Predicted {
	row := predictedAt(item, linerSource)
	tightest := row("liner's largest compression", 100*m.Tightest, "%")
	tightest.At = &m.At
	return []Predicted{
		row("liner presses on its sides with, in all", m.Grip, "N"),
		row("push until home", m.Push, "N"),
		row("rests higher than drawn by", m.Rest, "mm"),
		row("pull to take out", m.Pull, "N"),
		row("held upside down, times its weight", m.HoldsG, ""),
		row("liner touches up to, mean round it", m.Band, "mm"),
		tightest,
	}
}
