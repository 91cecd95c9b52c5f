package outline

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

func mustRead(t *testing.T, name, src string, o Options) Outline {
	t.Helper()
	out, err := Read(name, []byte(src), o)
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, src)
	}
	if _, err := sdf.Polygon(out.Points, out.Bulge); err != nil {
		t.Fatalf("%s: %v\n%s", name, err, src)
	}
	return out
}

func area(o Outline) (sum float64) {
	for _, s := range o.sides() {
		sum += s.area()
	}
	return sum
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %.9g, want %.9g +- %g", what, got, want, within)
	}
}

// svgOf is a drawing of 100 x 80 mm whose units are half millimetres.
func svgOf(body string) string {
	return `<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 200 160">` + "\n" + body + `</svg>`
}

// Areas and sizes by plane geometry.
func TestSVGShapes(t *testing.T) {
	for name, tt := range map[string]struct {
		body       string
		w, h, area float64
		sides      int
	}{
		"triangle":         {`<path d="M10 10h60l-60 40z"/>`, 30, 20, 300, 3},
		"relative, packed": {`<path d="m10,10 60,0-60 40.0e0z"/>`, 30, 20, 300, 3},
		"polygon":          {`<polygon points="0,0 40,0 40,20 0,20"/>`, 20, 10, 200, 4},
		"polyline closed":  {`<polyline points="0,0 40,0 40,20 0,20 0 0"/>`, 20, 10, 200, 4},
		"rect":             {`<rect x="3" y="4" width="40" height="20"/>`, 20, 10, 200, 4},
		"rect in mm":       {`<rect width="20mm" height="10mm"/>`, 20 * 96 / 25.4 / 2, 10 * 96 / 25.4 / 2, 50 * 96 / 25.4 * 96 / 25.4, 4},
		"rounded rect":     {`<rect width="40" height="20" rx="6"/>`, 20, 10, 200 - (4-math.Pi)*9, 8},
		"rect as slot":     {`<rect width="40" height="20" ry="10"/>`, 20, 10, 200 - (4-math.Pi)*25, 6},
		"circle":           {`<circle cx="50" cy="50" r="20"/>`, 20, 20, math.Pi * 100, 4},
		"arcs as circle":   {`<path d="M20 50a20 20 0 1060 0a20 20 0 10-60 0"/>`, 30, 30, math.Pi * 225, 4},
		"packed flags":     {`<path d="M30 50A20 20 0 0170 50A20 20 0 0130 50z"/>`, 20, 20, math.Pi * 100, 4},
		"group turned":     {`<g transform="translate(90 90) rotate(90)"><rect width="40" height="20"/></g>`, 10, 20, 200, 4},
		"group mirrored":   {`<g transform="scale(-1,1)"><path d="M0 0h40a10 10 0 010 20h-40z"/></g>`, 25, 10, 200 + math.Pi*12.5, 5},
		"matrix":           {`<path transform="matrix(0 2 -2 0 90 0)" d="M0 0h20v10h-20z"/>`, 10, 20, 200, 4},
		"rotate about":     {`<rect transform="rotate(90, 20, 10)" width="40" height="20"/>`, 10, 20, 200, 4},
		"skewed":           {`<rect transform="skewX(45)" width="40" height="20"/>`, 30, 10, 200, 4},
		"hidden, defs, text": {`<defs><rect width="9" height="9"/></defs><g style="display: none"><rect width="9" height="9"/></g><text x="1">A<tspan>B</tspan></text>
			<clipPath id="a"><rect width="5" height="5"/></clipPath><rect width="40" height="20"><title>outside</title></rect>`, 20, 10, 200, 4},
		"pieces": {`<path d="M0 0H40"/><path d="M0 20H40"/><path d="M40 0V20"/><line x1="0" y1="20" x2="0" y2="0"/>`, 20, 10, 200, 4},
	} {
		o := mustRead(t, "a.svg", svgOf(tt.body), Options{})
		near(t, name+": width", o.Size().X, tt.w, 1e-6)
		near(t, name+": height", o.Size().Y, tt.h, 1e-6)
		near(t, name+": area", area(o), tt.area, 1e-5)
		if len(o.Points) != tt.sides {
			t.Errorf("%s: %d sides, want %d", name, len(o.Points), tt.sides)
		}
	}
}

// SVG's y runs down, ours up: what is drawn at the top stays at the top.
func TestSVGIsNotMirrored(t *testing.T) {
	o := mustRead(t, "a.svg", svgOf(`<path d="M0 0H40V10H20V40H0z"/>`), Options{}) // the long side on top, its tail at the left
	top, right := math.Inf(-1), math.Inf(-1)
	for _, p := range o.Points {
		top, right = max(top, p.Y), max(right, p.X)
	}
	found := false
	for _, p := range o.Points {
		found = found || p == geom.Vec2{X: right, Y: top}
	}
	if !found || area(o) < 0 {
		t.Errorf("%v, area %g", o.Points, area(o))
	}
}

// A cubic with control points at 4/3 tan(90/4) is a quarter circle within 0.00027
// of its radius (Goldapp 1991): its area is the circle's, but for that.
func TestCurvesAreFollowed(t *testing.T) {
	const k = 0.5522847498307936
	c := func(r float64) string {
		return fmt.Sprintf("M%g 0C%g %g %g %g 0 %gS%g %g %g 0S%g %g 0 %gS%g %g %g 0z", r, r, k*r, k*r, r, r, -r, k*r, -r, -k*r, -r, -r, r, -k*r, r)
	}
	o := mustRead(t, "a.svg", svgOf(`<g transform="translate(100 80)"><path d="`+c(60)+`"/></g>`), Options{})
	near(t, "area of a circle of Béziers", area(o), math.Pi*900, math.Pi*900*2*0.00028)
	if n := len(o.Points); n > 32 {
		t.Errorf("%d sides for a circle of four cubics", n)
	}
	for name, tt := range map[string]struct {
		c      curve
		t0, t1 float64
	}{
		"S":        {cubic{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: -20, Y: 40}, {X: 40, Y: 40}}, 0, 1},
		"tight":    {cubic{{X: 0, Y: 0}, {X: 90, Y: 1}, {X: -50, Y: 1}, {X: 40, Y: 0}}, 0, 1},
		"at rest":  {cubic{{X: 0, Y: 0}, {X: 0, Y: 0}, {X: 30, Y: 20}, {X: 30, Y: 20}}, 0, 1},
		"half":     {cubic{{X: 0, Y: 0}, {X: 0, Y: 30}, {X: 30, Y: 30}, {X: 30, Y: 0}}, 0, 1},
		"ellipse":  {ellipse{geom.Vec2{}, geom.Vec2{X: 60}, geom.Vec2{Y: 8}}, 0, 2 * math.Pi},
		"slanted":  {ellipse{geom.Vec2{}, geom.Vec2{X: 30, Y: 10}, geom.Vec2{X: 5, Y: 20}}, 1, 4},
		"backward": {ellipse{geom.Vec2{}, geom.Vec2{X: 30, Y: 10}, geom.Vec2{X: 5, Y: 20}}, 4, 1},
		"straight": {cubic{{X: 0, Y: 0}, {X: 10, Y: 10}, {X: 20, Y: 20}, {X: 30, Y: 30}}, 0, 1},
	} {
		sides := arcs(nil, tt.c, tt.t0, tt.t1)
		worst := 0.0
		for i := range 20001 {
			p := tt.c.at(tt.t0 + (tt.t1-tt.t0)*float64(i)/20000)
			least := math.Inf(1)
			for _, s := range sides {
				least = min(least, s.dist(p))
			}
			worst = max(worst, least)
		}
		if !(worst <= 0.01) {
			t.Errorf("%s: %g mm off with %d sides", name, worst, len(sides))
		}
		corner := 0.0
		for i := 1; i < len(sides); i++ {
			corner = max(corner, math.Abs(ending(sides[i-1]).Cross(ending(sides[i].reversed()).Scale(-1))))
		}
		if name != "tight" && !(corner < 1e-6) {
			t.Errorf("%s: a corner of sine %g inside the curve", name, corner)
		}
		t.Logf("%s: %d sides, %.4f mm off, corner %.2g", name, len(sides), worst, corner)
	}
}

// ending is the direction in which a side ends.
func ending(s side) geom.Vec2 {
	c := s.to.Sub(s.from).Unit()
	sin, cos := math.Sincos(s.sweep() / 2)
	return geom.Vec2{X: c.X*cos - c.Y*sin, Y: c.X*sin + c.Y*cos}
}

// dxfOf is an R12 drawing in mm.
func dxfOf(entities string) string {
	return "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + entities + "0\nENDSEC\n0\nEOF\n"
}

// g writes groups: code, value, code, value.
func g(v ...any) string {
	var b strings.Builder
	for _, x := range v {
		fmt.Fprintln(&b, x)
	}
	return b.String()
}

func line(x0, y0, x1, y1 float64) string {
	return g(0, "LINE", 8, 0, 10, x0, 20, y0, 11, x1, 21, y1)
}

func TestDXFEntities(t *testing.T) {
	vertex := func(x, y, bulge float64) string { return g(0, "VERTEX", 10, x, 20, y, 42, bulge) }
	for name, tt := range map[string]struct {
		body       string
		w, h, area float64
		sides      int
	}{
		"lines in any order": {line(0, 0, 20, 0) + line(0, 10, 20, 10) + line(20, 10, 20, 0) + line(0, 0, 0, 10), 20, 10, 200, 4},
		"slot of lines and arcs": {line(0, 0, 20, 0) + g(0, "ARC", 10, 20, 20, 5, 40, 5, 50, 270, 51, 90) +
			line(20, 10, 0, 10) + g(0, "ARC", 10, 0, 20, 5, 40, 5, 50, 90, 51, 270), 30, 10, 200 + math.Pi*25, 6},
		"circle":            {g(0, "CIRCLE", 10, 7, 20, 7, 40, 10), 20, 20, math.Pi * 100, 4},
		"lwpolyline":        {g(0, "LWPOLYLINE", 90, 4, 70, 1, 10, 0, 20, 0, 10, 20, 20, 0, 42, 1, 10, 20, 20, 10, 10, 0, 20, 10), 25, 10, 200 + math.Pi*12.5, 4},
		"two bulges":        {g(0, "LWPOLYLINE", 90, 2, 70, 1, 10, 0, 20, 0, 42, 1, 10, 20, 20, 0, 42, 1), 20, 20, math.Pi * 100, 4},
		"polyline of R12":   {g(0, "POLYLINE", 66, 1, 70, 1) + vertex(0, 0, 0) + vertex(20, 0, 0) + vertex(20, 10, 0) + vertex(0, 10, 1) + g(0, "SEQEND"), 25, 10, 200 + math.Pi*12.5, 4},
		"closed by its end": {g(0, "POLYLINE", 66, 1, 70, 0) + vertex(0, 0, 0) + vertex(20, 0, 0) + vertex(20, 10, 0) + vertex(0, 0, 0) + g(0, "SEQEND"), 20, 10, 100, 3},
		"seen from below":   {g(0, "LWPOLYLINE", 90, 4, 70, 1, 230, -1, 10, 0, 20, 0, 10, 20, 20, 0, 42, 1, 10, 20, 20, 10, 10, 0, 20, 10), 25, 10, 200 + math.Pi*12.5, 4},
		"beside paper space": {g(0, "CIRCLE", 67, 1, 10, 7, 20, 7, 40, 3) + g(0, "CIRCLE", 10, 7, 20, 7, 40, 10) +
			g(0, "TEXT", 10, 0, 20, 0, 40, 3, 1, "outside"), 20, 20, math.Pi * 100, 4},
		"ellipse": {g(0, "ELLIPSE", 10, 0, 20, 0, 11, 20, 21, 0, 40, 0.4, 41, 0, 42, 2*math.Pi), 40, 16, math.Pi * 20 * 8, -1},
		"spline square": {g(0, "SPLINE", 70, 8, 71, 1, 40, 0, 40, 0, 40, 1, 40, 2, 40, 3, 40, 4, 40, 4, 10, 0, 20, 0, 10, 20, 20, 0, 10, 20, 20, 20, 10, 0, 20, 20, 10, 0, 20, 0),
			20, 20, 400, -1},
	} {
		o := mustRead(t, "a.dxf", dxfOf(tt.body), Options{})
		near(t, name+": width", o.Size().X, tt.w, 1e-3)
		near(t, name+": height", o.Size().Y, tt.h, 1e-3)
		near(t, name+": area", area(o), tt.area, 2e-4*tt.area)
		if tt.sides > 0 && len(o.Points) != tt.sides {
			t.Errorf("%s: %d sides, want %d", name, len(o.Points), tt.sides)
		}
	}
}

func TestUnits(t *testing.T) {
	const rect = `<rect width="40" height="20"/></svg>`
	for _, tt := range []struct {
		name, src string
		unit      float64
		width     float64
	}{
		{"a.svg", `<svg width="4in" viewBox="0 0 80 40">` + rect, 0, 50.8},
		{"a.svg", `<svg height="5cm" viewBox="0 0 80 40">` + rect, 0, 50},
		{"a.svg", `<svg width="50mm" height="50mm">` + rect, 0, 40 * 25.4 / 96},
		{"a.svg", `<svg width="90mm" height="40mm" viewBox="0 0 80 40">` + rect, 0, 40}, // fits, as it is shown
		{"a.svg", `<svg viewBox="0 0 80 40">` + rect, 25.4, 1016},
		{"a.svg", `<svg width="4in" viewBox="0 0 80 40">` + rect, 1, 40},
		{"a.dxf", strings.Replace(dxfOf(g(0, "CIRCLE", 10, 0, 20, 0, 40, 0.5)), "70\n4", "70\n1", 1), 0, 25.4},
		{"a.dxf", strings.Replace(dxfOf(g(0, "CIRCLE", 10, 0, 20, 0, 40, 0.05)), "70\n4", "70\n6", 1), 0, 100},
		{"a.dxf", strings.Replace(dxfOf(g(0, "CIRCLE", 10, 0, 20, 0, 40, 5)), "70\n4", "70\n0", 1), 10, 100},
	} {
		if tt.width > largest {
			if _, err := Read(tt.name, []byte(tt.src), Options{Unit: tt.unit}); err == nil {
				t.Errorf("%s: an outline of %g mm is taken", tt.src, tt.width)
			}
			continue
		}
		near(t, tt.src, mustRead(t, tt.name, tt.src, Options{Unit: tt.unit}).Size().X, tt.width, 1e-6)
	}
}

func TestProblems(t *testing.T) {
	rect := line(0, 0, 20, 0) + line(20, 0, 20, 10) + line(20, 10, 0, 10)
	for _, tt := range []struct{ name, src, want string }{
		{"a.svg", "", "a.svg: the file is empty"},
		{"a.svg", "<svg width='5mm'", "a.svg:1: not well-formed XML"},
		{"a.svg", "hello", "a.svg: no svg element in it"},
		{"a.svg", "<html></html>", `a.svg:1: the first element is "html", not svg`},
		{"a.svg", svgOf(""), "a.svg: nothing is drawn"},
		{"a.svg", `<svg width="200" height="100"><rect width="9" height="9"/></svg>`, "a.svg: the drawing does not say in which unit"},
		{"a.svg", `<svg viewBox="0 0 9 9"><rect width="9" height="9"/></svg>`, "a.svg: the drawing does not say in which unit"},
		{"a.svg", svgOf(`<path d="M0 0H40V20H0"/>`), "a.svg:2: the outline is open at (0, 10) mm: 10 mm to the next end"},
		{"a.svg", svgOf(`<rect width="40" height="20"/><circle cx="9" cy="9" r="4"/>`), "a.svg:2: a second closed path; the first is at line 2"},
		{"a.svg", svgOf(`<path d="M0 0H40V20H0zM5 5h9v9h-9z"/>`), "a second closed path"},
		{"a.svg", svgOf(`<path d="M0 0H40V20H0z"/><path d="M50 50h9"/>`), "the outline is open"},
		{"a.svg", svgOf(`<path d="M0 0L40"/>`), `path data cannot be read at ""`},
		{"a.svg", svgOf(`<path d="L4 4"/>`), "does not begin with a move"},
		{"a.svg", svgOf(`<path d="M0 0L4 nan"/>`), `path data cannot be read at "nan"`},
		{"a.svg", svgOf(`<path d="M0 0A5 5 0 2 0 9 9"/>`), "path data cannot be read"},
		{"a.svg", svgOf(`<rect width="40%" height="20"/>`), `width of the rect, "40%", is no length`},
		{"a.svg", svgOf(`<g transform="spin(4)"><rect width="4" height="2"/></g>`), `the transform "spin(4)" cannot be read`},
		{"a.svg", svgOf(`<rect style="fill:red; transform: rotate(9deg)" width="40" height="20"/>`), "a.svg:2: a transform in a style is not followed"},
		{"a.svg", svgOf(`<use href="#a"/>`), "a copied or nested drawing (use) is not followed"},
		{"a.svg", svgOf(`<path d="M0 0h0.1v0.1z"/>`), "too small for an item"},
		{"a.svg", svgOf(`<path d="M0 0H4000V20z"/>`), "the drawing is 2000 x 10 mm, too large for an item"},
		{"a.svg", svgOf(`<path d="M0 0H40L0 0z"/>`), "the outline has no area to speak of"},
		{"a.svg", `<svg width="10mm" viewBox="0 0 x 4"/>`, `viewBox "0 0 x 4" is not four numbers`},
		{"a.svg", `<svg width="10mm" height="10mm" preserveAspectRatio="none" viewBox="0 0 9 4"/>`, "the drawing is stretched"},
		{"a.svg", svgOf("<path d='M0 0" + strings.Repeat("L1 1L0 9", 3000) + "'/>"), "more than 5000 sides"},
		{"a.dxf", "0\nSECTION\n2\nENTITIES\n", "a.dxf:4: the file is cut short"},
		{"a.dxf", "hello\nworld\n", `a.dxf:1: "hello" stands where a group code must be`},
		{"a.dxf", "AutoCAD Binary DXF\r\n\x1a\x00", "a.dxf: binary DXF is not read"},
		{"a.dxf", strings.Replace(dxfOf(rect), "70\n4", "70\n0", 1), "a.dxf: the drawing does not say in which unit"},
		{"a.dxf", dxfOf(""), "nothing is drawn"},
		{"a.dxf", dxfOf(rect), "the outline is open at (0, 10) mm: 10 mm to the next end"},
		{"a.dxf", dxfOf(rect + line(0, 10, 0, 0.5)), "the outline is open at (0, 0.5) mm: 0.5 mm to the next end"},
		{"a.dxf", dxfOf(rect + line(0, 10, 0, 0) + line(0, 10, -5, 0)), "three lines meet at (0, 10) mm"},
		{"a.dxf", dxfOf(rect + line(0, 10, 0, 0) + g(0, "CIRCLE", 10, 5, 20, 5, 40, 2)), "a second closed path"},
		{"a.dxf", dxfOf(g(0, "INSERT", 2, "part")), "a block (INSERT) is not followed"},
		{"a.dxf", dxfOf(g(0, "3DFACE", 10, 1)), `an entity of kind "3DFACE" is not followed`},
		{"a.dxf", dxfOf(g(0, "CIRCLE", 10, 5, 20, 5)), "the CIRCLE lacks group 40"},
		{"a.dxf", dxfOf(g(0, "CIRCLE", 10, 5, 20, 5, 40, "big")), `"big" is no number to draw with`},
		{"a.dxf", dxfOf(g(0, "CIRCLE", 10, "NaN", 20, 5, 40, 4)), `"NaN" is no number to draw with`},
		{"a.dxf", dxfOf(g(0, "CIRCLE", 10, 5, 20, 5, 40, 4, 210, 1, 230, 0)), "tilted out of the plane"},
		{"a.dxf", dxfOf(g(0, "CIRCLE", 10, 5, 20, 5, 40, 0.06)), "the drawing is 0.12 x 0.12 mm, too small for an item"},
		{"a.dxf", dxfOf(g(0, "SPLINE", 71, 3, 11, 5, 21, 5)), "fit points only"},
		{"a.dxf", dxfOf(g(0, "SPLINE", 71, 3, 10, 5, 20, 5, 40, 1)), "do not fit together"},
		{"a.pdf", "%PDF", "this kind of drawing is not read"},
	} {
		_, err := Read("some/folder/"+tt.name, []byte(tt.src), Options{})
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(err.Error(), tt.want) || e.Hint == "" {
			t.Errorf("%.80q:\n%v (%+v), want %q", tt.src, err, e, tt.want)
		}
	}
}

// FuzzRead: whatever the bytes, there is an error or an outline of finite
// corners within the limits.
func FuzzRead(f *testing.F) {
	f.Add("a.svg", svgOf(`<path d="M0 0C9 9 9 0 40 0s9 9 4 9q1 1 2 2t3 3a4 5 6 0 1 9 30z"/>`))
	f.Add("a.svg", svgOf(`<g transform="rotate(9)scale(2)"><rect width="40" height="20" rx="3"/></g>`))
	f.Add("a.dxf", dxfOf(g(0, "LWPOLYLINE", 70, 1, 10, 0, 20, 0, 42, 1, 10, 20, 20, 0)))
	f.Add("a.dxf", dxfOf(g(0, "SPLINE", 71, 2, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 1, 10, 0, 20, 0, 10, 9, 20, 9, 10, 9, 20, 0)+line(9, 0, 0, 0)))
	f.Fuzz(func(t *testing.T, name, src string) {
		o, err := Read(name, []byte(src), Options{})
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Hint == "" {
				t.Fatalf("%v has no hint", err)
			}
			return
		}
		size := o.Size()
		if len(o.Points) < 3 || len(o.Points) > 2*mostSides || len(o.Bulge) != len(o.Points) || !(max(size.X, size.Y) <= largest*1.001) || !(area(o) > 0.9) {
			t.Fatalf("%d points, size %v, area %g", len(o.Points), size, area(o))
		}
		for i, p := range o.Points {
			if !(math.Abs(p.X)+math.Abs(p.Y)+math.Abs(o.Bulge[i]) < 1e12) {
				t.Fatalf("point %d is %v, bulge %g", i, p, o.Bulge[i])
			}
		}
	})
}
