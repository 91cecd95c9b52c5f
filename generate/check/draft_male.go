package check

// noDraft is the lowest male draft that any shop guide prints, in degrees.
const noDraft = 1.5

func draftMale() Rule {
	const id = "draft-male"
	return Rule{
		ID: id, Title: "the outer wall needs taper, or the cooling insert grips the buck",
		Limit: "the least male draft in the sheet's row, °; below 1.5° stop", Unit: Degree,
		Source: "2 to 3° glassy, over 5° crystalline: " + spe + "; row of the sheet table; no shop guide goes below 1.5°",
		Key:    "insert.draft",
		Run: func(j *Job) []Finding {
			v, want := j.Kit.Insert.Draft, j.limit(id, j.Sheet.MaleDraft)
			return least(pick(v < min(want, noDraft), Stop, Warn), Degree, "insert's skirt on the buck", v, want,
				"raise insert.draft to "+Degree.text(want)+" or more")
		},
	}
}
