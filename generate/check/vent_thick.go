package check

import (
	"math"

	"buckwright/generate/forming"
)

// leastVent is the finest vent that a kit may ask for, mm; advice goes in
// steps of ventStep, as drills are sold.
const (
	leastVent = 0.2
	ventStep  = 0.1
)

// ventFix is what to do about vents wider than a limit, mm.
func ventFix(j *Job, limit float64) string {
	const look = "look at the first insert for nipples over the vents; "
	safe := math.Floor(limit/ventStep+1e-9) * ventStep
	if safe < leastVent-1e-9 {
		return look + "no buck.vent.diameter is as fine as this sheet is thin: take a thicker sheet.gauge if they show"
	}
	fix := look + "a buck.vent.diameter of " + MM.text(safe) + " is safe, and more of them let the air out as fast"
	if safe < j.Dims.Print.LeastHole {
		fix += "; finer than printer.least_hole, " + MM.text(j.Dims.Print.LeastHole) + ", they are drilled by hand"
	}
	return fix
}

func ventThick() Rule {
	const id = "vent-thick"
	return Rule{
		ID: id, Title: "a vent is no wider than the sheet over it is thick",
		Limit: "the formed thickness of the thinnest pocket floor, mm", Unit: MM,
		Source: "vent diameter up to the local formed thickness: " + cp,
		Key:    "buck.vent.diameter",
		Run: func(j *Job) []Finding {
			thick := j.Dims.Insert.WallThin
			if f, ok := thinFloor(j.Forming); ok {
				thick = f
			}
			if !(thick > 0) {
				return nil
			}
			limit := j.limit(id, thick)
			return most(Note, MM, "vents under the thinnest floor", j.Dims.Buck.VentDia, limit, ventFix(j, limit))
		},
	}
}

// thinFloor is the mean thickness of the thinnest pocket's floor.
func thinFloor(f *forming.Formed) (float64, bool) {
	if f == nil {
		return 0, false
	}
	thin, ok := 0.0, false
	for _, s := range f.Stats {
		if s.Zone == forming.Floor && (!ok || s.Mean < thin) {
			thin, ok = s.Mean, true
		}
	}
	return thin, ok
}
