package check

import "fmt"

// onItem points findings at a key of item i.
func onItem(i int, key string, all []Finding) []Finding {
	for n := range all {
		all[n].Key = fmt.Sprintf("items[%d].%s", i, key)
	}
	return all
}

func pocketDepth() Rule {
	const id = "pocket-depth"
	return Rule{
		ID: id, Title: "a pocket drawn without a plug is not too deep for its width",
		Limit: "depth 0.75 times the smaller of length and width; over 1 times stop", Unit: Times,
		Source: "depth up to 0.75 x the smaller of length and width, H:D up to 1:1: two shop guides; Throne, Technology of Thermoforming, 1996, gives 0.5 to 1, from memory",
		Key:    "items[].depth",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 0.75)
			var out []Finding
			for i, it := range j.Items {
				ratio := it.PocketDepth / it.PocketWidth
				fix := fmt.Sprintf("sink %s less (items[%d].depth of %s or under), or use a thicker sheet.gauge and measure its corners",
					it.Name, i, MM.text(max(0, j.Dims.Items[i].Depth-(it.PocketDepth-limit*it.PocketWidth))))
				out = append(out, onItem(i, "depth", most(pick(ratio > limit/0.75, Stop, Warn), Times, "pocket of "+it.Name, ratio, limit, fix))...)
			}
			return out
		},
	}
}
