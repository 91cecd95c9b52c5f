package check

func lidCloses() Rule {
	const id = "lid-closes"
	return Rule{
		ID: id, Title: "the lid closes over every item",
		Limit: "0.2 mm between item and lid or pad boss", Unit: MM,
		Source: ownRule,
		Key:    "lid_liner.thickness",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 0.2)
			var out []Finding
			for i, it := range j.Dims.Items {
				under := pick(it.PadArea > 0, it.PadZ, j.Dims.Lid.Ceiling)
				out = append(out, onItem(i, "depth", least(Stop, MM, "lid over "+it.Name, under-(it.Height-it.Depth), limit,
					"use a thicker lid_liner.thickness, or sink "+it.Name+" deeper"))...)
			}
			return out
		},
	}
}
