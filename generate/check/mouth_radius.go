package check

func mouthRadius() Rule {
	const id = "mouth-radius"
	return Rule{
		ID: id, Title: "the mouth of a pocket is round enough for the gauge",
		Limit: "1 times the gauge, mm", Unit: MM,
		Source: "radius of at least the starting gauge on the tool's side: shop guide",
		Key:    "pocket.mouth_radius",
		Run: func(j *Job) []Finding {
			want := j.limit(id, j.Kit.Sheet.Gauge)
			return least(Warn, MM, "mouths of the pockets", j.Kit.Pocket.MouthRadius, want, "raise pocket.mouth_radius to "+MM.text(want)+" or more")
		},
	}
}
