package generate

import (
	"math"
	"testing"

	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/picture"
)

// twoItems is a box in a deep pocket and a lying bottle.
const twoItems = `kit: two
items:
  - {name: tester, shape: {box: {size: [162, 38, 24], corner_radius: 8, edge_radius: 4}}, at: [0, 26], depth: 17, mass: 210, notch: [front, back]}
  - {name: bottle, shape: {cylinder: {diameter: 28, height: 74, along: x, edge_radius: 1}}, at: [0, -38], depth: 14, mass: 60, notch: [left, right]}
liner: {compression: 15 %, wrap: rim}
former: {area: [300, 200]}
insert: {margin: 10}
`

// TestOpenPlacesAreNamedWhereTheyAreSeen: a place that the sheet does not fill is
// named on the flat sheet, where no wall hides it, at a node that never touches.
func TestOpenPlacesAreNamedWhereTheyAreSeen(t *testing.T) {
	r := previewOf(t, "two.yaml", []byte(twoItems))
	f := r.Formed
	b := r.contactMap(f)
	if n := len(b.Panels[0].Labels); n > 0 {
		t.Errorf("%d places are named on the formed sheet, whose walls hide its corners", n)
	}
	told := 0
	for _, o := range f.Open {
		if o.Zone != forming.Flange && o.Gap >= leastOpen {
			told++
		}
	}
	labels := b.Panels[1].Labels
	if told == 0 || len(labels) != min(told, mostOpen) {
		t.Fatalf("%d open places are to be told, %d are named", told, len(labels))
	}
	seen := map[string]bool{}
	for _, l := range labels {
		if seen[l.Text] {
			t.Errorf("two places are both called %q", l.Text)
		}
		seen[l.Text] = true
		touched := true
		for i, p := range f.Flat {
			if p.At(0) == l.At {
				touched = !math.IsInf(f.Touch[i], 1)
			}
		}
		if touched {
			t.Errorf("%q points at a place that touches", l.Text)
		}
	}
	ring := false
	for _, o := range f.Open {
		ring = ring || o.Zone == forming.Flange
		if o.Zone == forming.Flange && !(o.At.Z <= r.Layout.Trim) {
			t.Errorf("an open place %.1f above the trim line is said to be cut off", o.At.Z-r.Layout.Trim)
		}
	}
	if ring && b.Note == "" {
		t.Error("the ring round the skirt is hatched and not explained")
	}
	t.Run("pads", func(t *testing.T) { padsAreApart(t, r) })
}

// padsAreApart: the listed pads hold every support of the base's floor, and none
// runs into another.
func padsAreApart(t *testing.T, r *Result) {
	pads := r.gluePads()
	if n := len(r.Layout.Supports()); n <= len(r.Kit.Items) || len(pads) != len(r.Kit.Items) {
		t.Errorf("%d supports make %d pads for %d items", n, len(pads), len(r.Kit.Items))
	}
	for i, p := range pads {
		for _, q := range pads[:i] {
			if !p.Intersect(q).Empty() {
				t.Errorf("pads %v and %v run into each other", p, q)
			}
		}
	}
	for _, s := range r.Layout.Supports() {
		held := 0
		for _, p := range pads {
			if p.Contains(s.At.Sub(s.Half).At(0)) && p.Contains(s.At.Add(s.Half).At(0)) {
				held++
			}
		}
		if held != 1 {
			t.Errorf("the support at %v is in %d pads", s.At, held)
		}
	}
}

// TestWidestOfARoundItem: a bottle of 28 mm is told to be 28 wide, wherever its
// axis lies, and a block just below the rim.
func TestWidestOfARoundItem(t *testing.T) {
	for _, axis := range []float64{0, 3, -9} {
		var round []geom.Vec2
		for i := range 720 {
			a := geom.Angle(i) * geom.Degree / 2
			round = append(round, at(5+14*a.Cos(), axis+14*a.Sin()))
		}
		left, right, ok := widest(picture.Loops{round})
		if got := right.X - left.X; !ok || !(math.Abs(got-28) < 0.03) {
			t.Errorf("axis at %g: %.3f wide", axis, got)
		}
	}
	left, _, ok := widest(picture.Loops{{at(-10, -15), at(10, -15), at(10, 5), at(-10, 5)}})
	if !ok || left.Y != -1.5 {
		t.Errorf("a block is told at %g", left.Y)
	}
}
