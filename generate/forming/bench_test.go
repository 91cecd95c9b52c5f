package forming

import (
	"context"
	"fmt"
	"math"
	"testing"

	"buckwright/generate/geom"
)

// desk is a block with two pockets about as large as those of the starter kits,
// in a frame of 9 x 12 in.
func desk() Setup {
	b := block{
		half: geom.Vec2{X: 109, Y: 60}, high: 32, draft: 5 * geom.Degree,
		pockets: []well{
			{geom.Vec2{X: -33}, geom.Vec2{X: 62, Y: 35}, 19},
			{geom.Vec2{X: 72}, geom.Vec2{X: 25, Y: 25}, 22},
		},
	}
	return b.shot(firm, 304.8, 228.6)
}

// BenchmarkForm is one shot of the desk former by the edge of an element. The
// cost grows no faster than the number of elements in the sheet, which goes as
// one over the edge squared, to the power 1.5: halving the edge costs at most
// eight times as much.
func BenchmarkForm(b *testing.B) {
	for _, e := range []float64{5, 2.5, 1.25} {
		b.Run(fmt.Sprintf("%gmm", e), func(b *testing.B) {
			s := desk()
			s.Element = e
			b.ReportAllocs()
			for b.Loop() {
				f, err := Form(context.Background(), s)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(f.Element)), "elements")
			}
		})
	}
}

// BenchmarkReference is the machine's own speed: ten million square roots and
// sums, to read the other figures against.
func BenchmarkReference(b *testing.B) {
	sum := 0.0
	for b.Loop() {
		for i := range 10_000_000 {
			sum += math.Sqrt(float64(i) + sum)
		}
	}
	if math.IsNaN(sum) {
		b.Fatal("not a number")
	}
}
