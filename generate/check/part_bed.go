package check

import (
	"fmt"
	"math"
	"strings"

	"buckwright/generate/geom"
)

// over is how much a part is too large along the bed's x and y, mm, in the better
// of two ways to lay it down, given along its own.
func over(size, bed geom.Vec) geom.Vec2 {
	straight := geom.Vec2{X: size.X - bed.X, Y: size.Y - bed.Y}
	turned := geom.Vec2{X: size.X - bed.Y, Y: size.Y - bed.X}
	if max(turned.X, turned.Y) < max(straight.X, straight.Y) {
		return turned
	}
	return straight
}

// overBed is the most that a part is too large any way.
func overBed(size, bed geom.Vec) float64 {
	o := over(size, bed)
	return max(o.X, o.Y, size.Z-bed.Z)
}

// extent is a size in words.
func extent(s geom.Vec) string { return fmt.Sprintf("%.1f x %.1f x %.1f mm", s.X, s.Y, s.Z) }

// leastMargin is the margin, mm, that the press tool's stops stand on, 7 mm and half
// of their 4 mm from the mouths.
const leastMargin = 9.0

// cutMargin is the largest insert.margin, mm, in half millimetres, on which the part
// keeps the limit. A tool held by wings loses length alone, one without stands
// within the margin as it is.
func cutMargin(j *Job, p PartFact, limit float64) (float64, bool) {
	const step = 0.5
	margin, scale := j.Kit.Insert.Margin, j.Dims.Print.Scale
	by := geom.V(2*scale.X, 2*scale.Y, 0)
	switch {
	case p.Wingless != geom.Vec{}:
		by.Y = 0
	case p.Name == PressTool:
		return 0, false
	}
	for m := math.Ceil(margin/step-1) * step; m >= leastMargin; m -= step {
		if overBed(p.Size.Sub(by.Scale(margin-m)), j.Dims.Print.Bed) <= limit {
			return m, true
		}
	}
	return 0, false
}

// PressTool is the name of the part that may have wings.
const PressTool = "press-tool"

// bedFix says what makes a part fit that is too large.
func bedFix(j *Job, p PartFact, limit float64) string {
	bed := j.Dims.Print.Bed
	var ways []string
	if w := p.Wingless; w != (geom.Vec{}) && overBed(w, bed) <= limit {
		ways = append(ways, "press.grip: none leaves its wings off, and it fits ("+extent(w)+")")
	}
	if m, ok := cutMargin(j, p, limit); ok {
		ways = append(ways, "an insert.margin of "+MM.text(m)+" does it")
	}
	o := over(p.Size, bed)
	var along []string
	for _, a := range []struct {
		name string
		by   float64
	}{{"x", o.X}, {"y", o.Y}} {
		if a.by > limit {
			along = append(along, MM.text(math.Ceil(a.by-limit))+" closer along "+a.name)
		}
	}
	if along != nil && len(j.Dims.Items) > 1 {
		ways = append(ways, "pack the items "+List(along)+" (items[].at, items[].turn) where their sizes and ribs let you, or split the kit in two")
	}
	if up := p.Size.Z - bed.Z; up > limit {
		ways = append(ways, "pack every item "+MM.text(math.Ceil(up-limit))+pick(p.Name == "lid", " deeper", " shallower")+" (items[].depth)")
	}
	return strings.Join(append(ways, "use a larger printer (printer.bed)"), "; or ")
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
				out = append(out, most(Stop, MM, p.Name+" ("+extent(p.Size)+"), over by", overBed(p.Size, j.Dims.Print.Bed), limit, bedFix(j, p, limit))...)
			}
			return out
		},
	}
}
