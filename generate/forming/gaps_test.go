package forming

import (
	"fmt"
	"math"
	"testing"

	"buckwright/generate/geom"
)

// What full vacuum leaves open along the foot of a slot is a quarter of a round:
// its radius is the tension over the pressure (Laplace), mu h0 (l - l^-3) / p for
// a neo-Hookean sheet in plane strain, l = h0/h.
func TestOpenCornerIsAQuarterRound(t *testing.T) {
	slot := hollow{half: 25, slope: 90 * geom.Degree, depth: 15, trough: true}
	for _, mu := range []float64{150, 250} {
		s := shotOver(slot, Law{Kind: NeoHookean, Mu: []float64{mu}}, 70, 160)
		f := form(t, s)
		if len(f.Open) == 0 {
			t.Fatalf("mu %g kPa: nothing is left open", mu)
		}
		stretch := 1 / f.ThicknessAt(geom.V(25-1.5, 0, -15+1.5))
		want := mu * (stretch - math.Pow(stretch, -3)) / s.Vacuum
		n := 0.0
		var sum float64
		for i, p := range f.Node {
			if math.Abs(p.Y) < 20 && f.Gap[i] > 0.1 {
				q := geom.Vec2{X: 25 - math.Abs(p.X), Y: p.Z + 15} // from the corner
				// the round through q that touches both faces
				r := q.X + q.Y + math.Sqrt(2*q.X*q.Y)
				sum, n = sum+r, n+1
			}
		}
		within(t, fmt.Sprintf("radius along the slot's foot at %g kPa (%g nodes)", mu, n), sum/n, want, 0.07)
		within(t, "radius that is told", f.Open[0].Radius, want, 0.2)
	}
}
