package check

func dryFirst() Rule {
	return Rule{
		ID: "dry-first", Title: "a damp sheet blisters when it is heated",
		Limit:  "none: every sheet that takes up water is named",
		Source: sheetRow,
		Key:    "sheet.material",
		Run: func(j *Job) []Finding {
			if !j.Sheet.DryFirst {
				return nil
			}
			return []Finding{told(Note, j.Sheet.Title+" sheet", "must be dry",
				"dry the sheet as its maker says just before forming, or it comes out full of bubbles")}
		},
	}
}
