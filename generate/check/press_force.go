package check

func pressForce() Rule {
	const id = "press-force"
	return Rule{
		ID: id, Title: "one plug can be pressed by hand",
		Limit: "300 N a plug; note when only a thick felt asks for more", Unit: Newton,
		Source: "200 N is what a hand gives, " + cp + "; the margin to 300 is " + ownRule,
		Key:    "liner.press",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 300)
			var out []Finding
			for _, it := range j.Dims.Items {
				v, s, where := it.PlugForce.Nominal, Stop, "plug of "+it.Name
				if v <= limit {
					v, s, where = it.PlugForce.Most, Note, where+", on felt at the thick end"
				}
				out = append(out, most(s, Newton, where, v, limit,
					pick(s == Stop, "lower liner.press, use a softer or thinner felt, or press in a vice between boards",
						"the plug may stop short of its seat by hand: measure your felt and give liner.tolerance, or clamp it between boards"))...)
			}
			return out
		},
	}
}
