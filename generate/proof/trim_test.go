package proof

import "testing"

// blade is how thick a trimming blade is; break-off and trapezoid blades of the
// shops are 0.5 to 0.6. Common practice, no source.
const blade = 0.6

// TestTrimGuide stands the insert on its rim and the guide beside it on the same
// table, lays a blade on the land and looks where its middle meets the skirt.
func TestTrimGuide(t *testing.T) { kits(t, judgeTrim) }

func judgeTrim(t *testing.T, m *made) {
	guide := m.printed(t, "trim-guide") // it is used as it is printed, foot down
	lo, hi := Bounds(guide)
	near(t, "foot", lo[2], 0, 1e-3)
	insert := m.body(t, "insert")
	edge, rim := Bounds(insert.Facets)
	near(t, "blade over the table", hi[2]+blade/2, rim[2]-edge[2], exact)
	near(t, "blade over the table, of kit.json", hi[2]+blade/2, -m.fit(t, "trim"), exact)

	var land, deep float64
	for _, f := range guide {
		if lowest(f) > hi[2]-0.01 {
			land += f.Area()
		}
	}
	deep = hi[1] - lo[1]
	if !(land > 0.25*(hi[0]-lo[0])*deep) {
		t.Errorf("the blade lies on %.0f mm²", land)
	}
	if !(deep > 1.2*hi[2]) {
		t.Errorf("a foot of %.1f for a land at %.1f tips before it slides", deep, hi[2])
	}

	body := m.body(t, "trim-guide")
	l, h := Bounds(body.Facets) // the land looks down in the kit's frame
	near(t, "table", h[2], 0, exact)
	gaps := measured(Sample(body.Facets, 20000, All), func(p Vec) (float64, Vec) {
		return insert.Tree.Signed(p, 20), p
	})
	atLeast(t, "guide clear of the insert", gaps, -exact)
	near(t, "fence to skirt", gaps.Least, 0, exact)
	if at := gaps.LeastAt; !(at[2] < l[2]+0.5) {
		t.Errorf("the fence touches at %.2f, not at the land's edge", at)
	}
}
