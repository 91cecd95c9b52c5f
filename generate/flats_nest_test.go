package generate

import (
	"math/rand/v2"
	"testing"

	"buckwright/generate/export"
)

// apart reports whether the flats of a plate lie in the room, a gap apart.
func apart(plate []export.Placed, prints []export.Footprint, room [2]float64) bool {
	const slack = 1e-9
	size := func(p export.Placed) (w, h float64) {
		if w, h = prints[p.Part].X, prints[p.Part].Y; p.Turned {
			w, h = h, w
		}
		return w, h
	}
	for i, a := range plate {
		w, h := size(a)
		if a.X < -slack || a.Y < -slack || a.X+w > room[0]+slack || a.Y+h > room[1]+slack || a.Turned && prints[a.Part].Upright {
			return false
		}
		for _, b := range plate[:i] {
			bw, bh := size(b)
			if a.X < b.X+bw+nestGap-slack && b.X < a.X+w+nestGap-slack && a.Y < b.Y+bh+nestGap-slack && b.Y < a.Y+h+nestGap-slack {
				return false
			}
		}
	}
	return true
}

// TestFlatsLieTogether: five pieces of felt that a hand lays on 430 x 180 mm
// (upright strips under a long one), and random ones, all laid, apart, and never
// on more than they were on before.
func TestFlatsLieTogether(t *testing.T) {
	room := [2]float64{904, 447}
	byHand := []export.Footprint{{X: 181.5, Y: 129}, {X: 163.2, Y: 65}, {X: 420.3, Y: 30.1}, {X: 100.4, Y: 32.5}, {X: 248.9, Y: 16.4}}
	kits := [][]export.Footprint{byHand}
	random := rand.New(rand.NewPCG(7, 16))
	for range 12 {
		var one []export.Footprint
		for range 1 + random.IntN(8) {
			one = append(one, export.Footprint{X: 10 + 200*random.Float64(), Y: 10 + 120*random.Float64()})
		}
		kits = append(kits, one)
	}
	var many []export.Footprint // which take long to lay
	for range 90 {
		many = append(many, export.Footprint{X: 10 + 60*random.Float64(), Y: 10 + 40*random.Float64()})
	}
	for n, prints := range append(kits, many) {
		for i := range prints {
			prints[i].Upright = n%2 == 0
		}
		plates, over := export.Pack(prints, room, nestGap)
		if len(over) > 0 || len(plates) != 1 {
			t.Fatalf("kit %d lies on %d pieces", n, len(plates))
		}
		got := closer(plates[0], prints, room)
		if len(got) != len(prints) || !apart(got, prints, room) {
			t.Errorf("kit %d: %v", n, got)
		}
		before, after := taken(plates[0], prints), taken(got, prints)
		t.Logf("kit %d: %.0f cm², %.0f before", n, after/100, before/100)
		if after > before {
			t.Errorf("kit %d takes %.0f mm², before %.0f", n, after, before)
		}
		if n == 0 && after > 430*180 {
			t.Errorf("by hand they take %d mm², laid together %.0f", 430*180, after)
		}
	}
}

// TestBatchIsLaidTogether: a kit of a batch takes no more felt than one alone,
// and no less than its flats are large; ten that are laid so fill their
// rectangles better than one does.
func TestBatchIsLaidTogether(t *testing.T) {
	r := previewOf(t, "two.yaml", []byte(twoItems))
	r.Kit.Batch.Count = 1
	area, alone := r.flatArea("felt")
	r.Kit.Batch.Count = 10
	again, shared := r.flatArea("felt")
	t.Logf("flats %.0f cm², one alone takes %.0f, one of ten %.0f", area/100, alone/100, shared/100)
	if again != area || !(area < shared && shared < 0.95*alone) {
		t.Errorf("flats of %.0f mm² take %.0f alone and %.0f in a batch", area, alone, shared)
	}
	n := r.Nests[0]
	if corner := (n.Take.X - 2*nestEdge + nestGap) * (n.Take.Y - 2*nestEdge + nestGap); alone != corner {
		t.Errorf("one alone takes %.0f mm², its drawing %.0f", alone, corner)
	}
}

// BenchmarkBatchLaid is what laying a batch costs.
func BenchmarkBatchLaid(b *testing.B) {
	r := previewOf(b, "two.yaml", []byte(twoItems))
	for b.Loop() {
		r.flatArea("felt")
	}
}
