package fit

import (
	"math"
	"testing"
)

// Worked values for a drop from 760 mm, the height of ISTA 1A below 10 kg.
func TestDropBounds(t *testing.T) {
	near(t, "6 mm", LeastShock(760, 6), 126.7, .05)
	near(t, "spring", springShock(760, 1000, 50), 89.04, .005)
}

// Energy balance on felt with P0 93.3 kPa, 500 g on 7200 mm².
func TestLanding(t *testing.T) {
	for _, tt := range []struct{ free, height, e, shock float64 }{
		{6, 760, .48936, 891.9}, {12, 760, .39332, 476.5}, {6, 300, .36243, 391.6},
	} {
		e, shock := felt.Landing(tt.height, 500, 7200, tt.free)
		near(t, "e", e, tt.e, 1e-4)
		near(t, "shock", shock, tt.shock, .5)
		if shock < LeastShock(tt.height, tt.free) {
			t.Errorf("%g G beats the ideal cushion", shock)
		}
	}
}

// springShock is the deceleration, in G, on a linear spring: stiffness in N/mm,
// mass in grams, height in mm. Energy balance.
func springShock(height, mass, stiffness float64) float64 {
	return 1 + math.Sqrt(1+2*stiffness*height/Weight(mass))
}

// A law with a straight line is a spring: its landing must be the spring's.
func TestLandingOnALine(t *testing.T) {
	const height, mass, area, free = 100, 200, 5000, 10
	stiffness := open.P / .25 / 1000 * area / free
	_, shock := open.Landing(height, mass, area, free)
	near(t, "shock", shock, springShock(height, mass, stiffness), 1e-6*shock)
}
