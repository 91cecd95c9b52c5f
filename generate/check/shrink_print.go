package check

func shrinkPrint() Rule {
	const id = "shrink-print"
	return Rule{
		ID: id, Title: "the base comes out as large as it was drawn",
		Limit: "the play of the insert in the base, or the squeeze of the felt round it, mm a side", Unit: MM,
		Source: "shrinkage of prints: row of the print material table",
		Key:    "printer.scale",
		Run: func(j *Job) []Finding {
			if j.Kit.Given("printer.scale") {
				return nil
			}
			return most(Warn, MM, "base of "+j.Print.Title+" round the insert, short each side by up to",
				long(j)*j.Print.ShrinkScale.Most, j.limit(id, play(j)),
				"print the fit coupon's long bar, measure it and give printer.scale (printed length / drawn length)")
		},
	}
}
