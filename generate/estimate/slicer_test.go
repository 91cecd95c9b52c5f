package estimate

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"buckwright/generate/export"
	"buckwright/generate/geom"
	"buckwright/generate/judge"
	"buckwright/generate/mesh"
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
		m := meshed(t, tt.solid).Snap()
		file := written(t, m)
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

// written is an STL of the mesh.
func written(t *testing.T, m *mesh.Mesh) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "part.stl")
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := export.WriteSTL(f, m, "part"); err != nil {
		t.Fatal(err)
	}
	return file
}

func sliced(s Settings) judge.Print {
	v := s.Speed
	return judge.Print{
		Bed: [3]float64{280, 280, 250}, Nozzle: s.Nozzle, Layer: s.Layer, Infill: s.Infill, Density: s.Density / 1000, Walls: s.Walls, Pattern: "grid",
		Options: judge.Paths(s.Width, s.Top, [8]float64{v.Outer, v.Inner, v.Full, v.Top, v.Infill, v.Bridge, v.First, v.Travel}, s.Acceleration),
	}
}

// TestBridgesAgainstSlicer: printed full, so that nothing is bridged but what
// hangs, the slicer lays bridges where we see a gap, as much as covers the slot
// and some hold on either side, and none where we see none.
func TestBridgesAgainstSlicer(t *testing.T) {
	s := usual()
	s.Infill = 1
	for _, tt := range []struct {
		name  string
		solid sdf.Solid
		wide  float64 // of the slot, 40 mm long
	}{{"slot 12", cut(12, 3, 6), 12}, {"slot 7", cut(7, 3, 6), 7}, {"open slot", cut(12, 3, 13), 0}, {"block", block(60, 40, 12), 0}} {
		m := meshed(t, tt.solid).Snap()
		sl := judge.Slicer(t, written(t, m), sliced(s))
		// Filament of 1.75 mm, laid as threads of the nozzle's bore 0.05 mm apart.
		area := sl.Filament["Bridge infill"] * math.Pi * 1.75 * 1.75 / 4 / bridgeHeight(s)
		lo, hi := tt.wide*(40-2*s.inset()), (tt.wide+2*anchor+1)*40
		if tt.wide == 0 {
			hi = 0
		}
		if !(area >= lo && area <= hi) {
			t.Errorf("%s: the slicer bridges %.0f mm², want %.0f to %.0f", tt.name, area, lo, hi)
		}
		if got := Part(m, s).Bridge; (got > 0) != (area > 0) {
			t.Errorf("%s: we see a bridge of %.1f mm, the slicer lays %.0f mm²", tt.name, got, area)
		}
	}
}
