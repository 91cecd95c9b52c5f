package proof

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buckwright/generate/judge"
)

// TestPagesOfMadeKits: the job sheet as make writes it, with its pictures, is
// sound markup, accessible, silent and complete in itself.
func TestPagesOfMadeKits(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		path := filepath.Join(m.Dir, "job-sheet.html")
		raw, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		const most = 8 << 20 // what goes into a mail
		if n := strings.Count(string(raw), `src="data:image/png;base64,`); n < 8 || len(raw) > most {
			t.Errorf("%d pictures in %d bytes; want 8 or more in at most %d", n, len(raw), most)
		}
		for _, p := range m.Parts {
			if p.Printed && !strings.Contains(string(raw), `alt="Picture: `+strings.ReplaceAll(p.Name, "-", " ")) {
				t.Errorf("no picture of %s", p.Name)
			}
		}
		if got := judge.Markup(t, path); len(got) > 0 {
			t.Error(strings.Join(got, "\n"))
		}
		p := judge.Browser(t, path, t.TempDir())
		if fault := p.Problem(); fault != "" {
			t.Error(fault)
		}
		t.Logf("%d sheets of A4, %d of Letter, %d kB", p.Sheets["a4"], p.Sheets["letter"], len(raw)/1000)
	})
}
