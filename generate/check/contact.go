package check

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"buckwright/generate/geom"
)

// moreContact says what would raise the band on an upright wall to a height,
// one change at a time.
func moreContact(j *Job, height float64) string {
	tf, c := j.Kit.Liner.Thickness, j.Kit.Liner.Compression
	sin := j.Dims.Pocket.Draft.Sin()
	var would []string
	if draft := math.Floor(math.Asin(min(tf*c/height, 1))/float64(geom.Degree)*10) / 10; draft >= j.Sheet.FemaleDraft {
		would = append(would, "a pocket.draft of "+Degree.text(draft))
	}
	if more := math.Ceil(height*sin/tf*100) / 100; more <= j.Liner.Most {
		would = append(would, "a liner.compression of "+Share.text(more))
	}
	if c > 0 {
		would = append(would, fmt.Sprintf("a liner.thickness of %.1f mm", math.Ceil(height*sin/c*10)/10))
	}
	if would == nil {
		return "the draft opens the gap faster than the liner springs back: give liner.compression and lower pocket.draft"
	}
	return "the draft opens the gap faster than the liner springs back: " + strings.Join(would, ", or ") + " would do"
}

// leastBand is the height, mm, that should be touched of a tall wall.
const leastBand = 5.0

// touchMore says what makes the liner touch item i up to a limit, mm.
func touchMore(j *Job, i int, limit float64) string {
	if _, ok := j.read("contact", i, j.lined()); !ok {
		return moreContact(j, limit)
	}
	why := "its sides draw away from the wall faster than the liner springs back: " +
		j.advise("contact", i, "", j.byCompression(true), j.byDraft(false))
	if accept := math.Floor(band(j, i)*10) / 10; accept > 0 {
		why += "; if it sits well enough as it is, say so: limits: {contact: " + strconv.FormatFloat(accept, 'f', -1, 64) + "}"
	}
	return why
}

// band is how high the liner touches item i: the mean round it where it was
// mapped, else on an upright wall.
func band(j *Job, i int) float64 {
	if i < len(j.Maps) && j.Maps[i] != nil && j.Maps[i].Sides > 0 {
		return j.Maps[i].Band
	}
	return j.Dims.Items[i].Contact
}

func contact() Rule {
	const id = "contact"
	return Rule{
		ID: id, Title: "the liner touches a high enough band of the item's wall",
		Limit: "5 mm up the wall, or all of a shallower item", Unit: MM,
		Source: "gap from item to formed sheet all round it, else contact height tf c / sin(draft) of an upright wall; the 5 mm are " + ownRule,
		Key:    "pocket.draft",
		Run: func(j *Job) []Finding {
			var out []Finding
			for i, it := range j.Dims.Items {
				limit := min(j.limit(id, leastBand), it.Depth)
				out = append(out, least(Warn, MM, "walls of "+it.Name, band(j, i), limit, touchMore(j, i, limit))...)
			}
			return out
		},
	}
}
