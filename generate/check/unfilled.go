package check

import "buckwright/generate/forming"

func unfilled() Rule {
	const id = "unfilled"
	return Rule{
		ID: id, Title: "the vacuum draws the sheet into every corner",
		Limit: "a gap of what the liner can still be squeezed by, mm; where the item would touch the sheet stop", Unit: MM,
		Source: "membrane simulation of the forming at full vacuum, with a hot sheet whose stiffness is known to an order of magnitude; tf (most - c): row of the liner table",
		Key:    "former.vacuum",
		Run: func(j *Job) []Finding {
			if j.Forming == nil {
				return nil
			}
			tf, c := j.Kit.Liner.Thickness, j.Kit.Liner.Compression
			limit := j.limit(id, tf*(j.Liner.Most-c))
			var out []Finding
			told := map[forming.Place]bool{} // the largest of each place come first
			for _, o := range j.Forming.Open {
				if o.Zone == forming.Flange || o.At.Z < j.Layout.Trim || told[o.Place] {
					continue // cut off, or reported already
				}
				told[o.Place] = true
				s := pick(o.Zone.InPocket() && o.Gap > max(limit, tf*(1-c)), Stop, Warn)
				cure := pick(o.Zone.InPocket(),
					"sink the item less (items[].depth), open or round its pocket (pocket.draft, liner.thickness)",
					"round the outer wall more (insert.corner_radius), give the sheet more room beside the buck (former.area)")
				out = append(out, most(s, MM, j.place(o.Place)+", "+at(o.At), o.Gap, limit,
					"the sheet stays off the buck there with a radius of "+MM.text(o.Radius)+
						": "+cure+", use a thinner sheet.gauge, or more former.vacuum")...)
			}
			return out
		},
	}
}
