package check

import "buckwright/generate/forming"

// leastPull is a hold, N, that a hand feels.
const leastPull = 1.0

func pullEasy() Rule {
	const id = "pull-easy"
	return Rule{
		ID: id, Title: "an item can be felt to sit in its pocket",
		Limit: "1 N beyond its weight", Unit: Newton,
		Source: "friction and pressure of the liner at every place of the item; 1 N is " + ownRule,
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, leastPull)
			return j.mapped(func(i int, name string, m *forming.LinerMap) []Finding {
				return least(Note, Newton, "pull on "+name+" beyond its weight", m.Hold, limit,
					"it lies loose rather than sits: "+
						j.advise(id, i, "more liner.compression or less pocket.draft makes the liner hold it", j.byCompression(true), j.byDraft(false)))
			})
		},
	}
}
