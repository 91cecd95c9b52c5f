package params

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
)

// full gives every key a value of its own, so that a row that points at its
// neighbour's field shows.
const full = `kit: all
items:
  - name: one
    shape: {box: {size: [61, 42, 23], corner_radius: 7, edge_radius: 3}}
    at: [-5, 6]
    turn: 30
    depth: 14
    mass: 151
    notch: [back, {side: left, width: 31, out: 13, depth: 9}]
  - {name: two, shape: {cylinder: {diameter: 24, height: 55, along: y, edge_radius: 1.5}}, depth: 11, mass: 12}
  - {name: three, shape: {capsule: {diameter: 18, length: 70, along: x}}, depth: 11, mass: 12}
  - {name: four, shape: {ellipsoid: {size: [80, 50, 30]}}, depth: 11, mass: 12}
  - {name: five, shape: {profile: {points: [[0, 0], [60, 0], [0, 40]], bulge: [0, 0.2, 0], corner_radius: 5, edge_radius: 2, height: 18}}, depth: 11, mass: 12}
  - {name: six, shape: {revolve: {points: [[0, 0], [20, 0], [0, 30]]}}, depth: 11, mass: 12}
  - {name: seven, shape: {mesh: {file: a.obj, unit: in, up: -y}}, depth: 11, mass: 12}
  - {name: eight, shape: {profile: {file: b.dxf, unit: cm, layer: CUT, height: 19}}, depth: 11, mass: 12}
tolerance: {product: 0.21}
liner: {material: felt-a, thickness: 2.1, compression: 16 %, wrap: rim, tolerance: 0.31, cement: 0.12, press: 51, test: {mass: 1001, area: 2002, thickness: 1.9}}
lid_liner: {material: sponge-b, thickness: 4.1, compression: 26 %, pads: full, test: {mass: 1003, area: 2004, thickness: 3.9}}
closure: {kind: band, holds: 33}
sheet: {material: hips, gauge: 1.1, shrink: [0.4 %, 0.6 %]}
former: {name: bench, area: [301, 402], clamp: 13, depth: 81, vacuum: 77, platen: {pitch: 11, hole: 2.1, border: 16}, tank: 21, pump: 61, heater: 410, two_sided: yes}
printer: {name: bed, file: mine.yaml, bed: [281, 282, 251], nozzle: 0.41, layer: 0.31, infill: 17 %, material: petg, tolerance: 0.14, width: 0.45, offset: 0.03, hole_offset: -0.06, foot: 0.27, scale: [1.001, 1.002, 1.003], least_hole: 1.2, skin: 5, speed: {outer: 41, inner: 61, full: 62, top: 42, infill: 81, bridge: 31, first: 26, travel: 151}, acceleration: 1100}
insert: {margin: 15, draft: 5.5, corner_radius: 17, rim_radius: 2.5}
pocket: {draft: 3.5, mouth_radius: 2.2, spacing: 12.5}
buck: {floor: 6.5, run: 12, vent: {diameter: 0.7, land: 4.5, bore: 4.2, pitch: 26, pin: [[1, 2]], forbid: [[3, 4, 5]]}, screws: {thread: M5, hold: tapped, at: [[6, 7], [8, 9]], hole: 4.4, length: 11}}
press: {nest: no, grip: none}
shell: {wall: 2.5, floor: 2.6, neck: 12.7, slip: {least: 0.11, stack: worst}, label: none}
batch: {count: 12, currency: SEK, filament: 221, sheet: 182, liner: 603, lid_liner: 304, cement: 255, machine: 6, labour: 257, setup: 90 min, each: 0.25 h, spoiled: 12 %}
cutter: {kind: laser, kerf: 0.22, knife: [sponge, sheet]}
stock: {felt: [901, 602], sponge: [303, 304], label: [205, 206], paper: [216, 279]}
label: {material: vinyl, gap: 0.4, window: [41, 13]}
limits: {rib: 3, slip-jam: 2 %}
`

func TestEveryKeyReachesItsField(t *testing.T) {
	k := parsed(t, full)
	ptr := func(v float64) *float64 { return &v }
	items := []Item{
		{"one", Shape{Box: &Box{[3]float64{61, 42, 23}, 7, 3}}, [2]float64{-5, 6}, 30, 14, 151, []Notch{{Back, 30, 12, nil}, {Left, 31, 13, ptr(9)}}},
		{"two", Shape{Cylinder: &Cylinder{24, 55, AxisY, 1.5}}, [2]float64{}, 0, 11, 12, nil},
		{"three", Shape{Capsule: &Capsule{18, 70, AxisX}}, [2]float64{}, 0, 11, 12, nil},
		{"four", Shape{Ellipsoid: &Ellipsoid{[3]float64{80, 50, 30}}}, [2]float64{}, 0, 11, 12, nil},
		{"five", Shape{Profile: &Profile{[][2]float64{{0, 0}, {60, 0}, {0, 40}}, []float64{0, 0.2, 0}, 5, 2, 18, "", 0, ""}}, [2]float64{}, 0, 11, 12, nil},
		{"six", Shape{Revolve: &Revolve{[][2]float64{{0, 0}, {20, 0}, {0, 30}}}}, [2]float64{}, 0, 11, 12, nil},
		{"seven", Shape{Mesh: &MeshFile{"a.obj", 25.4, "-y"}}, [2]float64{}, 0, 11, 12, nil},
		{"eight", Shape{Profile: &Profile{File: "b.dxf", Height: 19, Unit: 10, Layer: "CUT"}}, [2]float64{}, 0, 11, 12, nil},
	}
	for i := range items {
		if !reflect.DeepEqual(k.Items[i], items[i]) {
			t.Errorf("item %+v, want %+v", k.Items[i], items[i])
		}
	}
	for _, tt := range []struct {
		got  any
		want string // as fmt prints it, pointers followed
	}{
		{k.Tolerance, "{0.21}"},
		{k.Liner, "{felt-a 2.1 0.16 rim 0.31 0.12 51 {1001 2002 1.9}}"},
		{k.LidLiner, "{sponge-b 4.1 0.26 full {1003 2004 3.9}}"},
		{k.Closure, "{band 33}"},
		{k.Sheet, "{hips 1.1 {0.004 0.006}}"},
		{k.Former, "{bench [301 402] 13 81 77 {11 2.1 16} 21 61 410 true}"},
		{k.Printer, "{bed mine.yaml [281 282 251] 0.41 0.31 0.17 petg 0.14 0.45 0.03 -0.06 0.27 [1.001 1.002 1.003] 1.2 5 {41 61 62 42 81 31 26 151} 1100}"},
		{k.Insert, "{15 17 2.5 5.5}"}, // margin, corner radius, rim radius, draft
		{k.Pocket, "{3.5 2.2 12.5}"},
		{k.Buck, "{6.5 12 {0.7 4.5 4.2 26 [[1 2]] [[3 4 5]]} {M5 tapped [[6 7] [8 9]] 4.4 11}}"},
		{k.Press, "{no none}"},
		{k.Shell, "{2.5 2.6 12.7 {0.11 worst} none}"},
		{k.Batch, "{12 SEK 221 182 603 304 255 6 257 1.5 0.25 0.12}"},
		{k.Cutter, "{laser 0.22 [sponge sheet]}"},
		{k.Stock, "{[901 602] [303 304] [205 206] [216 279]}"},
		{k.Label, "{vinyl 0.4 [41 13]}"},
		{k.Limits, "map[rib:3 slip-jam:0.02]"},
	} {
		if got := followed(reflect.ValueOf(tt.got)); got != tt.want {
			t.Errorf("%s, want %s", got, tt.want)
		}
	}
	for _, key := range Keys() {
		if strings.Contains(key.Key, "[]") || strings.HasPrefix(key.Key, "materials") {
			continue
		}
		if !k.Given(key.Key) {
			t.Errorf("%s has no value in this test, or no place", key.Key)
		}
	}
}

// followed prints a value with what its pointers point at.
func followed(v reflect.Value) string {
	switch {
	case v.Kind() == reflect.Pointer && !v.IsNil():
		return followed(v.Elem())
	case v.Kind() == reflect.Struct:
		var parts []string
		for i := range v.NumField() {
			parts = append(parts, followed(v.Field(i)))
		}
		return "{" + strings.Join(parts, " ") + "}"
	}
	return fmt.Sprint(v.Interface())
}

// What Values says, typed into a kit, must give the same kit again.
func TestValuesCanBeTypedAgain(t *testing.T) {
	for _, src := range []string{mini, full} {
		k := parsed(t, src)
		k2 := parsed(t, retyped(k, src))
		if got, want := fmt.Sprint(shown(k2)), fmt.Sprint(shown(k)); got != want {
			t.Errorf("%s\nwant\n%s", got, want)
		}
		if n := len(k.Values()); n < 60 {
			t.Errorf("%d values", n)
		}
	}
}

func shown(k *Kit) (texts []string) {
	for _, v := range k.Values() {
		texts = append(texts, v.Key+"="+v.Text)
	}
	return texts
}

// retyped writes a kit of the values that are set, with the items of src.
func retyped(k *Kit, src string) string {
	items := src[strings.Index(src, "items:"):]
	if i := strings.Index(items, "\ntolerance:"); i >= 0 {
		items = items[:i+1]
	}
	var b strings.Builder
	b.WriteString(items)
	var open []string
	for _, v := range k.Values() {
		if v.Text == "" {
			continue
		}
		path := strings.Split(v.Key, ".")
		for d := range path {
			if d < len(path)-1 && d < len(open) && open[d] == path[d] {
				continue
			}
			b.WriteString(strings.Repeat("  ", d) + path[d] + ":")
			if d == len(path)-1 {
				b.WriteString(" " + v.Text)
			}
			b.WriteString("\n")
			open = open[:min(d, len(open))]
		}
		open = path[:len(path)-1]
	}
	return b.String()
}
