package check

func spacing() Rule {
	const id = "spacing"
	return Rule{
		ID: id, Title: "the rib between two pockets is as wide as the kit asks",
		Limit: "pocket.spacing, mm", Unit: MM,
		Source: "the kit file",
		Key:    "pocket.spacing",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.Kit.Pocket.Spacing)
			v := j.Layout.LeastRib
			if v >= limit-measured {
				return nil
			}
			return least(Warn, MM, "flat rim between two pockets", v, limit,
				"move the items "+MM.text(limit-v)+" further apart (items[].at), or ask for a smaller pocket.spacing")
		},
	}
}
