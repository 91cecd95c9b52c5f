package check

func buckInfill() Rule {
	const id = "buck-infill"
	return Rule{
		ID: id, Title: "the buck carries the air's pressure without caving in",
		Limit: "15 % infill", Unit: Share,
		Source: "printed tools at 15 % infill, used as printed: " + cp,
		Key:    "printer.infill",
		Run: func(j *Job) []Finding {
			foot := j.Layout.BuckFoot
			force := j.Kit.Former.Vacuum / 1000 * 4 * foot[0] * foot[1]
			return least(Warn, Share, "buck", j.Kit.Printer.Infill, j.limit(id, 0.15),
				"up to "+Newton.text(force)+" press on it while hot: raise printer.infill, or slice the buck alone with more walls and a thicker skin")
		},
	}
}
