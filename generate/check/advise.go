package check

import (
	"math"
	"slices"
	"strings"

	"buckwright/generate/geom"
)

// reading is what one rule reads off an item, on the present lining or another.
type reading struct {
	id    string
	of    string // in words
	unit  Unit
	v     float64
	limit float64
	most  bool    // it may not pass the limit; else it should reach it
	top   float64 // the largest that it can be; 0: none is known
}

func (r reading) past() bool {
	if r.most {
		return !(r.v <= r.limit)
	}
	return !(r.v >= r.limit)
}

// worse is the share of a limit by which a reading that is past it already must
// go farther to be worth mentioning. This program's own choice.
const worse = 0.2

// farther reports whether r is past its limit where o is not, or well farther.
func (r reading) farther(o reading) bool {
	by := o.v - r.v
	if r.most {
		by = -by
	}
	return r.past() && by > 0 && (!o.past() || by > worse*math.Abs(r.limit))
}

// readings are those of item i that the lining moves, in the order of All. The
// tolerances' spread is that of the kit. None without a map.
func (j *Job) readings(i int, to lined) []reading {
	f, ok := j.foresee(i, to)
	if !ok {
		return nil
	}
	it := j.Dims.Items[i]
	more := to.compression - j.Kit.Liner.Compression
	weight := j.Maps[i].Pull - j.Maps[i].Hold
	wider := 2 * j.deepest() * (to.draft.Tan() - j.Dims.Pocket.Draft.Tan())
	return []reading{
		{"spacing", "the narrowest rib", MM, j.Layout.LeastRib - wider, j.limit("spacing", j.Kit.Pocket.Spacing) - measured, false, 0},
		{"liner-loose", "the loose end of " + it.Name, Share, it.Built.RSS.Least + more, j.limit("liner-loose", 0), false, 0},
		{"liner-crush", "the tight end of " + it.Name, Share, it.Built.RSS.Most + more, j.limit("liner-crush", j.Liner.Most), true, 0},
		{"liner-pinch", "the tightest place of " + it.Name, Share, f.tightest, j.limit("liner-pinch", j.Liner.Most), true, 0},
		{"rests-high", it.Name + " too high by", MM, f.rest, j.limit("rests-high", mostRest), true, 0},
		{"contact", "the band on " + it.Name, MM, f.band, min(j.limit("contact", leastBand), it.Depth), false, it.Depth},
		{"turned-over", "the hold on " + it.Name, Times, f.hold / weight, j.limit("turned-over", leastTurned), false, 0},
		{"pull-easy", "the hold on " + it.Name, Newton, f.hold, j.limit("pull-easy", leastPull), false, 0},
		{"pull-hard", "the pull on " + it.Name, Newton, f.hold + weight, j.limit("pull-hard", mostPull), true, 0},
		{"push-hard", "the push on " + it.Name, Newton, f.push, j.limit("push-hard", mostPush), true, 0},
	}
}

// read is the one reading of a rule.
func (j *Job) read(id string, i int, to lined) (reading, bool) {
	for _, r := range j.readings(i, to) {
		if r.id == id {
			return r, true
		}
	}
	return reading{}, false
}

// deepest is how deep the deepest item stands below the rim, mm.
func (j *Job) deepest() float64 {
	d := 0.0
	for _, it := range j.Dims.Items {
		d = max(d, it.Depth)
	}
	return d
}

// objections says which rules would be set off by another lining, or set off
// further, and for which items. It is "" when there are none.
func (j *Job) objections(to lined) string {
	var ids []string
	said := map[string][]string{} // by rule
	for i := range j.Dims.Items {
		now := j.readings(i, j.lined())
		for k, r := range j.readings(i, to) {
			if !r.farther(now[k]) {
				continue
			}
			v, _ := r.unit.texts(r.v, r.limit)
			one := r.of + " about " + v
			if !slices.Contains(ids, r.id) {
				ids = append(ids, r.id)
			}
			if !slices.Contains(said[r.id], one) {
				said[r.id] = append(said[r.id], one)
			}
		}
	}
	for i, id := range ids {
		ids[i] = id + " (" + List(said[id]) + ")"
	}
	if len(ids) == 0 {
		return ""
	}
	return "sets off " + List(ids)
}

// spare is the share of a limit by which advice stays away from it: more where the
// reading has to go far, because foresee is of first order. This program's own choice,
// tried by forming kits anew.
func (r reading) spare() float64 {
	const least, most = 0.1, 0.5
	far := max(r.v/r.limit, r.limit/r.v)
	if !(far > 1 && far < 1e6) {
		return most
	}
	return min(least*math.Sqrt(far), most)
}

// keeps reports whether the reading keeps its limit with something to spare.
func (r reading) keeps(spare float64) bool {
	if r.most {
		return r.v <= r.limit*(1-spare)
	}
	if r.top > 0 {
		return r.v >= min(r.limit*(1+spare), (r.limit+r.top)/2)
	}
	return r.v >= r.limit*(1+spare)
}

// way is one way to change the lining, step by step.
type way struct {
	say func(lined) string
	at  func(step int) (lined, bool) // false: no farther
}

// byCompression goes up to what the liner works at, or down to 1 %, by whole per
// cents.
func (j *Job) byCompression(up bool) way {
	const cent = 0.01
	start := math.Round(j.Kit.Liner.Compression / cent)
	return way{
		say: func(l lined) string { return "a liner.compression of about " + Share.text(l.compression) },
		at: func(step int) (lined, bool) {
			l := j.lined()
			l.compression = cent * (start + pick(up, 1.0, -1.0)*float64(step))
			return l, pick(up, l.compression <= j.Liner.Most+cent/2, l.compression > cent/2)
		},
	}
}

// byDraft goes up to steepest, or down to the least that lets the buck go, by half
// degrees.
func (j *Job) byDraft(up bool) way {
	const half, steepest = 0.5 * geom.Degree, 12 * geom.Degree
	return way{
		say: func(l lined) string { return "a pocket.draft of about " + Degree.text(float64(l.draft/geom.Degree)) },
		at: func(step int) (lined, bool) {
			l := j.lined()
			l.draft += pick(up, half, -half) * geom.Angle(step)
			return l, pick(up, l.draft <= steepest, l.draft >= geom.Angle(j.Sheet.FemaleDraft)*geom.Degree-half/10)
		},
	}
}

// cure is the least step of a way after which item i keeps a rule's limit with a
// share of it to spare.
func (j *Job) cure(id string, i int, w way, spare float64) (lined, bool) {
	enough := func(step int) bool {
		l, ok := w.at(step)
		if !ok {
			return false
		}
		r, ok := j.read(id, i, l)
		return ok && r.keeps(spare)
	}
	last := 0
	for _, ok := w.at(last + 1); ok; _, ok = w.at(last + 1) {
		last++
	}
	if last == 0 || !enough(last) {
		return lined{}, false
	}
	low, high := 0, last // a force or a band goes one way with the lining: halving finds it
	for high-low > 1 {
		if mid := (low + high) / 2; enough(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	l, _ := w.at(high)
	return l, true
}

// advise says which of some ways ends a rule's finding about item i. Ways to which no
// other rule objects come first; ways that only just do it are named where no way does
// it with something to spare. Without a map it is unmapped, a direction and no number.
func (j *Job) advise(id string, i int, unmapped string, ways ...way) string {
	now, ok := j.read(id, i, j.lined())
	if !ok {
		return unmapped
	}
	if does := j.cures(id, i, now.spare(), "does it", ways); does != "" {
		return does
	}
	if may := j.cures(id, i, 0, "may just do it", ways); may != "" {
		return may
	}
	return "no liner.compression or pocket.draft does it alone"
}

// cures names the ways that leave a share of the limit to spare.
func (j *Job) cures(id string, i int, spare float64, does string, ways []way) string {
	var good, but []string
	for _, w := range ways {
		l, ok := j.cure(id, i, w, spare)
		if !ok {
			continue
		}
		if against := j.objections(l); against != "" {
			but = append(but, w.say(l)+" "+does+", but "+against)
		} else {
			good = append(good, w.say(l))
		}
	}
	if good != nil {
		but = append([]string{strings.Join(good, ", or ") + " " + does}, but...)
	} else if but != nil {
		but[0] = "no one change suits every rule: " + but[0]
	}
	return strings.Join(but, "; ")
}
