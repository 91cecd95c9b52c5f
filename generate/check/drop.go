package check

import "buckwright/generate/fit"

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

func drop() Rule {
	return Rule{
		ID: "drop", Title: "a thin liner does not protect against a drop",
		Limit:  "none: told for every kit of less than 68 kg",
		Source: "least deceleration h/d of an ideal cushion, an energy balance; drop heights: ISTA 1A",
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
				"no less than "+Shock.text(shock),
				"the liner keeps things from scuffing and rattling; leave drops to an outer carton and its cushion")
			f.Number = shock
			return []Finding{f}
		},
	}
}
