package check

func freeEdge() Rule {
	const id = "free-edge"
	return Rule{
		ID: id, Title: "no ceiling that is held at one end only stands out farther than a printer lays it",
		Limit: "3.3 mm", Unit: MM,
		Source: "a third of what it bridges between two ends: " + cp,
		Key:    "printer.layer",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 3.3)
			var out []Finding
			for _, p := range j.Parts {
				out = append(out, most(Warn, MM, p.Name, p.FreeEdge, limit, bridgeFix)...)
			}
			return out
		},
	}
}
