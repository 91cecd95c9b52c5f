package check

import (
	"math"
	"strings"

	"buckwright/generate/fit"
	"buckwright/params"
)

// squeeze is one compression over its tolerances, and what the kit can do
// about it.
type squeeze struct {
	where string
	built fit.Built
	key   string  // that asks for the compression
	asked float64 // by that key
	most  float64 // the largest that the liner works at

	thickness string  // the key of the liner's thickness
	free      float64 // mm, by that key
	tol       float64 // mm, one side
	ofFree    bool    // the tolerance is a share of the thickness

	instead string               // what does it where the compression is amiss as drawn; "" when nothing else would
	measure []string             // the keys that a measured tolerance narrows the spread by
	minded  func(float64) string // what other rules object to another compression, "" for nothing; nil: none are asked
}

// ofLiner and ofPad are the squeezes of an item, from below and from above.
func ofLiner(j *Job, it fit.ItemDims) squeeze {
	k := j.Kit
	q := squeeze{
		where: "liner of " + it.Name, built: it.Built, key: "liner.compression", asked: k.Liner.Compression, most: j.Liner.Most,
		thickness: "liner.thickness", free: k.Liner.Thickness, tol: j.Liner.ThicknessTol * k.Liner.Thickness, ofFree: true,
		minded: func(c float64) string { return j.objections(lined{c, j.Dims.Pocket.Draft}) },
	}
	if k.Liner.Tolerance != nil {
		q.tol, q.ofFree = *k.Liner.Tolerance, false
	} else {
		q.measure = append(q.measure, "your felt and give liner.tolerance")
	}
	if k.Printer.Tolerance == nil {
		q.measure = append(q.measure, "your printer and give printer.tolerance")
	}
	return q
}

func ofPad(j *Job, it fit.ItemDims) squeeze {
	l := j.Kit.LidLiner
	q := squeeze{
		where: "pad over " + it.Name, built: it.Pad, key: "lid_liner.compression", asked: l.Compression, most: j.LidLiner.Most,
		thickness: "lid_liner.thickness", free: l.Thickness, tol: j.LidLiner.ThicknessTol * l.Thickness, ofFree: true,
	}
	if l.Pads == params.PadsFull {
		q.instead = "one sponge over the whole ceiling fits the tallest item only: with lid_liner.pads: auto each item has a pad at its own height"
	}
	return q
}

// end is one way to read a compression over its tolerances.
type end struct {
	severity Severity
	of       func(fit.Built) fit.Span
	v        func(fit.Span) float64
	what     string
}

// The two sums of tolerances, and the ends of a span.
func worst(b fit.Built) fit.Span { return b.Worst }
func rss(b fit.Built) fit.Span   { return b.RSS }

func drawn(s fit.Span) float64 { return s.Nominal }
func loose(s fit.Span) float64 { return s.Least }
func tight(s fit.Span) float64 { return s.Most }

// tooLoose judges a compression that should stay above a limit: the first of
// as drawn, RSS and worst case that does not.
func (q squeeze) tooLoose(limit float64, so string) []Finding {
	return q.first(least, 1, limit, so,
		end{Stop, rss, drawn, "as drawn"},
		end{Warn, rss, loose, "loose end, independent errors"},
		end{Note, worst, loose, "loose end, worst case"},
	)
}

// tooTight judges a compression that should stay below a limit, likewise.
func (q squeeze) tooTight(limit float64, so string) []Finding {
	return q.first(most, -1, limit, so,
		end{Stop, rss, drawn, "as drawn"},
		end{Warn, rss, tight, "tight end, independent errors"},
		end{Note, worst, tight, "tight end, worst case"},
	)
}

// first is the finding for the first end that passes the limit. cents is the step in
// which another compression is looked for: 1 upwards, -1 downwards, in per cent.
func (q squeeze) first(
	judge func(Severity, Unit, string, float64, float64, string) []Finding, cents float64,
	limit float64, so string, ends ...end,
) []Finding {
	for _, e := range ends {
		v := e.v(e.of(q.built))
		if judge(e.severity, Share, "", v, limit, "") == nil {
			continue
		}
		keeps := func(b fit.Built) bool {
			s := e.of(b)
			return judge(e.severity, Share, "", e.v(s), limit, "") == nil && s.Least >= min(0, limit) && s.Most <= max(q.most, limit)
		}
		return judge(e.severity, Share, q.where+", "+e.what, v, limit, so+": "+q.fix(e, keeps, cents))
	}
	return nil
}

// fix asks for a compression at which this end keeps its limit and the other end what
// the liner works at, unless another rule objects, and for a thickness that does the
// same.
func (q squeeze) fix(e end, keeps func(fit.Built) bool, cents float64) string {
	if e.severity == Stop && q.instead != "" {
		return q.instead
	}
	var would []string
	against := "no " + q.key + " suits so wide a spread"
	if to, ok := q.compressed(keeps, cents); ok {
		against = ""
		if q.minded != nil {
			against = q.minded(to)
		}
		if against == "" {
			would = append(would, "ask for a "+q.key+" of about "+Share.text(to))
		} else {
			against = "a " + q.key + " of about " + Share.text(to) + " does it, but " + against
		}
	}
	if free, ok := q.thicker(keeps); ok {
		would = append(would, "take a "+q.thickness+" of "+MM.text(free)+" or more")
	}
	if q.measure != nil {
		would = append(would, "measure "+strings.Join(q.measure, ", "))
	}
	return q.worded(against, would, e)
}

// worded puts what stands against a compression before what would do.
func (q squeeze) worded(against string, would []string, e end) string {
	fix := strings.Join(would, ", or ")
	switch {
	case against != "" && fix != "":
		fix = against + ": " + fix
	case against != "":
		fix = against + ", and no " + q.thickness + " up to twice as much either: try it on the first kit"
	}
	switch e.severity {
	case Warn:
		fix += "; the worst case may stay as a note"
	case Note:
		fix += "; it takes every error at its end at once, which is rare"
	}
	return fix
}

// compressed is the first whole per cent that keeps, going one way.
func (q squeeze) compressed(keeps func(fit.Built) bool, cents float64) (float64, bool) {
	start := math.Floor(q.asked*100 + 1e-9)
	if cents < 0 {
		start = math.Ceil(q.asked*100 - 1e-9)
	}
	for n := start + cents; n >= 1 && n <= 100*q.most; n += cents {
		if keeps(q.on(q.free, q.built.RSS.Nominal+n/100-q.asked)) {
			return n / 100, true
		}
	}
	return 0, false
}

// thicker is the least liner, mm, that keeps: the same errors are less of it.
func (q squeeze) thicker(keeps func(fit.Built) bool) (float64, bool) {
	const step, farthest = 0.1, 2.0 // farther on it is another kit; this program's own choice
	for n := math.Floor(q.free/step+1e-9) + 1; n*step <= q.free*farthest; n++ {
		if keeps(q.on(n*step, q.built.RSS.Nominal)) {
			return n * step, true
		}
	}
	return 0, false
}

// on is the compression over its tolerances on a liner of another thickness, mm,
// in a gap that compresses it by e as drawn.
func (q squeeze) on(free, e float64) fit.Built {
	was, tol := q.built.RSS.Nominal, q.tol
	all := (1-q.built.Worst.Least)*(q.free-tol) - q.free*(1-was)
	thick := (1 - was) * tol / q.free
	wide := q.built.RSS.Most - was
	one := q.free * math.Sqrt(max(wide*wide-thick*thick, 0))
	if q.ofFree {
		tol *= free / q.free
	}
	s := fit.Stack{Gap: free * (1 - e), Free: free, Gaps: []float64{all}, Thick: tol}
	b := fit.Built{Worst: s.Worst()}
	s.Gaps = []float64{one}
	b.RSS = s.RSS()
	return b
}
