package check

import (
	"fmt"
	"math"
)

// usualHeating is the time, s, that the next sheet is heated for when it is not
// worked out; common practice, no source.
const usualHeating = 60.0

func buckRun() Rule {
	const id = "buck-run"
	return Rule{
		ID: id, Title: "the buck stays hard over a run of sheets without waiting for it",
		Limit: "the time that the next sheet is heated for, s", Unit: Second,
		Source: "heat flow across sheet and buck, by finite volumes; softening: row of the print material table",
		Key:    "buck.run",
		Run: func(j *Job) []Finding {
			if j.Run == nil || contactTemp(j) > j.Print.Softens() { // buck-heat says so
				return nil
			}
			limit := usualHeating
			if j.Heat != nil && !math.IsInf(j.Heat.Ready.Nominal, 1) {
				limit = j.Heat.Ready.Nominal
			}
			fix := "wait that long, which is the least and has no margin, between taking a sheet off and laying the next one on, blow on the buck, form fewer at a time (buck.run), or print it in a printer.material that stands more heat"
			if math.IsInf(j.Run.Pause, 1) {
				fix = "the thin skin is too warm after one sheet already: print the buck with more walls, or in a printer.material that stands more heat"
			}
			return most(Warn, Second, fmt.Sprintf("pause after each of %.0f sheets that keeps the skin below %s", j.Kit.Buck.Run, Celsius.text(j.Print.Softens())),
				j.Run.Pause, j.limit(id, limit), fix)
		},
	}
}
