package generate

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"buckwright/generate/check"
	"buckwright/generate/geom"
	"buckwright/generate/judge"
	"buckwright/generate/mesh"
	"buckwright/generate/mesh/meshfile"
	"buckwright/params"
	"buckwright/templates"
)

// strange are bodies that other people drew: walkers, creatures and machines made
// for pictures, and a few clean ones. Those of libraries are fetched by .ci/run
// from Debian's assimp-testmodels and openscad.
var strange = []struct {
	file string
	unit string // keys of the kit's mesh
	kit  string // what else the kit needs
	err  string // the start of the refusal; "": parts are made
	told string // in the findings
	long bool   // looked at only when BUCKWRIGHT_LONG is set: another of its kind is here
}{
	{"../testdata/mesh/drift-buoy-dirty.stl", "", "", "", "mesh-mended", false},
	{"assimp/models/STL/Wuson.stl", ", unit: cm", "", "", "", false},
	{"assimp/models/OBJ/WusonOBJ.obj", ", unit: cm, up: y", "", "", "", true},
	{"assimp/models/PLY/Wuson.ply", ", unit: cm", "", "", "", true},
	{"assimp/models/OBJ/spider.obj", ", up: y", "", "", "mesh-open", false},
	{"assimp/models/STL/sphereWithHole.stl", ", unit: cm", "", "", "mesh-open", false},
	{"assimp/models/glTF2/2CylinderEngine-glTF-Binary/2CylinderEngine.glb", "", "", "2CylinderEngine.glb: the body is 7.434e+05 x 2.68e+05 x 2.73e+05 mm", "", false},
	{"assimp/models/glTF2/2CylinderEngine-glTF-Binary/2CylinderEngine.glb", ", unit: mm", "former: {area: [400, 900]}\nprinter: {tolerance: 0.2}\n", "", "mesh-mended", true},
	{"openscad/examples/Old/example012.stl", "", "", "", "", true},
	{"openscad/examples/Old/example016.stl", "", "", "", "", true},
	{"openscad/examples/Basics/projection.stl", "", "", "", "", true},
}

// windingSum is the generalised winding number by its definition: the solid angles
// of all triangles (van Oosterom and Strackee 1983), over 4 pi.
func windingSum(m *mesh.Mesh, p geom.Vec) float64 {
	sum := 0.0
	for i := range m.T {
		a, b, c := m.Corners(i)
		a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
		la, lb, lc := a.Len(), b.Len(), c.Len()
		sum += math.Atan2(a.Dot(b.Cross(c)), la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb)
	}
	return sum / (2 * math.Pi)
}

// The mended body has the side that its plain winding number says, everywhere, and
// the file as it came has the same nearly everywhere: what differs are shells
// inside and skins over holes.
func TestStrangeInside(t *testing.T) {
	seen := map[string]bool{}
	for _, tt := range strange {
		if seen[tt.file] || tt.long && os.Getenv("BUCKWRIGHT_LONG") == "" {
			continue
		}
		seen[tt.file] = true
		t.Run(filepath.Base(tt.file), func(t *testing.T) {
			t.Parallel()
			src, err := os.ReadFile(judge.Mesh(t, tt.file))
			if err != nil {
				t.Fatal(err)
			}
			raw, err := meshfile.Read(tt.file, src, meshfile.Options{Unit: 1})
			if err != nil {
				t.Fatal(err)
			}
			m, err := new(item).mend(filepath.Base(tt.file), raw)
			if err != nil {
				t.Fatal(err)
			}
			if len(m.T) > 20_000 && os.Getenv("BUCKWRIGHT_LONG") == "" {
				t.Skip("plain sums over so many triangles take minutes: BUCKWRIGHT_LONG has them")
			}
			f, b := mesh.Field(m), m.Bounds()
			r := rand.New(rand.NewPCG(41, 42))
			const points = 10_000
			wrong, other, asked := 0, 0, 0
			for i := range points {
				s := b.Size()
				p := b.Min.Add(geom.V(r.Float64()*s.X, r.Float64()*s.Y, r.Float64()*s.Z))
				inside := windingSum(m, p) >= 0.5
				if inside != (f.Dist(p) < 0) {
					wrong++
				}
				if i%10 == 0 {
					asked++
					if inside != (windingSum(raw, p) >= 0.5) {
						other++
					}
				}
			}
			if wrong > 0 {
				t.Errorf("the field is on the wrong side at %d of %d points", wrong, points)
			}
			if 100*other > asked {
				t.Errorf("mended and as it came differ at %d of %d points", other, asked)
			}
		})
	}
}

// A kit of each ends in a sound part, or in a refusal that says what is wrong.
func TestStrangeParts(t *testing.T) {
	if testing.Short() {
		t.Skip("makes parts: left out with -short")
	}
	tables, err := templates.Tables()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range strange {
		if tt.long && os.Getenv("BUCKWRIGHT_LONG") == "" {
			continue
		}
		t.Run(filepath.Base(tt.file)+tt.unit, func(t *testing.T) {
			t.Parallel()
			file, err := filepath.Abs(judge.Mesh(t, tt.file))
			if err != nil {
				t.Fatal(err)
			}
			src := "kit: strange\nitems: [{name: body, shape: {mesh: {file: '" + file + "'" + tt.unit + "}}, depth: 5, mass: 50}]\n" + tt.kit
			kit, err := params.Parse("kit.yaml", []byte(src))
			if err != nil {
				t.Fatal(err)
			}
			own, err := kit.Resolve(tables)
			if err != nil {
				t.Fatal(err)
			}
			res, err := Run(t.Context(), Input{Kit: kit, Source: []byte(src), Tables: own, Read: os.ReadFile, Quality: Draft, Parts: []string{"buck"}}, nil)
			if tt.err != "" {
				var wrong *params.Problem
				if !errors.As(err, &wrong) || !strings.Contains(err.Error(), tt.err) || wrong.Key != "items[0].shape.mesh.file" || wrong.Hint == "" {
					t.Errorf("%v, want %s", err, tt.err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range res.Parts {
				if err := p.Printed.Check(); err != nil {
					t.Errorf("%s: %v", p.Name, err)
				}
			}
			told := slices.ContainsFunc(res.Findings, func(f check.Finding) bool { return f.ID == tt.told && f.Where != "" })
			if tt.told != "" && !told {
				t.Errorf("no finding %s", tt.told)
			}
		})
	}
}
