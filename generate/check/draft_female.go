package check

func draftFemale() Rule {
	const id = "draft-female"
	return Rule{
		ID: id, Title: "pockets need taper to let the insert go",
		Limit: "the least female draft in the sheet's row, °", Unit: Degree,
		Source: "0 to 2°, mostly 1/2 to 1: " + spe + "; row of the sheet table",
		Key:    "pocket.draft",
		Run: func(j *Job) []Finding {
			want := j.limit(id, j.Sheet.FemaleDraft)
			return least(Warn, Degree, "pocket walls", j.Kit.Pocket.Draft, want, "raise pocket.draft to "+Degree.text(want)+" or more")
		},
	}
}
