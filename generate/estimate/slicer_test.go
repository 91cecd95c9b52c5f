package estimate

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"buckwright/generate/export"
	"buckwright/generate/geom"
	"buckwright/generate/judge"
	"buckwright/generate/sdf"
)

// TestAgainstSlicer compares with prusa-slicer 2.5.0 (Debian 12), told the same
// widths, walls, layers, infill (grid), speeds and acceleration; the rest is its
// default. The kits' own parts are compared in generate/proof.
func TestAgainstSlicer(t *testing.T) {
	tray := sdf.Difference(sdf.Prism(sdf.Rect(60, 40, 10), 0, 25), sdf.Prism(sdf.Rect(57.6, 37.6, 7.6), 2.4, 30))
	drum := sdf.Cone(geom.V(0, 0, 0), geom.V(0, 0, 30), 25, 15)
	comb := block(90, 40, 12)
	for i := range 5 {
		x := 10 + 16*float64(i)
		comb = sdf.Difference(comb, sdf.Box(geom.V(x, -1, 4), geom.V(x+6, 30, 13)), sdf.Rod(geom.Vec2{X: x + 3, Y: 35}, 2, -1, 13))
	}
	fine := usual()
	fine.Layer, fine.Walls, fine.Infill, fine.Top, fine.Bottom = 0.2, 2, 0.3, 5, 5
	fine.Speed = Speed{Outer: 60, Inner: 100, Full: 120, Top: 60, Infill: 150, Bridge: 40, First: 30, Travel: 200}
	fine.Acceleration = 3000
	wide := usual()
	wide.Nozzle, wide.Width, wide.Walls, wide.Infill = 0.6, 0.68, 2, 0.1
	for _, tt := range []struct {
		name  string
		solid sdf.Solid
	}{{"tray", tray}, {"drum", drum}, {"comb", comb}} {
		file := filepath.Join(t.TempDir(), tt.name+".stl")
		m := meshed(t, tt.solid).Snap()
		f, err := os.Create(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := export.WriteSTL(f, m, tt.name); err != nil {
			t.Fatal(err)
		}
		f.Close()
		for name, s := range map[string]Settings{"usual": usual(), "fine": fine, "wide": wide} {
			got, want := Part(m, s), judge.Slicer(t, file, sliced(s))
			mass, time := got.Grams/want.Grams-1, got.Seconds/want.Time.Seconds()-1
			t.Logf("%s, %s: %.2f g (%+.1f %%), %.0f s (%+.1f %%)", tt.name, name, got.Grams, 100*mass, got.Seconds, 100*time)
			if !(math.Abs(mass) <= 0.05) || !(math.Abs(time) <= 0.2) {
				t.Errorf("%s, %s: %.2f g and %.0f s, the slicer says %.2f and %.0f", tt.name, name, got.Grams, got.Seconds, want.Grams, want.Time.Seconds())
			}
		}
	}
}

func sliced(s Settings) judge.Print {
	v := s.Speed
	return judge.Print{
		Bed: [3]float64{280, 280, 250}, Nozzle: s.Nozzle, Layer: s.Layer, Infill: s.Infill, Density: s.Density / 1000, Walls: s.Walls,
		Options: judge.Paths(s.Width, s.Top, [8]float64{v.Outer, v.Inner, v.Full, v.Top, v.Infill, v.Bridge, v.First, v.Travel}, s.Acceleration),
	}
}
