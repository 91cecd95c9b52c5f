package check

import (
	"buckwright/generate/forming"
	"buckwright/generate/geom"
)

func web() Rule {
	const id = "web"
	return Rule{
		ID: id, Title: "the sheet does not fold into webs on the insert",
		Limit: "30 mm² of folded sheet above the trim line", Unit: MM2,
		Source: "membrane simulation of the forming: pressed together across its pull; the 30 mm² are " + ownRule,
		Key:    "insert.corner_radius",
		Run: func(j *Job) []Finding {
			if j.Forming == nil {
				return nil
			}
			area, where := folded(j.Forming, j.Layout)
			return most(Warn, MM2, "folds of the sheet, most of them "+at(where), area, j.limit(id, 30),
				"round that corner more (insert.corner_radius, insert.rim_radius), move the items apart (items[].at), or give the sheet more room beside the buck (former.area)")
		},
	}
}

// folded is the area of folded sheet that stays on the insert, and its middle.
func folded(f *forming.Formed, l Layout) (float64, geom.Vec) {
	total, middle := 0.0, geom.Vec{}
	for i, e := range f.Element {
		if i >= len(f.Fold) || !f.Fold[i] {
			continue
		}
		a, b, c := f.Node[e[0]], f.Node[e[1]], f.Node[e[2]]
		at := a.Add(b).Add(c).Scale(1.0 / 3)
		if at.Z < l.Trim {
			continue
		}
		area := b.Sub(a).Cross(c.Sub(a)).Len() / 2
		total, middle = total+area, middle.Add(at.Scale(area))
	}
	if total > 0 {
		middle = middle.Scale(1 / total)
	}
	return total, middle
}
