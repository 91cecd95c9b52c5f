//go:build unix

package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// asProgram, when set, makes the test binary the program itself.
const asProgram = "BUCKWRIGHT_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// process is the program as another process.
type process struct {
	*exec.Cmd
	told bytes.Buffer // both streams
	done chan error
}

// start runs the program in a folder, with variables added to the environment.
func start(t *testing.T, dir string, env []string, args ...string) *process {
	t.Helper()
	p := &process{Cmd: exec.Command(os.Args[0], args...), done: make(chan error, 1)}
	p.Dir = dir
	p.Env = append(append(os.Environ(), asProgram+"=1"), env...)
	p.Stdout, p.Stderr = &p.told, &p.told
	if err := p.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.Process.Kill() })
	go func() { p.done <- p.Wait() }()
	return p
}

// end waits for the process and gives its exit status, -1 if a signal ended it.
func (p *process) end(t *testing.T) int {
	t.Helper()
	select {
	case <-p.done:
	case <-time.After(5 * time.Minute):
		p.Process.Kill()
		<-p.done
		t.Fatalf("%v does not end: %s", p.Args[1:], p.told.String())
	}
	return p.ProcessState.ExitCode()
}

// when waits until a file is there, and says if the process ended before.
func (p *process) when(t *testing.T, file string) {
	t.Helper()
	for {
		if _, err := os.Stat(file); err == nil {
			return
		}
		select {
		case err := <-p.done:
			t.Fatalf("ended before %s was there: %v\n%s", file, err, p.told.String())
		case <-time.After(2 * time.Millisecond):
		}
	}
}

// mustBeRefused waits for the end of a process and wants a status and words.
func mustBeRefused(t *testing.T, p *process, want int, words ...string) {
	t.Helper()
	code := p.end(t)
	for _, w := range words {
		if code != want || !strings.Contains(p.told.String(), w) {
			t.Errorf("%v: exit %d, want %d and %q: %s", p.Args[1:], code, want, w, p.told.String())
		}
	}
}

// peak is the most memory that an ended process had, in MiB.
func (p *process) peak() int64 {
	const unit = 1024 // bytes: Linux counts KiB
	return p.ProcessState.SysUsage().(*syscall.Rusage).Maxrss * unit >> 20
}

// all reads every file below dir, the store's own marker too.
func all(t *testing.T, dir string) map[string]string {
	t.Helper()
	got := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil || e.IsDir() || e.Type()&fs.ModeSymlink != 0 {
			return err
		}
		src, err := os.ReadFile(p)
		name, _ := filepath.Rel(dir, p)
		got[name] = string(src)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// differ lists the names of files that two folders do not have alike.
func differ(a, b map[string]string) (out []string) {
	for name := range a {
		if other, ok := b[name]; !ok || other != a[name] {
			out = append(out, name)
		}
	}
	for name := range b {
		if _, ok := a[name]; !ok {
			out = append(out, name)
		}
	}
	return out
}

func tinyIn(t *testing.T, dir string) string {
	t.Helper()
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "tiny.yaml")
	if err := os.WriteFile(file, []byte(tinyKit), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// The same kit gives the same bytes of every file: with one thread and with two,
// from another folder, in another language and time zone, and after a run into the
// same folder that was killed while it meshed.
func TestSameBytesAfterAll(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a kit twice: left out with -short")
	}
	top := t.TempDir()
	kit := tinyIn(t, filepath.Join(top, "kits"))
	first := filepath.Join(top, "first")
	one := start(t, top, []string{"GOMAXPROCS=1", "LANG=C", "TZ=UTC"}, "make", kit, "-o", first, "--quality", "draft")

	place := filepath.Join(top, "elsewhere", "deep")
	tinyIn(t, place)
	os.Chtimes(filepath.Join(place, "tiny.yaml"), time.Unix(1, 0), time.Unix(1, 0))
	again := []string{"make", "tiny.yaml", "--quality", "draft"}
	env := []string{"GOMAXPROCS=2", "LANG=tr_TR.UTF-8", "LC_ALL=tr_TR.UTF-8", "TZ=Pacific/Kiritimati"}
	out := filepath.Join(place, "out", "tiny")

	p := start(t, place, env, again...)
	p.when(t, filepath.Join(out, ".buckwright"))
	p.Process.Kill()
	p.end(t)
	for name := range all(t, out) {
		if name != ".buckwright" && name != ".buckwright.lock" {
			t.Errorf("%s is left of a run that was killed while it meshed", name)
		}
	}

	p = start(t, place, env, again...)
	if code := p.end(t); code != exitOK {
		t.Fatalf("after the killed run: exit %d, %s", code, p.told.String())
	}
	if code := one.end(t); code != exitOK {
		t.Fatalf("exit %d, %s", code, one.told.String())
	}
	a, b := all(t, first), all(t, out)
	if d := differ(a, b); len(d) > 0 || len(a) < 40 {
		t.Errorf("%d files, not alike: %v", len(a), d)
	}
}

// A run that is stopped while it writes over an earlier one leaves that one as it
// was, to the byte; a second run into its folder is sent away meanwhile.
func TestStoppedRunsChangeNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("makes parts: left out with -short")
	}
	top := t.TempDir()
	kit := tinyIn(t, top)
	out := filepath.Join(top, "out")
	order := []string{"make", kit, "-o", out, "--quality", "draft", "--parts", "base"}
	first := start(t, top, nil, order...)
	first.when(t, filepath.Join(out, ".buckwright.lock"))
	second := start(t, top, nil, order...)
	if code := second.end(t); code != exitUsage || !strings.Contains(second.told.String(), "is in use by another run (process ") || !strings.Contains(second.told.String(), "hint: wait for it to end") {
		t.Errorf("a second run at once: exit %d, %s", code, second.told.String())
	}
	if code := first.end(t); code != exitOK {
		t.Fatalf("exit %d, %s", code, first.told.String())
	}
	before := all(t, out)
	const meshing, writing = ".buckwright.lock", ".buckwright.new"
	for _, tt := range []struct {
		name string
		stop os.Signal
		at   string
	}{
		{"interrupt", os.Interrupt, meshing}, {"interrupt", os.Interrupt, writing}, {"end", syscall.SIGTERM, meshing},
		{"hang up", syscall.SIGHUP, meshing}, {"nobody reads", syscall.SIGPIPE, writing}, {"kill", syscall.SIGKILL, writing},
	} {
		if signal.Ignored(tt.stop) {
			continue // these tests run under nohup, and so does the program
		}
		p := start(t, top, nil, order...)
		p.when(t, filepath.Join(out, tt.at))
		p.Process.Signal(tt.stop)
		code := p.end(t)
		after := all(t, out)
		if tt.name == "kill" { // which leaves no time to tidy up; the next run does
			for f := range after {
				if strings.HasPrefix(f, ".buckwright.") {
					delete(after, f)
				}
			}
		} else if code != exitFailed || !strings.HasSuffix(p.told.String(), "buckwright: interrupted; no file was written\n") {
			t.Errorf("%s at %s: exit %d, %s", tt.name, tt.at, code, p.told.String())
		}
		if d := differ(before, after); len(d) > 0 {
			t.Errorf("%s at %s: changed %v", tt.name, tt.at, d)
		}
	}
}
