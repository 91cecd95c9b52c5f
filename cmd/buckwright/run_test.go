package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buckwright/params"
)

// call runs the program as a shell would.
func call(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errw bytes.Buffer
	code = run(args, strings.NewReader(""), &out, &errw)
	return code, out.String(), errw.String()
}

func TestCommandLine(t *testing.T) {
	for _, tt := range []struct {
		args string
		code int
		out  string // must appear on stdout
		err  string // must appear on stderr; "": stderr is empty
	}{
		{"--help", exitOK, "Exit status:", ""},
		{"", exitOK, "buckwright new logger.yaml --template tide-logger", ""},
		{"--version", exitOK, version, ""},
		{"new", exitOK, "drift-buoy", ""},
		{"new --help", exitOK, "--template", ""},
		{"materials", exitOK, "wool-felt-f10", ""},
		{"materials sheet", exitOK, "from memory, confirm", ""},
		{"schema", exitOK, "json-schema.org/draft/2020-12", ""},
		{"check", exitUsage, "", "no kit file is named\n  hint: buckwright check my-kit.yaml"},
		{"make", exitUsage, "", "no kit file is named\n  hint: buckwright make my-kit.yaml"},
		{"make my kit.yaml", exitUsage, "", "2 files are named: my, kit.yaml"},
		{"make ../../templates/tide-logger", exitUsage, "", "hint: did you mean ../../templates/tide-logger.yaml?"},
		{"new none.yaml", exitUsage, "tide-logger", "nothing was written: choose one of those listed\n  hint: buckwright new none.yaml --template tide-logger"},
		{"check --list", exitOK, "source:", ""},
		{"check --list x", exitUsage, "", "unknown command"},
		{"check none.yaml", exitUsage, "", "no such file"},
		{"make none.yaml", exitUsage, "", "no such file"},
		{"make none.yaml --quality best", exitUsage, "", "one of: draft, normal, fine"},
		{"chek", exitUsage, "", "Did you mean this?"},
		{"--nope", exitUsage, "", "unknown flag: --nope"},
		{"materials sheets", exitUsage, "", "did you mean sheet?"},
		{"materials sheet liner", exitUsage, "", "accepts at most 1 arg"},
		{"schema x", exitUsage, "", "unknown command"},
		{"new --template", exitUsage, "", "flag needs an argument"},
		{"new --template tide-logger", exitUsage, "", "no file is named"},
		{"new x.yaml --template tide-loger", exitUsage, "", "did you mean tide-logger?"},
	} {
		code, out, errs := call(t, strings.Fields(tt.args)...)
		if code != tt.code || !strings.Contains(out, tt.out) || !strings.Contains(errs, tt.err) || tt.err == "" && errs != "" {
			t.Errorf("%s: exit %d, want %d\nstdout: %s\nstderr: %s", tt.args, code, tt.code, out, errs)
		}
	}
}

func TestNewWritesAKitThatParses(t *testing.T) {
	for _, name := range []string{"tide-logger", "drift-buoy", "depth-probe", "spares"} {
		dir := t.TempDir()
		file := filepath.Join(dir, "my.yaml")
		code, out, errs := call(t, "new", file, "--template", name)
		if code != exitOK || errs != "" || !strings.Contains(out, file) {
			t.Fatalf("%s: exit %d, stdout %q, stderr %q", name, code, out, errs)
		}
		job, err := loadKit(t.Context(), file, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, it := range job.Kit.Items {
			if m := it.Shape.Mesh; m != nil {
				if _, err := os.Stat(filepath.Join(dir, m.File)); err != nil {
					t.Errorf("%s: the mesh it names is not beside it: %v", name, err)
				}
			}
		}
		for _, f := range strings.Fields(out) {
			if _, err := os.Stat(f); err != nil {
				t.Error(err)
			}
		}
		if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
			t.Errorf("left behind: %v", left)
		}
	}
}

func TestNewReplacesNothingUnasked(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "my.yaml")
	mesh := filepath.Join(dir, "drift-buoy.stl")
	for _, taken := range []string{file, mesh} {
		if err := os.WriteFile(taken, []byte("mine"), 0o644); err != nil {
			t.Fatal(err)
		}
		code, _, errs := call(t, "new", file, "--template", "drift-buoy")
		if code != exitUsage || !strings.Contains(errs, taken+" is there already") {
			t.Errorf("exit %d, stderr %q", code, errs)
		}
		if got, _ := os.ReadFile(taken); string(got) != "mine" {
			t.Errorf("%s was replaced", taken)
		}
		if all, _ := os.ReadDir(dir); len(all) != 1 {
			t.Errorf("files were made: %v", all)
		}
		os.Remove(taken)
	}
	os.WriteFile(file, []byte("mine"), 0o644)
	if code, _, errs := call(t, "new", file, "--template", "drift-buoy", "--force"); code != exitOK {
		t.Errorf("with --force: exit %d, %s", code, errs)
	}
	if code, _, errs := call(t, "new", dir, "--template", "drift-buoy", "--force"); code != exitUsage || !strings.Contains(errs, "is a folder") {
		t.Errorf("onto a folder: exit %d, %s", code, errs)
	}
	if code, _, _ := call(t, "new", filepath.Join(dir, "no", "my.yaml"), "--template", "drift-buoy"); code != exitUsage {
		t.Errorf("into a folder that is not there: exit %d, want %d", code, exitUsage)
	}
}

func TestMaterialsJSONHasEveryRowAndSource(t *testing.T) {
	code, out, _ := call(t, "materials", "--json")
	var tables map[string][]map[string]any
	if err := json.Unmarshal([]byte(out), &tables); err != nil || code != exitOK {
		t.Fatal(code, err)
	}
	for _, kind := range params.Kinds() {
		if len(tables[kind]) == 0 {
			t.Errorf("%s: no rows", kind)
		}
		for _, row := range tables[kind] {
			if s, _ := row["source"].(string); s == "" {
				t.Errorf("%s %v has no source", kind, row["name"])
			}
		}
	}
}

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

func TestFullDiskIsNotSuccess(t *testing.T) {
	for _, args := range [][]string{{"materials"}, {"schema"}, {"new"}, {"--help"}} {
		var errw bytes.Buffer
		if code := run(args, nil, full{}, &errw); code != exitFailed || !strings.Contains(errw.String(), "no space left") {
			t.Errorf("%v: exit %d, want %d; %s", args, code, exitFailed, &errw)
		}
	}
}

func TestLoadKitTellsPathsFromSystem(t *testing.T) {
	dir := t.TempDir()
	for _, file := range []string{filepath.Join(dir, "none.yaml"), dir, filepath.Join(dir, strings.Repeat("x", 300))} {
		_, err := loadKit(t.Context(), file, nil)
		if err == nil || status(err, true) != exitUsage {
			t.Errorf("%s: status %d, want %d: %v", file, status(err, true), exitUsage, err)
		}
	}
	_, err := loadKit(t.Context(), "-", strings.NewReader("kit: a"))
	if err == nil || status(err, true) != exitUsage || !strings.Contains(err.Error(), "items: missing") {
		t.Errorf("standard input: %v", err)
	}
}

func TestProgress(t *testing.T) {
	var plain bytes.Buffer
	p := newProgress(&plain)
	p.report("buck", 0.2)
	p.report("buck", 0.4)
	p.report("lid", 0.3) // what is done does not shrink
	p.finish()
	if got, want := plain.String(), " 20 %  buck\n 40 %  lid\n"; got != want {
		t.Errorf("plain: %q, want %q", got, want)
	}
	var screen bytes.Buffer
	live := &progress{w: &screen, live: true, wide: 30}
	live.report("a very long name of a stage", 0.5)
	live.finish()
	if got := screen.String(); !strings.HasPrefix(got, "\r\x1b[K[############....") || !strings.HasSuffix(got, "\r\x1b[K") || strings.Contains(got, "\n") {
		t.Errorf("live: %q", got)
	}
	for _, line := range strings.Split(screen.String(), "\r\x1b[K") {
		if len(line) >= 30 {
			t.Errorf("live line of %d columns on a screen of 30: %q", len(line), line)
		}
	}
}
