package check

import "buckwright/generate/geom"

func web() Rule {
	const id = "web"
	return Rule{
		ID: id, Title: "the sheet does not fold into webs on the insert",
		Limit: "30 mm² of folded sheet in one place above the trim line", Unit: MM2,
		Source: "membrane simulation of the forming: pressed together across its pull; the 30 mm² are " + ownRule,
		Key:    "insert.corner_radius",
		Run: func(j *Job) []Finding {
			if j.Forming == nil {
				return nil
			}
			limit := j.limit(id, 30)
			var out []Finding
			for _, w := range j.Forming.Webs(func(p geom.Vec) bool { return p.Z >= j.Layout.Trim }) {
				out = append(out, most(Warn, MM2, "fold of the sheet "+at(w.At), w.Area, limit,
					"round the edges there more (insert.corner_radius, insert.rim_radius, pocket.mouth_radius), move the items apart (items[].at), or give the sheet more room beside the buck (former.area)")...)
			}
			return out
		},
	}
}
