package store

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"
)

// halfWayIn, when set, makes the test binary a run that stops half-way in the folder.
const halfWayIn = "STORE_TEST_HALF_WAY_IN"

func TestMain(m *testing.M) {
	if dir := os.Getenv(halfWayIn); dir != "" {
		halfWay(dir)
	}
	os.Exit(m.Run())
}

func halfWay(dir string) {
	d, err := Open(dir, false)
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	d.Write("kit.json", text("half"))
	d.Write("parts/lid.stl", func(w io.Writer) error {
		io.WriteString(w, strings.Repeat("half", 1<<16))
		fmt.Println("half-way")
		for { // until killed: were it to wait for nothing, the runtime would end it as deadlocked
			time.Sleep(time.Hour)
		}
	})
}

// start runs another process up to the middle of its second file.
func start(t *testing.T, dir string) *exec.Cmd {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), halfWayIn+"="+dir)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Process.Kill(); c.Wait() })
	if line, _ := bufio.NewReader(out).ReadString('\n'); line != "half-way\n" {
		t.Fatalf("the other process says %q", line)
	}
	return c
}

func TestTwoRunsAndAKilledOne(t *testing.T) {
	for _, earlier := range []bool{false, true} {
		dir := filepath.Join(t.TempDir(), "out")
		if earlier {
			run(t, dir, "kit.json")
		}
		other := start(t, dir)
		_, err := Open(dir, true)
		mustBeUser(t, err, fmt.Sprintf("another run (process %d)", other.Process.Pid))
		if b, err := os.ReadFile(dir + "/kit.json"); earlier && string(b) != "new kit.json" || !earlier && err == nil {
			t.Errorf("kit.json is %q while the other run works", b)
		}
		other.Process.Kill()
		other.Wait()
		run(t, dir, "base.stl")
		mustHold(t, dir, map[string]string{"base.stl": "new base.stl"})
	}
}

func TestTwoOpensInOneProcess(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	d, err := Open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	_, err = Open(dir, false)
	mustBeUser(t, err, "is in use by another run")
	d.Abandon()
	run(t, dir, "kit.json")
}

// asNobody runs f without the powers of root: the file-system user of one
// thread is changed, and the thread is thrown away after.
func asNobody(t *testing.T, f func()) {
	t.Helper()
	if os.Getuid() != 0 {
		f()
		return
	}
	done := make(chan bool)
	go func() {
		defer close(done)
		runtime.LockOSThread() // never unlocked: the thread ends with the goroutine
		syscall.Setfsuid(65534)
		f()
	}()
	<-done
}

func TestReadOnlyFolder(t *testing.T) {
	dir := t.TempDir()
	os.Chmod(filepath.Dir(dir), 0o755) // let others in, though not write
	os.Chmod(dir, 0o555)
	var missing, there error
	asNobody(t, func() {
		_, there = Open(dir, false)
		_, missing = Open(filepath.Join(dir, "out"), false)
	})
	mustBeSystem(t, there, "permission denied", "hint: you may not write there")
	mustBeSystem(t, missing, "permission denied", "hint: you may not write there")
	mustHold(t, dir, map[string]string{})
}

// mustMount skips a test that cannot mount a disk, save where the outside judges
// stand ready: there everything must run.
func mustMount(t *testing.T, err error) {
	t.Helper()
	if os.Getenv("BUCKWRIGHT_JUDGES") != "" {
		t.Fatal("cannot mount a small disk: ", err)
	}
	t.Skip("needs the right to mount a small disk: ", err)
}

func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=128k"); err != nil {
		mustMount(t, err)
	}
	defer syscall.Unmount(dir, 0)
	out := dir + "/out"
	run(t, out, "kit.json", "old.stl")
	d, err := Open(out, false)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Write("kit.json", text("second")); err != nil {
		t.Fatal(err)
	}
	big := func(w io.Writer) error {
		for range 1000 {
			if _, err := io.WriteString(w, strings.Repeat("x", 1024)); err != nil {
				return fmt.Errorf("lid: %w", err)
			}
		}
		return nil
	}
	mustBeSystem(t, d.Write("parts/lid.stl", big), "no space left", "hint: the disk is full", "parts/lid.stl")
	d.Abandon()
	mustHold(t, out, map[string]string{"kit.json": "new kit.json", "old.stl": "new old.stl"})
	run(t, out, "kit.json")
}

func TestReadOnlyDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_RDONLY, ""); err != nil {
		mustMount(t, err)
	}
	defer syscall.Unmount(dir, 0)
	_, err := Open(dir+"/out", false)
	mustBeSystem(t, err, "read-only", "hint: the disk is read-only")
}
