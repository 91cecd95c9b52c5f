package check

import (
	"math"

	"buckwright/generate/fit"
)

// squeeze is one compression over its tolerances, and what the kit can do
// about it.
type squeeze struct {
	where string
	built fit.Built
	key   string  // that asks for the compression
	asked float64 // by that key
	most  float64 // the largest that the liner works at
	also  string  // what else would help
}

// ofLiner and ofPad are the squeezes of an item, from below and from above.
func ofLiner(j *Job, it fit.ItemDims) squeeze {
	return squeeze{
		"liner of " + it.Name, it.Built, "liner.compression", j.Kit.Liner.Compression, j.Liner.Most,
		"take a thicker liner.thickness, or measure your felt and printer and give liner.tolerance and printer.tolerance",
	}
}

func ofPad(j *Job, it fit.ItemDims) squeeze {
	return squeeze{
		"pad over " + it.Name, it.Pad, "lid_liner.compression", j.Kit.LidLiner.Compression, j.LidLiner.Most,
		"take a thicker lid_liner.thickness, which minds tolerances less",
	}
}

// end is one way to read a compression over its tolerances.
type end struct {
	severity Severity
	v        float64
	of       fit.Span
	what     string
}

// tooLoose judges a compression that should stay above a limit: the first of
// as drawn, RSS and worst case that does not.
func (q squeeze) tooLoose(limit float64, so string) []Finding {
	b := q.built
	return q.first(least, math.Ceil, limit, so,
		end{Stop, b.Worst.Nominal, b.RSS, "as drawn"},
		end{Warn, b.RSS.Least, b.RSS, "loose end, independent errors"},
		end{Note, b.Worst.Least, b.Worst, "loose end, worst case"},
	)
}

// tooTight judges a compression that should stay below a limit, likewise.
func (q squeeze) tooTight(limit float64, so string) []Finding {
	b := q.built
	return q.first(most, math.Floor, limit, so,
		end{Stop, b.Worst.Nominal, b.RSS, "as drawn"},
		end{Warn, b.RSS.Most, b.RSS, "tight end, independent errors"},
		end{Note, b.Worst.Most, b.Worst, "tight end, worst case"},
	)
}

// first is the finding for the first end that passes the limit.
func (q squeeze) first(
	judge func(Severity, Unit, string, float64, float64, string) []Finding, round func(float64) float64,
	limit float64, so string, ends ...end,
) []Finding {
	for _, e := range ends {
		if f := judge(e.severity, Share, q.where+", "+e.what, e.v, limit, so+": "+q.fix(limit-e.v, e.of, round)); f != nil {
			return f
		}
	}
	return nil
}

// fix asks for a compression that is more by shift, unless the other end of
// the spread then leaves what the liner works at.
func (q squeeze) fix(shift float64, spread fit.Span, round func(float64) float64) string {
	to := round((q.asked+shift)*100) / 100
	shift = to - q.asked
	if to > 0 && spread.Least+shift >= 0 && spread.Most+shift <= q.most {
		return "ask for a " + q.key + " of about " + Share.text(to) + ", or " + q.also
	}
	return "no " + q.key + " suits so wide a spread: " + q.also
}
