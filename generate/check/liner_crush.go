package check

import "buckwright/generate/fit"

// tooTight judges a compression that should stay below a limit, like tooLoose.
func tooTight(where string, b fit.Built, limit float64, fix string) []Finding {
	for _, c := range []struct {
		s    Severity
		v    float64
		what string
	}{{Stop, b.Worst.Nominal, "as drawn"}, {Warn, b.RSS.Most, "at the tight end, independent errors"}, {Note, b.Worst.Most, "at the tight end, worst case"}} {
		if f := most(c.s, Share, where+", "+c.what, c.v, limit, fix); f != nil {
			return f
		}
	}
	return nil
}

func linerCrush() Rule {
	const id = "liner-crush"
	return Rule{
		ID: id, Title: "the liner is not crushed when everything errs towards tight",
		Limit: "the most working compression in the liner's row, %: warn at RSS, note at the worst case, stop as drawn", Unit: Share,
		Source: "row of the liner table",
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.Liner.Most)
			var out []Finding
			for _, it := range j.Dims.Items {
				out = append(out, tooTight("liner of "+it.Name, it.Built, limit,
					"the item will be hard to push in and leaves a print: lower liner.compression, or use a thicker liner.thickness, which minds tolerances less")...)
			}
			return out
		},
	}
}
