package mesh

import (
	"context"
	"math"
	"testing"

	"buckwright/generate/sdf"
)

// A tube's section is its outside counter-clockwise and its bore clockwise:
// the signed areas add up to the ring's.
func TestSectionKeepsTheSolidOnItsLeft(t *testing.T) {
	tube := sdf.Difference(sdf.Prism(sdf.Disc(10), 0, 8), sdf.Prism(sdf.Disc(4), -1, 9))
	m, err := Contour(context.Background(), tube, Options{Tol: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	loops := m.Section(3)
	if len(loops) != 2 {
		t.Fatalf("%d outlines, want 2", len(loops))
	}
	sum := 0.0
	for _, l := range loops {
		for i, p := range l {
			q := l[(i+1)%len(l)]
			sum += (p.X*q.Y - q.X*p.Y) / 2
		}
	}
	if want := 84 * math.Pi; math.Abs(sum-want) > 0.01*want {
		t.Errorf("signed area %.2f, want %.2f", sum, want)
	}
}
