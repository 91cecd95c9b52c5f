package check

func ventMark() Rule {
	const id = "vent-mark"
	return Rule{
		ID: id, Title: "a vent leaves no mark that can be felt",
		Limit: "0.1 mm high", Unit: MM,
		Source: "membrane cap over the hole, derived; its pole is Hill's bulge test, 1950; 0.1 mm is " + ownRule + "; the softness of hot sheet is known to an order of magnitude",
		Key:    "buck.vent.diameter",
		Run: func(j *Job) []Finding {
			return most(Note, MM, "vents", j.Dims.Buck.Dimple, j.limit(id, 0.1),
				"take a smaller buck.vent.diameter, or leave it on auto; a printer that cannot print it leaves a pilot mark to drill")
		},
	}
}
