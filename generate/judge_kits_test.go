package generate

import (
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

// Kits whose sheet is formed: each says what must be found, `# want: warn web`,
// or which rule just does not speak, `# want no: web`.
func TestFormedKits(t *testing.T) {
	if testing.Short() {
		t.Skip("forms every kit")
	}
	files, err := filepath.Glob("../testdata/check/formed/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no kits: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".yaml"), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			res := previewOf(t, file, src)
			got := map[string]bool{}
			for _, f := range res.Findings {
				got[string(f.Severity)+" "+f.ID] = true
				t.Logf("%s %s | %s: %s, %s", f.Severity, f.ID, f.Where, f.Value, f.LimitText)
			}
			for _, line := range strings.Split(string(src), "\n") {
				if is, ok := strings.CutPrefix(line, "# want: "); ok && !got[is] {
					t.Errorf("no %s", is)
				}
				if id, ok := strings.CutPrefix(line, "# want no: "); ok && (got["stop "+id] || got["warn "+id] || got["note "+id]) {
					t.Errorf("%s, which the kit is to pass", id)
				}
			}
		})
	}
}
