package generate

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"buckwright/generate/export"
	"buckwright/generate/judge"
	"buckwright/generate/mesh"
	"buckwright/generate/proof"
	"buckwright/params"
	"buckwright/templates"
)

// randomKits is the environment variable that says which random kits are made:
// how many, or how many and the number of the first: 500 or 100,400.
const randomKits = "BUCKWRIGHT_KITS"

func askedKits(t *testing.T) (count, first int) {
	count = 2
	switch {
	case testing.Short():
		count = 1
	case os.Getenv(judge.Folder) != "":
		count = 8
	}
	if s := os.Getenv(randomKits); s != "" {
		if n, err := fmt.Sscanf(strings.ReplaceAll(s, ",", " "), "%d %d", &count, &first); n == 0 {
			t.Fatalf("%s: %v", randomKits, err)
		}
	}
	return count, first
}

// TestRandomKits makes kits that nobody drew: each ends in sound parts, or in
// an error that names what its author can mend. A tenth of them, and of a few
// all, are shown to an independent geometry library too. Kits that fail are kept in BUCKWRIGHT_LOOK.
func TestRandomKits(t *testing.T) {
	count, first := askedKits(t)
	refused, parts := 0, 0
	for n := first; n < first+count; n++ {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			k := newRandomKit(n)
			defer func() {
				if dir := os.Getenv("BUCKWRIGHT_LOOK"); t.Failed() && dir != "" {
					k.keep(t, dir, fmt.Sprintf("random-%d", n))
				}
			}()
			start := time.Now()
			res, err := k.made(t)
			var problem *params.Problem
			switch {
			case errors.As(err, &problem):
				refused++
				t.Logf("refused: %v", err)
				return
			case err != nil:
				t.Errorf("%v\n%s", err, k.text.String())
				return
			}
			judged := count < 10 || n%10 == 0
			for _, p := range res.Parts {
				parts++
				judgePart(t, p, judged)
				if p.Name == "buck" {
					judgeLand(t, res, p)
				}
			}
			t.Logf("%d items, %d parts in %.1f s", len(res.Kit.Items), len(res.Parts), time.Since(start).Seconds())
		})
	}
	t.Logf("%d kits: %d parts of %d, %d refused", count, parts, count-refused, refused)
	if count >= 20 && 2*refused > count {
		t.Errorf("%d of %d kits are refused: the others prove little", refused, count)
	}
}

// Of a tenth of 500 kits that nobody drew the independent geometry library is shown
// two parts each, the kinds in turn; TestRandomKits shows it all parts of a few.
func TestTenthOfRandomKits(t *testing.T) {
	if os.Getenv(judge.Folder) == "" {
		t.Skip(judge.Folder + " names no folder")
	}
	names := []string{"buck", "base", "press-tool", "lid", "insert"}
	parts := 0
	for n := 10; n <= 500; n += 10 {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			one, two := names[n/10%5], names[(n/10+2)%5]
			res, err := newRandomKit(n).made(t, one, two)
			var problem *params.Problem
			switch {
			case errors.As(err, &problem):
				t.Logf("refused: %v", err)
				return
			case err != nil:
				t.Fatal(err)
			}
			for _, p := range res.Parts {
				parts++
				judgePart(t, p, true)
			}
		})
	}
	if parts < 70 {
		t.Errorf("only %d parts were judged", parts)
	}
}

// made makes all parts of the kit, or those named, as roughly as the tool does.
func (k *randomKit) made(t *testing.T, parts ...string) (*Result, error) {
	t.Helper()
	src := []byte(k.text.String())
	kit, err := params.Parse("kit.yaml", src)
	if err != nil {
		t.Fatalf("the kit is not valid: %v\n%s", err, src)
	}
	tables, err := templates.Tables()
	if err != nil {
		t.Fatal(err)
	}
	if tables, err = kit.Resolve(tables); err != nil {
		t.Fatalf("the kit is not valid: %v\n%s", err, src)
	}
	return Run(context.Background(), Input{Kit: kit, Source: src, Tables: tables, Read: k.read, Quality: Draft, Parts: parts}, nil)
}

// judgeLand fails the test if between the channels and bores in the buck's underside
// there is land that the printer leaves out.
func judgeLand(t *testing.T, r *Result, buck Part) {
	t.Helper()
	facets := make([]proof.Tri, len(buck.Printed.T))
	for i := range facets {
		for k, v := range buck.Printed.T[i] {
			p := buck.Printed.V[v]
			facets[i][k] = proof.Vec{p.X, p.Y, p.Z}
		}
	}
	line := r.Dims.Print.Width
	for _, thin := range proof.JudgeThin(facets, r.Dims.Buck.ChannelH/2, line, line/5) {
		t.Errorf("buck: land of %.2f mm² at %.2f is thinner than a line of %.2f mm", thin.Area, thin.At, line)
	}
}

// judgePart fails the test unless the part is sound as it is and as it prints.
func judgePart(t *testing.T, p Part, outside bool) {
	t.Helper()
	for _, m := range []*mesh.Mesh{p.Mesh, p.Printed} {
		if err := m.Check(); err != nil {
			t.Errorf("%s: %v", p.Name, err)
		}
		if !(m.Volume() > 0) {
			t.Errorf("%s encloses %g mm³", p.Name, m.Volume())
		}
	}
	if !outside {
		return
	}
	path := filepath.Join(t.TempDir(), p.Name+".stl")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := export.WriteSTL(f, p.Printed, p.Name); err != nil {
		t.Errorf("%s: %v", p.Name, err)
		return
	}
	t.Run(p.Name, func(t *testing.T) {
		if fault := judge.CGAL(t, path).Problem(); fault != "" {
			t.Error(fault)
		}
	})
}
