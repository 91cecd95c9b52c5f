package check

func padCrush() Rule {
	const id = "pad-crush"
	return Rule{
		ID: id, Title: "no pad is crushed when everything errs towards tight",
		Limit: "the most working compression in the lid liner's row, %: warn at the RSS of the tolerances, note at the worst case, stop as drawn", Unit: Share,
		Source: "working compression up to 35 %: gasket maker; row of the liner table",
		Key:    "lid_liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.LidLiner.Most)
			var out []Finding
			for _, it := range j.Dims.Items {
				if it.PadArea > 0 {
					out = append(out, ofPad(j, it).tooTight(limit, "the sponge takes a set and may hold the lid up")...)
				}
			}
			return out
		},
	}
}
