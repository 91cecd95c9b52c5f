package judge

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

type triangle [3][3]float32

// frustum has a w x w foot on z = 0 and a w+2g x w+2g top on z = h, about (x, x).
func frustum(x, w, g, h float64) []triangle {
	var v [8][3]float32
	for i := range v {
		r := w / 2
		if i&4 != 0 {
			r += g
			v[i][2] = float32(h)
		}
		for k := range 2 {
			side := -r
			if i>>k&1 != 0 {
				side = r
			}
			v[i][k] = float32(x + side)
		}
	}
	var out []triangle
	for _, t := range [][3]int{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
		{2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}} {
		out = append(out, triangle{v[t[0]], v[t[1]], v[t[2]]})
	}
	return out
}

func writeSTL(t *testing.T, tris []triangle) string {
	t.Helper()
	var b bytes.Buffer
	b.Write(make([]byte, 80))
	binary.Write(&b, binary.LittleEndian, uint32(len(tris)))
	for _, tri := range tris {
		binary.Write(&b, binary.LittleEndian, normal(tri))
		binary.Write(&b, binary.LittleEndian, tri)
		binary.Write(&b, binary.LittleEndian, uint16(0))
	}
	path := filepath.Join(t.TempDir(), "mesh.stl")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func normal(t triangle) (n [3]float32) {
	var l float64
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		n[k] = (t[1][i]-t[0][i])*(t[2][j]-t[0][j]) - (t[1][j]-t[0][j])*(t[2][i]-t[0][i])
		l += float64(n[k]) * float64(n[k])
	}
	for k := range 3 {
		n[k] /= float32(math.Sqrt(l))
	}
	return n
}

func turned(t triangle) triangle { t[0], t[1] = t[1], t[0]; return t }

func inside(in []triangle) (out []triangle) {
	for _, t := range in {
		out = append(out, turned(t))
	}
	return out
}

// Each judge must call the good mesh good, and the bad ones bad unless it is
// known to be blind to them.
func TestMeshJudges(t *testing.T) {
	cube := frustum(0, 10, 0, 10)
	tests := map[string]struct {
		mesh         []triangle
		cgal, admesh string // "" when it must see no fault
	}{
		"good":     {cube, "", ""},
		"two":      {slices.Concat(cube, frustum(20, 10, 0, 10)), "", ""},
		"open":     {cube[1:], "open", "disconnected"},
		"flipped":  {append([]triangle{turned(cube[0])}, cube[1:]...), "no oriented manifold", "Facets reversed"},
		"inside":   {inside(cube), "does not face outwards", "Facets reversed: 12"},
		"doubled":  {append(slices.Clone(cube), cube[0]), "no oriented manifold", "disconnected"},
		"crossing": {slices.Concat(cube, frustum(3, 10, 1, 8)), "cross", ""}, // admesh does not look for crossings
	}
	for name, tt := range tests {
		path := writeSTL(t, tt.mesh)
		if got := CGAL(t, path).Problem(); (tt.cgal == "") != (got == "") || !strings.Contains(got, tt.cgal) {
			t.Errorf("%s: CGAL says %q, want %q", name, got, tt.cgal)
		}
		if got := Admesh(t, path).Problem(); (tt.admesh == "") != (got == "") || !strings.Contains(got, tt.admesh) {
			t.Errorf("%s: admesh says %q, want %q", name, got, tt.admesh)
		}
	}
	path := writeSTL(t, cube)
	s, a := CGAL(t, path), Admesh(t, path)
	if s.Volume != 1000 || s.Area != 600 || s.Euler != 2 || s.Components != 1 || s.Triangles != 12 || s.Vertices != 8 {
		t.Errorf("CGAL on the cube of 10 mm: %+v", s)
	}
	if !(math.Abs(a.Volume-1000) < 1e-3) || // single precision
		a.Facets != 12 || a.Parts != 1 {
		t.Errorf("admesh on the cube of 10 mm: %+v", a)
	}
}

func write3MF(t *testing.T, model string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "model.3mf")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z := zip.NewWriter(f)
	for name, content := range map[string]string{
		"[Content_Types].xml": `<?xml version="1.0" encoding="UTF-8"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>`,
		"_rels/.rels":         `<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r" Target="/3D/3dmodel.model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>`,
		"3D/3dmodel.model":    model,
	} {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprint(w, content)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

const tetrahedron = `<?xml version="1.0" encoding="UTF-8"?><model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources><object id="1" type="model" name="tet"><mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="9" y="0" z="0"/><vertex x="0" y="9" z="0"/><vertex x="0" y="0" z="9"/></vertices><triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/><triangle v1="0" v2="3" v3="2"/></triangles></mesh></object></resources><build><item objectid="1"/></build></model>`

func TestPackageJudge(t *testing.T) {
	tests := map[string]struct{ old, new, want string }{
		"good":      {"", "", ""},
		"inch":      {"millimeter", "inch", "millimetre"},
		"open":      {`<triangle v1="0" v2="2" v3="1"/>`, "", "0 of 1 objects"},
		"turned":    {`v1="0" v2="2" v3="1"`, `v1="0" v2="1" v3="2"`, "0 of 1 objects"},
		"not built": {`<item objectid="1"/>`, "", "0 of them built"},
		"unknown":   {`<resources>`, `<resources><colour/>`, "Element"},
		"no vertex": {`v3="3"`, `v3="4"`, "ndex"},
	}
	for name, tt := range tests {
		p := Lib3MF(t, write3MF(t, strings.Replace(tetrahedron, tt.old, tt.new, 1)))
		if got := p.Problem(); (tt.want == "") != (got == "") || !strings.Contains(got, tt.want) {
			t.Errorf("%s: lib3mf says %q, want %q", name, got, tt.want)
		}
	}
	p := Lib3MF(t, write3MF(t, tetrahedron))
	if p.Vertices != 4 || p.Triangles != 4 || !slices.Equal(p.Objects, []string{"tet"}) {
		t.Errorf("lib3mf on the tetrahedron: %+v", p)
	}
}

// A solid cube's mass is its volume times the density; the slicer rounds its
// paths, so a few percent are its own.
func TestSlicerWeighsAndSupports(t *testing.T) {
	p := Print{Bed: [3]float64{200, 200, 200}, Nozzle: 0.4, Layer: 0.2, Infill: 1, Density: 1.25}
	s := Slicer(t, writeSTL(t, frustum(50, 20, 0, 10)), p)
	if want := 4 * 1.25; !(math.Abs(s.Grams-want) < 0.05*want) {
		t.Errorf("a solid 20 x 20 x 10 mm block weighs %g g, want about %g", s.Grams, want)
	}
	// The lengths by kind and the grams are told apart from each other.
	const filament = 1.75 // mm, the slicer's default diameter
	if got := s.Total() * math.Pi / 4 * filament * filament / 1000 * 1.25; !(math.Abs(got-s.Grams) < 0.02*s.Grams) {
		t.Errorf("%g mm of filament are %g g, the slicer says %g", s.Total(), got, s.Grams)
	}
	if s.Time < time.Minute {
		t.Errorf("printed in %v", s.Time)
	}
	p.Support = 30
	for _, tt := range []struct {
		grow float64 // sideways on 10 mm of height
		want bool
	}{{0, false}, {10, false}, {18, true}} {
		got := Slicer(t, writeSTL(t, frustum(50, 20, tt.grow, 10)), p).Support()
		if (got > 0) != tt.want {
			t.Errorf("walls %g out over 10 up: %g mm of support", tt.grow, got)
		}
	}
}

func TestGcode(t *testing.T) {
	const code = ";TYPE:Perimeter\nG92 E0\nG1 X1 E2.5 ; a comment with E9\nG1 X2 F900\nG92 E0\n;TYPE:Support material\nG1 X3 Y4 E1\n" +
		"; filament used [g] = 1.5\n; estimated printing time (normal mode) = 1d 2h 3m 4s\n"
	s, err := readGcode(strings.NewReader(code))
	if err != nil || s.Filament["Perimeter"] != 2.5 || s.Support() != 1 || s.Grams != 1.5 ||
		s.Time != 26*time.Hour+3*time.Minute+4*time.Second {
		t.Errorf("%+v, %v", s, err)
	}
	if _, err := readGcode(strings.NewReader(";TYPE:Perimeter\n")); err == nil {
		t.Error("a file without totals is taken")
	}
}
