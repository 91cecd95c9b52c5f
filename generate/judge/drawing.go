package judge

import (
	"image"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"
)

// DXF is what ezdxf and GEOS say of a DXF; mm. Grown is the area of the cut
// region after its outline has been moved outwards.
type DXF struct {
	Version       string
	Errors, Fixes int
	Layers        []string
	Cut, Open     int // polylines on the layer CUT, and those of them that are not closed
	Arcs          int
	Invalid       []string // why GEOS takes an outline for no polygon
	Area, Grown   float64
	Low, High     [2]float64
}

// Ezdxf reads and audits a DXF with ezdxf, and measures it with GEOS.
func Ezdxf(t testing.TB, path string, grow float64) DXF {
	t.Helper()
	_, here, _, _ := runtime.Caller(0)
	script := filepath.Join(filepath.Dir(here), "..", "..", "testdata", "judge", "drawing.py")
	var d DXF
	Python(t, &d, []string{"ezdxf", "shapely"}, script, path, strconv.FormatFloat(grow, 'g', -1, 64))
	return d
}

// absent skips a test for want of a program, or fails it where all must be there.
func absent(t testing.TB, what string) {
	t.Helper()
	if dir := os.Getenv(Folder); dir != "" {
		t.Fatalf("there is no %s, and %s=%s wants it", what, Folder, dir)
	}
	t.Skipf("there is no %s; .ci/run installs it and sets %s", what, Folder)
}

// dotsPerInch is how finely drawings are rendered.
const dotsPerInch = 600

// LongestLineSVG renders an SVG with librsvg and gives the length, in mm, of the
// longest dark horizontal line in it.
func LongestLineSVG(t testing.TB, path string) float64 {
	t.Helper()
	out := filepath.Join(t.TempDir(), "svg.png")
	dots := strconv.Itoa(dotsPerInch)
	run(t, "rsvg-convert", "-d", dots, "-p", dots, "-b", "white", path, "-o", out)
	return longestLine(t, out)
}

// LongestLinePDF renders one page of a PDF with poppler and gives the same.
func LongestLinePDF(t testing.TB, path string, page int) float64 {
	t.Helper()
	out := filepath.Join(t.TempDir(), "pdf")
	n := strconv.Itoa(page)
	run(t, "pdftoppm", "-png", "-gray", "-r", strconv.Itoa(dotsPerInch), "-f", n, "-l", n, "-singlefile", path, out)
	return longestLine(t, out+".png")
}

func longestLine(t testing.TB, path string) float64 {
	t.Helper()
	img := pixels(t, path)
	best := 0
	for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
		best = max(best, darkRun(img, y))
	}
	return float64(best) * 25.4 / dotsPerInch
}

// darkRun is the longest run of dark pixels in a row.
func darkRun(img image.Image, y int) int {
	best, n := 0, 0
	for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
		n++
		if r, _, _, _ := img.At(x, y).RGBA(); r > 0xA000 {
			n = 0
		}
		best = max(best, n)
	}
	return best
}
