package check

import (
	"fmt"

	"buckwright/generate/forming"
)

func linerPinch() Rule {
	const id = "liner-pinch"
	return Rule{
		ID: id, Title: "no place of an item presses the liner more than it works at",
		Limit: "the most working compression in the liner's row, %", Unit: Share,
		Source: "gap from item to formed sheet at every place; row of the liner table",
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.Liner.Most)
			return j.mapped(func(i int, name string, m *forming.LinerMap) []Finding {
				return most(Warn, Share, fmt.Sprintf("liner of %s %s, %.0f mm below the rim, over %s of the item", name, at(m.At), -m.At.Z, MM2.text(m.Tight)),
					m.Tightest, limit, "the sheet stays thick or off the buck there: "+j.advise(id, i, "lower liner.compression", j.byCompression(false), j.byDraft(true))+
						"; a thinner sheet.gauge errs by less")
			})
		},
	}
}
