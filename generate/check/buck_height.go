package check

func buckHeight() Rule {
	const id = "buck-height"
	return Rule{
		ID: id, Title: "the buck fits under the sheet",
		Limit: "former.depth, mm", Unit: MM,
		Source: "the former's own sizes",
		Key:    "former.depth",
		Run: func(j *Job) []Finding {
			return most(Stop, MM, "buck", buckTall(j), j.limit(id, j.Dims.Former.Depth),
				"sink the items less (items[].depth), thin buck.floor, or use a former with more former.depth")
		},
	}
}
