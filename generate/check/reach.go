package check

import "fmt"

func reach() Rule {
	const id = "reach"
	return Rule{
		ID: id, Title: "a finger can take the item out",
		Limit: "8 mm above the rim, or a notch", Unit: MM,
		Source: "the pad of a finger wants 10 to 15 mm: " + cp + "; 8 is " + ownRule,
		Key:    "items[].notch",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 8)
			var out []Finding
			for i, it := range j.Items {
				if it.HasNotch {
					continue
				}
				out = append(out, onItem(i, "notch", least(Warn, MM, it.Name+" above the rim", it.ProudOfRim, limit,
					fmt.Sprintf("give it a finger notch (items[%d].notch: [front, back]), or sink it less", i)))...)
			}
			return out
		},
	}
}
