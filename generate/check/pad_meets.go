package check

import (
	"fmt"

	"buckwright/generate/fit"
)

// padHolds is the force of its pad, in times of an item's weight, under which the item
// is loose in a case that is turned over; this program's own choice.
const padHolds = 1.0

func padMeets() Rule {
	const id = "pad-meets"
	return Rule{
		ID: id, Title: "a pad presses on its item with no less than the item's weight",
		Limit: "1 times the weight, of about 3 that a pad is cut for", Unit: Times,
		Source: "the item's own shape under the pad and the lid liner's law of compression; the limit is " + ownRule,
		Key:    "lid_liner.thickness",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, padHolds)
			var out []Finding
			for i, f := range j.Items {
				if f.PadDrops == nil {
					continue
				}
				fix := fmt.Sprintf("the pad, over the middle, is set for the highest place of %s, and what lies under it is lower: ", f.Name)
				if t, ok := j.thickEnough(i, limit); ok {
					fix += "a lid_liner.thickness of about " + MM.text(t) + " does it"
				} else {
					fix += "pack it with a level side up, or glue a piece of sponge under the lid where it is highest"
				}
				out = append(out, least(Warn, Times, "pad over "+f.Name, j.padHold(i, j.Kit.LidLiner.Thickness), limit, fix)...)
			}
			return out
		},
	}
}

// padHold is the force, in times of the item's weight, of a sponge of a thickness, mm,
// that is pressed as the kit asks over the item's highest place.
func (j *Job) padHold(i int, thick float64) float64 {
	d, drops := j.Dims.Items[i], j.Items[i].PadDrops
	sum := 0.0
	for _, drop := range drops {
		e := j.Kit.LidLiner.Compression - drop/thick
		sum += j.Dims.Pads.Pressure(j.Dims.Pads.Working(max(e, 0)))
	}
	return sum / float64(len(drops)) / 1000 * d.PadArea / fit.Weight(d.Mass)
}

// thickEnough is the least sponge, mm by halves, whose pad holds an item by a tenth
// more than it must; none up to three times as thick.
func (j *Job) thickEnough(i int, limit float64) (float64, bool) {
	const step, spare, most = 0.5, 1.1, 3.0
	for t := j.Kit.LidLiner.Thickness + step; t <= most*j.Kit.LidLiner.Thickness; t += step {
		if j.padHold(i, t) >= spare*limit {
			return t, true
		}
	}
	return 0, false
}
