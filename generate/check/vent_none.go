package check

func ventNone() Rule {
	const id = "vent-none"
	return Rule{
		ID: id, Title: "trapped air leaves through vents",
		Limit: "1 hole; many more are usual", Unit: Holes,
		Source: "a hole at every corner and lowest point: machine maker's newsletter, 2022",
		Key:    "buck.vent.forbid",
		Run: func(j *Job) []Finding {
			return least(Stop, Holes, "buck", float64(j.Layout.Vents), j.limit(id, 1),
				"take out buck.vent.forbid circles, or add places to buck.vent.pin: no pocket fills while air is under the sheet")
		},
	}
}
