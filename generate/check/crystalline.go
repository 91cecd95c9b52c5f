package check

import "fmt"

func crystalline() Rule {
	return Rule{
		ID: "crystalline", Title: "a crystalline sheet forms in a narrow window",
		Limit:  "none: every crystalline sheet is named",
		Source: "forming windows: row of the sheet table; shrinkage spread: two moulding reference tables",
		Key:    "sheet.material",
		Run: func(j *Job) []Finding {
			if !j.Sheet.Crystalline {
				return nil
			}
			s := j.Sheet
			return []Finding{told(Note, s.Title+" sheet",
				fmt.Sprintf("forms at %.0f to %.0f °C, shrinks %s to %s", s.Orient, s.Up, Share.text(s.Shrink.Least), Share.text(s.Shrink.Most)),
				"form one sheet, measure it a day later and put what it shrank into sheet.shrink; a glassy sheet (abs, petg) is easier to begin with")}
		},
	}
}
