package check

func linerLoose() Rule {
	const id = "liner-loose"
	return Rule{
		ID: id, Title: "the liner touches the item when everything errs towards loose",
		Limit: "compression of 0 %: warn at the RSS of the tolerances, note at the worst case, stop as drawn", Unit: Share,
		Source: "stack-up of the tolerances, worst case and RSS; felt thickness dominates: SAE and ASTM D2475 thickness tables",
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 0)
			var out []Finding
			for _, it := range j.Dims.Items {
				so := "the item can move in its pocket"
				if it.Built.Loose >= 0.0005 {
					so = "the felt misses a wall in " + Share.text(it.Built.Loose) + " of a run"
				}
				out = append(out, ofLiner(j, it).tooLoose(limit, so)...)
			}
			return out
		},
	}
}
