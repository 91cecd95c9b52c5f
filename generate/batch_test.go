package generate

import (
	"math"
	"testing"

	"buckwright/generate/estimate"
)

// canister is a round pocket without notches; every price is 1.
const canister = `kit: canister
items: [{name: can, shape: {cylinder: {diameter: 60, height: 40}}, depth: 25, mass: 300}]
liner: {wrap: pockets}
batch: {count: 20, currency: SEK, filament: 1, sheet: 1, liner: 1, lid_liner: 1, cement: 1, machine: 1, labour: 1, setup: 3 h, each: 30 min, spoiled: 20 %}
`

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
	// The felt: a disc for the floor and a ring's share for the wall, at the middle
	// of the felt; the wall leans from the cylinder's foot.
	mid := r.Dims.Pocket.Finished / 2
	tan, cos := r.Dims.Pocket.Draft.Tan(), r.Dims.Pocket.Draft.Cos()
	deep := r.Dims.Items[0].Depth + r.Dims.Items[0].SeatRise + mid
	foot := 30 + mid/cos - mid*tan
	felt := (math.Pi*foot*foot + math.Pi*(2*foot+deep*tan)*deep/cos) * 1e-6
	got, feltBought := r.flatArea("felt")
	if !(math.Abs(got*1e-6/felt-1) < 0.06) { // the flats leave joints and a rim's edge out
		t.Errorf("felt %.0f mm², the pocket's surface is %.0f", got, felt*1e6)
	}
	pad, padBought := r.flatArea("sponge")
	if !(math.Abs(pad/r.Dims.Items[0].PadArea-1) < 0.01) {
		t.Errorf("sponge %.1f mm², the pad's area is %.1f", pad, r.Dims.Items[0].PadArea)
	}
	for _, v := range [][2]float64{{got, feltBought}, {pad, padBought}} {
		if !(v[1] > v[0] && v[1] < 3*v[0]) {
			t.Errorf("%.0f mm² take %.0f of the stock", v[0], v[1])
		}
	}
	each := 0.2 + 2 + blank + (feltBought+padBought)*1e-6/0.8 + got*1e-6*0.1/0.2/0.8 + 0.5
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
