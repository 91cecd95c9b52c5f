package generate

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buckwright/generate/check"
)

// The kits that `buckwright new` offers say stop to nobody.
func TestStarterKitsAreClean(t *testing.T) {
	if testing.Short() {
		t.Skip("forms every starter")
	}
	for _, name := range []string{"tide-logger", "drift-buoy"} {
		res := previewed(t, "../templates/"+name+".yaml")
		for _, f := range res.Findings {
			if f.Severity == check.Stop {
				t.Errorf("%s: %s: %s: %s, %s", name, f.ID, f.Where, f.Value, f.LimitText)
			}
		}
	}
}

// Kits whose sheet is formed.
func TestFormedKits(t *testing.T) {
	if testing.Short() {
		t.Skip("forms every kit")
	}
	judged(t, "../testdata/check/formed", func(t *testing.T, file string, src []byte) *Result { return previewOf(t, file, src) })
}

// Kits whose lid and buck are made: their ceilings are measured on the meshes.
func TestMadeKits(t *testing.T) {
	if testing.Short() {
		t.Skip("makes parts of every kit")
	}
	judged(t, "../testdata/check/made", func(t *testing.T, file string, src []byte) *Result {
		in := jobOf(t, file, src)
		in.Parts = []string{"buck", "lid"}
		r, err := Run(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		return r
	})
}

// judged compares what is found in the kits of a folder with what each says
// must be found, `# want: warn web`, or which rule just does not speak,
// `# want no: web`.
func judged(t *testing.T, dir string, result func(t *testing.T, file string, src []byte) *Result) {
	files, err := filepath.Glob(dir + "/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no kits: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".yaml"), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			asWanted(t, src, result(t, file, src).Findings)
		})
	}
}

func asWanted(t *testing.T, src []byte, found []check.Finding) {
	got := map[string]bool{}
	for _, f := range found {
		got[string(f.Severity)+" "+f.ID] = true
		t.Logf("%s %s | %s: %s, %s", f.Severity, f.ID, f.Where, f.Value, f.LimitText)
	}
	for _, line := range strings.Split(string(src), "\n") {
		if is, ok := strings.CutPrefix(line, "# want: "); ok && !got[is] {
			t.Errorf("no %s", is)
		}
		if id, ok := strings.CutPrefix(line, "# want no: "); ok && (got[id] || got["stop "+id] || got["warn "+id] || got["note "+id]) {
			t.Errorf("%s, which the kit is to pass", id)
		}
	}
}
