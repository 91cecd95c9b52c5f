package pattern

import (
	"fmt"
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
)

// Blank is the sheet as it goes into the former: the free area and what the
// clamp grips. foot is the half size of the buck at its underside, corner its
// corner radius.
func Blank(d *fit.Dims, m Material, foot geom.Vec2, corner float64) Flat {
	a := d.Former
	hx, hy := a.Area[0]/2, a.Area[1]/2
	return Flat{
		Name: "sheet-blank", Title: "sheet for one insert", Material: m, Count: 1,
		Shape: Shape{Outer: Rect(geom.Vec2{}, hx+a.Clamp, hy+a.Clamp, 0)},
		Marks: []Mark{
			{Text: "outer one: edge of the clamp", Path: Rect(geom.Vec2{}, hx, hy, 0)},
			{Text: "inner one: the buck, to centre it under the sheet", Path: Rect(geom.Vec2{}, foot.X, foot.Y, corner)},
		},
	}
}

// LabelSize is the half size of a label and its corner radius: the groove's
// inner edge less the gap.
type LabelSize struct {
	Half   geom.Vec2
	Corner float64
}

// Label is the label in the groove of the lid. window is a cut-out in its
// middle, zero for none; the error says why it does not fit.
func Label(s LabelSize, m Material, window geom.Vec2) (Flat, error) {
	f := Flat{
		Name: "label", Title: "label on the lid, inside the groove", Material: m, Count: 1,
		Shape: Shape{Outer: Rect(geom.Vec2{}, s.Half.X, s.Half.Y, s.Corner)},
	}
	if window == (geom.Vec2{}) {
		return f, nil
	}
	if !(window.X <= 2*s.Half.X-2*windowFrame && window.Y <= 2*s.Half.Y-2*windowFrame) {
		return f, fmt.Errorf("a window of %s x %s leaves less than %s of frame on a label of %s x %s",
			short(window.X), short(window.Y), short(windowFrame), short(2*s.Half.X), short(2*s.Half.Y))
	}
	f.Shape.Holes = []Path{Rect(geom.Vec2{}, window.X/2, window.Y/2, min(windowCorner, window.X/4, window.Y/4))}
	return f, nil
}

const (
	windowFrame  = 3.0 // mm of label left round its window; common practice, no source
	windowCorner = 2.0 // mm: a sharp inner corner tears
)

// Pad is the piece of lid liner over one item, of half size h.
func Pad(item string, m Material, h geom.Vec2, corner float64) Flat {
	return Flat{
		Name: "pad-" + item, Title: "pad over " + item + ", glued under the lid", Material: m, Count: 1,
		Shape: Shape{Outer: Rect(geom.Vec2{}, h.X, h.Y, corner)},
	}
}

// LidLiner is one piece over the whole ceiling, of half size h.
func LidLiner(m Material, h geom.Vec2, corner float64) Flat {
	return Flat{
		Name: "lid-liner", Title: "lid liner, glued under the lid", Material: m, Count: 1,
		Shape: Shape{Outer: Rect(geom.Vec2{}, h.X, h.Y, corner)},
	}
}

// TrimBand is a template that stands on the flat sheet round the formed skirt;
// its upper edge is the trim line. The skirt is a box with round corners: one
// quarter of it is drawn, from the middle of a long side to that of a short
// one. half and corner are of the product side at the rim, trim and foot the
// heights of the trim line and of the flat sheet (negative).
func TrimBand(m Material, half geom.Vec2, corner0 float64, draft geom.Angle, trim, foot float64) Flat {
	corner0 = min(corner0, half.X, half.Y)
	r := corner0 - trim*draft.Tan()
	wide := (trim - foot) / draft.Cos()
	legs := []leg{
		{Length: half.X - corner0},
		corner(r, math.Pi/2, draft, true),
		{Length: half.Y - corner0},
	}
	return Flat{
		Name: "trim-band", Title: "template of the trim line, a quarter of the way round", Material: m, Count: 1, Template: true,
		Shape: Shape{Outer: band(legs, wide, 0)},
		Notes: []string{"Stand it on the flat sheet round the skirt, its ends at the middles of a long and a short side, and scribe along its upper edge; turn it over for the next quarter."},
	}
}
