package check

import "fmt"

func ventDrill() Rule {
	const id = "vent-drill"
	return Rule{
		ID: id, Title: "holes finer than the printer prints are drilled by hand",
		Limit: "printer.least_hole, mm", Unit: MM,
		Source: "the printer's own row, or the kit file",
		Key:    "buck.vent.diameter",
		Run: func(j *Job) []Finding {
			if !j.Dims.Buck.VentDrill {
				return nil
			}
			v := j.Dims.Buck.VentDia
			return least(Note, MM, fmt.Sprintf("%d vents of the buck", j.Layout.Vents), v, j.limit(id, j.Dims.Print.LeastHole),
				"drill "+MM.text(v)+" through the marked pilots before forming; or accept the larger mark of a larger buck.vent.diameter")
		},
	}
}
