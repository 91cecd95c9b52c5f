package check

func slipJam() Rule {
	const id = "slip-jam"
	return Rule{
		ID: id, Title: "the lid goes on",
		Limit: "chance of 1 %; over 10 % stop", Unit: Share,
		Source: "normal distribution with the face tolerance at three standard deviations; the 1 % is " + ownRule,
		Key:    "shell.slip.least",
		Run: func(j *Job) []Finding {
			r, ok := j.Dims.Row("slip.jam")
			if !ok {
				return nil
			}
			limit := j.limit(id, 0.01)
			return most(pick(r.Nominal > 10*limit, Stop, Warn), Share, "lid on the neck, chance of a jam", r.Nominal, limit,
				"raise shell.slip.least by "+MM.text(j.Dims.Print.Tp)+", use shell.slip.stack: worst, or calibrate the printer (`buckwright coupon`)")
		},
	}
}
