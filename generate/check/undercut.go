package check

import "fmt"

func undercut() Rule {
	const id = "undercut"
	return Rule{
		ID: id, Title: "the pocket is upright above an item's widest line and does not hold it there",
		Limit: "400 mm² of the item's surface, a fingertip's", Unit: MM2,
		Source: ownRule,
		Key:    "items[].depth",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 400)
			var out []Finding
			for i, it := range j.Items {
				fix := fmt.Sprintf("the liner does not meet %s there: sink it less (items[%d].depth) or turn it over if it should be held higher up", it.Name, i)
				out = append(out, onItem(i, "depth", most(Note, MM2, it.Name+", surface below the rim that looks up", it.UndercutArea, limit, fix))...)
			}
			return out
		},
	}
}
