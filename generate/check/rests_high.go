package check

import "buckwright/generate/forming"

// mostRest is how much higher than drawn an item may rest, mm.
const mostRest = 0.5

func restsHigh() Rule {
	const id = "rests-high"
	return Rule{
		ID: id, Title: "an item comes to rest as deep as it was drawn",
		Limit: "0.5 mm higher", Unit: MM,
		Source: "balance of the liner's pressure with friction, weight and pad at every place of the item; 0.5 mm is " + ownRule,
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, mostRest)
			return j.mapped(func(i int, name string, m *forming.LinerMap) []Finding {
				return most(Note, MM, name+", pushed home, above its drawn place", m.Rest, limit,
					"the sheet's floor or walls come out thick and hold it up, and its pad is squeezed by as much more: "+
						j.advise(id, i, "another liner.compression may let it down", j.byCompression(false), j.byCompression(true), j.byDraft(false), j.byDraft(true))+
						"; a thicker lid_liner.thickness feels it less")
			})
		},
	}
}
