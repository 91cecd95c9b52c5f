package check

func slipRattle() Rule {
	const id = "slip-rattle"
	return Rule{
		ID: id, Title: "the lid does not rattle on the neck",
		Limit: "chance of 10 % for more than 0.5 mm a side", Unit: Share,
		Source: "loose is 0.4 to 0.5 mm a side: print service's tolerance guide; the 10 % is " + ownRule,
		Key:    "shell.slip.least",
		Run: func(j *Job) []Finding {
			r, ok := j.Dims.Row("slip.rattle")
			if !ok {
				return nil
			}
			return most(Warn, Share, "lid on the neck, chance of a rattle", r.Nominal, j.limit(id, 0.1),
				"lower shell.slip.least, use shell.slip.stack: rss, or calibrate the printer (`buckwright coupon`)")
		},
	}
}
