package outline

import (
	"bytes"
	"io"
	"testing"

	"buckwright/generate/export"
	"buckwright/generate/geom"
	"buckwright/generate/pattern"
)

// The flats that are written for the cutter read back, by their layer, with the
// same corners and arcs.
func TestOwnFlatsReadBack(t *testing.T) {
	p := pattern.Path{P: []geom.Vec2{{X: 0, Y: 0}, {X: 70, Y: 0}, {X: 70, Y: 30}, {X: 0, Y: 30}}, B: []float64{0, 0.4, 0, 0.4}}
	d := pattern.Drawing{Title: "label", Lines: []pattern.Line{
		{Layer: pattern.LayerNote, Path: pattern.Path{P: []geom.Vec2{{X: 0, Y: -9}, {X: 100, Y: -9}}}, Open: true},
		{Layer: pattern.LayerCut, Path: p},
		{Layer: pattern.LayerMark, Path: pattern.Path{P: []geom.Vec2{{X: 5, Y: 5}, {X: 9, Y: 5}, {X: 9, Y: 9}}}},
	}, Texts: []pattern.Text{{At: geom.Vec2{X: 0, Y: -20}, Height: 3, Words: "label"}}}
	for name, write := range map[string]func(io.Writer, pattern.Drawing) error{"label.dxf": export.WriteDXF, "label.svg": export.WriteSVG} {
		var b bytes.Buffer
		if err := write(&b, d); err != nil {
			t.Fatal(err)
		}
		o := mustRead(t, name, b.String(), Options{Layer: "cut"})
		if len(o.Points) != len(p.P) {
			t.Errorf("%s: %d sides, want %d", name, len(o.Points), len(p.P))
			continue
		}
		want := Outline{p.P, p.B}
		near(t, name+": area", area(o), area(want), 0.01)
		near(t, name+": width", o.Size().X, want.Size().X, 1e-3)
		near(t, name+": height", o.Size().Y, want.Size().Y, 1e-3)
		if _, err := Read(name, b.Bytes(), Options{}); err == nil {
			t.Errorf("%s: the whole drawing is taken for one outline", name)
		}
	}
}

func TestLayers(t *testing.T) {
	two := `<g id="frame"><rect width="90" height="90"/></g><g xmlns:d="urn:x" d:label="Body"><g transform="scale(2)"><rect width="20" height="10"/></g></g><rect width="3" height="3"/>`
	near(t, "group by its label", mustRead(t, "a.svg", svgOf(two), Options{Layer: "body"}).Size().X, 20, 1e-9)
	near(t, "group by its id", mustRead(t, "a.svg", svgOf(two), Options{Layer: "frame"}).Size().X, 45, 1e-9)
	both := g(0, "CIRCLE", 8, "HOLES", 10, 7, 20, 7, 40, 3) + g(0, "CIRCLE", 8, "OUT", 10, 7, 20, 7, 40, 10)
	near(t, "DXF layer", mustRead(t, "a.dxf", dxfOf(both), Options{Layer: "Out"}).Size().X, 20, 1e-9)
	for name, src := range map[string]string{"a.svg": svgOf(two), "a.dxf": dxfOf(both)} {
		if _, err := Read(name, []byte(src), Options{Layer: "none"}); err == nil || err.Error() != name+`: nothing that has an outline is on layer "none"` {
			t.Errorf("%v", err)
		}
	}
}
