package check

import "math"

// placing is the buck on the former's table, in the better of two ways.
type placing struct {
	margin float64 // least distance from the buck's foot to the clamp, one side
	turned bool    // the kit's x lies along the area's y
}

// blank places the buck's foot in the middle of the free sheet.
func blank(j *Job) placing {
	area, foot := j.Dims.Former.Area, j.Layout.BuckFoot
	way := func(x, y float64) float64 { return math.Min(area[0]/2-x, area[1]/2-y) }
	straight, turned := way(foot[0], foot[1]), way(foot[1], foot[0])
	if turned > straight {
		return placing{turned, true}
	}
	return placing{straight, false}
}

func (p placing) where() string {
	return "buck on the former" + pick(p.turned, ", turned by 90°", "")
}

func blankFits() Rule {
	const id = "blank-fits"
	return Rule{
		ID: id, Title: "the buck stands inside the clamp",
		Limit: "clearance of 0 mm between buck and clamp, the kit turned if that helps", Unit: MM,
		Source: "the former's own sizes",
		Key:    "former.area",
		Run: func(j *Job) []Finding {
			at := blank(j)
			return least(Stop, MM, at.where(), at.margin, j.limit(id, 0),
				"take a former with a larger former.area, move or turn items closer together, or cut insert.margin")
		},
	}
}
