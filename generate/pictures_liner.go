package generate

import (
	"fmt"
	"io"
	"math"

	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/picture"
)

// linerPictures show, on each item, how much its liner is compressed.
func (r *Result) linerPictures() (out []drawn) {
	for i, m := range r.Liners {
		if i < len(r.items) && m != nil && len(m.Samples) > 0 {
			name := "pictures/liner-" + r.Kit.Items[i].Name + ".png"
			out = append(out, drawn{name, func(w io.Writer) error { return r.linerMap(i, m).Draw(w) }})
		}
	}
	return out
}

// linerPiece is the longest side, mm, of the triangles that a liner map is
// painted on.
const linerPiece = 3.0

func (r *Result) linerMap(i int, m *forming.LinerMap) picture.Board {
	steps := picture.Round(0, max(100*m.Tightest, 1), mapBands)
	steps.DarkHigh = true
	on := picture.Divided(r.packedItem(i), linerPiece)
	body := r.itemBody(on, i)
	body.Value, body.Steps = compressions(on, m), steps
	painted := []picture.Body{body}
	return picture.Board{
		Title: fmt.Sprintf("%s: how much the felt is pressed on %s", r.Kit.Name, r.Kit.Items[i].Name),
		Note: fmt.Sprintf("At most %.0f\u00a0%%. It touches %.0f\u00a0%% of the sides below the rim. It takes %.1f N to pull the item out; turned over it would hold %.1f times its weight.",
			100*m.Tightest, 100*share(m.Touched, m.Sides), m.Pull, m.HoldsG),
		Legend: &picture.Legend{Title: "compression, % of the felt", Steps: steps, Missing: "not touched"},
		Panels: []picture.Panel{
			{Caption: "from below, the front and the right", Bodies: painted, From: picture.Below()},
			{Caption: "from the side, the back and the left", Bodies: painted, From: geom.V(-1.2, 1.4, -0.5)},
		},
	}
}

func share(part, whole float64) float64 {
	if whole > 0 {
		return part / whole
	}
	return 0
}

// compressions are those at a mesh's vertices in percent: the mean of the
// samples near by, the nearer the heavier. NaN where there are none.
func compressions(on *mesh.Mesh, m *forming.LinerMap) []float64 {
	const reach = 1.5 * linerPiece
	cell := func(p geom.Vec) [3]int {
		return [3]int{int(math.Floor(p.X / reach)), int(math.Floor(p.Y / reach)), int(math.Floor(p.Z / reach))}
	}
	grid := map[[3]int][]int{}
	for i, s := range m.Samples {
		grid[cell(s.At)] = append(grid[cell(s.At)], i)
	}
	out := make([]float64, len(on.V))
	for k, v := range on.V {
		sum, weight := 0.0, 0.0
		c := cell(v)
		for n := range 27 {
			for _, i := range grid[[3]int{c[0] + n%3 - 1, c[1] + n/3%3 - 1, c[2] + n/9 - 1}] {
				if d := m.Samples[i].At.Dist(v); d < reach {
					w := (1 - d/reach) * (1 - d/reach)
					sum, weight = sum+w*100*m.Compression[i], weight+w
				}
			}
		}
		out[k] = sum / weight // 0/0 is NaN
	}
	return out
}
