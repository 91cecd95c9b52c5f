package params

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"
)

// mini is the least that a kit may hold.
const mini = "kit: gauge\nitems:\n  - {name: body, shape: {ellipsoid: {size: [80, 50, 30]}}, depth: 20, mass: 150}\n"

func parsed(t *testing.T, src string) *Kit {
	t.Helper()
	k, err := Parse("kit.yaml", []byte(src))
	if err != nil {
		t.Fatalf("%s\n%v", src, err)
	}
	return k
}

// Units are compared with their definitions: SI brochure 9th ed. 2019, table 8
// and NIST SP 811 (2008) appendix B.8, except inHg, conventional at 0 °C.
func TestUnits(t *testing.T) {
	for _, tt := range []struct {
		q    quantity
		text string
		want float64
	}{
		{length, "9 in", 228.6}, {length, "0.040 in", 1.016}, {length, `1.25"`, 31.75}, {length, "1/8 in", 3.175},
		{length, "1 1/2 in", 38.1}, {length, "1-1/2 in", 38.1}, {length, "-1 1/2 in", -38.1}, {length, "-1/8 in", -3.175}, {length, "2cm", 20}, {length, "0.12 m", 120}, {length, "40 mil", 1.016}, {length, "250 µm", 0.25},
		{length, "1 ft", 304.8}, {length, "7", 7}, {length, "+.5", 0.5}, {length, "1e2", 100}, {length, "-3. mm", -3},
		{share, "15 %", 0.15}, {share, "0.15", 0.15}, {share, "15%", 0.15},
		{angle, "5°", 5}, {angle, "0.1 rad", 5.729577951308232},
		{mass, "1.2 kg", 1200}, {mass, "0.5 lb", 226.796185}, {mass, "3 oz", 85.048569375},
		{pressure, "24 inHg", 81.273336}, {pressure, "80 kPa", 80}, {pressure, "0.8 bar", 80}, {pressure, "10 psi", 68.94757293168361},
		{force, "3 lbf", 13.3446648457815}, {volume, "5 gal", 18.92705892}, {volume, "20 litres", 20}, {flow, "1 cfm", 28.316846592},
		{temperature, "212 °F", 100}, {temperature, "400", 400}, {area, "4 in2", 2580.64}, {area, "25 cm²", 2500},
		{density, "1.04 g/cm3", 1040},
	} {
		m, wrong := tt.q.parse(tt.text)
		if wrong.what != "" || math.Abs(m.value-tt.want) > 1e-12*math.Abs(tt.want)+1e-12 {
			t.Errorf("%v.parse(%q) = %v %v, want %v", tt.q.noun(), tt.text, m.value, wrong, tt.want)
		}
	}
}

func TestDefaultsAreThoseOfTheExample(t *testing.T) {
	k := parsed(t, mini)
	example, err := Parse("kit.yaml", read(t, "../testdata/kit/ok/tide-logger.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if k.Printer.Tolerance != nil || *example.Printer.Tolerance != 0.15 {
		t.Errorf("printer.tolerance = %v, want none; in the example %v, want 0.15", k.Printer.Tolerance, example.Printer.Tolerance)
	}
	example.Printer.Tolerance = nil
	a, b := reflect.ValueOf(*k), reflect.ValueOf(*example)
	for i := range a.NumField() {
		switch name := a.Type().Field(i).Name; name {
		case "Name", "Items", "Where", "lines", "overrides", "printer":
		default:
			if !reflect.DeepEqual(a.Field(i).Interface(), b.Field(i).Interface()) {
				t.Errorf("%s: default %+v, example %+v", name, a.Field(i), b.Field(i))
			}
		}
	}
	if k.Sheet.Shrink != nil || k.Buck.Vent.Diameter != nil || k.Closure.Holds != nil || k.Liner.Press != nil || k.Liner.Tolerance != nil || k.Printer.Width != nil {
		t.Error("a default that depends on other values has been filled")
	}
}

func TestWhereHoldsEveryValue(t *testing.T) {
	k := parsed(t, "kit: gauge\nitems:\n  - name: body\n    shape:\n      box: {size: [60, 40, 20]}\n    depth: 12\n    mass: 150\n    notch: [front]\nformer: desk-a4\n")
	for key, want := range map[string]Pos{
		"kit": {1, 6}, "items": {3, 3}, "items[0]": {3, 5}, "items[0].name": {3, 11}, "items[0].shape.box.size": {5, 19},
		"items[0].shape.box.size[2]": {5, 28}, "items[0].depth": {6, 12}, "items[0].notch[0]": {8, 13}, "former": {9, 9},
	} {
		if got := k.Where[key]; got != want {
			t.Errorf("Where[%s] = %v, want %v", key, got, want)
		}
	}
	if !k.Given("former.name") || k.Given("printer.name") {
		t.Error("former.name stands in the file by itself, printer.name does not")
	}
	for _, key := range []string{"liner.thickness", "items[0].turn", "former.area", ""} {
		if k.Given(key) {
			t.Errorf("%s is a default and has a place", key)
		}
	}
}

func TestProblemPointsAtTheValueOrWhatIsRoundIt(t *testing.T) {
	k := parsed(t, mini+"liner: {thickness: 3}\n")
	for key, want := range map[string]string{
		"liner.thickness":   "kit.yaml:4:20: liner.thickness: bad\n  4 | liner: {thickness: 3}\n                         ^\n  hint: mend it",
		"liner.compression": "kit.yaml:4:8: liner.compression: bad\n  4 | liner: {thickness: 3}\n             ^\n  hint: mend it",
		"sheet.gauge":       "kit.yaml: sheet.gauge: bad\n  hint: mend it",
	} {
		if got := k.Problem(key, "bad", "mend it").Error(); got != want {
			t.Errorf("Problem(%s):\n%s\nwant:\n%s", key, got, want)
		}
	}
}

// What the kit does not say is left to the file: a 3MF names its unit, and a body
// in metres must not be taken for one in millimetres unasked.
func TestMeshSaysItsOwnUnit(t *testing.T) {
	for file, want := range map[string]MeshFile{
		"{file: a.stl}": {"a.stl", 0, ""}, "{file: b.GLB}": {"b.GLB", 0, ""}, "{file: c.3mf, unit: in, up: -y}": {"c.3mf", 25.4, "-y"},
	} {
		k := parsed(t, strings.Replace(mini, "ellipsoid: {size: [80, 50, 30]}", "mesh: "+file, 1))
		if got := *k.Items[0].Shape.Mesh; got != want {
			t.Errorf("%s: %+v, want %+v", file, got, want)
		}
	}
}

func TestMeet(t *testing.T) {
	for _, tt := range []struct {
		a, b, c, d [2]float64
		want       bool
	}{
		{[2]float64{0, 0}, [2]float64{4, 4}, [2]float64{0, 4}, [2]float64{4, 0}, true},
		{[2]float64{0, 0}, [2]float64{4, 0}, [2]float64{2, 0}, [2]float64{6, 0}, true},  // overlap
		{[2]float64{0, 0}, [2]float64{4, 0}, [2]float64{2, 0}, [2]float64{2, 5}, true},  // touch
		{[2]float64{0, 0}, [2]float64{4, 0}, [2]float64{5, 0}, [2]float64{9, 0}, false}, // in line
		{[2]float64{0, 0}, [2]float64{4, 0}, [2]float64{0, 1}, [2]float64{4, 1}, false}, // parallel
		{[2]float64{0, 0}, [2]float64{4, 0}, [2]float64{5, -1}, [2]float64{5, 1}, false},
	} {
		if got := meet(tt.a, tt.b, tt.c, tt.d); got != tt.want {
			t.Errorf("meet(%v, %v, %v, %v) = %v", tt.a, tt.b, tt.c, tt.d, got)
		}
	}
}

func TestNearest(t *testing.T) {
	words := []string{"liner", "lid_liner", "sheet", "former"}
	for word, want := range map[string]string{
		"linr": "liner", "lnier": "liner", "Lid-Liner": "lid_liner", "sheets": "sheet", "fromer": "former", "colour": "", "x": "", strings.Repeat("liner", 50): "",
	} {
		if got := nearest(word, words); got != want {
			t.Errorf("nearest(%.20q) = %q, want %q", word, got, want)
		}
	}
}

// Nothing that is no kit may take much memory or time, whatever it expands to.
func TestNoiseIsRefusedCheaply(t *testing.T) {
	bomb := "a: &a [x, x, x, x, x, x, x, x, x]\n"
	for c := 'b'; c < 'z'; c++ {
		bomb += string(c) + ": &" + string(c) + " [" + strings.Repeat("*"+string(c-1)+", ", 9) + "]\n"
	}
	many := strings.Repeat("1,", MostBytes/2-100)
	for name, src := range map[string]string{
		"alias bomb":     bomb,
		"10 MB of dots":  strings.Repeat(".", 10<<20),
		"10 MB of lists": strings.Repeat("[", 10<<20),
		"deep":           "items: " + strings.Repeat("[", MostBytes-100),
		"deep blocks":    strings.Repeat("- ", MostBytes/2-10),
		"deep keys":      strings.Repeat("? ", MostBytes/2-10),
		"wide list":      "items: [" + many + "]",
		"wide points":    "items: [{shape: {profile: {points: [" + many + "]}}}]",
		"long line":      "kit: " + strings.Repeat("é", MostBytes/2-10),
		"long key":       strings.Repeat("k", MostBytes-10) + ": 1",
		"many keys":      manyKeys(),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := Parse("kit.yaml", []byte(src))
		runtime.ReadMemStats(&after)
		if err == nil {
			t.Errorf("%s: accepted", name)
			continue
		}
		const most = 160 << 20 // allocated in all, not held at once
		if used := after.TotalAlloc - before.TotalAlloc; used > most {
			t.Errorf("%s: %d MiB allocated, want at most %d", name, used>>20, most>>20)
		}
		if n := len(err.Error()); n > 64<<10 {
			t.Errorf("%s: a message of %d bytes", name, n)
		}
	}
}

func manyKeys() string {
	var b strings.Builder
	for i := 0; b.Len() < MostBytes-20; i++ {
		b.WriteString("k" + strings.Repeat("x", i%5) + plain(float64(i)) + ": 1\n")
	}
	return b.String()
}

func TestOutputIsRepeatable(t *testing.T) {
	for _, file := range append(kits(t, "err"), kits(t, "ok")...) {
		src := read(t, file)
		k1, err1 := Parse(file, src)
		k2, err2 := Parse(file, src)
		if !reflect.DeepEqual(k1, k2) || !reflect.DeepEqual(err1, err2) {
			t.Errorf("%s differs from one reading to the next", filepath.Base(file))
		}
	}
}

func TestProblemsCanBeFound(t *testing.T) {
	_, err := Parse("kit.yaml", []byte("kit: gauge\nitems: 5\n"))
	var p *Problem
	if !errors.As(err, &p) || p.Key != "items" || p.Pos != (Pos{2, 8}) {
		t.Errorf("%+v from %v", p, err)
	}
}

// FuzzParse holds every accepted kit to the ranges of its keys, and every
// refusal to say something.
func FuzzParse(f *testing.F) {
	for _, kind := range []string{"ok", "err"} {
		files, _ := filepath.Glob("../testdata/kit/" + kind + "/*.yaml")
		for _, file := range files {
			src, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(src)
		}
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		k, err := Parse("kit.yaml", src)
		if err != nil {
			if k != nil || len(err.Error()) == 0 {
				t.Errorf("kit %v, error %q", k, err)
			}
			return
		}
		inRange(t, "", kitRows(k))
		for i := range k.Items {
			inRange(t, "item", itemRows(&k.Items[i]))
			oneShape(t, k.Items[i].Shape)
		}
	})
}

// inRange looks at what the rows point at.
func inRange(t *testing.T, at string, rows []row) {
	for _, w := range rows {
		key := join(at, w.key)
		switch v := w.to.(type) {
		case number:
			if !(*v.to >= v.lo && *v.to <= v.hi) {
				t.Errorf("%s = %g accepted, allowed %g to %g", key, *v.to, v.lo, v.hi)
			}
		case optional:
			if *v.to != nil && !(**v.to >= v.lo && **v.to <= v.hi) {
				t.Errorf("%s = %g accepted, allowed %g to %g", key, **v.to, v.lo, v.hi)
			}
		case vector:
			for _, x := range v.to {
				if !(x >= v.lo && x <= v.hi) {
					t.Errorf("%s has %g, allowed %g to %g", key, x, v.lo, v.hi)
				}
			}
		case same:
			for _, x := range v.to {
				if !(x >= v.lo && x <= v.hi) {
					t.Errorf("%s has %g, allowed %g to %g", key, x, v.lo, v.hi)
				}
			}
		case section:
			inRange(t, key, v.rows)
		case named:
			inRange(t, key, v.rows)
		case cutterValue:
			inRange(t, key, v.rows)
		}
	}
}

func oneShape(t *testing.T, s Shape) {
	n := 0
	v := reflect.ValueOf(s)
	for i := range v.NumField() {
		if !v.Field(i).IsNil() {
			n++
		}
	}
	if n != 1 {
		t.Errorf("an item with %d shapes accepted", n)
	}
}
