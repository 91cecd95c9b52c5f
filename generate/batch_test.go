package generate

import (
	"math"
	"testing"

	"buckwright/generate/estimate"
)

// canister is a round pocket without notches, so that its lining is a frustum
// and a disc; every price is 1.
const canister = `kit: canister
items: [{name: can, shape: {cylinder: {diameter: 60, height: 40}}, depth: 25, mass: 300}]
liner: {wrap: pockets}
batch: {count: 20, currency: SEK, filament: 1, sheet: 1, liner: 1, lid_liner: 1, cement: 1, machine: 1, labour: 1, setup: 3 h, each: 30 min, spoiled: 20 %}
`

// TestLiningOfACanister: by hand, at the middle of the felt.
func TestLiningOfACanister(t *testing.T) {
	r := previewOf(t, "canister.yaml", []byte(canister))
	d := r.Dims
	mid := d.Pocket.Finished / 2
	tan, cos := d.Pocket.Draft.Tan(), d.Pocket.Draft.Cos()
	deep := d.Items[0].Depth + d.Items[0].SeatRise + mid
	// The wall leans from the cylinder's foot, mid beyond it, square to itself.
	foot := 30 + mid/cos - mid*tan
	mouth := foot + deep*tan
	want := math.Pi*foot*foot + math.Pi*(foot+mouth)*deep/cos
	if got := r.feltArea(); !(math.Abs(got/want-1) < 0.02) {
		t.Errorf("felt %.0f mm², want %.0f", got, want)
	}
	rim := 30 + d.Pocket.Finished/2/cos + (d.Items[0].Depth+d.Items[0].SeatRise)*tan
	if got, want := r.lining.mouths, math.Pi*rim*rim; !(math.Abs(got/want-1) < 0.02) {
		t.Errorf("mouth %.0f mm², want %.0f", got, want)
	}
}

// TestBatchAddsUp: rows against sums by hand.
func TestBatchAddsUp(t *testing.T) {
	r := previewOf(t, "canister.yaml", []byte(canister))
	for i := range r.Parts {
		r.Parts[i].Print = estimate.Print{Grams: 100, Seconds: 3600}
	}
	e := r.batch()
	if e == nil {
		t.Fatal("no estimate")
	}
	tools := 0
	for _, p := range r.Parts {
		if !p.Reference && p.Name != "base" && p.Name != "lid" {
			tools++
		}
	}
	setup := float64(tools)*0.1 + float64(tools) + 3
	blank := (r.Dims.Former.Area[0] + 24) * (r.Dims.Former.Area[1] + 24) * 1e-6 / 0.8
	felt, sponge := r.feltArea()*1e-6, r.Dims.Items[0].PadArea*1e-6
	each := 0.2 + 2 + blank + (felt+sponge)/0.7/0.8 + felt*0.1/0.2/0.8 + 0.5
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"set-up", e.Setup, setup}, {"each", e.Each, each}, {"unit", e.Unit, each + setup/20}, {"batch", e.Batch, 20*each + setup}} {
		if !(math.Abs(c.got-c.want) < 1e-3) {
			t.Errorf("%s: %.5f, want %.5f", c.what, c.got, c.want)
		}
	}
	for _, row := range e.Rows {
		if row.Example || row.Source == "" {
			t.Errorf("%+v", row)
		}
	}
	r.Parts = r.Parts[:1]
	if r.batch() != nil {
		t.Error("a batch is told of a kit that was made in part")
	}
}
