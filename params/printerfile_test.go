package params

import (
	"errors"
	"strings"
	"testing"
)

const mine = `name: bed-a
layer: 0.2
offset: 0.04
hole_offset: -0.12
scale: [0.9954, 0.9949, 1]
tolerance: 0.08
speed: {outer: 55, inner: 77}
`

func bedA() *Tables {
	t := &Tables{}
	for kind, src := range map[string]string{
		"sheet": "", "liner": "", "former": "",
		"printer": "bed-a: {title: a, bed: [200, 201, 202], nozzle: 0.5, layer: 0.3, least_hole: 0.9, foot: 0.2, source: none}",
	} {
		if src != "" {
			if err := t.Read(kind, kind, []byte(src)); err != nil {
				panic(err)
			}
		}
	}
	return t
}

// TestPrinterFileUnderTheKit: the kit's own keys win over the file's, the file's
// over the row's, and the row gives the rest.
func TestPrinterFileUnderTheKit(t *testing.T) {
	k := parsed(t, mini+"printer: {file: mine.yaml, hole_offset: -0.2, speed: {outer: 44}, material: petg}\n")
	if k.Printer.File != "mine.yaml" {
		t.Fatalf("file %q", k.Printer.File)
	}
	if err := k.UsePrinter("mine.yaml", []byte(mine)); err != nil {
		t.Fatal(err)
	}
	k.Resolve(bedA()) // the materials are not in these tables
	p := k.Printer
	if p.Name != "bed-a" || p.Bed != [3]float64{200, 201, 202} || p.Nozzle != 0.5 || p.Layer != 0.2 {
		t.Errorf("name, bed, nozzle, layer: %v %v %v %v", p.Name, p.Bed, p.Nozzle, p.Layer)
	}
	if p.Offset != 0.04 || p.Hole != -0.2 || p.Scale != [3]float64{0.9954, 0.9949, 1} || *p.Tolerance != 0.08 || p.Speed.Outer != 44 || p.Speed.Inner != 77 || p.Speed.Top != 40 || p.Material != "petg" {
		t.Errorf("%+v", p)
	}
	if got := k.Problem("printer.layer", "x", "").Error(); !strings.HasPrefix(got, "mine.yaml:2:8: printer.layer: x\n") {
		t.Errorf("a value of the file is placed at %q", got)
	}
}

func TestBadPrinterFiles(t *testing.T) {
	for _, tt := range []struct{ src, want string }{
		{"layr: 0.2\n", "p.yaml:1:1: printer.layr: no such key\n"},
		{"offset: 7\n", "p.yaml:1:9: printer.offset: 7 is outside -1 mm to 1 mm\n"},
		{"skin: 2.5\n", "p.yaml:1:7: printer.skin: 2.5 is not a whole number; allowed: 0 to 100\n"},
		{"file: other.yaml\n", "p.yaml:1:1: printer.file: no such key\n"},
		{"- 1\n", "p.yaml:1:1: a list of 1 stands here, the keys of a printer are expected\n"},
		{"", "p.yaml: the file is empty\n"},
	} {
		k := parsed(t, mini+"printer: {offset: 0.1}\n")
		err := k.UsePrinter("p.yaml", []byte(tt.src))
		var p *Problem
		if !errors.As(err, &p) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%q: %v, want %q", tt.src, err, tt.want)
		}
	}
}

// TestPrinterFileLeavesTheKitAlone: what the file does not give stays as the kit
// gives it.
func TestPrinterFileLeavesTheKitAlone(t *testing.T) {
	k := parsed(t, mini+"printer: {file: p.yaml, layer: 0.25, speed: {outer: 44}, width: 0.5}\n")
	if err := k.UsePrinter("p.yaml", []byte("offset: 0.1\n")); err != nil {
		t.Fatal(err)
	}
	if p := k.Printer; p.Layer != 0.25 || p.Speed.Outer != 44 || *p.Width != 0.5 || p.Offset != 0.1 || p.File != "p.yaml" {
		t.Errorf("%+v", p)
	}
}

// TestPrinterOnly: a row, a printer file and a kit each give a printer, and what
// it was given as can be said again.
func TestPrinterOnly(t *testing.T) {
	for _, tt := range []struct{ name, file, src, want string }{
		{"bed-a", "", "", "printer.name=bed-a"},
		{"", "mine.yaml", mine, "printer.offset=0.04 mm"},
		{"", "kit.yaml", mini + "printer: {name: bed-a, layer: 0.25}\n", "printer.layer=0.25 mm"},
		{"", "kit.yaml", mini + "printer: bed-a\n", "printer.name=bed-a"},
	} {
		k, err := PrinterOnly(tt.name, tt.file, []byte(tt.src))
		if err != nil {
			t.Fatal(err)
		}
		var said []string
		for _, v := range k.PrinterGiven() {
			said = append(said, v.Key+"="+v.Text)
		}
		if !strings.Contains(strings.Join(said, " "), tt.want) || k.Printer.Nozzle == 0 {
			t.Errorf("%+v gives %v, want %s", tt, said, tt.want)
		}
	}
}

// FuzzUsePrinter: a printer file gives values within the ranges of their keys, or
// a refusal that says something.
func FuzzUsePrinter(f *testing.F) {
	f.Add([]byte("layer: 0.2\nspeed: {outer: 30}\n"))
	f.Add([]byte("bed: [9 in, 220, 250]\nscale: [1.001, 0.999, 1]\nname: bed-a\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		k, err := Parse("kit.yaml", []byte(mini+"printer: {file: mine.yaml}\n"))
		if err != nil {
			t.Fatal(err)
		}
		if err := k.UsePrinter("mine.yaml", src); err != nil {
			if len(err.Error()) == 0 {
				t.Error("an error without a word")
			}
			return
		}
		inRange(t, "", kitRows(k))
	})
}
