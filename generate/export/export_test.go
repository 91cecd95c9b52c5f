package export

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// block is a box with corners lo and hi: twelve triangles, all facing out.
func block(lo, hi geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 8 {
		p := lo
		if i&1 != 0 {
			p.X = hi.X
		}
		if i&2 != 0 {
			p.Y = hi.Y
		}
		if i&4 != 0 {
			p.Z = hi.Z
		}
		m.V = append(m.V, p)
	}
	m.T = [][3]int32{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
		{2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}}
	return m
}

func brick() *mesh.Mesh { return block(geom.V(0.1, -2, 0), geom.V(10.3, 1.0/3, 7)) }

func write(t *testing.T, f func(io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := f(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The layout is the format's own: 80 bytes, a count, 50 bytes a triangle.
func TestSTLLayout(t *testing.T) {
	m := brick()
	data := write(t, func(w io.Writer) error { return WriteSTL(w, m, "brick") })
	if want := 84 + 50*len(m.T); len(data) != want {
		t.Fatalf("%d bytes, want %d", len(data), want)
	}
	if bytes.HasPrefix(data, []byte("solid")) {
		t.Errorf("header %q reads as text STL", data[:80])
	}
	if n := binary.LittleEndian.Uint32(data[80:]); int(n) != len(m.T) {
		t.Errorf("count %d, want %d", n, len(m.T))
	}
	var volume float64
	for i := range m.T {
		rec := data[84+50*i : 84+50*i+50]
		var p [4]geom.Vec
		for k := range 4 {
			at := func(j int) float64 {
				return float64(math.Float32frombits(binary.LittleEndian.Uint32(rec[12*k+4*j:])))
			}
			p[k] = geom.V(at(0), at(1), at(2))
		}
		n := p[2].Sub(p[1]).Cross(p[3].Sub(p[1])).Unit()
		if !(n.Dist(p[0]) < 1e-6) {
			t.Errorf("triangle %d: normal %v, want %v", i, p[0], n)
		}
		volume += p[1].Dot(p[2].Cross(p[3])) / 6
	}
	if want := 10.2 * (2 + 1.0/3) * 7; !(math.Abs(volume-want) < 1e-5*want) {
		t.Errorf("volume read back %g, want %g", volume, want)
	}
}

func TestLongNameIsCutToTheHeader(t *testing.T) {
	data := write(t, func(w io.Writer) error { return WriteSTL(w, brick(), strings.Repeat("x", 200)) })
	if len(data) != 84+50*12 {
		t.Errorf("%d bytes", len(data))
	}
}

func TestWritersRefuse(t *testing.T) {
	tests := map[string]struct {
		spoil func(*mesh.Mesh)
		want  string
	}{
		"empty":         {func(m *mesh.Mesh) { m.T = nil }, "no triangle"},
		"not a number":  {func(m *mesh.Mesh) { m.V[3].Y = math.NaN() }, "not a finite"},
		"over float32":  {func(m *mesh.Mesh) { m.V[3].Y = 1e39 }, "not a finite"},
		"open":          {func(m *mesh.Mesh) { m.T = m.T[1:] }, "open along"},
		"turned":        {func(m *mesh.Mesh) { m.T[4][0], m.T[4][1] = m.T[4][1], m.T[4][0] }, "the same way"},
		"bad index":     {func(m *mesh.Mesh) { m.T[4][0] = 8 }, "names vertex 8 of 8"},
		"twice a point": {func(m *mesh.Mesh) { m.T[4][0] = m.T[4][1] }, "twice"},
		"merging": {func(m *mesh.Mesh) { // 1e-7 of 10 is under half a float32 step of 9.5e-7
			m.V[1] = m.V[3].Add(geom.V(1e-7, 0, 0))
		}, "one point in float32"},
		"no area": {func(m *mesh.Mesh) { // a vertex on the edge between two others
			m.V = append(m.V, m.V[0].Lerp(m.V[1], 0.5))
			m.T = append(m.T, [3]int32{0, 1, 8}) // sliver between the edge and its own middle
			m.T[0] = [3]int32{0, 2, 8}
			m.T = append(m.T, [3]int32{8, 2, 1})
		}, "no area"},
	}
	for name, tt := range tests {
		m := brick()
		tt.spoil(m)
		for format, err := range map[string]error{
			"STL": WriteSTL(io.Discard, m, name),
			"3MF": Write3MF(io.Discard, Model{Objects: []Object{{Name: name, Mesh: m}}}),
		} {
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("%s as %s: %v, want %q", name, format, err, tt.want)
			}
		}
	}
	if err := WriteSTL(io.Discard, brick(), "brick"); err != nil {
		t.Errorf("a brick is refused: %v", err)
	}
}

// failing takes n bytes and then fails, as a full disk does.
type failing struct{ n int }

func (f *failing) Write(p []byte) (int, error) {
	if f.n -= len(p); f.n < 0 {
		return 0, io.ErrShortWrite
	}
	return len(p), nil
}

func TestWritersPassOnAWriteError(t *testing.T) {
	for n := 0; n < 600; n += 99 {
		if WriteSTL(&failing{n}, brick(), "b") == nil {
			t.Errorf("STL over %d bytes: no error", n)
		}
		if Write3MF(&failing{n}, Model{Objects: []Object{{Name: "b", Mesh: brick()}}}) == nil {
			t.Errorf("3MF over %d bytes: no error", n)
		}
	}
}

func sample() Model {
	return Model{
		Title:       `lid & "base" <1>`,
		Application: "buckwright 0.1",
		Meta:        []Meta{{"kit", "drift-buoy"}, {"supports", "none"}},
		Objects: []Object{
			{Name: "base", Mesh: brick(), Meta: []Meta{{"3 d", ""}, {"extrusion width", "0.45 mm"}}},
			{Name: "lid", Mesh: block(geom.V(20, 0, 0), geom.V(21, 1e-3, 1e-7))},
		},
	}
}

// model is the XML by the names of the 3MF core specification, read by the
// standard library.
type model struct {
	Unit string `xml:"unit,attr"`
	Meta []struct {
		Name  string `xml:"name,attr"`
		Value string `xml:",chardata"`
	} `xml:"metadata"`
	Objects []struct {
		ID       string `xml:"id,attr"`
		Name     string `xml:"name,attr"`
		Vertices []struct {
			X string `xml:"x,attr"`
			Y string `xml:"y,attr"`
			Z string `xml:"z,attr"`
		} `xml:"mesh>vertices>vertex"`
		Triangles []struct {
			A int32 `xml:"v1,attr"`
			B int32 `xml:"v2,attr"`
			C int32 `xml:"v3,attr"`
		} `xml:"mesh>triangles>triangle"`
	} `xml:"resources>object"`
	Items []struct {
		Object string `xml:"objectid,attr"`
	} `xml:"build>item"`
}

func readModel(t *testing.T, data []byte) (m model, names []string) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		names = append(names, f.Name)
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(f.Name, err)
		}
		if f.Name == "3D/3dmodel.model" {
			if err := xml.Unmarshal(content, &m); err != nil {
				t.Fatal(err)
			}
		}
	}
	return m, names
}

func Test3MFReadsBackAsTheSameFloat32(t *testing.T) {
	in := sample()
	got, names := readModel(t, write(t, func(w io.Writer) error { return Write3MF(w, in) }))
	if len(names) != 3 || names[0] != "[Content_Types].xml" || names[1] != "_rels/.rels" {
		t.Errorf("package holds %q", names)
	}
	if got.Unit != "millimeter" || got.Meta[0].Value != in.Title || got.Meta[2].Name != "kit:kit" {
		t.Errorf("unit %q, metadata %v", got.Unit, got.Meta)
	}
	if last := got.Meta[len(got.Meta)-1]; last.Name != "kit:base.extrusion-width" || last.Value != "0.45 mm" {
		t.Errorf("the base's metadata is %v", last)
	}
	if len(got.Objects) != 2 || len(got.Items) != 2 || got.Items[1].Object != got.Objects[1].ID {
		t.Fatalf("objects %d, items %v", len(got.Objects), got.Items)
	}
	for i, o := range in.Objects {
		for k, v := range o.Mesh.V {
			for axis, s := range []string{got.Objects[i].Vertices[k].X, got.Objects[i].Vertices[k].Y, got.Objects[i].Vertices[k].Z} {
				f, err := strconv.ParseFloat(s, 32)
				if want := float32(v.Axis(axis)); err != nil || float32(f) != want {
					t.Errorf("%s vertex %d axis %d: %q, want %v", o.Name, k, axis, s, want)
				}
			}
		}
		for k, tri := range o.Mesh.T {
			if g := got.Objects[i].Triangles[k]; [3]int32{g.A, g.B, g.C} != tri {
				t.Errorf("%s triangle %d: %v, want %v", o.Name, k, g, tri)
			}
		}
	}
}

func TestMetadataNamesAreXMLNames(t *testing.T) {
	for in, want := range map[string]string{
		"layer": "layer", "press-tool.part": "press-tool.part", "extrusion width": "extrusion-width",
		"2 d": "x--d", "": "x", "a:b": "a-b", "é": "x--", "-": "x-",
	} {
		if got := xmlName(in); got != want {
			t.Errorf("xmlName(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestSameModelSameBytes(t *testing.T) {
	f := func(w io.Writer) error { return Write3MF(w, sample()) }
	if !bytes.Equal(write(t, f), write(t, f)) {
		t.Error("two writes of one model differ")
	}
	minus := brick()
	for i := range minus.V {
		if minus.V[i].Z == 0 {
			minus.V[i].Z = math.Copysign(0, -1)
		}
	}
	stl := func(m *mesh.Mesh) []byte {
		return write(t, func(w io.Writer) error { return WriteSTL(w, m, "b") })
	}
	if !bytes.Equal(stl(minus), stl(brick())) {
		t.Error("negative zero changes the file")
	}
}

func TestKitJSON(t *testing.T) {
	k := KitJSON{Kit: "drift-buoy", Units: Units(), Parts: []PartJSON{{Name: "lid", ToKit: geom.Translate(geom.V(1, 2, 3)).Rows()}}}
	s := string(write(t, func(w io.Writer) error { return WriteKitJSON(w, k) }))
	for _, want := range []string{`"findings": []`, `"volume_mm3": 0`, `"pressure": "kPa"`} {
		if !strings.Contains(s, want) {
			t.Errorf("no %s in %s", want, s)
		}
	}
	k.Parts[0].Volume = math.NaN()
	if WriteKitJSON(io.Discard, k) == nil {
		t.Error("NaN is written")
	}
}
