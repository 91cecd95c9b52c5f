package generate

import (
	"context"
	"math"
	"testing"

	"buckwright/generate/forming"
	"buckwright/generate/geom"
)

// A round pocket is taken for the pan that its kit gives, and told of twice: as
// simulated and by the handbook, which leaves more in the middle of the floor.
func TestHandbookBesideTheSimulation(t *testing.T) {
	r, _, _, err := begin(context.Background(), jobOf(t, "canister.yaml", []byte(canister)), Draft, orSilent(nil))
	if err != nil {
		t.Fatal(err)
	}
	pan, _, ok := r.pan(0)
	d := r.Dims.Items[0]
	deep := d.Depth + d.SeatRise + d.FloorStep + d.Buck - r.Dims.Insert.Rim
	half := 30 + d.Buck/pan.Draft.Cos() + (deep-d.Buck)*pan.Draft.Tan()
	// It is formed on the first buck, whose wall is that of the draw ratio: 0.4 mm beside it.
	if !ok || pan.Long || !(math.Abs(pan.Half-half) < 0.4) || !(math.Abs(pan.Depth-deep) < 0.6) {
		t.Fatalf("taken for %+v (%v), want half %.2f and depth %.2f", pan, ok, half, deep)
	}
	told := map[string]float64{}
	for _, p := range r.Prediction() {
		if p.Where == "can" {
			told[p.Name] = p.Value
		}
	}
	simulated, estimate := told["middle of the floor, simulated"], told["middle of the floor, handbook"]
	if want := (1 + math.Cos(2*math.Atan(pan.Depth/pan.Half))) / 2; !(math.Abs(estimate-want) < 1e-9) {
		t.Errorf("handbook %.4f, want %.4f: the bubble meets the floor before it lies against the wall", estimate, want)
	}
	if !(simulated < estimate && simulated > 0.5*estimate) {
		t.Errorf("middle of the floor %.4f mm, by the handbook %.4f", simulated, estimate)
	}
}

// A rectangle of 60 by 20 turned by 30 degrees about 5, -3.
func TestNarrowest(t *testing.T) {
	turn := geom.RotateZ(30 * geom.Degree).Then(geom.Translate(geom.V(5, -3, 0)))
	var loop []geom.Vec2
	for _, p := range []geom.Vec2{{X: -30, Y: -10}, {X: 30, Y: -10}, {X: 30, Y: 10}, {X: -30, Y: 10}} {
		loop = append(loop, turn.Apply(p.At(0)).XY())
	}
	middle, wide, long := narrowest(loop)
	if !(middle.Sub(geom.Vec2{X: 5, Y: -3}).Len() < 1e-9 && math.Abs(wide-20) < 1e-9 && math.Abs(long-60) < 1e-9) {
		t.Errorf("%v, %g by %g", middle, wide, long)
	}
	if p := (forming.Pan{Half: 10, Depth: 1e-9, Long: long > longPan*wide}); !p.Long || !(math.Abs(p.Floor()-1) < 1e-9) {
		t.Errorf("%+v: floor %.5f", p, p.Floor())
	}
}
