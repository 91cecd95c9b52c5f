package check

import "buckwright/generate/forming"

func pullHard() Rule {
	const id = "pull-hard"
	return Rule{
		ID: id, Title: "two fingers can pull an item out",
		Limit: "45 N, its weight with it", Unit: Newton,
		Source: "friction and pressure of the liner at every place of the item; pull of a fingertip pinch, weaker adults: from memory, confirm",
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 45)
			return j.mapped(func(i int, name string, m *forming.LinerMap) []Finding {
				return most(Warn, Newton, "pull on "+name, m.Pull, limit,
					"lower liner.compression, use a softer liner.material, more pocket.draft, or notches wide enough for a hand (items[].notch[].width)")
			})
		},
	}
}
