package check

import "buckwright/generate/fit"

// tooLoose judges a compression that should stay above a limit: the first of
// as drawn, RSS and worst case that does not.
func tooLoose(where string, b fit.Built, limit float64, fix string) []Finding {
	for _, c := range []struct {
		s    Severity
		v    float64
		what string
	}{{Stop, b.Worst.Nominal, "as drawn"}, {Warn, b.RSS.Least, "at the loose end, independent errors"}, {Note, b.Worst.Least, "at the loose end, worst case"}} {
		if f := least(c.s, Share, where+", "+c.what, c.v, limit, fix); f != nil {
			return f
		}
	}
	return nil
}

func linerLoose() Rule {
	const id = "liner-loose"
	return Rule{
		ID: id, Title: "the liner touches the item when everything errs towards loose",
		Limit: "compression of 0 %: warn at the RSS of the tolerances, note at the worst case, stop as drawn", Unit: Share,
		Source: "stack-up of the tolerances, worst case and RSS; felt thickness dominates: SAE and ASTM D2475 thickness tables",
		Key:    "liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 0)
			var out []Finding
			for _, it := range j.Dims.Items {
				fix := "raise liner.compression; or measure your felt and give liner.tolerance, and your printer and give printer.tolerance"
				if it.Built.Loose > 0 {
					fix = "it may rattle in " + Share.text(it.Built.Loose) + " of the cases made: " + fix
				}
				out = append(out, tooLoose("liner of "+it.Name, it.Built, limit, fix)...)
			}
			return out
		},
	}
}
