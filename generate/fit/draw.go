package fit

import (
	"math"

	"buckwright/generate/geom"
)

// The areal draw ratio is the area of the formed surface over the area of
// sheet it is made from; the mean thickness is the gauge divided by it, because
// the volume stays. Source: "The Ubiquitous Draw Ratio", SPE Thermoforming 101,
// Thermoforming Quarterly 24(4), 2005.

// DrawTray is the ratio of a tray that narrows downwards by the draft; length
// and width are those of its mouth. It is a frustum of a pyramid, and without a
// draft the box of Crawford, Plastics Engineering, 3rd ed. 1998, section 4.4.
func DrawTray(length, width, depth float64, draft geom.Angle) float64 {
	in := 2 * depth * draft.Tan()
	l, w := max(length-in, 0), max(width-in, 0)
	walls := ((length + l) + (width + w)) * depth / draft.Cos()
	return (l*w + walls) / (length * width)
}

// Drape is the mean thickness of the free skirt of a male tool over the gauge:
// the sheet chilled on the plateau, of half width plateau, keeps its gauge and
// the rest, out to the clamp at half width clamp, is drawn straight down by
// height. Volume balance of a plane strip; no publication.
func Drape(clamp, plateau, height float64) float64 {
	free := clamp - plateau
	return free / math.Hypot(free, height)
}
