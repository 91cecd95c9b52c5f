package export

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/judge"
	"buckwright/generate/pattern"
)

// piece is a flat with arcs both ways, a hole and a mark.
func piece(t testing.TB, kerf float64) pattern.Flat {
	t.Helper()
	f := pattern.Flat{
		Name: "felt-wall-α", Title: `felt for the "wall" <&> of café`, Count: 2,
		Material: pattern.Material{Kind: "felt", Title: "wool felt", Thickness: 2, Grain: "roll"},
		Shape: pattern.Shape{
			Outer: pattern.Path{
				P: []geom.Vec2{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 30}, {X: 40, Y: 30}, {X: 20, Y: 30}, {X: 0, Y: 30}},
				B: []float64{0, 0.4, 0, -0.5, 0, 0},
			},
			Holes: []pattern.Path{pattern.Circle(geom.Vec2{X: 15, Y: 12}, 6)},
		},
		Marks: []pattern.Mark{{Text: "fold", Path: pattern.Straight(geom.Vec2{X: 5, Y: 2}, geom.Vec2{X: 55, Y: 2}), Open: true}},
		Notes: []string{"a note that is long enough to be set in more than one line, because the block under a small flat is only as wide as its scale bar"},
	}
	f.Ready(pattern.Cutter{Name: "laser", Kerf: kerf}, "")
	if f.Refused != "" {
		t.Fatal(f.Refused)
	}
	return f
}

func drawn(t testing.TB, name string, write func(io.Writer, pattern.Drawing) error, d pattern.Drawing) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	var b bytes.Buffer
	if err := write(&b, d); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// Kerf by area: GEOS grows the cut of no kerf by half of it, and must find what
// we cut; arcs are chords of half a degree there.
func TestDXFAgainstEzdxfAndGEOS(t *testing.T) {
	const kerf = 0.3
	plain, cut := piece(t, 0), piece(t, kerf)
	before := judge.Ezdxf(t, drawn(t, "plain.dxf", WriteDXF, pattern.Draw(&plain)), kerf/2)
	got := judge.Ezdxf(t, drawn(t, "cut.dxf", WriteDXF, pattern.Draw(&cut)), 0)
	if got.Version != "AC1009" || got.Errors != 0 || got.Fixes != 0 || got.Open != 0 || len(got.Invalid) != 0 || got.Cut != 2 || got.Arcs == 0 {
		t.Errorf("%+v", got)
	}
	lo, hi := cut.Bounds()
	for _, e := range [][2]float64{{got.Low[0], lo.X}, {got.Low[1], lo.Y}, {got.High[0], hi.X}, {got.High[1], hi.Y}} {
		if math.Abs(e[0]-e[1]) > 0.01 {
			t.Errorf("extents %v to %v, want %v to %v", got.Low, got.High, lo, hi)
			break
		}
	}
	for _, e := range []struct {
		what      string
		got, want float64
	}{{"area", got.Area, cut.Cut.Area()}, {"area before the kerf", before.Area, plain.Shape.Area()}, {"area with the kerf", before.Grown, cut.Cut.Area()}} {
		if math.Abs(e.got-e.want) > 2e-4*e.want {
			t.Errorf("%s: GEOS %.3f, ours %.3f mm²", e.what, e.got, e.want)
		}
	}
}

// Strokes are 0.2 mm wide, so that the bar with its end ticks is dark over 100.2.
func TestScaleBarIsTrue(t *testing.T) {
	f := piece(t, 0)
	d := pattern.Draw(&f)
	const want, tol = 100.2, 0.1
	if got := judge.LongestLineSVG(t, drawn(t, "f.svg", WriteSVG, d)); math.Abs(got-want) > tol {
		t.Errorf("SVG: the bar is %.2f mm, want %.1f", got, want)
	}
	if got := judge.LongestLinePDF(t, drawn(t, "f.pdf", WritePDF, d), 1); math.Abs(got-want) > tol {
		t.Errorf("PDF: the bar is %.2f mm, want %.1f", got, want)
	}
	wide := pattern.Drawing{Title: "wide", Lines: []pattern.Line{{Layer: pattern.LayerCut, Path: pattern.Circle(geom.Vec2{}, 220)}}}
	if got := judge.LongestLinePDF(t, drawn(t, "w.pdf", WritePDF, wide), 4); math.Abs(got-want) > tol {
		t.Errorf("a page in the middle of several: the bar is %.2f mm, want %.1f", got, want)
	}
}

func TestDrawingsAreTheSameTwice(t *testing.T) {
	for name, write := range map[string]func(io.Writer, pattern.Drawing) error{"dxf": WriteDXF, "svg": WriteSVG, "pdf": WritePDF} {
		var a, b bytes.Buffer
		f, g := piece(t, 0.2), piece(t, 0.2)
		if err := write(&a, pattern.Draw(&f)); err != nil {
			t.Fatal(err)
		}
		if err := write(&b, pattern.Draw(&g)); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: the same flat gives other bytes", name)
		}
	}
}

func TestWordsAreEscaped(t *testing.T) {
	f := piece(t, 0)
	d := pattern.Draw(&f)
	var svg, dxf, pdf bytes.Buffer
	for _, err := range []error{WriteSVG(&svg, d), WriteDXF(&dxf, d), WritePDF(&pdf, d)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for dec := xml.NewDecoder(&svg); ; {
		if _, err := dec.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal("SVG: ", err)
		}
	}
	for i := range dxf.Bytes() {
		if dxf.Bytes()[i] > 126 {
			t.Fatalf("DXF: byte %d is not ASCII", i)
		}
	}
	if !strings.Contains(dxf.String(), `felt-wall-\U+03B1`) {
		t.Error("DXF: the letter outside ASCII is not escaped")
	}
	if !strings.Contains(pdf.String(), `felt-wall-?`) || !strings.Contains(pdf.String(), `caf\351`) {
		t.Error("PDF: letters are not those of its encoding")
	}
}

// Every page shows its part: the pages together cover the drawing.
func TestTilesCover(t *testing.T) {
	for _, size := range []geom.Vec2{{X: 50, Y: 60}, {X: 190, Y: 245.4}, {X: 190.1, Y: 245.4}, {X: 600, Y: 420}, {X: 240, Y: 150}} {
		ti := tiles(size)
		in := ti.inside()
		if w := float64(ti.cols)*(in.X-pageOverlap) + pageOverlap; w < size.X {
			t.Errorf("%v: %d columns show %.1f mm", size, ti.cols, w)
		}
		if h := float64(ti.rows)*(in.Y-pageOverlap) + pageOverlap; h < size.Y {
			t.Errorf("%v: %d rows show %.1f mm", size, ti.rows, h)
		}
	}
}
