package generate

import (
	"fmt"
	"slices"

	"buckwright/generate/export"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
)

// formedTable is what the sheet is predicted to do, place by place; nil when it
// was not formed.
func (r *Result) formedTable() []export.Table {
	f := r.Formed
	if f == nil {
		return nil
	}
	t := export.Table{Caption: "Predicted thickness, mm", Heads: []export.Head{
		{Text: "place"}, {Text: "mean", Kind: export.Number}, {Text: "least", Kind: export.Number}, {Text: "thinnest at x, y from the middle of the insert", Kind: export.Number},
	}, Notes: []string{fmt.Sprintf("A computed membrane that sticks where it touches; the whole sheet is drawn to %s of its area. Predictions of this kind err by tens of per cent: measure the first sheet.", fixed(2, f.Draw))}}
	for _, s := range f.Stats {
		if s.Zone != forming.Flange { // the flange is cut off
			t.Rows = append(t.Rows, []string{r.placeName(s.Place), fixed(2, s.Mean), fixed(2, s.Least), r.fromMiddle(s.At)})
		}
	}
	return append([]export.Table{t}, r.openTable()...)
}

// openTable lists the places that the sheet does not fill; nil when there are none.
func (r *Result) openTable() []export.Table {
	t := export.Table{Caption: "Places that the sheet does not fill", Heads: []export.Head{
		{Text: "place"}, {Text: "largest gap, mm", Kind: export.Number}, {Text: "radius it takes instead, mm", Kind: export.Number},
		{Text: "at x, y from the middle of the insert", Kind: export.Number},
	}}
	for _, o := range r.Formed.Open {
		if o.Zone != forming.Flange && o.Gap >= leastOpen {
			t.Rows = append(t.Rows, []string{r.placeName(o.Place), fixed(2, o.Gap), fixed(1, o.Radius), r.fromMiddle(o.At)})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []export.Table{t}
}

// fromMiddle writes a place of the plan as it is measured on the insert.
func (r *Result) fromMiddle(at geom.Vec) string {
	p := at.XY().Sub(r.Layout.Center)
	return fixed(0, p.X) + ", " + fixed(0, p.Y)
}

// thinnestIn is the thinnest place of an item's pocket.
func (r *Result) thinnestIn(item int) (forming.Stat, bool) {
	var thin forming.Stat
	found := false
	if r.Formed == nil {
		return thin, false
	}
	for _, s := range r.Formed.Stats {
		if s.Zone.InPocket() && slices.Contains(r.pockets[s.Pocket], item) && (!found || s.Least < thin.Least) {
			thin, found = s, true
		}
	}
	return thin, found
}
