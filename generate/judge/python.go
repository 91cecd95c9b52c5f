package judge

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// interpreter is the one that sees Debian's modules; the one on the path may not.
const interpreter = "/usr/bin/python3"

// Python runs a script with Debian's Python modules and reads the JSON that it
// prints. Where the interpreter or one of the modules is missing, the test is
// skipped, or fails when Folder is set.
func Python(t testing.TB, into any, modules []string, script string, args ...string) {
	t.Helper()
	if err := exec.Command(interpreter, "-c", "import "+strings.Join(modules, ", ")).Run(); err != nil {
		if os.Getenv(Folder) != "" {
			t.Fatalf("%s cannot import %s: %v", interpreter, strings.Join(modules, ", "), err)
		}
		t.Skipf("%s cannot import %s; .ci/run installs them", interpreter, strings.Join(modules, ", "))
	}
	c := exec.Command(interpreter, append([]string{script}, args...)...)
	var errs strings.Builder
	c.Stderr = &errs
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", script, err, errs.String())
	}
	if err := json.Unmarshal(out, into); err != nil {
		t.Fatalf("%s: %v in %q", script, err, out)
	}
}

// Picture renders an SVG with librsvg at a resolution in pixels a millimetre
// and gives the PNG file.
func Picture(t testing.TB, svg string, perMM float64) string {
	t.Helper()
	png := strings.TrimSuffix(svg, ".svg") + ".png"
	dpi := fmt.Sprintf("%g", 25.4*perMM)
	run(t, "rsvg-convert", "--unlimited", "-d", dpi, "-p", dpi, "-o", png, svg)
	return png
}
