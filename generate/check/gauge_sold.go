package check

func gaugeSold() Rule {
	const id = "gauge-sold"
	return Rule{
		ID: id, Title: "the sheet can be bought in this gauge",
		Limit: "the span of gauges in the sheet's row, mm; a limit of your own replaces the thickest", Unit: MM,
		Source: sheetRow,
		Key:    "sheet.gauge",
		Run: func(j *Job) []Finding {
			g, sold := j.Kit.Sheet.Gauge, j.Sheet.Gauges
			thick := j.limit(id, sold.Most)
			where := j.Sheet.Title + " sheet"
			fix := "choose a sheet.gauge between " + MM.text(sold.Least) + " and " + MM.text(thick) + ", or another sheet.material"
			return append(least(Warn, MM, where, g, min(sold.Least, thick), fix), most(Warn, MM, where, g, thick, fix)...)
		},
	}
}
