package check

import "buckwright/params"

func laser() Rule {
	return Rule{
		ID: "laser", Title: "chlorinated material gives hydrogen chloride under a laser",
		Limit:  "none: every chlorinated material is named",
		Source: "laser maker's support article; stoichiometry: up to 58 % of PVC and 41 % of polychloroprene by mass",
		Key:    "lid_liner.material",
		Run: func(j *Job) []Finding {
			var out []Finding
			for _, m := range []struct {
				what, title, key string
				bad              bool
			}{
				{"sheet", j.Sheet.Title, "sheet.material", j.Sheet.Chlorinated},
				{"liner", j.Liner.Title, "liner.material", j.Liner.Chlorinated},
				{"lid liner", j.LidLiner.Title, "lid_liner.material", j.LidLiner.Chlorinated && j.Kit.LidLiner.Pads != params.PadsNone},
			} {
				if !m.bad {
					continue
				}
				f := told(Note, m.what+": "+m.title, "taken to contain chlorine",
					"cut it with a knife, never with a laser: the fumes are poisonous and eat the machine; its safety data sheet has the last word")
				f.Key = m.key
				out = append(out, f)
			}
			return out
		},
	}
}
