package judge

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// ScannedBody is a closed body of 3 674 triangles that was scanned and made clean:
// the Stanford bunny as the npm package bunny 1.0.1 has it, about 10 units long.
// It is fetched for tests only; where it is missing the test is skipped, or
// fails when BUCKWRIGHT_JUDGES is set.
func ScannedBody(t testing.TB) (corners [][3]float64, triangles [][3]int32) {
	t.Helper()
	const asked = "npm package bunny 1.0.1"
	dir := os.Getenv(Folder)
	if dir == "" {
		t.Skipf("%s is not there; .ci/run fetches it and sets %s", asked, Folder)
	}
	src, err := os.ReadFile(filepath.Join(dir, "node_modules", "bunny", "index.js"))
	if err != nil {
		t.Fatalf("%s: %v", asked, err)
	}
	read := func(name string, into any) {
		_, list, ok := bytes.Cut(src, []byte("exports."+name+"="))
		if !ok {
			t.Fatalf("%s has no %s", asked, name)
		}
		if err := json.NewDecoder(bytes.NewReader(list)).Decode(into); err != nil {
			t.Fatalf("%s: %s: %v", asked, name, err)
		}
	}
	read("positions", &corners)
	read("cells", &triangles)
	return corners, triangles
}
