package proof

import (
	"math"
	"testing"
)

// The press tool's plate and the room that the insert leaves round its pockets.
// The plate's sizes are the part's own, common practice, no source; the margin is
// both kits'.
const (
	plateUnder, plateThick = 4.5, 4.0
	plateIn, plateFoot     = 3.0, 0.3 // from the rim's outline in; chamfer on the bed
	plateCorner            = 12.0
	wingHalf               = 35.0 // mm, of the grips at both ends
	insertMargin           = 14.0
)

// rimOutline is where the skirt, produced upwards, meets the rim's height.
func rimOutline(t *testing.T, m *made) Rounded {
	t.Helper()
	return trimmed(t, m).Grown(m.fit(t, "trim") * math.Tan(demoSkirt*deg))
}

// TestPlateIsDrawn: the press tool's back plate, away from grips, plugs, stops and
// air reliefs.
func TestPlateIsDrawn(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		plan := rimOutline(t, m).Grown(-plateIn)
		plan.R = plateCorner
		const bed = plateUnder + plateThick
		plate := Section{plan, []Corner{
			{"inside", inward, plateUnder},
			{"plate's rim", 0, plateUnder},
			{"plate's foot", 0, bed - plateFoot},
			{"plate's bed rim", -plateFoot, bed},
			{"inside", inward, bed},
		}}
		b := m.body(t, "press-tool")
		meets := func(p Vec, z float64) bool { return b.Tree.Ray(Vec{p[0], p[1], z}, down, 0).Facet >= 0 }
		out := func(p Vec) bool {
			q := p.Sub(plan.At)
			switch {
			case p[2] < plateUnder-0.01, math.Abs(q[1]) < wingHalf+1 && math.Abs(q[0]) > plan.HX-1:
				return true // plugs and stops; grips
			case plan.Dist(p) > -1:
				return false
			case p[2] > plateUnder+0.01 && p[2] < bed-0.01:
				return true // an air relief's wall
			case p[2] < bed-1:
				return meets(p, plateUnder-0.02) // what a plug or a stop stands on
			}
			return !meets(p, bed+1) // an air relief's mouth
		}
		m.isDrawn(t, "press-tool", b, plate.Dist, plate.Features(3*onEach), out, 0.6)
	})
}

// TestInsertIsSizedByItsPockets: each side of the insert is the margin from the
// mouth, before that is rounded, or the notch that reaches farthest to it. Only the
// front of the drift buoy's is by a pocket that has a closed form.
func TestInsertIsSizedByItsPockets(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		sin, cos := math.Sincos(demoDraft * deg)
		left, right, front, back := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, k := range pocketsOf(t, m) {
			for _, c := range k.member(m.fit(t, "r_pocket"), 0, 0).Pieces {
				mouth := c.Plan.Grown((c.Grow - c.Foot*sin) / cos)
				left, right = math.Min(left, mouth.At[0]-mouth.HX), math.Max(right, mouth.At[0]+mouth.HX)
				front, back = math.Min(front, mouth.At[1]-mouth.HY), math.Max(back, mouth.At[1]+mouth.HY)
			}
		}
		rim, by := rimOutline(t, m), m.promised(t, "insert")
		near(t, "front of the insert", rim.At[1]-rim.HY, front-insertMargin, by)
		if m.Kit == "drift-buoy" {
			return
		}
		near(t, "back of the insert", rim.At[1]+rim.HY, back+insertMargin, by)
		near(t, "left of the insert", rim.At[0]-rim.HX, left-insertMargin, by)
		near(t, "right of the insert", rim.At[0]+rim.HX, right+insertMargin, by)
		t.Logf("%v for %.4f to %.4f and %.4f to %.4f", rim, left, right, front, back)
	})
}
