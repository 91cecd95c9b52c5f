package check

func insertCrush() Rule {
	const id = "insert-crush"
	return Rule{
		ID: id, Title: "the insert can be pushed into the base",
		Limit: "the most working compression in the liner's row, % over the RSS of the tolerances", Unit: Share,
		Source: "row of the liner table; stack-up of the tolerances, RSS",
		Key:    "liner.wrap",
		Run: func(j *Job) []Finding {
			r, ok := j.Dims.Row("insert.compression.rss")
			if !ok {
				return nil
			}
			fix := "end the felt at the rim (liner.wrap: rim), or give measured values: liner.tolerance, printer.tolerance, sheet.shrink"
			if f, ok := j.Dims.Row("force.insert"); ok {
				fix = "pushing it in may take " + Newton.text(f.Most) + ": " + fix
			}
			return most(Warn, Share, "felt between skirt and base, tight end", r.Most, j.limit(id, j.Liner.Most), fix)
		},
	}
}
