package check

import "buckwright/generate/forming"

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
			return most(Note, MM, "vents under the thinnest floor", j.Dims.Buck.VentDia, limit,
				"look at the first insert for nipples over the vents; a buck.vent.diameter of "+MM.text(limit)+" is safe, and more of them let the air out as fast")
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
