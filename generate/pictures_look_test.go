package generate

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"buckwright/generate/export"
	"buckwright/generate/geom"
	"buckwright/generate/mesh/meshfile"
)

// madeKit reads back a kit that was made into a folder, for a quick look at its
// pictures.
func madeKit(t testing.TB, kit, dir string) *Result {
	t.Helper()
	must := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	src, err := os.ReadFile(kit)
	must(err)
	res, err := Preview(context.Background(), jobOf(t, kit, src), nil)
	must(err)
	var sum struct {
		Parts []struct {
			Name    string
			Files   []string
			Printed bool
			ToKit   [16]float64 `json:"to_kit"`
		}
	}
	raw, err := os.ReadFile(filepath.Join(dir, "kit.json"))
	must(err)
	must(json.Unmarshal(raw, &sum))
	for _, p := range sum.Parts {
		file := filepath.Join(dir, p.Files[0])
		raw, err := os.ReadFile(file)
		must(err)
		m, err := meshfile.Read(file, raw, meshfile.Options{Unit: 1, Up: "z"})
		must(err)
		var a geom.Affine
		for r := range 3 {
			copy(a.M[3*r:], p.ToKit[4*r:4*r+3])
		}
		a.T = geom.V(p.ToKit[3], p.ToKit[7], p.ToKit[11])
		res.Parts = append(res.Parts, Part{Name: p.Name, Title: p.Name, Reference: !p.Printed, Printed: m, Mesh: m.Transform(a), ToKit: a})
	}
	return res
}

// TestLook draws the pictures and the job sheets of made kits: BUCKWRIGHT_MADE holds a folder for
// each, BUCKWRIGHT_LOOK is where they go.
func TestLook(t *testing.T) {
	made, look := os.Getenv("BUCKWRIGHT_MADE"), os.Getenv("BUCKWRIGHT_LOOK")
	if made == "" || look == "" {
		t.Skip("BUCKWRIGHT_MADE and BUCKWRIGHT_LOOK are not set")
	}
	for _, name := range []string{"tide-logger", "drift-buoy"} {
		r := madeKit(t, filepath.Join("..", "templates", name+".yaml"), filepath.Join(made, name))
		var size int
		start := time.Now()
		var shelf pictures
		files, err := r.draw().write(shelf.keep(func(file string, write func(io.Writer) error) error {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				return err
			}
			size += b.Len()
			return os.WriteFile(filepath.Join(look, name+"-"+filepath.Base(file)), b.Bytes(), 0o644)
		}))
		if err != nil {
			t.Fatal(err)
		}
		sheet, err := os.Create(filepath.Join(look, name+".html"))
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(export.WriteJobSheet(sheet, r.jobSheet("test", shelf)), sheet.Close()); err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d pictures, %d kB, %v", name, len(files), size/1000, time.Since(start))
	}
}
