package generate

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"buckwright/generate/export"
	"buckwright/generate/geom"
)

// oneItem is the head of a kit with one block in it.
const oneItem = "kit: a\nitems:\n  - {name: thing, shape: {box: {size: [60, 40, 14]}}, depth: 9, mass: 40, notch: front}\n"

// measured is a printer as it was measured on the coupon: short along its axes,
// outer faces fat.
const measured = "printer: {offset: 0.04, scale: [0.9955, 0.9962, 1], tolerance: 0.08}\n"

// cell is a number of a table's row whose first cell begins so.
func cell(t *testing.T, tables []export.Table, row string, column int) float64 {
	t.Helper()
	for _, tt := range tables {
		for _, cells := range tt.Rows {
			if strings.HasPrefix(cells[0], row) {
				v, err := strconv.ParseFloat(cells[column], 64)
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
		}
	}
	t.Fatalf("no row %q", row)
	return 0
}

// TestCardReadsWhatAPrinterPrints: a print is made by the printer as it was
// measured, L = k drawn + 2 o (fit.Coupon.Calibrate), and the card must want
// that length, whatever the file's is. By the same printer the lid's inside and
// its two walls must add up to its outside.
func TestCardReadsWhatAPrinterPrints(t *testing.T) {
	for _, printer := range []string{"", measured} {
		r := previewOf(t, "a.yaml", []byte(oneItem+printer))
		card := r.inspectSection().Tables
		scale, offset := r.Kit.Printer.Scale, r.Kit.Printer.Offset
		for _, p := range r.Parts {
			if p.Name != "buck" && p.Name != "base" && p.Name != "lid" {
				continue
			}
			size := p.Printed.Bounds().Size()
			for axis, name := range [2]string{"length", "width"} {
				k := scale[axis]
				if k == 0 { // not measured
					k = 1
				}
				got := cell(t, card, p.Title+": "+name+" over all", 3)
				want := size.Axis(axis)*k + 2*offset
				if !(math.Abs(got-want) < 0.006) {
					t.Errorf("%s, %s: the card wants %.2f, a good print reads %.3f", p.Title, name, got, want)
				}
			}
		}
		inside, wall := cell(t, card, "lid: length inside", 3), cell(t, card, "base: wall of the neck", 3)
		if got, want := inside+2*wall, cell(t, card, "case lid: length over all", 3); !(math.Abs(got-want) < 0.02) {
			t.Errorf("the lid's inside and walls are %.2f, its outside %.2f", got, want)
		}
	}
}

// TestPlacesOnThePrintedBuck: what is measured or drilled by the printed buck is
// larger by the sheet's shrinkage, not by the printer's scale as well.
func TestPlacesOnThePrintedBuck(t *testing.T) {
	r := previewOf(t, "a.yaml", []byte(oneItem+measured+"buck: {vent: {diameter: 0.5}, screws: {thread: M4}}\n"))
	grown := 1 / (1 - r.Dims.Shrink.Nominal)
	for _, s := range r.screwsJSON() {
		at := geom.Vec2{X: s.At[0], Y: s.At[1]}.Sub(r.Layout.Center).Scale(grown)
		if !(math.Hypot(s.FromMiddle[0]-at.X, s.FromMiddle[1]-at.Y) < 1e-9) {
			t.Errorf("a screw at %v is said to be at %v", at, s.FromMiddle)
		}
	}
	buck := cell(t, r.inspectSection().Tables, "forming buck: length over all", 3)
	for i, v := range r.Layout.Vents { // the foot's middle is the insert's
		left, err := strconv.ParseFloat(r.ventTable().Rows[i][2], 64)
		if want := buck/2 + (v.At.X-r.Layout.Center.X)*grown; err != nil || !(math.Abs(left-want) < 0.06) {
			t.Errorf("vent %d: %.1f from the left, on the print it is %.2f", i+1, left, want)
		}
	}
}

// TestCardTakesInThePrediction: a case that comes out as it was predicted passes
// its card, and the card says where its pad bears more than its row does.
func TestCardTakesInThePrediction(t *testing.T) {
	const kit = "kit: a\nitems:\n  - {name: bottle, shape: {cylinder: {diameter: 28, height: 74, along: x}}, depth: 14, mass: 60, notch: front}\n" +
		"liner: {thickness: 2, compression: 15 %, wrap: skirt}\nlid_liner: {thickness: 4}\n"
	r := previewOf(t, "a.yaml", []byte(kit))
	it := r.Dims.Items[0]
	for _, up := range []float64{r.Liners[0].Rest, 0, -0.2, 0.3, 0.9, 1.5, -2} {
		r.Liners[0].Rest = up
		v, why := r.seated(0)
		top := it.Height - it.Depth + up
		if !(v.Nominal == top && v.Least < top && top < v.Most) {
			t.Errorf("predicted %.2f, the card has %.2f within %.2f and %.2f", top, v.Nominal, v.Least, v.Most)
		}
		squeezed := 1 - (it.PadZ-top)/r.Dims.Lid.Liner // of the pad, by hand
		if beyond := squeezed > r.lidLiner.Most; beyond != strings.Contains(why, "rests high") {
			t.Errorf("the pad is squeezed by %.0f %%, and the card says %q", 100*squeezed, why)
		}
		if off := squeezed < 0; off != strings.Contains(why, "rests low") {
			t.Errorf("the pad is squeezed by %.0f %%, and the card says %q", 100*squeezed, why)
		}
	}
}
