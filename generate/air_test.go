package generate

import (
	"math"
	"testing"

	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// The air in a round hole 20 mm wide and 10 deep, by plumb lines 2 mm apart,
// against its closed form.
func TestAirUnder(t *testing.T) {
	block := sdf.Difference(sdf.HalfSpace{N: geom.V(0, 0, 1), D: -1}, sdf.Rod(geom.Vec2{}, 10, -11, 1))
	var circle []geom.Vec2
	for i := range 90 {
		a := float64(i) * 4 * math.Pi / 180
		circle = append(circle, geom.Vec2{X: 11 * math.Cos(a), Y: 11 * math.Sin(a)})
	}
	homes := outlines{loops: [][]geom.Vec2{circle}, pocket: []int{0}}
	got := airUnder(block, homes, geom.Box{Min: geom.V(-12.3, -12.1, 0), Max: geom.V(12.3, 12.1, 0)}, -1, 1)
	if want := math.Pi * 100 * 10; math.Abs(got[0]-want) > 0.03*want {
		t.Errorf("air = %.0f mm³, want %.0f", got[0], want)
	}
}

// Fine vents are set closer until the air is out in time, unless the kit says
// how close.
func TestVentsUntilTheAirIsOut(t *testing.T) {
	if testing.Short() {
		t.Skip("forms two kits")
	}
	const kit = `kit: fine-vents
items:
  - {name: gauge, shape: {box: {size: [70, 50, 26], corner_radius: 6, edge_radius: 4}}, depth: 20, mass: 60}
former: {area: [200, 180]}
insert: {margin: 10}
`
	slow := previewOf(t, "kit.yaml", []byte(kit+"buck: {vent: {diameter: 0.3, pitch: 40}}\n"))
	quick := previewOf(t, "kit.yaml", []byte(kit+"buck: {vent: {diameter: 0.3}}\n"))
	if a := slow.Air[0]; !(a.Time > forming.Quick) || a.Needed <= a.Holes {
		t.Errorf("%d vents of 0.3 mm, 40 mm apart: %+v", a.Holes, a)
	}
	if a := quick.Air[0]; !(a.Time <= forming.Quick) || a.Holes <= slow.Air[0].Holes {
		t.Errorf("%d vents of 0.3 mm: %+v", a.Holes, a)
	}
}
