package check

import "buckwright/generate/forming"

// mostPull is the pull of a fingertip pinch, N; weaker adults: from memory, confirm.
const mostPull = 45.0

func pullHard() Rule {
	const id = "pull-hard"
	return Rule{
		ID: id, Title: "two fingers can pull an item out",
		Limit: "45 N, its weight with it", Unit: Newton,
		Source: "friction and pressure of the liner at every place of the item; pull of a fingertip pinch, weaker adults: from memory, confirm",
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, mostPull)
			return j.mapped(func(i int, name string, m *forming.LinerMap) []Finding {
				return most(Warn, Newton, "pull on "+name+", its weight with it", m.Pull, limit,
					j.advise(id, i, "lower liner.compression, or give more pocket.draft", j.byDraft(true), j.byCompression(false))+
						"; a softer liner.material lowers it too, and notches wide enough for a hand (items[].notch[].width) give more than two fingers a hold")
			})
		},
	}
}
