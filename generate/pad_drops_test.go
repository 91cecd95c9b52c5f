package generate

import (
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// A ball of radius R lies R - sqrt(R² - r²) lower at r from its top than at it.
func TestDropOfABall(t *testing.T) {
	const radius, high = 20.0, 30.0
	ball := sdf.Capsule(geom.V(0, 0, high-radius), geom.V(0, 0, high-radius+1e-9), radius)
	for _, r := range []float64{0, 1, 5, 12, 19} {
		want := radius - math.Sqrt(radius*radius-r*r)
		if got := drop(ball, geom.V(r, 0, high), 50); !(math.Abs(got-want) < 0.01) {
			t.Errorf("%g mm from the top it lies %g lower, want %g", r, got, want)
		}
	}
	if got := drop(ball, geom.V(25, 0, high), 50); !math.IsInf(got, 1) {
		t.Errorf("beside the ball it begins %g mm down", got)
	}
	if got := drop(ball, geom.V(19, 0, high), 5); !math.IsInf(got, 1) {
		t.Errorf("beyond reach it begins %g mm down", got)
	}
}
