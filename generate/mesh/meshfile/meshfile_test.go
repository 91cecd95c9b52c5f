package meshfile

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"

	"github.com/hpinc/go3mf"
	"github.com/hschendel/stl"
	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
)

// wedge is a right prism on a triangle with legs 30 and 20, 10 high: volume 3000.
func wedge() *mesh.Mesh {
	return &mesh.Mesh{
		V: []geom.Vec{{}, {X: 30}, {Y: 20}, {Z: 10}, {X: 30, Z: 10}, {Y: 20, Z: 10}},
		T: [][3]int32{{0, 2, 1}, {3, 4, 5}, {0, 1, 4}, {0, 4, 3}, {1, 2, 5}, {1, 5, 4}, {2, 0, 3}, {2, 3, 5}},
	}
}

func binarySTL(m *mesh.Mesh, head string) []byte {
	b := make([]byte, stlHead, stlHead+stlEach*len(m.T))
	copy(b, head)
	binary.LittleEndian.PutUint32(b[80:], uint32(len(m.T)))
	for i := range m.T {
		b = append(b, make([]byte, 12)...)
		p, q, r := m.Corners(i)
		for _, v := range [9]float64{p.X, p.Y, p.Z, q.X, q.Y, q.Z, r.X, r.Y, r.Z} {
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(v)))
		}
		b = append(b, 0, 0)
	}
	return b
}

func asciiSTL(m *mesh.Mesh) []byte {
	var b bytes.Buffer
	b.WriteString("solid wedge of three words\n")
	for i := range m.T {
		p, q, r := m.Corners(i)
		fmt.Fprintf(&b, " facet normal 0 0 0\n  outer loop\n")
		for _, v := range []geom.Vec{p, q, r} {
			fmt.Fprintf(&b, "   vertex %e %e %e\n", v.X, v.Y, v.Z)
		}
		b.WriteString("  endloop\n endfacet\n")
	}
	b.WriteString("endsolid wedge\n")
	return b.Bytes()
}

const wedgeOBJ = `# a comment
mtllib none.mtl
o wedge
v 0 0 0
v 30 0 0 # the long leg
v 0 20 0
v 0 0 10
v 30 0 10
v 0 20 10
vn 0 0 1
f 1 3 2
f 4/1 5/2 6/3
f 1//1 2//1 5//1 4//1
f -5 -4 \
  -1 -2
f 3/1/1 1/1/1 4/1/1 6/1/1
`

func wedgePLY(order binary.ByteOrder) []byte {
	var b bytes.Buffer
	name := "ascii"
	switch order {
	case binary.LittleEndian:
		name = "binary_little_endian"
	case binary.BigEndian:
		name = "binary_big_endian"
	}
	fmt.Fprintf(&b, "ply\nformat %s 1.0\ncomment made here\nelement vertex 6\nproperty double x\nproperty float y\nproperty float z\nproperty uchar red\n"+
		"element face 5\nproperty list uchar int vertex_indices\nelement edge 1\nproperty short a\nend_header\n", name)
	faces := [][]int32{{0, 2, 1}, {3, 4, 5}, {0, 1, 4, 3}, {1, 2, 5, 4}, {2, 0, 3, 5}}
	if order == nil {
		for _, v := range wedge().V {
			fmt.Fprintln(&b, v.X, v.Y, v.Z, 200)
		}
		for _, f := range faces {
			fmt.Fprintln(&b, len(f), strings.Trim(fmt.Sprint(f), "[]"))
		}
		b.WriteString("7\n")
		return b.Bytes()
	}
	put := func(v any) { binary.Write(&b, order, v) }
	for _, v := range wedge().V {
		put(v.X)
		put(float32(v.Y))
		put(float32(v.Z))
		put(uint8(200))
	}
	for _, f := range faces {
		put(uint8(len(f)))
		put(f)
	}
	put(int16(7))
	return b.Bytes()
}

// wedge3MF is written by another program's library: the wedge in cm as a
// component of an assembly, turned a quarter about z and moved.
func wedge3MF(t testing.TB) []byte {
	body := &go3mf.Mesh{}
	for _, v := range wedge().V {
		body.Vertices.Vertex = append(body.Vertices.Vertex, go3mf.Point3D{float32(v.X / 10), float32(v.Y / 10), float32(v.Z / 10)})
	}
	for _, f := range wedge().T {
		body.Triangles.Triangle = append(body.Triangles.Triangle, go3mf.Triangle{V1: uint32(f[0]), V2: uint32(f[1]), V3: uint32(f[2])})
	}
	quarter := go3mf.Matrix{0, 1, 0, 0, -1, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1}
	m := &go3mf.Model{Units: go3mf.UnitCentimeter}
	m.Resources.Objects = []*go3mf.Object{
		{ID: 1, Mesh: body},
		{ID: 2, Components: &go3mf.Components{Component: []*go3mf.Component{{ObjectID: 1, Transform: quarter}}}},
	}
	m.Build.Items = []*go3mf.Item{{ObjectID: 2, Transform: go3mf.Matrix{1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 5, 6, 7, 1}}}
	var b bytes.Buffer
	if err := go3mf.NewEncoder(&b).Encode(m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// wedgeGLB is written by another program's library: metres, y up, under a node
// that moves, turns and doubles it.
func wedgeGLB(t testing.TB) []byte {
	doc := gltf.NewDocument()
	var pts [][3]float32
	for _, v := range wedge().V { // z up to y up: (x, z, -y)
		pts = append(pts, [3]float32{float32(v.X / 2000), float32(v.Z / 2000), float32(-v.Y / 2000)})
	}
	var ids []uint16
	for _, f := range wedge().T {
		ids = append(ids, uint16(f[0]), uint16(f[1]), uint16(f[2]))
	}
	doc.Meshes = []*gltf.Mesh{{Primitives: []*gltf.Primitive{{
		Indices:    gltf.Index(modeler.WriteIndices(doc, ids)),
		Attributes: gltf.PrimitiveAttributes{gltf.POSITION: modeler.WritePosition(doc, pts)},
	}}}}
	h := math.Sqrt(0.5)
	doc.Nodes = []*gltf.Node{
		{Children: []int{1}, Translation: [3]float64{0.1, 0, 0}},
		{Mesh: gltf.Index(0), Scale: [3]float64{2, 2, 2}, Rotation: [4]float64{0, h, 0, h}},
	}
	doc.Scenes[0].Nodes = []int{0}
	var b bytes.Buffer
	if err := gltf.NewEncoder(&b).Encode(doc); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestRead(t *testing.T) {
	plain := wedge().Bounds()
	for _, tt := range []struct {
		name string
		src  []byte
		box  geom.Box
	}{
		{"binary.stl", binarySTL(wedge(), "made here"), plain},
		{"headed-solid.stl", binarySTL(wedge(), "solid wedge\nfacet"), plain},
		{"ascii.stl", asciiSTL(wedge()), plain},
		{"no-extension", asciiSTL(wedge()), plain},
		{"wedge.obj", []byte(wedgeOBJ), plain},
		{"obj-without-extension", []byte(wedgeOBJ), plain},
		{"wedge.obj", []byte(strings.ReplaceAll(wedgeOBJ, "\n", "\r\n")), plain},
		{"ascii.ply", wedgePLY(nil), plain},
		{"little.ply", wedgePLY(binary.LittleEndian), plain},
		{"big.ply", wedgePLY(binary.BigEndian), plain},
		{"wedge.3mf", wedge3MF(t), geom.Box{Min: geom.V(50-20, 60, 70), Max: geom.V(50, 90, 80)}},
		{"wedge.glb", wedgeGLB(t), geom.Box{Min: geom.V(100-20, 0, 0), Max: geom.V(100, 30, 10)}},
	} {
		m, err := Read(tt.name, tt.src, Options{})
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if v := m.Volume(); math.Abs(v-3000) > 0.01 {
			t.Errorf("%s: volume %v, want 3000", tt.name, v)
		}
		if b := m.Bounds(); b.Min.Dist(tt.box.Min) > 1e-4 || b.Max.Dist(tt.box.Max) > 1e-4 {
			t.Errorf("%s: bounds %v, want %v", tt.name, b, tt.box)
		}
		if len(m.V) != 6 || len(m.T) != 8 {
			t.Errorf("%s: %d vertices, %d triangles, want 6 and 8", tt.name, len(m.V), len(m.T))
		}
		if r := mesh.Diagnose(m); !r.Clean() {
			t.Errorf("%s: %+v", tt.name, r)
		}
	}
}

func TestSTLAgainstAnotherReader(t *testing.T) {
	for _, src := range [][]byte{binarySTL(wedge(), ""), asciiSTL(wedge())} {
		want, err := stl.ReadAll(bytes.NewReader(src))
		if err != nil {
			t.Fatal(err)
		}
		got, err := Read("w.stl", src, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(got.T) != len(want.Triangles) {
			t.Fatalf("%d triangles, the other reader has %d", len(got.T), len(want.Triangles))
		}
		for i, tri := range want.Triangles {
			a, b, c := got.Corners(i)
			for k, p := range []geom.Vec{a, b, c} {
				q := tri.Vertices[k]
				if p.Dist(geom.V(float64(q[0]), float64(q[1]), float64(q[2]))) > 1e-6 {
					t.Errorf("triangle %d corner %d: %v, the other reader has %v", i, k, p, q)
				}
			}
		}
	}
}

func TestUnitAndUp(t *testing.T) {
	src := binarySTL(wedge(), "")
	for _, tt := range []struct {
		o    Options
		size geom.Vec
		top  geom.Vec // where the file's (0, 0, 10) comes to be
	}{
		{Options{}, geom.V(30, 20, 10), geom.V(0, 0, 10)},
		{Options{Up: "z", Unit: 25.4}, geom.V(762, 508, 254), geom.V(0, 0, 254)},
		{Options{Up: "-z"}, geom.V(30, 20, 10), geom.V(0, 0, -10)},
		{Options{Up: "y"}, geom.V(30, 10, 20), geom.V(0, -10, 0)},
		{Options{Up: "-y"}, geom.V(30, 10, 20), geom.V(0, 10, 0)},
		{Options{Up: "x"}, geom.V(10, 20, 30), geom.V(-10, 0, 0)},
		{Options{Up: "-x"}, geom.V(10, 20, 30), geom.V(10, 0, 0)},
	} {
		m, err := Read("w.stl", src, tt.o)
		if err != nil {
			t.Fatal(err)
		}
		if s := m.Bounds().Size(); s.Dist(tt.size) > 1e-9 || m.Volume() < 0 {
			t.Errorf("%+v: size %v, want %v; volume %v", tt.o, s, tt.size, m.Volume())
		}
		found := false
		for _, v := range m.V {
			found = found || v.Dist(tt.top) < 1e-9
		}
		if !found {
			t.Errorf("%+v: no vertex at %v: %v", tt.o, tt.top, m.V)
		}
	}
}

// zipOf makes a package of named parts.
func zipOf(parts ...string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i+1 < len(parts); i += 2 {
		w, _ := z.Create(parts[i])
		io.WriteString(w, parts[i+1])
	}
	z.Close()
	return b.Bytes()
}

const tetra = `<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="12" y="0" z="0"/><vertex x="0" y="12" z="0"/><vertex x="0" y="0" z="12"/></vertices>` +
	`<triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/><triangle v1="2" v2="0" v3="3"/></triangles></mesh>`

// An object in another part, mirrored; supports are left out.
func TestRead3MFParts(t *testing.T) {
	src := zipOf(
		"3D/3dmodel.model", `<model xmlns:p="x"><resources><object id="7"><components><component p:path="/3D/Objects/a.model" objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/></components></object>
<object id="8" type="support">`+tetra+`</object></resources><build><item objectid="7"/><item objectid="8"/></build></model>`,
		"3D/Objects/a.model", `<model unit="inch"><resources><object id="1">`+tetra+`</object></resources><build/></model>`)
	m, err := Read("a.3mf", src, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if v := m.Volume(); math.Abs(v-288) > 1e-9 || m.Bounds().Min.X != -12 {
		t.Errorf("volume %v, want 288; bounds %v", v, m.Bounds())
	}
}

// nested doubles a body at each of n levels.
func nested(n int) string {
	var b strings.Builder
	b.WriteString(`<model><resources><object id="0">` + tetra + `</object>`)
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&b, `<object id="%d"><components><component objectid="%d"/><component objectid="%d"/></components></object>`, i, i-1, i-1)
	}
	fmt.Fprintf(&b, `</resources><build><item objectid="%d"/></build></model>`, n)
	return b.String()
}

func glbOf(scene string, bin []byte) []byte {
	b := []byte("glTF\x02\x00\x00\x00")
	b = binary.LittleEndian.AppendUint32(b, uint32(20+len(scene)))
	b = binary.LittleEndian.AppendUint32(b, uint32(len(scene)))
	b = append(b, "JSON"...)
	b = append(b, scene...)
	if bin != nil {
		b = binary.LittleEndian.AppendUint32(b, uint32(len(bin)))
		b = append(b, "BIN\x00"...)
		b = append(b, bin...)
	}
	return b
}

func TestBadFiles(t *testing.T) {
	good := binarySTL(wedge(), "")
	nan := bytes.Clone(good)
	binary.LittleEndian.PutUint32(nan[84+12+50:], math.Float32bits(float32(math.NaN())))
	huge := make([]byte, 200)
	binary.LittleEndian.PutUint32(huge[80:], math.MaxUint32)
	small := wedge().Transform(geom.ScaleAbout(geom.Vec{}, geom.V(1e-3, 1e-3, 1e-3)))
	big := wedge().Transform(geom.ScaleAbout(geom.Vec{}, geom.V(1e3, 1e3, 1e3)))
	flat := &mesh.Mesh{V: []geom.Vec{{X: 1}, {X: 1}, {X: 1}}, T: [][3]int32{{0, 1, 2}}}
	for _, tt := range []struct {
		name string
		src  []byte
		want string
	}{
		{"empty.stl", nil, "empty.stl: the file is empty"},
		{"odd.xyz", []byte("hello"), "odd.xyz: the format is not known (STL, OBJ, PLY, 3MF and GLB are read)"},
		{"a.gltf", []byte("{}"), "a.gltf: glTF as text is not read"},
		{"cut.stl", good[:300], "cut.stl: byte 300: the file is cut short: it says 8 triangles and holds 4"},
		{"head.stl", good[:50], "head.stl: byte 50: the file ends inside its head"},
		{"long.stl", append(bytes.Clone(good), 1, 2, 3), "long.stl: byte 484: 3 bytes follow the 8 triangles"},
		{"huge.stl", huge, "cut short: it says 4294967295 triangles and holds 2"},
		{"nan.stl", nan, "nan.stl: byte 146: corner 1 of triangle 2 is not a number"},
		{"none.stl", binarySTL(&mesh.Mesh{}, ""), "none.stl: the file holds no triangles"},
		{"m.stl", binarySTL(small, ""), "m.stl: the body is only 0.03 x 0.02 x 0.01 mm (its numbers are taken as mm; if they are not, give its unit: mm, cm, m, in or ft)"},
		{"um.stl", binarySTL(big, ""), "um.stl: the body is 3e+04 x 2e+04 x 1e+04 mm (its numbers are taken as mm; if they are not, give its unit: mm, cm, m, in or ft)"},
		{"flat.stl", binarySTL(flat, ""), "flat.stl: the body has no extent"},
		{"a.stl", []byte("solid x\n facet\n outer loop\n vertex 1 2 oops\n"), `a.stl:4: "oops" is not a coordinate`},
		{"a.stl", []byte("solid x\n facet\n vertex 1 2 nan\n"), `a.stl:3: "nan" is not a coordinate`},
		{"a.stl", []byte("solid x\n facet\n vertex 1,5 2 3\n"), `a.stl:3: "1,5" is not a coordinate (export it with a point in its decimals)`},
		{"a.stl", asciiSTL(wedge())[:500], `"endsolid" is missing`},
		{"a.stl", []byte("solid\nfacet\nvertex 1 2 3\nendfacet\nendsolid"), "a.stl:4: a facet with 1 corners"},
		{"a.obj", []byte("v 1 2 3\nf 1 2 3\n"), "a.obj:2: vertex 2 of a face: there are 1 so far"},
		{"a.obj", []byte("v 1 2 3\nf 1 -2 1\n"), "a.obj:2: vertex -2 of a face: there are 1 so far"},
		{"a.obj", []byte("v 1 2 3\nf 1 0 1\n"), "a.obj:2: vertex 0 of a face"},
		{"a.obj", []byte("v 1 2 3\n\nf 1 1\n"), "a.obj:3: a face with 2 corners"},
		{"a.obj", []byte("v 1 2 inf\n"), `a.obj:1: "inf" is not a coordinate`},
		{"a.obj", []byte("# nothing\n"), "a.obj: the file holds no triangles"},
		{"a.ply", []byte("ply\nformat ascii 1.0\nelement vertex 9\n"), "a.ply:4: the file ends inside its head"},
		{"a.ply", []byte("ply\nformat ebcdic 1.0\nend_header\n"), `a.ply:2: "ebcdic" is no PLY format`},
		{"a.ply", []byte("ply\nelement vertex 0\nend_header\n"), `a.ply:3: the head has no "format" line`},
		{"a.ply", []byte("ply\nformat ascii 1.0\nelement vertex 4000000000\nproperty float x\nend_header\n1\n2\n"), "cut short in vertex 3 of 4000000000"},
		{"a.ply", []byte("ply\nformat ascii 1.0\nelement vertex 4000000000\nend_header\n"), "holds no triangles"},
		{"a.ply", []byte("ply\nformat binary_little_endian 1.0\nelement vertex 4000000000\nproperty float x\nend_header\n123456"), "byte 96: the file is cut short in vertex 2 of 4000000000"},
		{"a.ply", []byte("ply\nformat ascii 1.0\nelement face 1\nproperty list int int vertex_index\nend_header\n3 0 1 2\n"), "vertex 2, counted from 0; there are 0"},
		{"a.ply", []byte("ply\nformat ascii 1.0\nelement face 1\nproperty list int int vertex_index\nend_header\n-3 0 1 2\n"), "a.ply:6: a list of -3 numbers"},
		{"a.3mf", []byte("PK\x03\x04 and no more"), "a.3mf: the zip container is damaged"},
		{"a.3mf", zipOf("readme.txt", "hello"), "a.3mf: the zip holds no 3-D model"},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model><build/></model>"), "its build section is empty"},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model>\n<build><item objectid='3'/></build></model>"), `object "3" is placed but not defined`},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model unit='mile'/>"), `line 1: "mile" is no unit`},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model>\n\n<object id='1'><vertex x='1' y='nan'/>"), `line 3: y="nan" is not a number`},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model>\n<object"), "line 2: XML syntax error"},
		{"a.3mf", zipOf("3D/3dmodel.model", nested(30)), "more than"},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model><object id='1'><components><component objectid='1'/></components></object><build><item objectid='1'/></build></model>"), "nested more than"},
		{"a.3mf", zipOf("3D/3dmodel.model", strings.Repeat("<vertex/>", 1<<22)), "stands in no object"},
		{"a.3mf", zipOf("3D/3dmodel.model", strings.Repeat(" ", 1<<26)), "it unpacks to more than any such file needs"},
		{"a.glb", []byte("glTF\x01\x00\x00\x00            "), "byte 4: glTF version 1 is not read"},
		{"a.glb", glbOf(`{"scenes":[{"nodes":[0]}],"nodes":[]}`, nil), "node 0 of 0"},
		{"a.glb", glbOf(`{"nodes":[{"children":[1,1]},{}]}`, nil), "node 1 stands in the scene twice"},
		{"a.glb", glbOf(`{"nodes":[{"children":[0]}],"scenes":[{"nodes":[0]}]}`, nil), "node 0 stands in the scene twice"},
		{"a.glb", glbOf(`{"nodes":[{}]}`, nil), "holds no triangles"},
		{"a.glb", glbOf(`{"nodes":`, nil), "the scene cannot be read"},
		{"a.glb", glbOf(`{"nodes":[{"mesh":0}],"meshes":[{"primitives":[{"attributes":{"POSITION":0}}]}],"buffers":[{}],"bufferViews":[{"byteLength":12}],
			"accessors":[{"bufferView":0,"componentType":5126,"count":2000000000,"type":"VEC3"}]}`, make([]byte, 12)), "accessor 0 reaches beyond the file"},
		{"a.glb", glbOf(`{"nodes":[{"mesh":0}],"meshes":[{"primitives":[{"attributes":{"POSITION":0},"extensions":{"KHR_draco_mesh_compression":{}}}]}]}`, nil), "mesh 0 is compressed"},
	} {
		_, err := Read(tt.name, tt.src, Options{})
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: error %v\nwant %s", tt.name, err, tt.want)
			continue
		}
		var e *Error
		if !errors.As(err, &e) || e.Name != tt.name {
			t.Errorf("%s: error is %T", tt.name, err)
		}
	}
	for _, o := range []Options{{Up: "north"}, {Unit: -1}, {Unit: math.NaN()}, {Unit: math.Inf(1)}} {
		if _, err := Read("w.stl", good, o); err == nil {
			t.Errorf("%+v: no error", o)
		}
	}
	if m, err := Read("m.stl", binarySTL(small, ""), Options{Unit: 1000}); err != nil || math.Abs(m.Volume()-3000) > 0.01 {
		t.Errorf("metres with the unit said: %v", err)
	}
}

// A star is cut into triangles that stay inside it, whichever corner comes first
// and whatever plane it lies in: their areas add up to its own.
func TestPolygons(t *testing.T) {
	star := []geom.Vec2{{X: 20}, {X: 3, Y: 3}, {Y: 20}, {X: -3, Y: 3}, {X: -20}, {X: -3, Y: -3}, {Y: -20}, {X: 3, Y: -3}}
	l := []geom.Vec2{{}, {X: 30}, {X: 30, Y: 10}, {X: 10, Y: 10}, {X: 10, Y: 10}, {X: 10, Y: 30}, {Y: 30}}
	square := []geom.Vec2{{}, {X: 10}, {X: 20}, {X: 20, Y: 10}, {X: 20, Y: 20}, {Y: 20}}
	for _, plan := range [][]geom.Vec2{star, l, square} {
		var want float64
		for i, p := range plan {
			want += p.Cross(plan[(i+1)%len(plan)]) / 2
		}
		for first := range plan {
			turn := geom.RotateX(geom.Angle(first)).Then(geom.RotateZ(2 * geom.Angle(first)))
			var b strings.Builder
			for i := range plan {
				p := turn.Apply(plan[(first+i)%len(plan)].At(5))
				fmt.Fprintf(&b, "v %.17g %.17g %.17g\n", p.X, p.Y, p.Z)
			}
			b.WriteString("f 1 2 3 4 5 6 7 8\n"[:2*len(plan)+1] + "\n")
			m, err := Read("p.obj", []byte(b.String()), Options{})
			if err != nil {
				t.Fatal(err)
			}
			var along float64
			for i := range m.T {
				p, q, r := m.Corners(i)
				along += q.Sub(p).Cross(r.Sub(p)).Dot(turn.Dir(geom.V(0, 0, 1))) / 2
			}
			if math.Abs(m.Area()-want) > 1e-9 || math.Abs(along-want) > 1e-9 || len(m.T) != len(plan)-2 {
				t.Errorf("%d corners from corner %d: %d triangles of area %v, facing %v, want %v", len(plan), first, len(m.T), m.Area(), along, want)
			}
		}
	}
}

func TestFilesOnDisk(t *testing.T) {
	for _, tt := range []struct{ name, want string }{
		{"drift-buoy.stl", ""},
		{"drift-buoy-dirty.stl", ""},
		{"bad-empty.stl", "bad-empty.stl: the file is empty"},
		{"bad-truncated.stl", "bad-truncated.stl: byte 9000: the file is cut short: it says 1024 triangles and holds 178"},
		{"bad-metres.stl", "bad-metres.stl: the body is only 0.11 x 0.06"},
		{"bad-nan.stl", "bad-nan.stl: byte 5108: corner 2 of triangle 101 is not a number"},
	} {
		src, err := os.ReadFile("../../../testdata/mesh/" + tt.name)
		if err != nil {
			t.Fatal(err)
		}
		m, err := Read(tt.name, src, Options{})
		switch {
		case tt.want != "":
			if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("error %v\nwant %s", err, tt.want)
			}
		case err != nil:
			t.Error(err)
		case len(m.T) != (len(src)-stlHead)/stlEach:
			t.Errorf("%s: %d triangles of %d bytes", tt.name, len(m.T), len(src))
		}
	}
}

// FuzzRead: any bytes give a mesh or an *Error, in bounded memory.
func FuzzRead(f *testing.F) {
	f.Add("a.stl", binarySTL(wedge(), "solid"))
	f.Add("a.stl", asciiSTL(wedge()))
	f.Add("a.obj", []byte(wedgeOBJ))
	f.Add("a.ply", wedgePLY(nil))
	f.Add("a.ply", wedgePLY(binary.LittleEndian))
	f.Add("a.ply", wedgePLY(binary.BigEndian))
	f.Add("a.3mf", wedge3MF(f))
	f.Add("a.3mf", zipOf("3D/3dmodel.model", nested(3)))
	f.Add("a.glb", wedgeGLB(f))
	f.Fuzz(func(t *testing.T, name string, src []byte) {
		m, err := Read(name, src, Options{})
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Msg == "" {
				t.Fatalf("error %T: %v", err, err)
			}
			return
		}
		for _, tri := range m.T {
			for _, v := range tri {
				if v < 0 || int(v) >= len(m.V) || !m.V[v].Finite() {
					t.Fatalf("triangle %v of %d vertices", tri, len(m.V))
				}
			}
		}
	})
}

// The scene's names must be those of the standard.
func TestSceneNames(t *testing.T) {
	var g glbScene
	if err := json.Unmarshal([]byte(`{"scene":1,"bufferViews":[{"byteStride":16}],"buffers":[{"uri":"x"}]}`), &g); err != nil {
		t.Fatal(err)
	}
	if *g.Scene != 1 || g.BufferViews[0].ByteStride != 16 || *g.Buffers[0].URI != "x" {
		t.Errorf("%+v", g)
	}
}
