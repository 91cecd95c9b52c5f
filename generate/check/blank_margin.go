package check

func blankMargin() Rule {
	const id = "blank-margin"
	return Rule{
		ID: id, Title: "enough free sheet between buck and clamp to draw from",
		Limit: "25 mm", Unit: MM,
		Source: "25 to 50 mm between clamp and mould edge: " + cp,
		Key:    "former.area",
		Run: func(j *Job) []Finding {
			at := blank(j)
			if at.margin < 0 { // blank-fits says so
				return nil
			}
			return least(Warn, MM, at.where(), at.margin, j.limit(id, 25),
				"take a former with a larger former.area, or cut insert.margin; else expect webs and thin skirts")
		},
	}
}
