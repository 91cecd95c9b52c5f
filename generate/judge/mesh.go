package judge

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Mesh is the path of a mesh that is not ours, as Debian installs it below
// /usr/share: .ci/run unpacks the packages into the folder of the judges. A path
// that begins with .. is one of our own.
func Mesh(t testing.TB, name string) string {
	t.Helper()
	if strings.HasPrefix(name, "..") {
		return name
	}
	dir := os.Getenv(Folder)
	if dir == "" {
		t.Skipf("%s is not there; .ci/run fetches it and sets %s", name, Folder)
	}
	path := filepath.Join(dir, "meshes", "usr", "share", name)
	if _, err := os.Stat(path); err != nil {
		t.Fatal(err)
	}
	return path
}
