package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var typed = []string{"--tight", "0.10", "--smooth", "0.20", "--hole", "0.15", "--length", "149.40,149.45"}

// TestCalibrateIntoKits: what calibrate writes, a kit names, and check uses.
func TestCalibrateIntoKits(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "mine.yaml")
	code, out, errs := call(t, append([]string{"calibrate", "bed-256", "--material", "petg", "-o", file}, typed...)...)
	if code != exitOK || strings.TrimSpace(out) != file {
		t.Fatalf("exit %d, %s%s", code, out, errs)
	}
	kit := filepath.Join(dir, "kit.yaml")
	text := "kit: k\nitems: [{name: a, shape: {box: {size: [60, 40, 20]}}, depth: 12, mass: 50}]\nprinter: {file: mine.yaml}\n"
	if err := os.WriteFile(kit, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	in, err := loadKit(t.Context(), kit, nil)
	if err != nil {
		t.Fatal(err)
	}
	p := in.Kit.Printer
	// k = 149.40/150.075; k (0.10 - 0.025)/2; 3.025 - 3.15 k, its mean over x and y; (0.10 + 0.05)/2
	if p.Name != "bed-256" || p.Material != "petg" || p.Bed[0] != 256 || p.Offset != 0.0373 || p.Scale[0] != 0.9955 || p.Hole != -0.1114 || *p.Tolerance != 0.075 {
		t.Errorf("%+v, tolerance %v", p, *p.Tolerance)
	}
	if !strings.Contains(string(in.Source), "hole_offset") {
		t.Error("the printer file is not among the inputs that are hashed")
	}
	// A second reading, from the file itself, replaces the first.
	code, out, errs = call(t, append([]string{"calibrate", file}, typed...)...)
	if code != exitOK || strings.Count(out, "\noffset:") != 1 || !strings.Contains(out, "name: bed-256\nmaterial: petg ") {
		t.Errorf("exit %d, %s%s", code, out, errs)
	}
	os.Remove(file)
	if _, err := loadKit(t.Context(), kit, nil); err == nil || status(err, true) != exitUsage || !strings.Contains(err.Error(), "kit.yaml:3:17: printer.file:") {
		t.Errorf("without the file: %v", err)
	}
}

func TestWrongReadings(t *testing.T) {
	for _, tt := range []struct {
		args []string
		want string
	}{
		{[]string{"bed-256", "--tight", "15", "--smooth", "0.2", "--hole", "0.1", "--length", "149"}, "the mark 15 is 0.15 mm"},
		{[]string{"bed-256", "--tight", "0.12", "--smooth", "0.2", "--hole", "0.1", "--length", "149"}, "between two marks"},
		{[]string{"bed-256", "--tight", "0.2", "--smooth", "0.1", "--hole", "0.1", "--length", "149"}, "0.1 slides where 0.2 is still tight"},
		{[]string{"bed-256", "--tight", "-0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "149"}, "beyond the row"},
		{[]string{"bed-256", "--tight", "NaN", "--smooth", "0.1", "--hole", "0.1", "--length", "149"}, "--tight: \"NaN\" is not a length\n  hint: write the number that was measured"},
		{[]string{"bed-256", "--tight", "0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "14.9"}, "no length of a bar of 150 mm"},
		{[]string{"bed-256", "--tight", "0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "149,149,149"}, "one or two lengths"},
		{[]string{"bed-256", "--tight", "0,1", "--smooth", "0.1", "--hole", "0.1", "--length", "149"}, "--tight: \"0,1\" has a comma\n  hint: write the decimal with a point: 0.1\n"},
		{[]string{"bed-256", "--tight", "0.1", "--smooth", "0.1", "--hole", "", "--length", "149"}, "--hole: \"\" is not a length"},
		{[]string{"bed-256", "--tight", "0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "149,40"}, "149.40 was probably meant\n  hint: write --length 149.40\n"},
		{[]string{"bed-256", "--tight", "0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "149,40,149,45"}, "decimals have a point"},
		{[]string{"bed-256", "--tight", "0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "149,149.x"}, "--length: \"149.x\" has the unit \"x\""},
		{[]string{"bed-256", "--tight", "0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "149,14.9"}, "14.9 is no length of a bar"},
		{[]string{"bed-256", "--tight", "0.1"}, "--smooth is missing"},
		{[]string{"bed-257", "--tight", "0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "149"}, "did you mean bed-25"},
		{append([]string{"bed-256", "--material", "pteg"}, typed...), "did you mean petg?"},
		{[]string{"none.yaml", "--tight", "0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "149"}, "no such file"},
		{[]string{"bed-256", "--tight", "0.1", "--smooth", "0.1", "--hole", "0.1", "--length", "149", "-o", "x.txt"}, "does not end in .yaml, by which a kit knows it\n  hint: name it x.yaml\n"},
		{append([]string{"bed-256", "149.45"}, typed...), "2 printers are named: bed-256, 149.45\n  hint: one printer at a time; two lengths are written with a comma"},
		{typed, "no printer is named"},
	} {
		code, out, errs := call(t, append([]string{"calibrate"}, tt.args...)...)
		if code != exitUsage || !strings.Contains(errs, tt.want) || out != "" {
			t.Errorf("%v: exit %d, %s%s; want %q", tt.args, code, out, errs, tt.want)
		}
	}
}

// TestCouponOfASmallBed: refused where it is wrong, and nothing is written.
func TestCouponOfASmallBed(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "small.yaml")
	if err := os.WriteFile(file, []byte("layer: 0.2\nbed: [120, 120, 120]\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, _, errs := call(t, "coupon", file, "-o", filepath.Join(dir, "out"))
	if code != exitUsage || !strings.Contains(errs, "small.yaml:2:6: printer.bed:") {
		t.Errorf("exit %d, %s", code, errs)
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
	if code, _, errs := call(t, "coupon", "nobed"); code != exitUsage || !strings.Contains(errs, "one of: bed-180") {
		t.Errorf("exit %d, %s", code, errs)
	}
}
