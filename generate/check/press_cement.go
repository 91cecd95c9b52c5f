package check

import "buckwright/generate/fit"

func pressCement() Rule {
	const id = "press-cement"
	return Rule{
		ID: id, Title: "the cement is pressed as hard as it wants",
		Limit: "liner.press, or 50 kPa, kPa", Unit: KPa,
		Source: "50 kPa for a contact cement, and 200 N of hand on the largest plug: " + cp,
		Key:    "liner.press",
		Run: func(j *Job) []Finding {
			want, s := fit.UsualPress, Note
			if p := j.Kit.Liner.Press; p != nil {
				want, s = *p, Warn
			}
			return least(s, KPa, "felt under the largest plug, by hand", j.Dims.Press.Pressure, j.limit(id, want),
				"keep weights or clamps on the press tool until the cement holds, or roll the felt down by hand afterwards; if your cement's maker asks for less, give liner.press")
		},
	}
}
