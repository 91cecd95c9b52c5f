package generate

import (
	"bytes"
	"os"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
	"buckwright/generate/solid"
)

// A case of thin walls is drawn without its chamfers, dishes and grooves eating
// them up: wherever the cavity's edge is, as much stands outside it.
func TestThinShellsKeepTheirCorners(t *testing.T) {
	src, err := os.ReadFile("../templates/tide-logger.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const wide = "{wall: 2.4, floor: 2.4,"
	if !bytes.Contains(src, []byte(wide)) {
		t.Fatal("the demo's shell is not what this test takes it for")
	}
	for _, thin := range []string{"{wall: 0.9, floor: 0.8,", "{wall: 0.5, floor: 2.4,"} {
		kit := bytes.Replace(src, []byte(wide), []byte(thin), 1)
		kit = bytes.Replace(kit, []byte("{kind: catch}"), []byte("{kind: none}"), 1)
		r := previewOf(t, "../templates/tide-logger.yaml", kit)
		d, l := r.Dims, r.Layout
		lid := solid.Lid(l)
		out := l.OutsideHalf()
		thinner := min(d.Lid.Wall, d.Lid.Top)
		// From the upper edge of the lid's inside, slantwise out and up.
		edge := geom.V(l.Center.X+out.X-d.Lid.Wall, l.Center.Y+10, d.Lid.Ceiling)
		if got := through(lid, edge, geom.V(1, 0, 1)); got < 0.85*thinner {
			t.Errorf("%s: %.2f mm are left at the lid's upper edge, the thinner of its walls is %.2f", thin, got, thinner)
		}
		// Through its top and its sides: a label's groove and a thumb's dish are there.
		for x := -0.7 * out.X; x < 0.7*out.X; x += 0.25 {
			if got := through(lid, geom.V(l.Center.X+x, l.Center.Y, d.Lid.Ceiling), geom.V(0, 0, 1)); got < 0.55*d.Lid.Top {
				t.Errorf("%s: %.2f mm of %.2f are left of the lid's top at x %.1f", thin, got, d.Lid.Top, x)
				break
			}
			low := geom.V(l.Center.X+x, l.Center.Y+out.Y-d.Lid.Wall, d.Lid.Ceiling-5)
			if got := through(lid, low, geom.V(0, 1, 0)); got < 0.55*d.Lid.Wall {
				t.Errorf("%s: %.2f mm of %.2f are left of the lid's side at x %.1f", thin, got, d.Lid.Wall, x)
				break
			}
		}
	}
}

// through is how thick s is from a point of its surface on, in mm.
func through(s sdf.Solid, from, way geom.Vec) float64 {
	way = way.Unit()
	const step = 0.01
	for d := step; ; d += step {
		if s.Dist(from.Add(way.Scale(d))) > 0 {
			return d - step
		}
	}
}
