//go:build unix

package main

import (
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Limits on what a file made to do harm may take: processor time, not waiting, as
// machines differ in load; memory for 100 MB that are read once, and a little.
const (
	mostWork = 10 * time.Second
	mostPeak = 320 // MiB
)

// TestBigInput: files of a hundred million bytes, and small ones that unfold to
// more, are refused within seconds and without their size in memory many times over.
func TestBigInput(t *testing.T) {
	if testing.Short() {
		t.Skip("writes a hundred million bytes: left out with -short")
	}
	dir := t.TempDir()
	// Written a piece at a time: a process that is started inherits the peak of the
	// one that starts it.
	const noise = "100 MB of noise"
	write := func(name string, parts ...string) {
		t.Helper()
		f, err := os.Create(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		for _, p := range parts {
			var err error
			if p == noise {
				_, err = io.CopyN(f, rand.NewChaCha8([32]byte{43}), 100_000_000)
			} else {
				_, err = f.WriteString(p)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	item := func(shape string) string {
		return "kit: big\nitems: [{name: body, shape: {" + shape + "}, depth: 9, mass: 50}]\n"
	}
	var items, bomb strings.Builder
	for i := range 10_000 {
		fmt.Fprintf(&items, "  - {name: i%d, shape: {box: {size: [9, 9, 9]}}, at: [%d, %d], depth: 5, mass: 9}\n", i, i%100*20, i/100*20)
	}
	bomb.WriteString("a0: &a0 [x, x, x, x, x, x, x, x, x]\n")
	for i := 1; i < 12; i++ {
		fmt.Fprintf(&bomb, "a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 9), ", "))
	}
	write("noise.yaml", noise)
	for _, kind := range []string{"noise.stl", "noise.obj", "noise.svg"} {
		if err := os.Link(filepath.Join(dir, "noise.yaml"), filepath.Join(dir, kind)); err != nil {
			t.Fatal(err)
		}
	}
	write("noise.3mf", "PK\x03\x04", noise)
	write("noise.ply", "ply\nformat binary_little_endian 1.0\nelement vertex 4294967295\nproperty float x\nproperty float y\nproperty float z\nend_header\n", noise)
	write("10000-items.yaml", "kit: big\nitems:\n", items.String())
	write("short-items.yaml", "kit: big\nitems:\n", strings.Repeat("  - {}\n", 10_000))
	write("aliases.yaml", bomb.String(), "kit: *a11\nitems: *a11\n")
	write("brackets.yaml", "kit: ", strings.Repeat("[", 200_000))
	for _, kind := range []string{"stl", "obj", "3mf", "ply"} {
		write(kind+".yaml", item("mesh: {file: noise."+kind+"}"))
	}
	write("svg.yaml", item("profile: {file: noise.svg, height: 20}"))
	for _, tt := range []struct{ kit, want string }{
		{"noise.yaml", "noise.yaml: the file is larger than 256 KiB, which no kit is"},
		{"/dev/zero", "/dev/zero: the file is larger than 256 KiB, which no kit is"},
		{"10000-items.yaml", "10000-items.yaml: the file is larger than 256 KiB, which no kit is"},
		{"short-items.yaml", "short-items.yaml:3:3: items: a list of 10000 stands here; 1 to 64 are allowed"},
		{"aliases.yaml", "aliases.yaml:13:6: kit: *a11 is an alias, which a kit does not use"},
		{"brackets.yaml", "brackets.yaml:1:1: this is not YAML: exceeded max depth of 10000"},
		{"stl.yaml", "noise.stl: byte 100000000: the file is cut short: it says "},
		{"obj.yaml", `is not a coordinate`},
		{"3mf.yaml", "noise.3mf: the zip container is damaged"},
		{"ply.yaml", "is not a point"},
		{"svg.yaml", "noise.svg: the file has 95 MB, more than one outline needs"},
	} {
		p := start(t, dir, nil, "check", tt.kit)
		mustBeRefused(t, p, exitUsage, tt.want, "hint: ")
		if work, peak := p.ProcessState.UserTime(), p.peak(); work > mostWork || peak > mostPeak {
			t.Errorf("%s took %v and %d MiB, want at most %v and %d", tt.kit, work, peak, mostWork, mostPeak)
		}
	}
}
