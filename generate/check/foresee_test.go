package check

import (
	"math"
	"testing"

	"buckwright/generate/fit"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
)

// upright is the clean job with a map of four plumb walls in a gap, mm: no floor
// pushes it up, so that friction alone holds it.
func upright(gap float64) *Job {
	j := clean()
	j.Liner.Friction, j.Dims.Liner = 0.22, fit.Law{Felt: true, P: 89.8}
	j.Dims.Pocket.Draft = 0
	j.Dims.Items[0].PadForce = 0
	m := &forming.LinerMap{Sides: 4000, Tightest: 0.2, Hold: 3, Pull: 5}
	for _, n := range []geom.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
		m.Samples = append(m.Samples, forming.Sample{At: n.Scale(20).Add(geom.V(0, 0, -19)), Normal: n, Area: 1000})
		m.Gap, m.Wall = append(m.Gap, gap), append(m.Wall, n.Scale(-1))
	}
	j.Maps[0] = m
	return j
}

// A plumb wall's friction is mu p(e) A, whatever moves it.
func TestForeseeOnPlumbWalls(t *testing.T) {
	const gap = 1.7 // mm, of 2 mm felt: 15 %
	j := upright(gap)
	for _, more := range []float64{0, 0.05, -0.05, -0.2} {
		l := j.lined()
		l.compression += more
		got, ok := j.foresee(0, l)
		e := 0.15 + more
		want := 0.0
		if e > 0 { // van Wyk's law, written out
			want = 0.22 * 89.8 * (math.Pow(1-e, -3) - 1) / 1000 * 4000
		}
		if !ok || math.Abs(got.hold-want) > 1e-9*want || math.Abs(got.push-max(want-2, 0)) > 1e-9*want {
			t.Errorf("at %g more: push %g, hold %g, want %g and %g", more, got.push, got.hold, max(want-2, 0), want)
		}
		if band := got.band; (e > 0) != (band == j.Dims.Items[0].Depth) {
			t.Errorf("at %g more the band is %g of %g", more, band, j.Dims.Items[0].Depth)
		}
	}
}

// A wall that leans back by more opens the gap by its height above the item's
// foot times the sine: 1 mm up nothing is lost, 18 mm up at 1° all of 0.3 mm is.
func TestForeseeLeansTheWallsBack(t *testing.T) {
	j := upright(1.7)
	m := j.Maps[0]
	for k := range m.Samples[:2] {
		m.Samples[k].At.Z += 18
	}
	l := j.lined()
	l.draft = 1 * geom.Degree
	got, _ := j.foresee(0, l)
	if want := j.Dims.Items[0].Depth / 2; got.band != want {
		t.Errorf("the band is %g mm, want half of the sides, %g", got.band, want)
	}
}

func TestForeseeNeedsAMap(t *testing.T) {
	j := clean() // its map has no samples
	if _, ok := j.foresee(0, j.lined()); ok {
		t.Error("something is foreseen without samples")
	}
}
