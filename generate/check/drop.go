package check

import (
	"math"

	"buckwright/generate/fit"
)

// ista1A is the drop height, mm, for a package of up to a mass in kg.
// Source: ISTA 1A, as three independent reprints give it.
var ista1A = [...]struct{ mass, height float64 }{{10, 760}, {19, 610}, {28, 460}, {45, 310}, {68, 200}}

// dropHeight is the drop height, mm, for a mass in grams; false beyond the table.
func dropHeight(mass float64) (float64, bool) {
	for _, row := range ista1A {
		if mass/1000 < row.mass {
			return row.height, true
		}
	}
	return 0, false
}

// hardest is the item that lands hardest when all fall from a height, mm, and
// its deceleration, G: infinite when it goes through the liner. "" without a mass or a law.
func (j *Job) hardest(height float64) (name string, shock float64) {
	for _, it := range j.Dims.Items {
		if !(it.Mass > 0 && it.PlugArea > 0 && j.Dims.Liner.P > 0) {
			continue
		}
		if _, s := j.Dims.Liner.Landing(height, it.Mass, it.PlugArea, j.Kit.Liner.Thickness); s > shock {
			name, shock = it.Name, s
		}
	}
	return name, shock
}

// landing says how hard the hardest lands.
func (j *Job) landing(height float64) string {
	name, shock := j.hardest(height)
	switch {
	case name == "":
		return ""
	case math.IsInf(shock, 1):
		return "; " + name + " goes through this liner"
	}
	return "; " + name + ", flat on this liner, about " + Shock.text(twoFigures(shock))
}

// twoFigures rounds to what a liner's law from a table is good for.
func twoFigures(v float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Round(v/unit) * unit
}

func drop() Rule {
	return Rule{
		ID: "drop", Title: "a thin liner does not protect against a drop",
		Limit:  "none: told for every kit of less than 68 kg",
		Source: "least deceleration h/d of an ideal cushion; the liner's own law in an energy balance without damping; drop heights: ISTA 1A",
		Key:    "liner.thickness",
		Run: func(j *Job) []Finding {
			mass := 0.0
			for _, it := range j.Dims.Items {
				mass += it.Mass
			}
			height, ok := dropHeight(mass)
			tf := j.Kit.Liner.Thickness
			if !ok || !(tf > 0) {
				return nil
			}
			shock := fit.LeastShock(height, tf)
			f := told(Note, "items of "+Kilo.text(mass/1000)+" on "+MM.text(tf)+" of liner, dropped from "+MM.text(height),
				"no less than "+Shock.text(shock)+j.landing(height),
				"the liner keeps things from scuffing and rattling; leave drops to an outer carton and its cushion")
			f.Number = shock
			return []Finding{f}
		},
	}
}
