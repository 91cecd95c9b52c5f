package check

import "fmt"

func undercut() Rule {
	const id = "undercut"
	return Rule{
		ID: id, Title: "the pocket is upright above an item's widest line and does not hold it there",
		Limit: "2 mm between item and pocket, on average over the overhang's plan", Unit: MM,
		Source: ownRule,
		Key:    "items[].depth",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 2)
			var out []Finding
			for i, it := range j.Items {
				if it.UndercutArea == 0 {
					continue
				}
				out = append(out, onItem(i, "depth", most(Note, MM, it.Name+" above its widest line", it.UndercutVolume/it.UndercutArea, limit,
					fmt.Sprintf("the liner meets %s only up to its widest line: sink it less (items[%d].depth) or turn it over if it should be held higher up", it.Name, i)))...)
			}
			return out
		},
	}
}
