package check

func insertLoose() Rule {
	const id = "insert-loose"
	return Rule{
		ID: id, Title: "felt round the skirt holds the insert in the base",
		Limit: "compression of 0 % over the RSS of the tolerances", Unit: Share,
		Source: "stack-up of the tolerances, RSS",
		Key:    "liner.wrap",
		Run: func(j *Job) []Finding {
			r, ok := j.Dims.Row("insert.compression.rss")
			if !ok {
				return nil
			}
			return least(Warn, Share, "felt between skirt and base, loose end", r.Least, j.limit(id, 0),
				"glue the floors to their pads, and give measured values: liner.tolerance, printer.tolerance, sheet.shrink")
		},
	}
}
