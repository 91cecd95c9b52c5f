package check

func padCrush() Rule {
	const id = "pad-crush"
	return Rule{
		ID: id, Title: "no pad is crushed when everything errs towards tight",
		Limit: "the most working compression in the lid liner's row, %: warn at RSS, note at the worst case, stop as drawn", Unit: Share,
		Source: "working compression up to 35 %: gasket maker; row of the liner table",
		Key:    "lid_liner.thickness",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.LidLiner.Most)
			var out []Finding
			for _, it := range j.Dims.Items {
				if it.PadArea > 0 {
					out = append(out, tooTight("pad over "+it.Name, it.Pad, limit,
						"the sponge takes a set or holds the lid up: use a thicker lid_liner.thickness, or less lid_liner.compression")...)
				}
			}
			return out
		},
	}
}
