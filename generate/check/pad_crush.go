package check

import "math"

// soCrushed is what comes of a pad beyond its most.
const soCrushed = "the sponge takes a set and may hold the lid up"

func padCrush() Rule {
	const id = "pad-crush"
	return Rule{
		ID: id, Title: "no pad is crushed when everything errs towards tight",
		Limit: "the most working compression in the lid liner's row, %: warn at the RSS of the tolerances, note at the worst case and for an item that rests high, stop as drawn", Unit: Share,
		Source: "working compression up to 35 %: gasket maker; row of the liner table",
		Key:    "lid_liner.compression",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.LidLiner.Most)
			var out []Finding
			for i, it := range j.Dims.Items {
				if !(it.PadArea > 0) {
					continue
				}
				found := ofPad(j, it).tooTight(limit, soCrushed)
				if found == nil {
					found = j.heldUp(i, limit)
				}
				out = append(out, found...)
			}
			return out
		},
	}
}

// heldUp is the note on a pad that is as tall as it should be, under an item
// that comes to rest higher than drawn.
func (j *Job) heldUp(i int, limit float64) []Finding {
	if i >= len(j.Maps) || j.Maps[i] == nil || !(j.Maps[i].Rest > 0) {
		return nil
	}
	it, rest := j.Dims.Items[i], j.Maps[i].Rest
	tall, asked := it.Pad.RSS.Nominal, j.Kit.LidLiner.Compression
	v := tall + rest/j.Kit.LidLiner.Thickness
	would := "take a lid_liner.thickness of " + MM.text(math.Ceil(rest/(limit-tall)*10)/10) + " or more"
	if to := math.Floor((asked-(v-limit))*100+1e-9) / 100; to > 0 {
		would = "ask for a lid_liner.compression of about " + Share.text(to) + ", or " + would
	}
	return most(Note, Share, "pad over "+it.Name+", which rests "+MM.text(rest)+" higher than drawn", v, limit, soCrushed+": "+would)
}
