package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"buckwright/templates"
)

// tinyKit is quick to make.
const tinyKit = `kit: tiny
items: [{name: puck, shape: {cylinder: {diameter: 40, height: 18}}, depth: 10, mass: 40}]
liner: {wrap: pockets}
`

// folder reads an output folder: its files, and what kit.json says of the parts
// and what lies on the plates.
func folder(t *testing.T, dir string) (files map[string]string, parts, onPlates []string) {
	t.Helper()
	files = map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(d.Name(), ".") {
			return err
		}
		src, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		files[filepath.ToSlash(name)] = string(src)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	var sum struct {
		Parts []struct {
			Name, Quality string
			Files         []string
		}
		Plates []struct{ Parts []string }
	}
	if err := json.Unmarshal([]byte(files["kit.json"]), &sum); err != nil {
		t.Fatal(err)
	}
	for _, p := range sum.Parts {
		parts = append(parts, p.Name+" "+p.Quality)
		for _, f := range p.Files {
			if files[f] == "" {
				t.Errorf("kit.json names %s, which is not there", f)
			}
		}
	}
	for _, p := range sum.Plates {
		onPlates = append(onPlates, p.Parts...)
	}
	return files, parts, onPlates
}

// Parts made one after the other stay beside each other as long as they are of
// the same kit; after a change nothing is lost unasked.
func TestMakingSomePartsKeepsTheOthers(t *testing.T) {
	if testing.Short() {
		t.Skip("makes parts: left out with -short")
	}
	dir := t.TempDir()
	kit, out := filepath.Join(dir, "tiny.yaml"), filepath.Join(dir, "out")
	if err := os.WriteFile(kit, []byte(tinyKit), 0o644); err != nil {
		t.Fatal(err)
	}
	order := func(want int, args ...string) string {
		t.Helper()
		code, stdout, errs := call(t, append([]string{"make", kit, "-o", out}, args...)...)
		if code != want {
			t.Fatalf("make %v: exit %d, want %d: %s", args, code, want, errs)
		}
		return stdout + errs
	}
	order(exitOK, "--parts", "base,insert", "--quality", "draft")
	first, _, _ := folder(t, out)
	told := order(exitOK, "--parts", "lid", "--quality", "normal")
	files, parts, plates := folder(t, out)
	if want := []string{"base draft", "lid normal", "insert draft", "formed-insert draft"}; !slices.Equal(parts, want) {
		t.Errorf("kit.json lists %v, want %v", parts, want)
	}
	if !strings.Contains(told, "kept: base, insert") {
		t.Errorf("what was kept is not told: %s", told)
	}
	for _, name := range []string{"parts/base.stl", "parts/base.3mf", "reference/insert.stl"} {
		if files[name] == "" || strings.HasSuffix(name, ".stl") && files[name] != first[name] {
			t.Errorf("%s was not kept as it was", name)
		}
	}
	flats := 0
	for name := range first {
		if strings.HasPrefix(name, "flats/") {
			if flats++; files[name] == "" {
				t.Errorf("%s is gone", name)
			}
		}
	}
	if flats == 0 {
		t.Error("there are no flats")
	}
	slices.Sort(plates)
	if !slices.Equal(plates, []string{"base", "lid"}) {
		t.Errorf("on the plates: %v", plates)
	}

	for damage, want := range map[string]string{ // to a part that stays
		files["parts/lid.stl"]:         "would not fit the new ones (base): parts/base.stl is damaged: it is not the part that kit.json tells of",
		files["parts/base.stl"][:5000]: "would not fit the new ones (base): parts/base.stl is damaged: parts/base.stl: byte 5000: the file is cut short",
	} {
		if err := os.WriteFile(filepath.Join(out, "parts/base.stl"), []byte(damage), 0o644); err != nil {
			t.Fatal(err)
		}
		if told := order(exitUsage, "--parts", "lid", "--quality", "draft"); !strings.Contains(told, want) {
			t.Errorf("said %s\nwant %s", told, want)
		}
	}
	if err := os.WriteFile(filepath.Join(out, "parts/base.stl"), []byte(files["parts/base.stl"]), 0o644); err != nil {
		t.Fatal(err)
	}

	if err := os.WriteFile(kit, []byte(tinyKit+"shell: {wall: 3}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	told = order(exitUsage, "--parts", "lid", "--quality", "draft")
	if !strings.Contains(told, "holds parts that would not fit the new ones (base, insert): the kit or a file it names has changed") || !strings.Contains(told, "hint: make all parts") {
		t.Errorf("said: %s", told)
	}
	if after, _, _ := folder(t, out); len(after) != len(files) || after["parts/lid.stl"] != files["parts/lid.stl"] {
		t.Error("the folder changed, though the run was refused")
	}
	order(exitOK, "--parts", "lid", "--quality", "draft", "--force")
	if _, parts, _ := folder(t, out); !slices.Equal(parts, []string{"lid draft"}) {
		t.Errorf("forced: %v", parts)
	}
}

func TestPartsThatThereAreNot(t *testing.T) {
	kit := filepath.Join(t.TempDir(), "tiny.yaml")
	if err := os.WriteFile(kit, []byte(tinyKit), 0o644); err != nil {
		t.Fatal(err)
	}
	for parts, want := range map[string]string{
		"lids":       `no part is called "lids"` + "\n  hint: did you mean lid?",
		"press-nest": `this kit has no part "press-nest"`,
	} {
		out := filepath.Join(filepath.Dir(kit), "out")
		code, _, errs := call(t, "make", kit, "-o", out, "--parts", parts, "--quality", "draft")
		if code != exitUsage || !strings.Contains(errs, want) {
			t.Errorf("%s: exit %d, %s", parts, code, errs)
		}
		if _, err := os.Stat(out); err == nil {
			t.Errorf("%s: a folder was left", parts)
		}
	}
}

// Every starter kit is one to begin with: nothing in it says stop.
func TestStartersAreClean(t *testing.T) {
	if testing.Short() {
		t.Skip("forms every starter's sheet: left out with -short")
	}
	all, err := templates.Starters()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range all {
		kit := filepath.Join(t.TempDir(), s.Name+".yaml")
		if code, _, errs := call(t, "new", kit, "--template", s.Name); code != exitOK {
			t.Fatalf("new %s: exit %d, %s", s.Name, code, errs)
		}
		code, out, errs := call(t, "check", kit)
		if code != exitOK || strings.Contains(out, "\nstop: ") {
			t.Errorf("check %s: exit %d, %s", s.Name, code, errs)
		}
		for _, line := range strings.Split(out, "\n") {
			if strings.HasPrefix(line, "warn: ") {
				t.Logf("%s: %s", s.Name, line)
			}
		}
	}
}
