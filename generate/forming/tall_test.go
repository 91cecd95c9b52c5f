package forming

import (
	"math"
	"slices"
	"testing"

	"buckwright/generate/geom"
)

// rounded is a block with round upright edges and a round rim, its top at z = 0.
type rounded struct {
	half         geom.Vec2 // at the rim
	high         float64
	draft        geom.Angle
	corner, edge float64 // radii in plan and of the rim
	pockets      []well
}

func (b rounded) Dist(p geom.Vec) float64 {
	grow := -p.Z * b.draft.Tan()
	r := b.corner
	q := geom.Vec2{X: math.Abs(p.X) - b.half.X - grow + r, Y: math.Abs(p.Y) - b.half.Y - grow + r}
	side := (math.Hypot(max(q.X, 0), max(q.Y, 0)) + min(0, max(q.X, q.Y)) - r) * b.draft.Cos()
	u, v := side+b.edge, p.Z+b.edge
	d := math.Hypot(max(u, 0), max(v, 0)) + min(0, max(u, v)) - b.edge
	d = max(d, -b.high-p.Z)
	for _, w := range b.pockets {
		x := math.Abs(p.X-w.at.X) - w.half.X - p.Z*b.draft.Tan()
		y := math.Abs(p.Y-w.at.Y) - w.half.Y - p.Z*b.draft.Tan()
		d = max(d, min(p.Z+w.depth, -max(x, y)*b.draft.Cos()))
	}
	return d
}

func (b rounded) shot(w, h float64) Setup {
	grow := b.high * b.draft.Tan()
	x, y := b.half.X+grow, b.half.Y+grow
	return Setup{Body: b, Box: geom.BoxOf(geom.V(-x, -y, -b.high), geom.V(x, y, 0)), Area: [2]float64{w, h},
		Gauge: 1, Law: firm, Friction: Sticks, Vacuum: 80, Platen: -b.high}
}

// tallBox is a box of the given height with one pocket ten millimetres shallower.
func tallBox(high, margin float64) rounded {
	return rounded{
		half: geom.Vec2{X: 32 + margin, Y: 22 + margin}, high: high, draft: 3 * geom.Degree, corner: 6, edge: 2,
		pockets: []well{{half: geom.Vec2{X: 32, Y: 22}, depth: high - 10}},
	}
}

// twoHalves are two pockets side by side, one half as deep as the other.
func twoHalves(high, margin float64) rounded {
	b := tallBox(high, margin)
	b.half.X = 50 + margin
	b.pockets = []well{
		{geom.Vec2{X: -27}, geom.Vec2{X: 23, Y: 22}, high - 10},
		{geom.Vec2{X: 27}, geom.Vec2{X: 23, Y: 22}, high / 2},
	}
	return b
}

// A tool that stands tall gathers the sheet at its corners. The sheet covers the
// tool once, the rest lies in webs, and every measure goes evenly with the height.
func TestTallTools(t *testing.T) {
	for _, series := range []struct {
		name   string
		tool   func(high, margin float64) rounded
		margin float64
		pocket []float64 // depths
	}{
		{"small margin", tallBox, 6, []float64{20, 32, 38, 45, 60}},
		{"large margin", tallBox, 25, []float64{20, 32, 38, 45, 60}},
		{"two pockets", twoHalves, 10, []float64{20, 38, 60}},
	} {
		t.Run(series.name, func(t *testing.T) {
			var last shotFigures
			for i, depth := range series.pocket {
				now := figures(t, series.tool(depth+10, series.margin))
				t.Logf("%g mm deep: %+v", depth, now)
				now.check(t, depth)
				if i > 0 {
					now.follows(t, last, depth-series.pocket[i-1])
				}
				last = now
			}
		})
	}
}

// shotFigures is what a tall shot is judged by. Areas are by that of the frame.
type shotFigures struct {
	draw, covered, webs float64 // areas of the sheet, of tool and platen, of webs
	top                 float64 // highest node, mm above the rim
	least, skirt        float64 // thickness: the least of all, and the mean on the outer wall
}

func figures(t *testing.T, b rounded) shotFigures {
	s := b.shot(250, 250)
	f := form(t, s)
	out := shotFigures{draw: f.Draw, covered: covered(s), top: math.Inf(-1), least: slices.Min(f.Thickness)}
	for _, p := range f.Node {
		out.top = max(out.top, p.Z)
	}
	for _, w := range f.Webs(func(geom.Vec) bool { return true }) {
		out.webs += w.Area / (s.Area[0] * s.Area[1])
	}
	var area float64
	for k, h := range f.Thickness {
		if q := f.middle(k); math.Abs(q.Y) > b.half.Y && q.Z < -3 && q.Z > 3-b.high && math.Abs(q.X) < b.half.X/2 {
			out.skirt, area = out.skirt+h*f.area(k), area+f.area(k)
		}
	}
	out.skirt /= area
	same(t, "mirrored in y", f, f, mirrorY)
	return out
}

func (a shotFigures) check(t *testing.T, depth float64) {
	t.Helper()
	if !(a.top <= skinShare*usualElement) {
		t.Errorf("%g mm deep: the sheet stands %.2f mm above the rim", depth, a.top)
	}
	if once := a.draw - a.webs; !(once > 0.95*a.covered && once < 1.01*a.covered) {
		t.Errorf("%g mm deep: beside webs the sheet is %.3f of the frame, tool and platen are %.3f", depth, once, a.covered)
	}
}

// follows compares with a tool that is less deep by more.
func (a shotFigures) follows(t *testing.T, b shotFigures, more float64) {
	t.Helper()
	if !(a.skirt < b.skirt && a.webs > b.webs) {
		t.Errorf("%g mm deeper, the outer wall goes from %.3f to %.3f mm and webs from %.4f to %.4f", more, b.skirt, a.skirt, b.webs, a.webs)
	}
	if rate := math.Log(b.least/a.least) / more; !(rate > 0.02 && rate < 0.15) {
		t.Errorf("%g mm deeper, the least thickness goes from %.4f to %.4f mm", more, b.least, a.least)
	}
}

// covered is the area of tool and platen as seen from above, by the frame's
// area: what a sheet without webs and bridges would be drawn by. The tool has no undercut.
func covered(s Setup) float64 {
	const step = 1.0 // mm
	nx, ny := int(s.Area[0]/step), int(s.Area[1]/step)
	lo := s.Center.Sub(geom.Vec2{X: s.Area[0] / 2, Y: s.Area[1] / 2})
	z := make([]geom.Vec, (nx+1)*(ny+1))
	for j := range ny + 1 {
		for i := range nx + 1 {
			p := lo.Add(geom.Vec2{X: float64(i) * step, Y: float64(j) * step}).At(s.Rim)
			for range 200 {
				d := min(s.Body.Dist(p), p.Z-s.Platen)
				if d < 1e-3 {
					break
				}
				p.Z -= d
			}
			z[j*(nx+1)+i] = p
		}
	}
	area := 0.0
	for j := range ny {
		for i := range nx {
			a, b := z[j*(nx+1)+i], z[j*(nx+1)+i+1]
			c, d := z[(j+1)*(nx+1)+i+1], z[(j+1)*(nx+1)+i]
			area += c.Sub(a).Cross(d.Sub(b)).Len() / 2
		}
	}
	return area / (s.Area[0] * s.Area[1])
}
