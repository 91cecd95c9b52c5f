package check

func linerCrush() Rule {
	const id = "liner-crush"
	return Rule{
		ID: id, Title: "the liner is not crushed when everything errs towards tight",
		Limit: "the most working compression in the liner's row, %: warn at the RSS of the tolerances, note at the worst case, stop as drawn", Unit: Share,
		Source: "row of the liner table; stack-up of the tolerances, worst case and RSS",
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.Liner.Most)
			var out []Finding
			for _, it := range j.Dims.Items {
				out = append(out, ofLiner(j, it).tooTight(limit, "the item is hard to push in and leaves its print")...)
			}
			return out
		},
	}
}
