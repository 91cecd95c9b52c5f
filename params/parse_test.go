package params

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Each testdata/kit/err/NAME.yaml must fail with exactly NAME.out; UPDATE=1
// rewrites those, to be read before they are kept.
func TestBadKits(t *testing.T) {
	for _, file := range kits(t, "err") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			_, err := Parse("kit.yaml", read(t, file))
			if err == nil {
				t.Fatal("accepted")
			}
			golden := strings.TrimSuffix(file, ".yaml") + ".out"
			if os.Getenv("UPDATE") != "" {
				if err := os.WriteFile(golden, []byte(err.Error()+"\n"), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if got, want := err.Error()+"\n", string(read(t, golden)); got != want {
				t.Errorf("got:\n%s\nwant:\n%s", got, want)
			}
		})
	}
}

// Each testdata/kit/ok/*.yaml must be silent.
func TestGoodKits(t *testing.T) {
	for _, file := range kits(t, "ok") {
		if _, err := Parse("kit.yaml", read(t, file)); err != nil {
			t.Errorf("%s:\n%v", file, err)
		}
	}
}

func kits(t *testing.T, kind string) []string {
	t.Helper()
	files, err := filepath.Glob("../testdata/kit/" + kind + "/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no kits in testdata/kit/%s (%v)", kind, err)
	}
	return files
}

func read(t *testing.T, file string) []byte {
	t.Helper()
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return src
}
