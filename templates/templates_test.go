package templates

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"buckwright/params"
)

func tables(t *testing.T) *params.Tables {
	t.Helper()
	all, err := Tables()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestStartersParseAndResolve(t *testing.T) {
	list, err := Starters()
	if err != nil || len(list) != 4 {
		t.Fatal(list, err)
	}
	for _, s := range list {
		k, err := params.Parse(s.Name+".yaml", s.Kit)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := k.Resolve(tables(t)); err != nil {
			t.Error(err)
		}
		if k.Name != s.Name || s.Title == "" {
			t.Errorf("starter %q (%q) holds kit %q", s.Name, s.Title, k.Name)
		}
	}
}

// The defaults of a kit without former and printer are rows of the tables too.
func TestDefaultMachinesAreRows(t *testing.T) {
	const items = "kit: a\nitems: [{name: b, shape: {ellipsoid: {size: [80, 50, 30]}}, depth: 20, mass: 150}]\n"
	plain, err := params.Parse("kit.yaml", []byte(items))
	if err != nil {
		t.Fatal(err)
	}
	named, err := params.Parse("kit.yaml", []byte(items+"former: desk-9x12\nprinter: bed-280\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := named.Resolve(tables(t)); err != nil {
		t.Fatal(err)
	}
	named.Former.Name, named.Printer.Name = "", ""
	if !reflect.DeepEqual(plain.Former, named.Former) || !reflect.DeepEqual(plain.Printer, named.Printer) {
		t.Errorf("defaults %+v %+v, rows %+v %+v", plain.Former, plain.Printer, named.Former, named.Printer)
	}
}

func TestEveryRowSaysWhereItIsFrom(t *testing.T) {
	all := tables(t)
	var sources []string
	for _, r := range all.Sheets {
		sources = append(sources, r.Source)
	}
	for _, r := range all.Liners {
		sources = append(sources, r.Source)
	}
	for _, r := range all.PrintMaterials {
		sources = append(sources, r.Source)
	}
	for _, s := range sources {
		if !strings.Contains(s, "from memory, confirm") {
			t.Errorf("%q does not say what is from memory", s)
		}
	}
	for _, r := range all.Formers {
		if !strings.Contains(r.Source, "common practice, no source") {
			t.Errorf("%s: %q", r.Name, r.Source)
		}
	}
}

func TestSheetsAreInOrder(t *testing.T) {
	for _, s := range tables(t).Sheets {
		steps := []float64{s.Set, s.Low, s.Orient, s.Core, s.Up}
		for i := 1; i < len(steps); i++ {
			if !(steps[i] > steps[i-1]) {
				t.Errorf("%s: set, low, orient, core, up are %v", s.Name, steps)
			}
		}
		if !(s.Shrink.Least > 0 && s.Shrink.Most > s.Shrink.Least) {
			t.Errorf("%s: shrink %v", s.Name, s.Shrink)
		}
		for _, own := range []*params.Span{s.ShrinkMale, s.ShrinkFemale} {
			if own != nil && !(own.Least >= s.Shrink.Least && own.Most <= s.Shrink.Most) {
				t.Errorf("%s: %v is outside %v", s.Name, *own, s.Shrink)
			}
		}
	}
}

// Densities of SAE felt are pounds a square yard at one inch, felt suppliers'
// charts after SAE J314: 16, 12.24, 8.48 and 7.2. The law's constant is van
// Wyk's K E phi^3 with K 0.01, E 3.4 GPa, phi = density / 1310.
func TestFeltsFollowTheChart(t *testing.T) {
	const perYard = 0.45359237 / (0.9144 * 0.9144 * 0.0254) // kg/m³
	want := map[string]float64{
		"f1": 16, "f2": 16, "f3": 16, "f5": 12.24, "f6": 12.24, "f7": 12.24,
		"f10": 8.48, "f11": 8.48, "f12": 8.48, "f13": 8.48, "f15": 8.48, "f26": 7.2,
	}
	found := 0
	for _, l := range tables(t).Liners {
		if l.Kind != params.Felt {
			if !(l.Stress25.Least > 0 && l.Stress25.Most > l.Stress25.Least) || l.P0 != 0 {
				t.Errorf("%s: %v kPa at 25 %%, p0 %v", l.Name, l.Stress25, l.P0)
			}
			continue
		}
		found++
		lb := want[strings.TrimPrefix(l.Name, "wool-felt-")]
		if math.Abs(l.Density-lb*perYard) > 0.2 {
			t.Errorf("%s: %g kg/m³, the chart has %.1f", l.Name, l.Density, lb*perYard)
		}
		if p0 := 0.01 * 3.4e6 * math.Pow(l.Density/1310, 3); math.Abs(l.P0-p0) > 0.05+1e-9 {
			t.Errorf("%s: p0 %g, want %.2f", l.Name, l.P0, p0)
		}
	}
	if found != len(want) {
		t.Errorf("%d felts, want %d", found, len(want))
	}
}

// ASTM D1056: grades 1 to 5 are 2-5, 5-9, 9-13, 13-17, 17-25 psi at 25 %.
func TestSpongesFollowD1056(t *testing.T) {
	const psi = 6.894757
	all := tables(t)
	for i, want := range [][2]float64{{2, 5}, {5, 9}, {9, 13}, {13, 17}, {17, 25}} {
		l, err := all.Liner("neoprene-sponge-2c" + string(rune('1'+i)))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(l.Stress25.Least-want[0]*psi) > 0.06 || math.Abs(l.Stress25.Most-want[1]*psi) > 0.06 || !l.Chlorinated {
			t.Errorf("%s: %v kPa, want %v psi; chlorinated %v", l.Name, l.Stress25, want, l.Chlorinated)
		}
	}
}

func TestKitOverridesARow(t *testing.T) {
	k := kit(t, "materials: {sheet: {abs: {shrink: 0.55 %, tg: 101}}, former: {desk-9x12: {platen: {hole: 3}}}}\nformer: {name: desk-9x12, depth: 95}\n")
	shipped := tables(t)
	before, _ := shipped.Sheet("abs")
	own, err := k.Resolve(shipped)
	if err != nil {
		t.Fatal(err)
	}
	got, _ := own.Sheet("abs")
	if math.Abs(got.Shrink.Least-0.0055) > 1e-15 || got.Shrink.Most != got.Shrink.Least || got.Tg != 101 || got.Density != before.Density {
		t.Errorf("%+v", got)
	}
	if !strings.HasPrefix(got.Source, "changed in the kit") {
		t.Errorf("source %q", got.Source)
	}
	if after, _ := shipped.Sheet("abs"); !reflect.DeepEqual(after, before) {
		t.Error("the shipped table was changed")
	}
	if f := k.Former; f.Platen.Hole != 3 || f.Platen.Pitch != 10 || f.Depth != 95 {
		t.Errorf("former %+v", f)
	}
}

func TestUnknownRowsAreNamedWithTheNearest(t *testing.T) {
	k := kit(t, "liner: {material: wool-felt-10}\nformer: desk-9x2\nsheet: {material: xyz}\nmaterials: {print: {pls: {tg: 60}}}\n")
	_, err := k.Resolve(tables(t))
	if err == nil {
		t.Fatal("accepted")
	}
	want := []string{
		"kit.yaml:3:19: liner.material: no liner is called \"wool-felt-10\"", "did you mean wool-felt-f10?",
		"kit.yaml:4:9: former: no former is called \"desk-9x2\"", "did you mean desk-9x12?",
		"kit.yaml:5:19: sheet.material: no sheet is called \"xyz\"", "hint: one of: abs, hips",
		"kit.yaml:6:26: materials.print.pls: no print material is called \"pls\"",
	}
	for _, w := range want {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%q is missing from:\n%v", w, err)
		}
	}
}

// What a row and the kit give together must be possible too.
func TestRowsAndKitAreCheckedTogether(t *testing.T) {
	_, err := kit(t, "printer: {name: bed-280, layer: 0.5}\n").Resolve(tables(t))
	if err == nil || !strings.Contains(err.Error(), "printer.layer: 0.5 mm is more than the nozzle, 0.4 mm") {
		t.Errorf("%v", err)
	}
	if _, err := kit(t, "printer: {name: bed-500, layer: 0.5}\n").Resolve(tables(t)); err != nil {
		t.Errorf("a 0.6 nozzle: %v", err)
	}
}

func kit(t *testing.T, more string) *params.Kit {
	t.Helper()
	k, err := params.Parse("kit.yaml", []byte("kit: a\nitems: [{name: b, shape: {ellipsoid: {size: [80, 50, 30]}}, depth: 20, mass: 150}]\n"+more))
	if err != nil {
		t.Fatal(err)
	}
	return k
}
