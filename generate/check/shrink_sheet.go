package check

// long is half the insert's longer side, mm.
func long(j *Job) float64 { return max(j.Layout.Half[0], j.Layout.Half[1]) }

// play is what the fit of the insert in the base takes up, mm a side: the
// clearance round a bare skirt, the squeeze of the felt round a lined one.
func play(j *Job) float64 {
	if r, ok := j.Dims.Row("insert.compression"); ok {
		return r.Nominal * j.Kit.Liner.Thickness
	}
	return j.Dims.Base.InsertGap
}

func shrinkSheet() Rule {
	const id = "shrink-sheet"
	return Rule{
		ID: id, Title: "what is not known about the sheet's shrinkage fits in the base",
		Limit: "the play of the insert in the base, or the squeeze of the felt round it, mm a side", Unit: MM,
		Source: "spread of the shrinkage: row of the sheet table; both halves shrink towards the middle",
		Key:    "sheet.shrink",
		Run: func(j *Job) []Finding {
			s := j.Dims.Shrink
			spread := long(j) * (s.Most - s.Least) / 2
			return most(Warn, MM, "skirt of the insert in the base, each side", spread, j.limit(id, play(j)),
				"form one insert, measure its length a day later and give sheet.shrink as one number")
		},
	}
}
