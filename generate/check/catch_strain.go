package check

func catchStrain() Rule {
	const id = "catch-strain"
	return Rule{
		ID: id, Title: "the catch's tongues survive being opened often",
		Limit: "safe strain in the print material's row, %; warn when only the worst case passes it", Unit: Share,
		Source: "end-loaded cantilever, Roark; safe strain: row of the print material table",
		Key:    "closure.kind",
		Run: func(j *Job) []Finding {
			if j.Dims.Closure.Tongues == 0 {
				return nil
			}
			limit, v := j.limit(id, j.Print.SafeStrain), j.Dims.Closure.Strain
			strain, s, where := v.Nominal, Stop, "tongues of the lid"
			if strain <= limit {
				strain, s, where = v.Most, Warn, where+", worst case"
			}
			return most(s, Share, where, strain, limit,
				"they crack after some openings: thin shell.wall, lengthen shell.neck, print in a tougher printer.material, or use closure.kind: band")
		},
	}
}
