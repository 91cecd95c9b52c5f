package check

func rib() Rule {
	const id = "rib"
	return Rule{
		ID: id, Title: "the rib between two pockets is wide enough to form",
		Limit: "3 times the gauge, mm; under 2 times stop", Unit: MM,
		Source: "2 to 3 x the gauge: " + cp,
		Key:    "items[].at",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 3*j.Kit.Sheet.Gauge)
			v := j.Layout.LeastRib
			if v >= limit-measured {
				return nil
			}
			return least(pick(v < limit*2/3, Stop, Warn), MM, "flat rim between two pockets", v, limit,
				"move the items "+MM.text(limit-v)+" further apart (items[].at), or turn them so that the notches do not meet")
		},
	}
}
