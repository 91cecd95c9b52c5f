package generate

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"strings"
	"testing"

	"buckwright/generate/check"
	"buckwright/params"
)

// itemOf builds the one item of a kit whose shape is given, from files in memory.
func itemOf(t *testing.T, shape string, files map[string]string) (*item, error) {
	t.Helper()
	k, err := params.Parse("jobs/kit.yaml", []byte("kit: a\nitems:\n  - {name: b, shape: {"+shape+"}, depth: 9, mass: 50}\n"))
	if err != nil {
		t.Fatal(err)
	}
	return newItem(t.Context(), k, 0, func(name string) ([]byte, error) {
		src, ok := files[name]
		if !ok {
			return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
		}
		return []byte(src), nil
	}, Normal)
}

func svg(body string) string {
	return `<svg width="100mm" height="100mm" viewBox="0 0 100 100">` + body + `</svg>`
}

// flat is an STL of one triangle, as text.
func flat() string {
	return "solid a\n" + "facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 40 0 0\nvertex 0 30 0\nendloop\nendfacet\n" + "endsolid a\n"
}

func TestOutlineFromFileIsThePointsOne(t *testing.T) {
	drawn, err := itemOf(t, "profile: {file: parts/o.svg, height: 18, corner_radius: 4}", map[string]string{"jobs/parts/o.svg": svg(`<path d="M5 5h60v40H5z"/>`)})
	if err != nil {
		t.Fatal(err)
	}
	typed, err := itemOf(t, "profile: {points: [[0, 0], [60, 0], [60, 40], [0, 40]], height: 18, corner_radius: 4}", nil)
	if err != nil {
		t.Fatal(err)
	}
	if drawn.box != typed.box {
		t.Errorf("drawn %v, typed %v", drawn.box, typed.box)
	}
	for i := range 8 {
		p := typed.box.Grow(3).Corner(i)
		if a, b := drawn.body.Dist(p), typed.body.Dist(p); !(math.Abs(a-b) < 1e-9) {
			t.Errorf("at %v: drawn %g, typed %g", p, a, b)
		}
	}
}

func TestFilesThatAreNoItem(t *testing.T) {
	for _, tt := range []struct {
		shape, file, src string
		want             string // place, key and what is wrong
		hint             string
	}{
		{"profile: {file: o.svg, height: 18}", "", "", "jobs/kit.yaml:3:39: items[0].shape.profile.file: open jobs/o.svg: file does not exist", "the path is taken from the kit file's folder"},
		{"profile: {file: o.svg, height: 18}", "jobs/o.svg", svg(`<path d="M5 5h60v40H5"/>`), "items[0].shape.profile.file: o.svg:1: the outline is open at (5, 45) mm: 40 mm to the next end", "close the path"},
		{"profile: {file: o.svg, height: 18}", "jobs/o.svg", svg(`<path d="M5 5h60L5 45h30z"/>`), "items[0].shape.profile.file: o.svg: outline: sides 0 and 2 meet at (25, -31.67)", "mend the path where it crosses"},
		{"profile: {file: o.svg, height: 18, corner_radius: 21}", "jobs/o.svg", svg(`<path d="M5 5h60v40H5z"/>`), "items[0].shape.profile.corner_radius: 21 mm is more than half the outline's smaller side, 20 mm", "make it smaller"},
		{"profile: {file: o.svg, unit: m, height: 18}", "jobs/o.svg", svg(`<path d="M5 5h60v40H5z"/>`), "items[0].shape.profile.file: o.svg: the drawing is 6e+04 x 4e+04 mm, too large", "taken as metres"},
		{"box: {size: [40, 30, 8]}", "", "", "jobs/kit.yaml:3:57: items[0].depth: 9 mm is more than b is high as it lies, 8 mm", "depth is how much of it sits below the rim"},
		{"mesh: {file: b.stl}", "", "", "items[0].shape.mesh.file: open jobs/b.stl: file does not exist", "the path is taken from the kit file's folder"},
		{"mesh: {file: b.stl}", "jobs/b.stl", flat(), "items[0].shape.mesh.file: b.stl: the triangles enclose no volume", "export the product's solid"},
		{"mesh: {file: b.stl}", "jobs/b.stl", "", "items[0].shape.mesh.file: jobs/b.stl: the file is empty", "export the body again"},
	} {
		_, err := itemOf(t, tt.shape, map[string]string{tt.file: tt.src})
		var p *params.Problem
		if !errors.As(err, &p) || !strings.Contains(err.Error(), tt.want) || !strings.Contains(p.Hint, tt.hint) {
			t.Errorf("%s:\n%v\nwant %s (%s)", tt.shape, err, tt.want, tt.hint)
		}
	}
}

// A shell inside a body, as drawing programs leave it, changes nothing that is measured.
func TestMeasuredMeshIsHealed(t *testing.T) {
	cube := func(lo, hi float64) string {
		var b strings.Builder
		at := func(i int) string {
			v := [3]float64{lo, lo, lo}
			for k := range 3 {
				if i>>k&1 != 0 {
					v[k] = hi
				}
			}
			return fmt.Sprintf("vertex %g %g %g\n", v[0], v[1], v[2])
		}
		for _, f := range [12][3]int{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}} {
			b.WriteString("facet normal 0 0 0\nouter loop\n" + at(f[0]) + at(f[1]) + at(f[2]) + "endloop\nendfacet\n")
		}
		return b.String()
	}
	plain, err := itemOf(t, "mesh: {file: b.stl}", map[string]string{"jobs/b.stl": "solid a\n" + cube(0, 30) + "endsolid a\n"})
	if err != nil {
		t.Fatal(err)
	}
	nested, err := itemOf(t, "mesh: {file: b.stl}", map[string]string{"jobs/b.stl": "solid a\n" + cube(0, 30) + cube(10, 20) + "endsolid a\n"})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := plain.measure(), nested.measure(); a != b || !(math.Abs(a.PlanArea-900) < 1e-6) || !(math.Abs(a.FloorArea-900) < 1e-6) {
		t.Errorf("plain %+v, with a shell inside %+v", a, b)
	}
}

func TestItemsInOnePlaceAreFound(t *testing.T) {
	two := func(a, b, at string) []check.Overlap {
		k, err := params.Parse("kit.yaml", []byte("kit: a\nitems:\n  - {name: a, shape: {"+a+"}, depth: 9, mass: 50}\n  - {name: b, shape: {"+b+"}, at: "+at+", depth: 9, mass: 50}\n"))
		if err != nil {
			t.Fatal(err)
		}
		var all []*item
		for i := range k.Items {
			it, err := newItem(t.Context(), k, i, nil, Normal)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, it)
		}
		return overlaps(all)
	}
	for _, tt := range []struct {
		a, b, at string
		want     float64 // mm; 0: apart
	}{
		{"box: {size: [40, 30, 20]}", "box: {size: [40, 30, 20]}", "[40, 0]", 0}, // they touch
		{"box: {size: [40, 30, 20]}", "box: {size: [40, 30, 20]}", "[36, 0]", 4},
		{"box: {size: [90, 10, 12]}", "box: {size: [10, 90, 12]}", "[0, 0]", 10}, // crossed bars
		{"cylinder: {diameter: 30, height: 20}", "cylinder: {diameter: 30, height: 20}", "[29, 0]", 1},
		{"cylinder: {diameter: 30, height: 20}", "cylinder: {diameter: 30, height: 20}", "[22, 22]", 0}, // boxes meet, rounds do not
	} {
		got := two(tt.a, tt.b, tt.at)
		if (len(got) == 1) != (tt.want > 0) || len(got) == 1 && !(math.Abs(got[0].Depth-tt.want) < 0.15*tt.want+0.2) {
			t.Errorf("%s and %s at %s: %+v, want %g", tt.a, tt.b, tt.at, got, tt.want)
		}
	}
}
