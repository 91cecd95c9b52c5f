package meshfile

import (
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// numbered is n pieces of text, each with its number in it so that they pack no
// better than a mesh does.
func numbered(n int, format string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// Files that name a few bytes again and again, each of which takes many in memory,
// are refused before they have taken it.
func TestFilesThatUnfold(t *testing.T) {
	const most = 1 << 16
	oneByte := []byte("ply\nformat binary_little_endian 1.0\nelement vertex 3\nproperty char x\nproperty char y\nproperty char z\n" +
		"element face 2\nproperty list int uchar vertex_index\nend_header\n\x00\x00\x00\x09\x00\x00\x00\x09\x00")
	for range 2 {
		oneByte = binary.LittleEndian.AppendUint32(oneByte, mostTriangles/2+3)
		oneByte = append(oneByte, make([]byte, mostTriangles/2+3)...)
	}
	again := strings.Repeat(`{"attributes":{"POSITION":0}},`, mostTriangles/4000) + `{"attributes":{"POSITION":0}}`
	for _, tt := range []struct {
		name string
		src  []byte
		want string
	}{
		{"a.3mf", zipOf("3D/3dmodel.model", "<model><build>"+numbered(most+1, "<item objectid='%d'/>")+"</build></model>"), "line 1: more than 65536 elements like this one"},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model><object id='1'>"+numbered(most+1, "<component objectid='%d'/>")), "more than 65536 elements like this one"},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model>"+numbered(most+1, "<object id='%d'/>")), "more than 65536 elements like this one"},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model "+numbered(1<<19, "a%d='' ")+"/>"), "it unpacks to more than any such file needs"},
		{"a.3mf", zipOf("3D/3dmodel.model", "<model><!--"+numbered(1<<20, "%d")+"--></model>"), "it unpacks to more than any such file needs"},
		{"a.3mf", zipOf("_rels/.rels", "<Relationships>"+numbered(1<<16, "<Relationship Id='%d'/>")+"</Relationships>"), "it unpacks to more than any such file needs"},
		{"a.glb", glbOf(`{"nodes":[`+strings.Repeat("{},", 3<<20)+`{}]}`, nil), "the scene takes 9 MiB, and 8 are read at most"},
		{"a.glb", glbOf(`{"nodes":[{"mesh":0}],"meshes":[{"primitives":[`+again+`]}],"buffers":[{}],"bufferViews":[{"byteLength":48000}],
			"accessors":[{"bufferView":0,"componentType":5126,"count":4000,"type":"VEC3"}]}`, make([]byte, 48000)), "the body has more than 8 million triangles or corners"},
		{"a.ply", oneByte, "the body has more than 8 million triangles or corners"},
		{"a.obj", []byte("v 0 0 0\nf" + strings.Repeat(" 1", mostTriangles+3)), "the body has more than 8 million triangles or corners"},
	} {
		if _, err := Read(tt.name, tt.src, Options{}); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s of %d bytes: %v\nwant %s", tt.name, len(tt.src), err, tt.want)
		}
	}
}

// A file of nothing but polygons that no cut gets right is read with bounded work.
func TestPolygonsWithoutEnd(t *testing.T) {
	const polygons = 1300
	var b strings.Builder
	rnd := rand.New(rand.NewPCG(7, 7))
	for range polygonMost {
		fmt.Fprintln(&b, "v", rnd.Float64()*50, rnd.Float64()*50, rnd.Float64()*50)
	}
	for range polygons {
		b.WriteString("f")
		for _, i := range rnd.Perm(polygonMost) {
			fmt.Fprint(&b, " ", i+1)
		}
		b.WriteString("\n")
	}
	r := &reader{name: "a.obj", src: []byte(b.String())}
	if err := r.readOBJ(); err != nil || len(r.mesh.T) != polygons*(polygonMost-2) {
		t.Fatal(len(r.mesh.T), err)
	}
	const one = 20 * polygonMost * polygonMost // more than one of these takes
	if r.tests < mostTests || r.tests > mostTests+one {
		t.Errorf("%d tests, want %d", r.tests, mostTests)
	}
}
