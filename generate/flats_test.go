package generate

import (
	"cmp"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"buckwright/params"
	"buckwright/templates"
)

// flatsOf derives a kit and its flats, without meshing its parts.
func flatsOf(t testing.TB, src, dir string) (*Result, family) {
	t.Helper()
	k, err := params.Parse("kit.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	base, err := templates.Tables()
	if err != nil {
		t.Fatal(err)
	}
	tables, err := k.Resolve(base)
	if err != nil {
		t.Fatal(err)
	}
	read := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) }
	res, _, fam, err := begin(context.Background(), Input{Kit: k, Source: []byte(src), Tables: tables, Read: read, Quality: Normal}, Normal, func(string, float64) {})
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	if err := res.drawFlats(fam); err != nil {
		t.Fatal(err)
	}
	t.Logf("flats in %v", time.Since(start))
	return res, fam
}

// starter is the text of a bundled kit.
func starter(t testing.TB, name string) string {
	t.Helper()
	b, err := os.ReadFile("../templates/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestLookAtFlats(t *testing.T) {
	dir := os.Getenv("BUCKWRIGHT_LOOK")
	if dir == "" {
		t.Skip("BUCKWRIGHT_LOOK names no folder")
	}
	for _, name := range strings.Fields(cmp.Or(os.Getenv("BUCKWRIGHT_KITS"), "tide-logger drift-buoy")) {
		r, _ := flatsOf(t, starter(t, name), "../templates")
		_, _, err := r.writeFlats(func(file string, write func(io.Writer) error) error {
			path := filepath.Join(dir, name, file)
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				return err
			}
			w, err := os.Create(path)
			if err != nil {
				return err
			}
			defer w.Close()
			return write(w)
		})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Flats {
			t.Logf("%s: %d sides, %d holes, %.1f, %.0f mm², strain %v %s", f.Name, len(f.Cut.Outer.P), len(f.Cut.Holes), sizeOf(&f), f.Shape.Area(), f.Strain, f.Refused)
		}
	}
}

// All flats of the demo are drawn in well under half a second.
func BenchmarkFlats(b *testing.B) {
	r, fam := flatsOf(b, starter(b, "tide-logger"), "../templates")
	for b.Loop() {
		r.Flats, r.Nests = nil, nil
		if err := r.drawFlats(fam); err != nil {
			b.Fatal(err)
		}
	}
}
