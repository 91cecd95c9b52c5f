package judge

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// pythonWith finds an interpreter that can import the modules: Debian's own, which
// sees the system's modules, before the one on the path.
func pythonWith(t testing.TB, modules ...string) string {
	t.Helper()
	list := strings.Join(modules, ", ")
	for _, python := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(python, "-c", "import "+list).Run() == nil {
			return python
		}
	}
	absent(t, "python3 with "+list)
	return ""
}

// Python runs a script that needs these modules and reads the JSON that it prints.
func Python(t testing.TB, into any, modules []string, script string, args ...string) {
	t.Helper()
	runJSON(t, into, pythonWith(t, modules...), append([]string{script}, args...)...)
}

// Picture renders an SVG with librsvg, at a resolution in pixels a millimetre.
func Picture(t testing.TB, svg string, perMM float64) image.Image {
	t.Helper()
	out := filepath.Join(t.TempDir(), "picture.png")
	dots := fmt.Sprintf("%g", 25.4*perMM)
	run(t, "rsvg-convert", "-d", dots, "-p", dots, "-o", out, svg)
	return pixels(t, out)
}

// pixels reads a PNG.
func pixels(t testing.TB, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}
