package outline

import (
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"testing"

	"buckwright/generate/judge"
)

// Drawings made by ezdxf: area, length and size by ezdxf's own flattening and
// shapely's polygons. An outline that is off by d has an area that is off by at
// most d times its length.
func TestDXFAgainstEzdxf(t *testing.T) {
	var all []struct {
		File                              string
		Unit, Area, Length, Width, Height float64
	}
	judge.Python(t, &all, []string{"ezdxf", "shapely"}, "../../testdata/judge/outlines.py", t.TempDir())
	if len(all) < 12 {
		t.Fatalf("only %d drawings", len(all))
	}
	for _, d := range all {
		src, err := os.ReadFile(d.File)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Base(d.File)
		o := mustRead(t, name, string(src), Options{Unit: d.Unit})
		const off = 0.001 // mm on the mean; no place may be more than 0.01
		near(t, name+": area", area(o), d.Area, off*d.Length)
		near(t, name+": width", o.Size().X, d.Width, 0.01)
		near(t, name+": height", o.Size().Y, d.Height, 0.01)
		t.Logf("%s: %d sides, area %.3f, ezdxf has %.3f", name, len(o.Points), area(o), d.Area)
	}
}

// SVG drawings rendered by librsvg: the area is the ink.
func TestSVGAgainstRenderer(t *testing.T) {
	const perMM = 16
	for name, body := range map[string]string{
		"curves":   `<path d="M40 20C80 -20 120 60 160 20S190 100 150 120Q100 150 60 120T20 90z"/>`,
		"arcs":     `<path d="M20 90A60 40 10 0 1 130 80A40 20 -30 0 1 150 130L60 150z"/>`,
		"all arcs": `<path d="M60 60a40 25 30 1 0 40 30zm0 0"/>`,
		"groups":   `<g transform="translate(20 10) scale(.8)"><g transform="rotate(12 80 60) skewX(10)"><rect x="10" y="10" width="120" height="80" rx="20" ry="12"/></g></g>`,
		"ellipse":  `<ellipse transform="matrix(.9 .3 -.2 1 20 -20)" cx="90" cy="70" rx="60" ry="30"/>`,
		"relative": `<path d="m30 30h80v20q20 10 0 20t0 20c0 20-20 10-40 20s-40-10-40-40z"/>`,
	} {
		file := filepath.Join(t.TempDir(), name+".svg")
		src := svgOf(body)
		if err := os.WriteFile(file, []byte(src), 0o644); err != nil {
			t.Fatal(err)
		}
		ink, w, h := inked(t, judge.Picture(t, file, perMM))
		o := mustRead(t, "a.svg", src, Options{})
		near(t, name+": area", area(o), ink/perMM/perMM, 0.001*area(o))
		near(t, name+": width", o.Size().X, w/perMM, 2.0/perMM)
		near(t, name+": height", o.Size().Y, h/perMM, 2.0/perMM)
		t.Logf("%s: %d sides, area %.2f, ink %.2f", name, len(o.Points), area(o), ink/perMM/perMM)
	}
}

// inked adds up the opacity of a picture, in pixels, and the size of what is drawn.
func inked(t *testing.T, img image.Image) (ink, width, height float64) {
	t.Helper()
	b := img.Bounds()
	if want := fmt.Sprint(1600, 1280); fmt.Sprint(b.Dx(), b.Dy()) != want {
		t.Fatalf("the picture has %d x %d pixels, want %s", b.Dx(), b.Dy(), want)
	}
	lo, hi := [2]int{math.MaxInt, math.MaxInt}, [2]int{}
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			_, _, _, a := img.At(x, y).RGBA()
			if a == 0 {
				continue
			}
			ink += float64(a) / 0xffff
			lo, hi = [2]int{min(lo[0], x), min(lo[1], y)}, [2]int{max(hi[0], x+1), max(hi[1], y+1)}
		}
	}
	return ink, float64(hi[0] - lo[0]), float64(hi[1] - lo[1])
}
