package check

import (
	"fmt"
	"math"

	"buckwright/generate/geom"
)

// moreContact says what would raise the band to a height, one change at a time.
func moreContact(j *Job, height float64, i int) string {
	tf, c := j.Kit.Liner.Thickness, j.Kit.Liner.Compression
	sin := j.Dims.Pocket.Draft.Sin()
	draft := math.Asin(math.Min(tf*c/height, 1)) / float64(geom.Degree)
	s := fmt.Sprintf("the draft opens the gap faster than the liner springs back: a pocket.draft of %.1f°", math.Floor(draft*10)/10)
	if more := height * sin / tf; more <= j.Liner.Most {
		s += fmt.Sprintf(", a liner.compression of %.0f %%", math.Ceil(more*100))
	}
	return s + fmt.Sprintf(" or a liner.thickness of %.1f mm would do", math.Ceil(height*sin/c*10)/10)
}

func contact() Rule {
	const id = "contact"
	return Rule{
		ID: id, Title: "the liner grips a high enough band of the item's wall",
		Limit: "5 mm up the wall, or all of a shallower item", Unit: MM,
		Source: "contact height tf c / sin(draft); the 5 mm are " + ownRule,
		Key:    "pocket.draft",
		Run: func(j *Job) []Finding {
			var out []Finding
			for i, it := range j.Dims.Items {
				limit := min(j.limit(id, 5), it.Depth)
				out = append(out, least(Warn, MM, "walls of "+it.Name, it.Contact, limit, moreContact(j, limit, i))...)
			}
			return out
		},
	}
}
