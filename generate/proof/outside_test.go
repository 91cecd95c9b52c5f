package proof

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/hpinc/go3mf"

	"buckwright/generate/judge"
)

const buoyKit = "../../templates/drift-buoy.yaml"

// kits are the bundled kits, each made whole.
func kits(t *testing.T, f func(t *testing.T, m *made)) {
	for _, kit := range []string{demoKit, buoyKit} {
		t.Run(strings.TrimSuffix(filepath.Base(kit), ".yaml"), func(t *testing.T) { f(t, run(t, kit)) })
	}
}

// files lists what the folder holds under a pattern; none is a failure.
func (m *made) files(t *testing.T, pattern string) []string {
	t.Helper()
	all, err := filepath.Glob(filepath.Join(m.Dir, pattern))
	if err != nil || len(all) == 0 {
		t.Fatalf("%s holds no %s: %v", m.Dir, pattern, err)
	}
	return all
}

// stls are the parts and the reference meshes.
func (m *made) stls(t *testing.T) []string {
	return append(m.files(t, "parts/*.stl"), m.files(t, "reference/*.stl")...)
}

// TestGeometryLibraryFindsEveryMeshSound: closed, oriented, no two triangles
// cross, none without area, one body; volume and area are kit.json's.
func TestGeometryLibraryFindsEveryMeshSound(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		for _, path := range m.stls(t) {
			name := strings.TrimSuffix(filepath.Base(path), ".stl")
			s := judge.CGAL(t, path)
			if p := s.Problem(); p != "" {
				t.Errorf("%s: %s", name, p)
			}
			if s.Components != 1 {
				t.Errorf("%s: %d bodies, want 1", name, s.Components)
			}
			row, err := m.Part(name)
			if err != nil {
				t.Fatal(err)
			}
			if !(math.Abs(s.Volume-row.Volume) <= 1e-6*s.Volume) {
				t.Errorf("%s: volume %.3f mm³, kit.json says %.3f", name, s.Volume, row.Volume)
			}
			t.Logf("%s: %d triangles, Euler number %d, %.1f cm³", name, s.Triangles, s.Euler, s.Volume/1000)
		}
	})
}

// TestRepairToolFindsNothingToDo is a second opinion by another program.
func TestRepairToolFindsNothingToDo(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		for _, path := range m.stls(t) {
			r := judge.Admesh(t, path)
			if p := r.Problem(); p != "" {
				t.Errorf("%s: %s", filepath.Base(path), p)
			}
			if r.Parts != 1 {
				t.Errorf("%s: %d parts, want 1", filepath.Base(path), r.Parts)
			}
		}
	})
}

// TestNoTwoVerticesAreClose: 1 um apart at least, as the contract asks.
func TestNoTwoVerticesAreClose(t *testing.T) {
	const least = 1e-3 // mm
	kits(t, func(t *testing.T, m *made) {
		for _, path := range m.stls(t) {
			facets, err := ReadSTL(path)
			if err != nil {
				t.Fatal(err)
			}
			if d, at := closestVertices(facets, least); d < least {
				t.Errorf("%s: two vertices %.2g mm apart at %.4f", filepath.Base(path), d, at)
			}
		}
	})
}

// closestVertices finds the least distance under reach between two vertices
// that differ, by cells of that size; reach if there is none.
func closestVertices(f []Tri, reach float64) (least float64, at Vec) {
	least = reach
	cells := map[[3]int][]Vec{}
	for _, t := range f {
		for _, v := range t {
			key := func(k int) int { return int(math.Floor(v[k] / reach)) }
			c := [3]int{key(0), key(1), key(2)}
			known := false
			for i := -1; i <= 1; i++ {
				for j := -1; j <= 1; j++ {
					for k := -1; k <= 1; k++ {
						for _, w := range cells[[3]int{c[0] + i, c[1] + j, c[2] + k}] {
							d := v.Sub(w).Len()
							known = known || d == 0
							if d > 0 && d < least {
								least, at = d, v
							}
						}
					}
				}
			}
			if !known {
				cells[c] = append(cells[c], v)
			}
		}
	}
	return least, at
}

func TestClosestVertices(t *testing.T) {
	f := box(Vec{0, 0, 0}, Vec{5, 5, 5})
	if d, _ := closestVertices(f, 1e-3); d != 1e-3 {
		t.Errorf("the corners of a box are %g apart", d)
	}
	moved := f[0]
	moved[1][0] -= 4e-4
	if d, _ := closestVertices(append(f, moved), 1e-3); !(math.Abs(d-4e-4) < 1e-9) {
		t.Errorf("two vertices 4e-4 apart are %g apart", d)
	}
}

// TestStrictReaderTakesEveryPackage: the reference reader of 3MF, strict.
func TestStrictReaderTakesEveryPackage(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		for _, path := range append(m.files(t, "parts/*.3mf"), m.files(t, "plates/*.3mf")...) {
			p := judge.Lib3MF(t, path)
			if problem := p.Problem(); problem != "" {
				t.Errorf("%s: %s", filepath.Base(path), problem)
			}
			for _, want := range []string{"Title", "Application"} {
				if !strings.Contains(strings.Join(p.Metadata, " "), want) {
					t.Errorf("%s: no %s in its metadata", filepath.Base(path), want)
				}
			}
		}
	})
}

// TestPackageHoldsTheSTL: another reader finds in NAME.3mf, triangle for
// triangle, the float32 coordinates of NAME.stl.
func TestPackageHoldsTheSTL(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		for _, path := range m.files(t, "parts/*.3mf") {
			want, err := ReadSTL(strings.TrimSuffix(path, ".3mf") + ".stl")
			if err != nil {
				t.Fatal(err)
			}
			got := read3MF(t, path)
			if len(got) != 1 || len(got[0]) != len(want) {
				t.Errorf("%s: %d objects, want 1 of %d triangles", filepath.Base(path), len(got), len(want))
				continue
			}
			for i := range want {
				if got[0][i] != want[i] {
					t.Errorf("%s: triangle %d is %v, in the STL %v", filepath.Base(path), i, got[0][i], want[i])
					break
				}
			}
		}
	})
}

// read3MF gives the triangles of each build item, where they are built.
func read3MF(t *testing.T, path string) (all [][]Tri) {
	t.Helper()
	r, err := go3mf.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	var model go3mf.Model
	if err := r.Decode(&model); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	if model.Units != go3mf.UnitMillimeter {
		t.Errorf("%s: unit %v", path, model.Units)
	}
	for _, item := range model.Build.Items {
		if item.HasTransform() {
			t.Errorf("%s: an item has a transform; positions are to be in the vertices", path)
		}
		o, ok := model.FindObject("", item.ObjectID)
		if !ok {
			t.Fatalf("%s: item %d has no object", path, item.ObjectID)
		}
		var tris []Tri
		for _, tri := range o.Mesh.Triangles.Triangle {
			var f Tri
			for k, v := range [3]uint32{tri.V1, tri.V2, tri.V3} {
				for axis, c := range o.Mesh.Vertices.Vertex[v] {
					f[k][axis] = float64(c)
				}
			}
			tris = append(tris, f)
		}
		all = append(all, tris)
	}
	return all
}

// Both bundled kits ask for this printer: bed-280 of the table.
var bundled = judge.Print{Bed: [3]float64{280, 280, 250}, Nozzle: 0.4, Layer: 0.3, Infill: 0.15, Density: 1.04}

// TestPlatesFitTheBed: every printed part lies once on the plates, as printed
// but for a quarter turn, inside the bed and apart from the others.
func TestPlatesFitTheBed(t *testing.T) {
	const apart = 2.0 // mm: room for a skirt line and a blade; common practice, no source
	kits(t, func(t *testing.T, m *made) {
		var laid, printed []float64 // volumes
		for _, path := range m.files(t, "plates/*.3mf") {
			name, items := filepath.Base(path), read3MF(t, path)
			for i, f := range items {
				laid = append(laid, Volume(f))
				lo, hi := Bounds(f)
				for k := range 3 {
					if !(lo[k] >= -1e-3 && hi[k] <= bundled.Bed[k]+1e-3) {
						t.Errorf("%s: item %d reaches from %.2f to %.2f, the bed is %v", name, i, lo, hi, bundled.Bed)
					}
				}
				if !(math.Abs(lo[2]) < 1e-3) {
					t.Errorf("%s: item %d starts at z = %.4f", name, i, lo[2])
				}
				for j, g := range items[:i] {
					l, h := Bounds(g)
					if d := max(lo[0]-h[0], l[0]-hi[0], lo[1]-h[1], l[1]-hi[1]); !(d >= apart) {
						t.Errorf("%s: items %d and %d are %.2f mm apart, want %g", name, j, i, d, apart)
					}
				}
			}
		}
		for _, path := range m.files(t, "parts/*.stl") {
			f, err := ReadSTL(path)
			if err != nil {
				t.Fatal(err)
			}
			printed = append(printed, Volume(f))
		}
		slices.Sort(laid)
		slices.Sort(printed)
		if !slices.EqualFunc(laid, printed, func(a, b float64) bool { return math.Abs(a-b) <= 1e-5*b }) {
			t.Errorf("bodies on the plates have %.1f mm³, the parts %.1f", laid, printed)
		}
	})
}

// TestEveryPartSlices: as the file lies, without support. The slicer marks a
// perimeter that lies on air as an overhang; there may be none worth telling.
// Where our own look finds no bridge, a slicer that may add support adds none;
// bridges themselves are judged by TestPartsPrint.
func TestEveryPartSlices(t *testing.T) {
	const overhang = 0.005 // of the filament
	kits(t, func(t *testing.T, m *made) {
		for _, path := range m.files(t, "parts/*.3mf") {
			name := strings.TrimSuffix(filepath.Base(path), ".3mf")
			p := bundled
			p.Support = 30 // degrees; lets the corners of 45-degree walls pass
			s := judge.Slicer(t, path, p)
			fed := s.Total()
			if got := s.Filament["Overhang perimeter"] / fed; !(got < overhang) {
				t.Errorf("%s: %.1f %% of the filament is laid on air", name, 100*got)
			}
			bridges := JudgePrint(m.printed(t, name), PrintAngle{Most: 45, Over: 1, Cell: 0.4}).Bridges
			if len(bridges) == 0 && s.Support() > 0 {
				t.Errorf("%s: the slicer adds %.0f mm of support, though we see no bridge", name, s.Support())
			}
			row, err := m.Part(name)
			if err != nil {
				t.Fatal(err)
			}
			most := row.Volume / 1000 * p.Density // solid, and a few percent of the slicer's own
			if own := s.Grams * (1 - s.Support()/fed); !(own > p.Infill*most && own < 1.05*most) {
				t.Errorf("%s: %.1f g sliced, solid it would weigh %.1f", name, own, most)
			}
			t.Logf("%s: %.0f g in %v, %d bridges, support if it may %.2f %%", name, s.Grams, s.Time, len(bridges), 100*s.Support()/fed)
		}
		for _, path := range m.files(t, "plates/*.3mf") {
			p := bundled
			p.Keep = true
			s := judge.Slicer(t, path, p)
			t.Logf("%s: %.0f g in %v", filepath.Base(path), s.Grams, s.Time)
		}
	})
}
