package check

// buckTall is the buck from its rim, which the sheet lies on, to its underside.
func buckTall(j *Job) float64 { return -j.Layout.Bottom - j.Dims.Insert.Rim }

func drapeRoom() Rule {
	const id = "drape-room"
	return Rule{
		ID: id, Title: "the sheet beside the buck is as wide as the buck is tall",
		Limit: "1 times the buck's height", Unit: Times,
		Source: "margin of about 1 x depth on a male tool: " + cp + "; 1.75 x for no webs at all: Gruenwald, Thermoforming, 1998, from memory",
		Key:    "former.area",
		Run: func(j *Job) []Finding {
			at := blank(j)
			if at.margin < 0 {
				return nil
			}
			return least(Note, Times, at.where(), at.margin/buckTall(j), j.limit(id, 1),
				"webs may run from the corners to the clamp: raise insert.corner_radius, take a larger former.area or pack shallower")
		},
	}
}
