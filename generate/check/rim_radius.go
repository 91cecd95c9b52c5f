package check

func rimRadius() Rule {
	const id = "rim-radius"
	return Rule{
		ID: id, Title: "the edge of the rim is round enough for the gauge",
		Limit: "1 times the gauge, mm", Unit: MM,
		Source: "radius of at least the starting gauge on the tool's side: shop guide",
		Key:    "insert.rim_radius",
		Run: func(j *Job) []Finding {
			want := j.limit(id, j.Kit.Sheet.Gauge)
			return least(Warn, MM, "outer edge of the rim", j.Kit.Insert.RimRadius, want, "raise insert.rim_radius to "+MM.text(want)+" or more")
		},
	}
}
