package main

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"buckwright/generate/judge"
)

// smallDisk mounts an empty disk of a few KiB on a new folder. It takes the right
// to mount, which .ci/run has.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "disk")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		if os.Getenv(judge.Folder) != "" {
			t.Fatal("cannot mount a small disk: ", err)
		}
		t.Skip("needs the right to mount a small disk: ", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

func TestFullDiskLeavesNothing(t *testing.T) {
	disk := smallDisk(t, "96k")
	const full, hint = "no space left on device", "hint: the disk is full: free some space, or write to another disk"
	if !testing.Short() {
		kit := tinyIn(t, t.TempDir())
		mustBeRefused(t, start(t, disk, nil, "make", kit, "-o", "out", "--quality", "draft", "--parts", "base"), exitFailed, "cannot write out/", full, hint)
	}
	mustBeRefused(t, start(t, disk, nil, "new", "buoy.yaml", "--template", "drift-buoy"), exitFailed, "cannot write drift-buoy.stl", full, hint)
	mustBeRefused(t, start(t, disk, nil, "coupon", "bed-256", "-o", "c"), exitFailed, "cannot write c/", full, hint)
	if left := all(t, disk); len(left) > 0 {
		t.Errorf("left on the full disk: %v", differ(left, nil))
	}
	if err := os.WriteFile(filepath.Join(disk, "rest"), make([]byte, 92<<10), 0o644); err != nil {
		t.Fatal(err)
	}
	mustBeRefused(t, start(t, disk, nil, "calibrate", "bed-256", "--tight", "0.1", "--smooth", "0.2", "--hole", "0.15", "--length", "149.4", "-o", "a.yaml"), exitOK)
	mustBeRefused(t, start(t, disk, nil, "new", "logger.yaml", "--template", "tide-logger"), exitFailed, "cannot write logger.yaml", full, hint)
	if left := all(t, disk); len(left) != 2 {
		t.Errorf("on the full disk: %v", differ(left, nil))
	}
}

// A folder in which root itself may not write, and one in which nobody may.
func TestReadOnlyPlaces(t *testing.T) {
	disk := smallDisk(t, "1m")
	kit := tinyIn(t, disk)
	if err := syscall.Mount("", disk, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Fatal(err)
	}
	before := all(t, disk)
	mustBeRefused(t, start(t, disk, nil, "make", kit), exitFailed, "cannot create out: read-only file system", "hint: the disk is read-only: write to another one")
	mustBeRefused(t, start(t, disk, nil, "new", "a.yaml", "--template", "tide-logger"), exitFailed, "read-only file system", "hint: the disk is read-only: write to another one")
	mustBeRefused(t, start(t, disk, nil, "calibrate", "bed-256", "--tight", "0.1", "--smooth", "0.2", "--hole", "0.15", "--length", "149.4", "-o", "a.yaml"), exitFailed, "read-only file system", "hint: the disk is read-only: write to another one")
	if d := differ(before, all(t, disk)); len(d) > 0 {
		t.Errorf("changed: %v", d)
	}
}

// The kit lies in the output folder, the folder is a file, a link, or another's.
func TestFoldersThatAreTaken(t *testing.T) {
	top := t.TempDir()
	kit := tinyIn(t, top)
	put := func(name, text string) {
		t.Helper()
		os.MkdirAll(filepath.Join(top, filepath.Dir(name)), 0o755)
		if err := os.WriteFile(filepath.Join(top, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("taken", "mine")
	put("other/thesis.txt", "mine")
	put("here/kit.json", tinyKit)
	os.Symlink("taken", filepath.Join(top, "to-file"))
	os.Symlink("nowhere", filepath.Join(top, "to-nothing"))
	os.Symlink("other", filepath.Join(top, "to-other"))
	os.Symlink("loop", filepath.Join(top, "loop"))
	before := all(t, top)
	for dir, want := range map[string]string{
		"taken":       "is a file, not a folder",
		"taken/below": "runs through a file",
		"to-file":     "is a file, not a folder",
		"to-nothing":  "is a symbolic link that leads nowhere",
		"loop":        "is a symbolic link that leads to itself",
		"other":       "holds files that buckwright did not make (thesis.txt)",
		"to-other":    "holds files that buckwright did not make (thesis.txt)",
		".":           "holds files that buckwright did not make (here)",
	} {
		mustBeRefused(t, start(t, top, nil, "make", kit, "-o", dir, "--quality", "draft"), exitUsage, "buckwright: "+dir+": "+want, "hint: ")
	}
	mustBeRefused(t, start(t, filepath.Join(top, "here"), nil, "make", "kit.json", "-o", "."), exitUsage, "(kit.json)", "hint: name an empty folder with -o, or give --force")
	if !testing.Short() {
		mustBeRefused(t, start(t, filepath.Join(top, "here"), nil, "make", "kit.json", "-o", ".", "--force", "--parts", "base", "--quality", "draft"), exitUsage,
			"kit.json: is what this kit is made from", "hint: name another folder with -o")
	}
	if d := differ(before, all(t, top)); len(d) > 0 {
		t.Errorf("changed: %v", d)
	}
}

// An interrupt ends a wait for a kit that never comes.
func TestInterruptWhileReading(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "kit.yaml")
	if err := syscall.Mkfifo(pipe, 0o644); err != nil {
		t.Fatal(err)
	}
	p := start(t, dir, nil, "check", "kit.yaml")
	w, err := os.OpenFile(pipe, os.O_WRONLY, 0) // waits for the program to open the other end
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	fmt.Fprintln(w, "kit: half")
	time.Sleep(20 * time.Millisecond)
	p.Process.Signal(os.Interrupt)
	mustBeRefused(t, p, exitFailed, "interrupted; no file was written")
}
