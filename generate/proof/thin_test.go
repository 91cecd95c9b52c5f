package proof

import (
	"math"
	"testing"
)

// A rib as wide as a line is none too thin, one of two thirds is, and is found where it
// stands and as large as it is.
func TestThinRibIsFound(t *testing.T) {
	const line, cell = 0.45, 0.01
	for _, tt := range []struct {
		width float64
		thin  bool
	}{{0.8, false}, {0.55, false}, {0.3, true}, {0.1, true}} {
		w := tt.width / 2
		// A block from -8 to 0 with a rib up to 6.
		f := prism([][2]float64{{0, -w}, {6, -w}, {6, w}, {0, w}, {0, 4}, {-8, 4}, {-8, -4}, {0, -4}}, 0, 1)
		got := JudgeThin(f, 0.5, line, cell)
		if !tt.thin {
			if len(got) > 0 {
				t.Errorf("rib of %g: %v", tt.width, got)
			}
			continue
		}
		if len(got) != 1 {
			t.Errorf("rib of %g: %v, want one piece", tt.width, got)
			continue
		}
		// Either side of the rib is off by half a cell at most, and at its root a disc as
		// wide as a line reaches a little way in.
		if g := got[0]; !(math.Abs(g.Area-6*tt.width) < 6*cell+line*line/4) || g.At.Sub(Vec{3, 0, 0.5}).Len() > 0.3 {
			t.Errorf("rib of %g: %v, want %.2f mm² about 3, 0", tt.width, g, 6*tt.width)
		}
	}
}

// What is left out of a corner of 45 degrees is r² (cot 22.5° - 67.5° in radians), as
// plane geometry has it: not a thin piece.
func TestCornerIsNotThin(t *testing.T) {
	f := prism([][2]float64{{0, 0}, {10, 0}, {10, 10}}, 0, 1)
	if got := JudgeThin(f, 0.5, 0.45, 0.05); len(got) > 0 {
		t.Error(got)
	}
	const r = 0.45 / 2
	want := r * r * (1/math.Tan(math.Pi/8) - 3*math.Pi/8)
	c := cutAt(f, 0.5, 0.01)
	n := 0
	clear := c.distances(func(i int) bool { return !c.in[i] })
	covered := c.distances(func(i int) bool { return clear[i] >= r*r*1e4 })
	for i, in := range c.in {
		x, y := float64(i%c.n[0])*c.cell+c.lo[0], float64(i/c.n[0])*c.cell+c.lo[1]
		if in && x < 2 && y < 2 && covered[i] > r*r*1e4 {
			n++
		}
	}
	if got := float64(n) * c.cell * c.cell; math.Abs(got-want) > 0.15*want {
		t.Errorf("a disc leaves %.4f mm² out of a corner, want %.4f", got, want)
	}
}
