package check

import "buckwright/generate/forming"

func thinWall() Rule {
	const id = "thin-wall"
	return Rule{
		ID: id, Title: "the formed sheet is nowhere too thin to hold",
		Limit: "0.25 mm or 20 % of the gauge, whichever is more; under a third of that stop", Unit: MM,
		Source: "membrane simulation of the forming; the limit is " + ownRule,
		Key:    "sheet.gauge",
		Run: func(j *Job) []Finding {
			if j.Forming == nil {
				return nil
			}
			limit := j.limit(id, max(0.25, 0.2*j.Kit.Sheet.Gauge))
			var out []Finding
			for _, s := range thinnest(j.Forming.Stats) {
				fix := "use a thicker sheet.gauge, sink the items less (items[].depth), or " + pick(s.Zone.InPocket(),
					"round what is deep and narrow (liner.thickness rounds floor corners, pocket.draft opens the pocket)",
					"round the corners more (insert.corner_radius) and give the sheet more room beside the buck (former.area)")
				out = append(out, least(pick(s.Least < limit/3, Stop, Warn), MM, j.place(s.Place)+", "+at(s.At), s.Least, limit, fix)...)
			}
			return out
		},
	}
}

// thinnest keeps the thinnest place of each pocket, of the rim and of the skirt.
func thinnest(all []forming.Stat) []forming.Stat {
	type part struct {
		pocket int
		zone   forming.Zone
	}
	var out []forming.Stat
	index := map[part]int{}
	for _, s := range all {
		key := part{-1, s.Zone}
		switch {
		case s.Zone == forming.Flange:
			continue
		case s.Zone.InPocket():
			key = part{s.Pocket, forming.Wall}
		}
		i, ok := index[key]
		switch {
		case !ok:
			index[key] = len(out)
			out = append(out, s)
		case s.Least < out[i].Least:
			out[i] = s
		}
	}
	return out
}
