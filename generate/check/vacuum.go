package check

func vacuum() Rule {
	const id = "vacuum"
	return Rule{
		ID: id, Title: "the pump pulls what this sheet needs",
		Limit: "the least vacuum in the sheet's row, kPa", Unit: KPa,
		Source: sheetRow,
		Key:    "former.vacuum",
		Run: func(j *Job) []Finding {
			return least(Warn, KPa, "former with "+j.Sheet.Title, j.Kit.Former.Vacuum, j.limit(id, j.Sheet.LeastVacuum),
				"mend leaks and measure former.vacuum again at your height above the sea, or form a sheet.material that asks for less")
		},
	}
}
