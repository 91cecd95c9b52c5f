package export

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"buckwright/generate/geom"
)

// mustBeApart checks every plate by brute force: each part once, inside the
// bed, and each pair gap apart along x or y.
func mustBeApart(t *testing.T, parts []Footprint, plates [][]Placed, tooBig []int, bed [2]float64, gap float64) {
	t.Helper()
	seen := make([]int, len(parts))
	for _, i := range tooBig {
		seen[i]++
	}
	const eps = 1e-9 // rounding of sums of a few hundred mm
	span := func(p Placed) (x0, y0, x1, y1 float64) {
		w, h := parts[p.Part].X, parts[p.Part].Y
		if p.Turned {
			w, h = h, w
		}
		return p.X, p.Y, p.X + w, p.Y + h
	}
	for k, plate := range plates {
		if len(plate) == 0 {
			t.Errorf("plate %d is empty", k)
		}
		for i, p := range plate {
			seen[p.Part]++
			x0, y0, x1, y1 := span(p)
			if !(x0 >= -eps && y0 >= -eps && x1 <= bed[0]+eps && y1 <= bed[1]+eps) {
				t.Errorf("plate %d: part %d lies at %g %g to %g %g, outside the bed %v", k, p.Part, x0, y0, x1, y1, bed)
			}
			for _, q := range plate[:i] {
				u0, v0, u1, v1 := span(q)
				if d := max(x0-u1, u0-x1, y0-v1, v0-y1); !(d >= gap-eps) {
					t.Errorf("plate %d: parts %d and %d are %g apart, want %g", k, p.Part, q.Part, d, gap)
				}
			}
		}
	}
	for i, n := range seen {
		if n != 1 {
			t.Errorf("part %d lies %d times", i, n)
		}
	}
}

func TestPackRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	bed := [2]float64{280, 250}
	var used, lower float64
	for range 300 {
		parts := make([]Footprint, 1+r.IntN(14))
		var plan float64
		for i := range parts {
			parts[i] = Footprint{X: 5 + 285*r.Float64(), Y: 5 + 200*r.Float64()}
			plan += parts[i].X * parts[i].Y
		}
		gap := 8 * r.Float64()
		plates, tooBig := Pack(parts, bed, gap)
		mustBeApart(t, parts, plates, tooBig, bed, gap)
		for _, i := range tooBig {
			plan -= parts[i].X * parts[i].Y
		}
		used += float64(len(plates))
		lower += math.Ceil(plan / (bed[0] * bed[1]))
		again, _ := Pack(parts, bed, gap)
		if !reflect.DeepEqual(plates, again) {
			t.Fatal("two runs differ")
		}
	}
	// No packing needs fewer beds than area asks for; half as many again would
	// be a poor packer on parts as large as these.
	if !(used <= 1.5*lower) {
		t.Errorf("%g beds, the area alone asks for %g", used, lower)
	}
	t.Logf("%g beds, the area alone asks for %g", used, lower)
}

func TestPackKnown(t *testing.T) {
	bed := [2]float64{100, 60}
	tests := map[string]struct {
		parts       []Footprint
		gap         float64
		beds, large int
	}{
		"fills the bed":             {[]Footprint{{X: 100, Y: 60}}, 5, 1, 0},
		"only turned":               {[]Footprint{{X: 60, Y: 100}}, 5, 1, 0},
		"must not be turned":        {[]Footprint{{X: 60, Y: 100, Upright: true}, {X: 90, Y: 20, Upright: true}}, 5, 1, 1},
		"four quarters, no gap":     {[]Footprint{{X: 50, Y: 30}, {X: 50, Y: 30}, {X: 30, Y: 50}, {X: 50, Y: 30}}, 0, 1, 0},
		"the gap needs another bed": {[]Footprint{{X: 50, Y: 60}, {X: 50, Y: 60}}, 0.1, 2, 0},
		"the gap just fits":         {[]Footprint{{X: 48, Y: 60}, {X: 48, Y: 60}}, 4, 1, 0},
		"too big both ways":         {[]Footprint{{X: 101, Y: 30}, {X: 61, Y: 61}, {X: 10, Y: 10}}, 2, 1, 2},
		"not a size":                {[]Footprint{{X: math.NaN(), Y: 3}, {X: 0, Y: 3}}, 2, 0, 2},
		"nothing":                   {nil, 2, 0, 0},
	}
	for name, tt := range tests {
		plates, tooBig := Pack(tt.parts, bed, tt.gap)
		if len(plates) != tt.beds || len(tooBig) != tt.large {
			t.Errorf("%s: %d beds, %d too big, want %d and %d", name, len(plates), len(tooBig), tt.beds, tt.large)
		}
		mustBeApart(t, tt.parts, plates, tooBig, bed, tt.gap)
	}
}

func TestOntoStandsOnTheBed(t *testing.T) {
	b := geom.Box{Min: geom.V(-5, 3, -2), Max: geom.V(15, 7, 9)}
	got := Placed{X: 100, Y: 50, Turned: true}.Onto(b).Box(b)
	if want := (geom.Box{Min: geom.V(100, 50, 0), Max: geom.V(104, 70, 11)}); got != want {
		t.Errorf("lies at %v, want %v", got, want)
	}
}
