package proof

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// bench runs the real program, each job once.
var bench struct {
	sync.Mutex
	dir, program string
	done         map[string]*made
}

// TestMain gives the program and its folders a place that is removed again.
// BUCKWRIGHT_MADE lists folders, as PATH does, with bundled kits already made.
func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "proof")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	bench.dir, bench.done = dir, map[string]*made{}
	readSources()
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

// readSources opens the program's sources, so that "go test" does not take a
// result from its cache after one of them has changed: the program is built by
// the tests, not linked into them.
func readSources() {
	filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && (strings.HasSuffix(path, ".go") || strings.HasSuffix(path, ".yaml")) {
			os.ReadFile(path)
		}
		return nil
	})
}

// made is a folder and its parts in the kit's frame.
type made struct {
	*Folder
	mu     sync.Mutex
	bodies map[string]*Body
	prints map[string][]Tri
	zones  map[string]*Zone
}

const demoKit = "../../templates/tide-logger.yaml"

// demo is the bundled kit, made whole.
func demo(t *testing.T) *made { return run(t, demoKit) }

// run makes a kit. The program may find that the kit says stop: status 1.
func run(t *testing.T, kit string, args ...string) *made {
	t.Helper()
	if testing.Short() {
		t.Skip("makes a whole kit: left out with -short")
	}
	bench.Lock()
	defer bench.Unlock()
	key := fmt.Sprint(kit, args)
	if m := bench.done[key]; m != nil {
		return m
	}
	dir := ready(kit, args)
	if dir == "" {
		dir = filepath.Join(bench.dir, fmt.Sprint("kit", len(bench.done)))
		build(t)
		order(t, append([]string{"make", kit, "-o", dir}, args...)...)
	}
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	m := &made{Folder: f, bodies: map[string]*Body{}, prints: map[string][]Tri{}, zones: map[string]*Zone{}}
	bench.done[key] = m
	return m
}

// ready finds a folder in BUCKWRIGHT_MADE that holds the whole kit of this file.
func ready(kit string, args []string) string {
	name := strings.TrimSuffix(filepath.Base(kit), ".yaml")
	for _, dir := range filepath.SplitList(os.Getenv("BUCKWRIGHT_MADE")) {
		if f, err := Open(dir); err == nil && f.Kit == name && len(args) == 0 {
			return dir
		}
	}
	return ""
}

func build(t *testing.T) {
	t.Helper()
	if bench.program != "" {
		return
	}
	program := filepath.Join(bench.dir, "buckwright")
	if out, err := exec.Command("go", "build", "-o", program, "buckwright/cmd/buckwright").CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	bench.program = program
}

func order(t *testing.T, args ...string) {
	t.Helper()
	var stderr bytes.Buffer
	cmd := exec.Command(bench.program, args...)
	cmd.Stderr = &stderr
	err := cmd.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) && exit.ExitCode() == 1 {
		t.Logf("%v: a finding says stop", args)
		return
	}
	if err != nil {
		t.Fatalf("buckwright %v: %v\n%s", args, err, stderr.Bytes())
	}
}

// body is a part in the kit's frame.
func (m *made) body(t *testing.T, name string) *Body {
	t.Helper()
	m.mu.Lock()
	defer m.mu.Unlock()
	if b := m.bodies[name]; b != nil {
		return b
	}
	printed, kit, err := m.Load(name)
	if err != nil {
		t.Fatal(err)
	}
	m.prints[name] = printed
	m.bodies[name] = NewBody(kit)
	return m.bodies[name]
}

// zone is a part's surface along a pull.
func (m *made) zone(t *testing.T, name string, d Vec) *Zone {
	t.Helper()
	b := m.body(t, name)
	m.mu.Lock()
	defer m.mu.Unlock()
	key := fmt.Sprint(name, d)
	if m.zones[key] == nil {
		m.zones[key] = NewZone(b, d)
	}
	return m.zones[key]
}

// printed is a part as it lies on the bed.
func (m *made) printed(t *testing.T, name string) []Tri {
	t.Helper()
	m.body(t, name)
	return m.prints[name]
}

// fit is a size that kit.json tells.
func (m *made) fit(t *testing.T, id string) float64 {
	t.Helper()
	v, err := m.Fit(id)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// within fails where a spread leaves want +- by.
func within(t *testing.T, what string, s Spread, want, by float64) {
	t.Helper()
	if s.N == 0 {
		t.Errorf("%s: nothing was measured", what)
		return
	}
	if !(s.Least >= want-by) {
		t.Errorf("%s: got %.4f at %.2f, want %.4f +- %g", what, s.Least, s.LeastAt, want, by)
	}
	if !(s.Most <= want+by) {
		t.Errorf("%s: got %.4f at %.2f, want %.4f +- %g", what, s.Most, s.MostAt, want, by)
	}
	t.Logf("%s: want %.4f, got %v", what, want, s)
}

// atLeast fails where a spread falls below want.
func atLeast(t *testing.T, what string, s Spread, want float64) {
	t.Helper()
	if s.N == 0 {
		t.Errorf("%s: nothing was measured", what)
		return
	}
	if !(s.Least >= want) {
		t.Errorf("%s: got %.4f at %.2f, want %.4f or more", what, s.Least, s.LeastAt, want)
	}
	t.Logf("%s: want >= %.4f, got %v", what, want, s)
}

// blame prints the first few faults.
func blame(t *testing.T, what string, all []Fault) {
	t.Helper()
	for i, f := range all {
		if i == 5 {
			t.Errorf("%s: and %d more", what, len(all)-i)
			return
		}
		t.Errorf("%s: %s at %.2f: got %.4f, want %.4f", what, f.Why, f.At, f.Got, f.Want)
	}
}
