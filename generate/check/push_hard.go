package check

import "buckwright/generate/forming"

// mostPush is the push, N, that is still no force.
const mostPush = 100.0

func pushHard() Rule {
	const id = "push-hard"
	return Rule{
		ID: id, Title: "an item can be pushed home without forcing it",
		Limit: "100 N", Unit: Newton,
		Source: "friction and pressure of the liner at every place of the item; 100 N, half of what a hand gives easily, is " + ownRule,
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, mostPush)
			return j.mapped(func(i int, name string, m *forming.LinerMap) []Finding {
				return most(Warn, Newton, "push on "+name+" until it is home", m.Push, limit,
					"it stops short and stands higher than drawn: "+
						j.advise(id, i, "lower liner.compression, or give more pocket.draft", j.byDraft(true), j.byCompression(false))+
						"; a softer liner.material lowers it too")
			})
		},
	}
}
