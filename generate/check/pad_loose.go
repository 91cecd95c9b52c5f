package check

func padLoose() Rule {
	const id = "pad-loose"
	return Rule{
		ID: id, Title: "every pad still presses when everything errs towards loose",
		Limit: "compression of 0 %: warn at the RSS of the tolerances, note at the worst case, stop as drawn", Unit: Share,
		Source: "stack-up of the tolerances, worst case and RSS",
		Key:    "lid_liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 0)
			var out []Finding
			for _, it := range j.Dims.Items {
				if it.PadArea > 0 {
					out = append(out, ofPad(j, it).tooLoose(limit, "the item can rattle under the lid")...)
				}
			}
			return out
		},
	}
}
