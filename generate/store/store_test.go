package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

// tree is every file below dir with its content, folders with a slash, links
// with their aim; the store's own marker is left out.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	got := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
		if err != nil || p == dir {
			return err
		}
		rel, _ := filepath.Rel(dir, p)
		switch {
		case rel == markerName:
		case e.IsDir():
			got[rel+"/"] = ""
		case e.Type() == fs.ModeSymlink:
			to, err := os.Readlink(p)
			got[rel] = "-> " + to
			return err
		default:
			b, err := os.ReadFile(p)
			got[rel] = string(b)
			return err
		}
		return nil
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return got
}

func mustHold(t *testing.T, dir string, want map[string]string) {
	t.Helper()
	if got := tree(t, dir); !reflect.DeepEqual(got, want) {
		t.Errorf("%s holds %q, want %q", dir, got, want)
	}
}

// run is one whole run: open, write, commit.
func run(t *testing.T, dir string, files ...string) {
	t.Helper()
	d, err := Open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if err := d.Write(f, text("new "+f)); err != nil {
			t.Fatal(err)
		}
	}
	if err := d.Commit(); err != nil {
		t.Fatal(err)
	}
}

func put(t *testing.T, path, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

func mustBeUser(t *testing.T, err error, words ...string) {
	t.Helper()
	user := (*UserError)(nil)
	if !errors.As(err, &user) {
		t.Fatalf("%T %v, want a UserError", err, err)
	}
	for _, w := range append(words, "hint: ") {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%q does not say %q", err, w)
		}
	}
}

func mustBeSystem(t *testing.T, err error, words ...string) {
	t.Helper()
	system := (*SystemError)(nil)
	if !errors.As(err, &system) {
		t.Fatalf("%T %v, want a SystemError", err, err)
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%q does not say %q", err, w)
		}
	}
}

func TestSecondRunReplacesAndRemovesOnlyItsOwn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "out")
	run(t, dir, "kit.json", "parts/lid.stl", "flats/a/pad.dxf")
	put(t, filepath.Join(dir, "parts/notes.txt"), "mine")
	run(t, dir, "kit.json", "parts/base.stl")
	mustHold(t, dir, map[string]string{
		"kit.json": "new kit.json", "parts/": "", "parts/base.stl": "new parts/base.stl", "parts/notes.txt": "mine",
	})
}

func TestNothingIsThereBeforeCommitOrAfterAbandon(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	run(t, dir, "kit.json")
	d, err := Open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Write("kit.json", text("half")); err != nil {
		t.Fatal(err)
	}
	if err := d.Write("parts/lid.stl", text("half")); err != nil {
		t.Fatal(err)
	}
	if b, _ := os.ReadFile(filepath.Join(dir, "kit.json")); string(b) != "new kit.json" {
		t.Errorf("kit.json is %q before the commit", b)
	}
	d.Abandon()
	mustHold(t, dir, map[string]string{"kit.json": "new kit.json"})

	fresh := filepath.Join(t.TempDir(), "a", "b")
	d, err = Open(fresh, false)
	if err != nil {
		t.Fatal(err)
	}
	d.Abandon()
	if _, err := os.Lstat(filepath.Dir(fresh)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("folders of an abandoned run are left: %v", err)
	}
}

func TestOpenRefuses(t *testing.T) {
	tests := map[string]struct {
		lay   func(t *testing.T, dir string)
		words string
		force bool // whether --force helps
	}{
		"foreign folder": {func(t *testing.T, dir string) { put(t, dir+"/thesis.txt", "mine") }, "thesis.txt", true},
		"file":           {func(t *testing.T, dir string) { put(t, dir, "mine") }, "is a file", false},
		"below a file":   {func(t *testing.T, dir string) { put(t, filepath.Dir(dir), "mine") }, "runs through a file", false},
		"dangling link":  {func(t *testing.T, dir string) { link(t, "nowhere", dir) }, "leads nowhere", false},
		"below a dangling link": {func(t *testing.T, dir string) { link(t, "nowhere", filepath.Dir(dir)) },
			"leads nowhere", false},
		"circular link":  {func(t *testing.T, dir string) { link(t, filepath.Base(dir), dir) }, "leads to itself", false},
		"foreign marker": {func(t *testing.T, dir string) { put(t, dir+"/"+markerName, "mine") }, "not made by", false},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			top := t.TempDir()
			dir := filepath.Join(top, "a", "out")
			tt.lay(t, dir)
			before := tree(t, top)
			_, err := Open(dir, false)
			mustBeUser(t, err, tt.words)
			mustHold(t, top, before)
			d, err := Open(dir, true)
			if got := err == nil; got != tt.force {
				t.Errorf("with force: %v, want it to help: %v", err, tt.force)
			}
			if err == nil {
				d.Abandon()
				mustHold(t, top, before)
			}
		})
	}
}

func link(t *testing.T, to, at string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(to, at); err != nil {
		t.Skip("no symbolic links here: ", err)
	}
}

func TestALinkToAFolderIsAFolder(t *testing.T) {
	top := t.TempDir()
	os.Mkdir(top+"/real", 0o755)
	link(t, "real", top+"/out")
	run(t, top+"/out", "kit.json")
	mustHold(t, top+"/real", map[string]string{"kit.json": "new kit.json"})
}

func TestNamesStayInside(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "out")
	put(t, top+"/secret", "mine")
	os.Mkdir(top+"/elsewhere", 0o755)
	run(t, dir, "kit.json")
	link(t, "../elsewhere", dir+"/parts")
	link(t, "../secret", dir+"/lid.stl")
	d, err := Open(dir, true)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"", ".", "..", "../x", "a/../../x", "/etc/x", "a//b", "a\nb", `a\b`, markerName, lockName, stageName + "/x"} {
		mustBeUser(t, d.Write(name, text("x")), "no name")
	}
	mustBeUser(t, d.Write("parts/base.stl", text("x")), "leads out of the folder")
	if err := d.Write("lid.stl", text("x")); err != nil { // a link in the way is replaced, not followed
		t.Fatal(err)
	}
	if err := d.Commit(); err != nil {
		t.Fatal(err)
	}
	mustHold(t, top+"/elsewhere", map[string]string{})
	if b, _ := os.ReadFile(top + "/secret"); string(b) != "mine" {
		t.Errorf("the file behind the link is %q", b)
	}
}

func TestFilesInTheWay(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	run(t, dir, "kit.json")
	put(t, dir+"/lid.stl", "mine")
	os.Mkdir(dir+"/base.stl", 0o755)
	put(t, dir+"/parts", "mine")
	for _, force := range []bool{false, true} {
		d, err := Open(dir, force)
		if err != nil {
			t.Fatal(err)
		}
		mustBeUser(t, d.Write("base.stl", text("x")), "is a folder")
		mustBeUser(t, d.Write("parts/a.stl", text("x")), "runs through a file")
		err = d.Write("lid.stl", text("x"))
		if force && err != nil {
			t.Error(err)
		} else if !force {
			mustBeUser(t, err, "was not made by buckwright")
		}
		d.Abandon()
	}
	mustHold(t, dir, map[string]string{"kit.json": "new kit.json", "lid.stl": "mine", "base.stl/": "", "parts": "mine"})
}

// A file that appears between Write and Commit stops the commit before any
// file has moved.
func TestCommitLooksBeforeItMoves(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	run(t, dir, "a", "z")
	d, err := Open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []string{"a", "m", "z"} {
		if err := d.Write(n, text("second")); err != nil {
			t.Fatal(err)
		}
	}
	put(t, dir+"/m", "mine")
	mustBeUser(t, d.Commit(), "was not made by buckwright")
	mustHold(t, dir, map[string]string{"a": "new a", "m": "mine", "z": "new z"})
	run(t, dir, "a") // the folder is free again
}

func TestAWritersOwnErrorComesBack(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	d, err := Open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	open := errors.New("triangle 3 is open")
	err = d.Write("lid.stl", func(w io.Writer) error { io.WriteString(w, "x"); return fmt.Errorf("lid: %w", open) })
	if system := (*SystemError)(nil); !errors.Is(err, open) || errors.As(err, &system) {
		t.Errorf("%T %v", err, err)
	}
	if err := d.Write("kit.json", text("whole")); err != nil {
		t.Fatal(err)
	}
	if err := d.Commit(); err != nil {
		t.Fatal(err)
	}
	mustHold(t, dir, map[string]string{"kit.json": "whole"})
}

// A run that was killed in the middle of Commit is finished by the next one, also
// by one that then writes nothing.
func TestCommitIsFinishedAfterACrash(t *testing.T) {
	want := map[string]string{"a": "second a", "parts/": "", "parts/m": "second parts/m"}
	for moved := range 4 {
		dir := filepath.Join(t.TempDir(), "out")
		run(t, dir, "a", "gone/z")
		d, err := Open(dir, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range []string{"a", "parts/m"} {
			if err := d.Write(n, text("second "+n)); err != nil {
				t.Fatal(err)
			}
		}
		if err := d.decide(); err != nil {
			t.Fatal(err)
		}
		for _, n := range []string{"a", "parts/m", markerName}[:moved] {
			if n == markerName {
				d.remove("gone/z")
			}
			if err := d.root.Rename(moveName+"/"+n, n); err != nil {
				t.Fatal(err)
			}
		}
		release(d.root, d.lock) // as the system does for a process that dies
		d.root.Close()
		next, err := Open(dir, false)
		if err != nil {
			t.Fatal(err)
		}
		if src, err := next.Read("parts/m"); err != nil || string(src) != "second parts/m" {
			t.Errorf("%d moved: parts/m is %q, %v", moved, src, err)
		}
		next.Abandon()
		mustHold(t, dir, want)
		run(t, dir, "b")
		mustHold(t, dir, map[string]string{"b": "new b"})
	}
}

// A run that was killed in its very beginning leaves names of the store alone; the
// folder is still as good as empty.
func TestBeginningOfAKilledRun(t *testing.T) {
	for _, left := range []string{markerName + ".part", lockName} {
		dir := filepath.Join(t.TempDir(), "out")
		put(t, filepath.Join(dir, left), "half")
		run(t, dir, "kit.json")
		mustHold(t, dir, map[string]string{"kit.json": "new kit.json"})
	}
}

// A marker can be edited; what it lists must still not lead outside.
func TestAnEditedMarkerRemovesNothingOutside(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "out")
	run(t, dir, "kit.json")
	put(t, top+"/secret", "mine")
	os.Mkdir(dir+"/folder", 0o755)
	put(t, filepath.Join(dir, markerName), strings.Join([]string{markerHead, "../secret", top + "/secret", "folder", "gone", ""}, "\n"))
	run(t, dir, "new")
	if b, _ := os.ReadFile(top + "/secret"); string(b) != "mine" {
		t.Error("a file outside is gone")
	}
	if got := tree(t, dir); !slices.Contains(keys(got), "folder/") || got["kit.json"] != "new kit.json" {
		t.Errorf("holds %q", got)
	}
}

// What a run was made from is never replaced, not even under another name, and
// never removed, though an earlier run wrote it.
func TestProtected(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	run(t, dir, "kit.json", "old.stl")
	put(t, dir+"/mine.json", "mine")
	if err := os.Link(dir+"/mine.json", dir+"/base.stl"); err != nil {
		t.Skip("no hard links here: ", err)
	}
	d, err := Open(dir, true)
	if err != nil {
		t.Fatal(err)
	}
	d.Protect(dir+"/none", dir+"/mine.json", filepath.Join(dir, "..", "out", "old.stl"))
	for _, name := range []string{"mine.json", "base.stl", "old.stl"} {
		mustBeUser(t, d.Write(name, text("x")), "is what this kit is made from", name)
	}
	if err := d.Write("kit.json", text("second")); err != nil {
		t.Fatal(err)
	}
	if err := d.Commit(); err != nil {
		t.Fatal(err)
	}
	mustHold(t, dir, map[string]string{"kit.json": "second", "old.stl": "new old.stl", "mine.json": "mine", "base.stl": "mine"})
}

func keys(m map[string]string) (k []string) {
	for n := range m {
		k = append(k, n)
	}
	return k
}

// One kit's folder is not given away to another by a slip of the hand; forced, it is.
func TestAnotherKitsFolderIsLeftAlone(t *testing.T) {
	dir := t.TempDir()
	make := func(what string, force bool) error {
		d, err := Open(dir, force)
		if err != nil {
			return err
		}
		defer d.Abandon()
		if err := d.Claim(what); err != nil {
			return err
		}
		if err := d.Write(strings.ReplaceAll(what, " ", "-"), text(what)); err != nil {
			return err
		}
		return d.Commit()
	}
	for _, tt := range []struct {
		what  string
		force bool
		want  string // of the error
		holds string // afterwards
	}{
		{"the kit a", false, "", "the kit a"},
		{"the kit a", false, "", "the kit a"},
		{"a fit coupon", false, "holds the kit a\n  hint: name another folder with -o, or give --force to have it replaced by a fit coupon", "the kit a"},
		{"a fit coupon", true, "", "a fit coupon"},
		{"the kit a", false, "holds a fit coupon", "a fit coupon"},
	} {
		err := make(tt.what, tt.force)
		if user := (*UserError)(nil); tt.want == "" && err != nil || tt.want != "" && (!errors.As(err, &user) || !strings.Contains(err.Error(), tt.want)) {
			t.Errorf("%s, force %v: %v, want %q", tt.what, tt.force, err, tt.want)
		}
		mustHold(t, dir, map[string]string{strings.ReplaceAll(tt.holds, " ", "-"): tt.holds})
	}
	run(t, dir, "old") // a run that says nothing, as those of before did, is not held up, nor does it hold up
	if err := make("the kit b", false); err != nil {
		t.Errorf("after a run that did not say what it made: %v", err)
	}
}

// broken is a disk that takes nothing.
type broken struct{}

var errBroken = errors.New("broken")

func (broken) Write([]byte) (int, error) { return 0, errBroken }

// A file so small that it is written in one go at the end fails like a large one.
func TestLastWriteIsWatched(t *testing.T) {
	for _, size := range []int{1, 1 << 20} {
		out, err := os.Create(filepath.Join(t.TempDir(), "a"))
		if err != nil {
			t.Fatal(err)
		}
		w := &watched{w: broken{}}
		if err := fill(w, out, text(strings.Repeat("a", size))); err != errBroken || w.err != errBroken {
			t.Errorf("%d bytes: %v, kept %v", size, err, w.err)
		}
	}
}
