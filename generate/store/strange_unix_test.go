//go:build unix

package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// soon fails the test if f waits for something that never comes.
func soon(t *testing.T, f func()) {
	t.Helper()
	done := make(chan bool)
	go func() { defer close(done); f() }()
	select {
	case <-done:
	case <-time.After(time.Minute):
		t.Fatal("it waits without end")
	}
}

// In the place of a file of ours stands a pipe, a link out or a file without end:
// each is refused, none is waited for or read.
func TestStrangeFilesAreNotRead(t *testing.T) {
	dir := t.TempDir()
	run(t, dir, "a", "b", "c", "d", "e")
	for _, n := range []string{"a", "b", "c", "d"} {
		if err := os.Remove(filepath.Join(dir, n)); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(syscall.Mkfifo(filepath.Join(dir, "a"), 0o644), os.Mkdir(filepath.Join(dir, "b"), 0o755),
		os.Symlink("/dev/zero", filepath.Join(dir, "c")), os.Truncate(filepath.Join(dir, "e"), 1<<40)); err != nil {
		t.Fatal(err)
	}
	d, err := Open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Abandon()
	for name, want := range map[string]string{"a": "is no file that buckwright wrote", "b": "is a folder", "c": "leads out of the folder", "e": "is no file that buckwright wrote"} {
		soon(t, func() {
			_, err = d.Read(name)
			mustBeUser(t, err, want)
		})
	}
	if _, err := d.Read("d"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file that is gone: %v", err)
	}
}

// A folder that is moved or deleted under a run, or robbed of a file that is not in
// its place yet, ends in an error that says so, and whatever stands there now is left alone.
func TestFolderMovedMeanwhile(t *testing.T) {
	for name, do := range map[string]func(dir string) error{
		"deleted": os.RemoveAll,
		"moved": func(dir string) error {
			return errors.Join(os.Rename(dir, dir+"2"), os.Mkdir(dir, 0o755), os.WriteFile(dir+"/thesis.txt", []byte("mine"), 0o644))
		},
		"robbed": func(dir string) error { return os.Remove(filepath.Join(dir, stageName, "b")) },
	} {
		for _, late := range []bool{false, true} {
			dir := filepath.Join(t.TempDir(), "out")
			d, err := Open(dir, false)
			if err != nil {
				t.Fatal(err)
			}
			err = errors.Join(d.Write("a/a", text("a")), d.Write("b", text("b")))
			if late {
				err = errors.Join(err, d.Write("c/c", text("c")))
			}
			if err = errors.Join(err, do(dir)); err != nil {
				t.Fatal(name, err)
			}
			if !late {
				err = d.Write("c/c", text("c"))
			}
			if err == nil {
				err = d.Commit()
			}
			d.Abandon()
			mustBeSystem(t, err, "it was moved or deleted meanwhile", "hint: start again")
			if name == "moved" {
				mustHold(t, dir, map[string]string{"thesis.txt": "mine"})
			}
		}
	}
}

// A marker that is a pipe is nobody's; one that is a link to a file of the user's is
// not written through.
func TestStrangeMarkers(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(dir, markerName), 0o644); err != nil {
		t.Fatal(err)
	}
	soon(t, func() {
		_, err := Open(dir, false)
		mustBeUser(t, err, markerName+": was not made by buckwright")
	})

	dir = t.TempDir()
	put(t, filepath.Join(dir, "thesis.txt"), "mine")
	if err := os.Symlink("thesis.txt", filepath.Join(dir, markerName+".part")); err != nil {
		t.Fatal(err)
	}
	d, err := Open(dir, true)
	if err != nil {
		t.Fatal(err)
	}
	d.Abandon()
	mustHold(t, dir, map[string]string{"thesis.txt": "mine"})
}
