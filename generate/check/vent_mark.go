package check

import (
	"fmt"
	"math"

	"buckwright/generate/fit"
)

// unmarked is the largest vent, to 0.05 mm, whose dimple stays below a limit;
// 0 when none of 0.2 mm or more does.
func unmarked(j *Job, limit float64) float64 {
	for n := math.Floor(j.Dims.Buck.VentDia / 0.05); n >= 4; n-- {
		if fit.Dimple(n*0.05, j.Dims.Insert.WallThin, j.Kit.Former.Vacuum, j.Sheet.Mu.Least) <= limit {
			return n * 0.05
		}
	}
	return 0
}

func ventMark() Rule {
	const id = "vent-mark"
	return Rule{
		ID: id, Title: "a vent leaves no mark that can be felt",
		Limit: "0.1 mm high", Unit: MM,
		Source: "membrane cap over the hole, derived; its pole is Hill's bulge test, 1950; the 0.1 mm is " + ownRule + "; the softness of hot sheet is known to an order of magnitude",
		Key:    "buck.vent.diameter",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 0.1)
			fix := "finer vents do not help: use a thicker sheet.gauge"
			if d := unmarked(j, limit); d > 0 {
				fix = "set buck.vent.diameter to " + MM.text(d) + pick(d < j.Dims.Print.LeastHole, "; the printer leaves pilot marks and you drill them", "")
			}
			return most(Note, MM, fmt.Sprintf("marks of the %s vents", MM.text(j.Dims.Buck.VentDia)), j.Dims.Buck.Dimple, limit, fix)
		},
	}
}
