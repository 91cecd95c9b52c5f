// Package judge asks independent programs what they think of a file. It serves
// tests only.
//
// A test that asks a program which is not there is skipped, with a message that
// says how to get it. When BUCKWRIGHT_JUDGES names the folder of the compiled
// programs, as .ci/run does, a missing program fails the test instead.
package judge

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Folder is the environment variable that names the folder of the compiled
// programs (from testdata/judge).
const Folder = "BUCKWRIGHT_JUDGES"

// find gives the path of a program, or skips or fails the test.
func find(t testing.TB, name string) string {
	t.Helper()
	dir := os.Getenv(Folder)
	if dir != "" {
		if p, err := exec.LookPath(filepath.Join(dir, name)); err == nil {
			return p
		}
	}
	p, err := exec.LookPath(name)
	switch {
	case err == nil:
		return p
	case dir != "":
		t.Fatalf("%s is neither in %s=%s nor on the path", name, Folder, dir)
	}
	t.Skipf("%s is not installed; .ci/run installs it and sets %s", name, Folder)
	return ""
}

// run gives what the program prints on its standard output.
func run(t testing.TB, name string, args ...string) string {
	t.Helper()
	c := exec.Command(find(t, name), args...)
	var errs strings.Builder
	c.Stderr = &errs
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s%s", name, strings.Join(args, " "), err, out, errs.String())
	}
	return string(out)
}

func runJSON(t testing.TB, into any, name string, args ...string) {
	t.Helper()
	out := run(t, name, args...)
	if err := json.Unmarshal([]byte(out), into); err != nil {
		t.Fatalf("%s %s: %v in %q", name, strings.Join(args, " "), err, out)
	}
}

// Surface is what CGAL says of an STL. Volume and Area are in mm³ and mm².
type Surface struct {
	Triangles, Vertices       int
	Manifold, Closed, Outward bool
	Crossings                 int // pairs of triangles that cross
	Degenerate                int // triangles without area
	Components, Euler         int
	Volume, Area              float64
}

// CGAL reads an STL with CGAL; vertices are joined only where they are equal.
func CGAL(t testing.TB, path string) Surface {
	t.Helper()
	var s Surface
	runJSON(t, &s, "surface", path)
	return s
}

// Problem says what is not sound, or nothing.
func (s Surface) Problem() string {
	switch {
	case !s.Manifold:
		return "no oriented manifold"
	case !s.Closed:
		return "open"
	case s.Crossings > 0:
		return fmt.Sprintf("%d pairs of triangles cross", s.Crossings)
	case s.Degenerate > 0:
		return fmt.Sprintf("%d triangles without area", s.Degenerate)
	case !s.Outward:
		return "does not face outwards"
	}
	return ""
}

// Repair is what admesh would have changed, and the volume in mm³ after that.
type Repair struct {
	Facets       int
	Parts        int
	Disconnected int
	Changes      []string // "Facets reversed: 3"
	Volume       float64
}

// Admesh runs every check and repair of admesh, without writing.
func Admesh(t testing.TB, path string) Repair {
	t.Helper()
	var r Repair
	for _, line := range strings.Split(run(t, "admesh", path), "\n") {
		label, rest, ok := strings.Cut(line, ":")
		if !ok {
			continue
		}
		label = strings.TrimSpace(label)
		f := strings.Fields(rest)
		if len(f) == 0 {
			continue
		}
		n, err := strconv.Atoi(f[0])
		if err != nil {
			continue
		}
		switch label {
		case "Number of facets":
			r.Facets = n
		case "Total disconnected facets":
			r.Disconnected = n
		case "Number of parts":
			r.Parts = n
			r.Volume = number(t, f[len(f)-1])
		case "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges", "Normals fixed":
			if n != 0 {
				r.Changes = append(r.Changes, fmt.Sprintf("%s: %d", label, n))
			}
		}
	}
	if r.Facets == 0 {
		t.Fatalf("admesh told nothing of %s", path)
	}
	return r
}

// Problem says what admesh would repair, or nothing.
func (r Repair) Problem() string {
	if r.Disconnected > 0 {
		return fmt.Sprintf("%d facets are disconnected", r.Disconnected)
	}
	return strings.Join(r.Changes, ", ")
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Package is what the reference reader says of a 3MF file.
type Package struct {
	Refused             string // why it could not be read at all
	Warnings            []string
	Objects             []string // names
	Sound               int      // objects that are manifold and oriented
	Items               int      // build items
	Vertices, Triangles int
	Millimetre          bool
	Metadata            []string // names
}

// Lib3MF reads a 3MF file with lib3mf in strict mode.
func Lib3MF(t testing.TB, path string) Package {
	t.Helper()
	var p Package
	runJSON(t, &p, "package", path)
	return p
}

// Problem says what is wrong with the file, or nothing.
func (p Package) Problem() string {
	switch {
	case p.Refused != "":
		return p.Refused
	case len(p.Warnings) > 0:
		return strings.Join(p.Warnings, "; ")
	case len(p.Objects) == 0:
		return "no object"
	case p.Sound != len(p.Objects):
		return fmt.Sprintf("%d of %d objects are sound", p.Sound, len(p.Objects))
	case p.Items != len(p.Objects):
		return fmt.Sprintf("%d objects, %d of them built", len(p.Objects), p.Items)
	case !p.Millimetre:
		return "the unit is not the millimetre"
	}
	return ""
}
