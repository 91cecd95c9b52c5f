package check

import (
	"fmt"

	"buckwright/generate/geom"
)

// overBed is how much a part is too large, mm, in the better of two ways to
// lay it down, and what to do about it.
func overBed(size, bed geom.Vec) (float64, string) {
	flat := min(max(size.X-bed.X, size.Y-bed.Y), max(size.Y-bed.X, size.X-bed.Y))
	if up := size.Z - bed.Z; up > flat {
		return up, "pack shallower (items[].depth), or use a taller printer (printer.bed)"
	}
	return flat, "cut insert.margin, move items closer (items[].at), split the kit in two, or use a larger printer (printer.bed)"
}

// extent is the part's size in words.
func (p PartFact) extent() string {
	return fmt.Sprintf("%.1f x %.1f x %.1f mm", p.Size.X, p.Size.Y, p.Size.Z)
}

func partBed() Rule {
	const id = "part-bed"
	return Rule{
		ID: id, Title: "every part fits on the printer",
		Limit: "0 mm over the printer's bed and height, the part turned by 90° if that helps", Unit: MM,
		Source: "the printer's own sizes",
		Key:    "printer.bed",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 0)
			var out []Finding
			for _, p := range j.Parts {
				over, fix := overBed(p.Size, j.Dims.Print.Bed)
				out = append(out, most(Stop, MM, p.Name+" ("+p.extent()+"), over by", over, limit, fix)...)
			}
			return out
		},
	}
}
