package check

import "buckwright/generate/forming"

func turnedOver() Rule {
	const id = "turned-over"
	return Rule{
		ID: id, Title: "an item stays in its pocket when the open base is turned over",
		Limit: "2 times its weight", Unit: Times,
		Source: "friction and pressure of the liner at every place of the item; twice the weight is " + ownRule,
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 2)
			return j.mapped(func(_ int, name string, m *forming.LinerMap) []Finding {
				return least(Warn, Times, "liner's hold on "+name, m.HoldsG, limit,
					"it falls out of the open base (the closed lid's pads still hold it): more liner.compression, less pocket.draft or a deeper items[].depth would hold it, or open the base level")
			})
		},
	}
}
