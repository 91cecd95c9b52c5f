package check

import (
	"math"

	"buckwright/generate/fit"
)

// pressed is the force, N, on the press tool: its plugs stand on one plate and
// close together.
func pressed(items []fit.ItemDims) fit.Span {
	var f fit.Span
	for _, it := range items {
		f = f.Plus(it.PlugForce)
	}
	return f
}

func pressForce() Rule {
	const id = "press-force"
	return Rule{
		ID: id, Title: "the press tool can be pressed home by hand",
		Limit: "300 N on all plugs together; note when only a thick felt asks for more", Unit: Newton,
		Source: "200 N is what a hand gives easily, " + cp + "; the margin to 300 is " + ownRule,
		Key:    "liner.press",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 300)
			f := pressed(j.Dims.Items)
			v, s, where := f.Nominal, Stop, "all plugs of the press tool"
			if v <= limit {
				v, s, where = f.Most, Note, where+", on felt at the thick end"
			}
			return most(s, Newton, where, v, limit,
				pick(s == Stop, "its plugs close together: a liner.press of about "+KPa.text(math.Floor(j.Dims.Press.Pressure*limit/v))+" does it, if the cement's maker allows so little; or use a softer felt, or press in a vice between boards",
					"the plugs may stop short of their seat by hand: measure your felt and give liner.tolerance, or clamp the tool between boards"))
		},
	}
}
