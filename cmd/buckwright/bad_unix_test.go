//go:build unix

package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
)

// stlOf is a binary STL of triangles whose corners are given one after the other,
// headed by another count if n is not negative.
func stlOf(n int64, corners ...[3]float32) []byte {
	b := make([]byte, 80, 84+50*len(corners)/3)
	if n < 0 {
		n = int64(len(corners) / 3)
	}
	b = binary.LittleEndian.AppendUint32(b, uint32(n))
	for i, c := range corners {
		if i%3 == 0 {
			b = append(b, make([]byte, 12)...) // the normal
		}
		for _, v := range c {
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(v))
		}
		if i%3 == 2 {
			b = append(b, 0, 0)
		}
	}
	return b
}

// block is a closed box of twelve triangles, from lo to hi.
func block(lo, hi [3]float32) (out [][3]float32) {
	for _, f := range [12][3]int{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}} {
		for _, i := range f {
			c := lo
			for k := range 3 {
				if i>>k&1 != 0 {
					c[k] = hi[k]
				}
			}
			out = append(out, c)
		}
	}
	return out
}

// frame is a flat ring: more hole than surface.
func frame() (out [][3]float32) {
	at := func(i int) [3]float32 {
		in := float32(i / 4 * 5)
		x, y := in, in
		if k := i % 4; k == 1 || k == 2 {
			x = 60 - in
		}
		if i%4 >= 2 {
			y = 40 - in
		}
		return [3]float32{x, y, 0}
	}
	for i := range 4 {
		j := (i + 1) % 4
		out = append(out, at(i), at(j), at(i+4), at(j), at(j+4), at(i+4))
	}
	return out
}

// heap is more loose triangles than a body has pieces.
func heap() (out [][3]float32) {
	for i := range 10_001 {
		x, y := float32(i%101)/2, float32(i/101)/2
		out = append(out, [3]float32{x, y, 0}, [3]float32{x + 0.1, y, 0}, [3]float32{x, y + 0.1, 1})
	}
	return out
}

func zipWith(t *testing.T, name, text string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create(name)
	if err == nil {
		_, err = w.Write([]byte(text))
	}
	if err = firstOf(err, z.Close()); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func firstOf(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

func glbWith(scene string) []byte {
	b := []byte("glTF\x02\x00\x00\x00")
	b = binary.LittleEndian.AppendUint32(b, uint32(20+len(scene)))
	b = binary.LittleEndian.AppendUint32(b, uint32(len(scene)))
	return append(append(b, "JSON"...), scene...)
}

func drawingOf(body string) []byte {
	return []byte(`<svg width="100mm" height="100mm" viewBox="0 0 100 100">` + body + `</svg>`)
}

// beside makes, in dir, the files that the bad kits name.
func beside(t *testing.T, dir string) {
	t.Helper()
	nan := float32(math.NaN())
	allNaN := make([][3]float32, 36)
	for i := range allNaN {
		allNaN[i] = [3]float32{nan, nan, nan}
	}
	files := map[string][]byte{
		"all-nan.stl":      stlOf(-1, allNaN...),
		"four-billion.stl": stlOf(math.MaxUint32, block([3]float32{}, [3]float32{60, 40, 20})...),
		"words.stl":        []byte("solid a\n facet normal 0 0 1\n outer loop\n  vertex 1 2 three\n"),
		"short.stl":        make([]byte, 83),
		"wrong.glb":        []byte("<html><body>Not found</body></html>"),
		"flat.stl":         stlOf(-1, [3]float32{}, [3]float32{40, 0, 0}, [3]float32{0, 30, 0}),
		"heap.stl":         stlOf(-1, heap()...),
		"frame.stl":        stlOf(-1, frame()...),
		"far.stl":          stlOf(-1, append(block([3]float32{}, [3]float32{60, 40, 20}), block([3]float32{2000, 0, 0}, [3]float32{2010, 9, 9})...)...),
		"low.stl":          stlOf(-1, block([3]float32{}, [3]float32{60, 40, 5})...),
		"two.obj":          []byte("v 0 0 0\nv 9 0 0\nf 1 2\n"),
		"points.obj":       []byte("# points\nv 0 0 0\nv 9 0 0\nv 0 9 0\n"),
		"vertex.obj":       []byte("v 0 0 0\nv 9 0 0\nv 0 9 0\nf 1 2 4\n"),
		"cut.ply":          []byte("ply\nformat ascii 1.0\nelement vertex 4000000000\nproperty float x\nproperty float y\nproperty float z\nend_header\n1 2 3\n"),
		"zip.3mf":          []byte("PK\x03\x04 and no more"),
		"other.3mf":        zipWith(t, "word/document.xml", "<w/>"),
		"draco.glb":        glbWith(`{"nodes":[{"mesh":0}],"meshes":[{"primitives":[{"attributes":{"POSITION":0},"extensions":{"KHR_draco_mesh_compression":{}}}]}]}`),
		"open.svg":         drawingOf(`<path d="M5 5h60v40H5"/>`),
		"crossing.svg":     drawingOf(`<path d="M5 5h60L5 45h30z"/>`),
		"two.svg":          drawingOf(`<path d="M5 5h20v20h-20z"/><path d="M50 5h20v20h-20z"/>`),
		"empty.svg":        drawingOf(``),
		"noise.svg":        []byte("\x8a\x00\xfe noise"),
		"noise.dxf":        []byte("\x8a\x00\xfe noise"),
	}
	for name, src := range files {
		if err := os.WriteFile(filepath.Join(dir, name), src, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, folder := range []string{"folder.yaml", "folder.stl", "folder.svg"} {
		if err := os.Mkdir(filepath.Join(dir, folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for _, link := range []string{"device.stl", "device.svg"} {
		if err := os.Symlink("/dev/zero", filepath.Join(dir, link)); err != nil {
			t.Fatal(err)
		}
	}
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.stl"), 0o644); err != nil {
		t.Fatal(err)
	}
	copied, err := filepath.Glob("../../testdata/mesh/bad-*")
	if err != nil || len(copied) == 0 {
		t.Fatal(copied, err)
	}
	copied = append(copied, "../../testdata/kit/err/layer-over-nozzle.yaml")
	for _, from := range copied {
		copyTo(t, dir, from)
	}
}

func copyTo(t *testing.T, dir, from string) {
	t.Helper()
	src, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, filepath.Base(from)), src, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

var progressLine = regexp.MustCompile(`(?m)^ *[0-9]+ %  .*\n`)

// TestBadInput: each testdata/bad/NAME.yaml, with the files it names beside it, is
// refused with exactly NAME.out: the exit status, then what is printed. UPDATE=1
// rewrites those, to be read before they are kept.
func TestBadInput(t *testing.T) {
	all, err := filepath.Glob("../../testdata/bad/*.yaml")
	if err != nil || len(all) < 45 {
		t.Fatalf("%d kits: %v", len(all), err)
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	beside(t, dir)
	for _, kit := range all {
		copyTo(t, dir, kit)
	}
	before := names(t, dir)
	t.Chdir(dir)
	for _, kit := range all {
		kit = filepath.Base(kit)
		code, out, errs := call(t, "check", kit)
		got := fmt.Sprintf("exit %d\n%s%s", code, out, progressLine.ReplaceAllString(errs, ""))
		golden := filepath.Join(here, "../../testdata/bad", strings.TrimSuffix(kit, ".yaml")+".out")
		if os.Getenv("UPDATE") != "" {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s: got\n%s\nwant\n%s", kit, got, want)
		}
		if code != exitUsage || !strings.Contains(errs, "hint: ") || !strings.Contains(errs, "buckwright: "+kit+":") && !strings.Contains(errs, "buckwright: layer-over-nozzle.yaml:") {
			t.Errorf("%s: exit %d without a place or a hint: %s", kit, code, errs)
		}
	}
	if after := names(t, dir); after != before {
		t.Errorf("files came or went: %s", after)
	}
}

// names lists a folder.
func names(t *testing.T, dir string) string {
	t.Helper()
	var all []string
	err := filepath.WalkDir(dir, func(p string, _ fs.DirEntry, err error) error {
		all = append(all, p)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(all, "\n")
}
