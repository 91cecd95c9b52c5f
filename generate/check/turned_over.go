package check

import "buckwright/generate/forming"

// leastTurned is how many times its weight should hold an item.
const leastTurned = 2.0

func turnedOver() Rule {
	const id = "turned-over"
	return Rule{
		ID: id, Title: "an item stays in its pocket when the open base is turned over",
		Limit: "2 times its weight", Unit: Times,
		Source: "friction and pressure of the liner at every place of the item; twice the weight is " + ownRule,
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, leastTurned)
			return j.mapped(func(i int, name string, m *forming.LinerMap) []Finding {
				return least(Warn, Times, "liner's hold on "+name, m.HoldsG, limit,
					"it falls out of the open base (the closed lid's pads still hold it), so open the base level: "+
						j.advise(id, i, "more liner.compression or less pocket.draft holds it", j.byCompression(true), j.byDraft(false)))
			})
		},
	}
}
