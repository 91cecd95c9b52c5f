package check

import "buckwright/generate/forming"

func pullEasy() Rule {
	const id = "pull-easy"
	return Rule{
		ID: id, Title: "an item can be felt to sit in its pocket",
		Limit: "1 N beyond its weight", Unit: Newton,
		Source: "friction and pressure of the liner at every place of the item; 1 N is " + ownRule,
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 1)
			return j.mapped(func(_ int, name string, m *forming.LinerMap) []Finding {
				return least(Note, Newton, "pull on "+name, m.Hold, limit,
					"it lies loose rather than sits: more liner.compression or less pocket.draft makes the liner grip")
			})
		},
	}
}
