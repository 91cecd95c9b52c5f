package forming

import (
	"math"
	"testing"

	"buckwright/generate/geom"
)

// The geometric element against its closed forms, worked outside this program:
// cones and troughs by wall angle, cylinder and slot by depth (mass balance
// 1.000000), and the frustum of Crawford, Plastics Engineering, 3rd ed. 1998, problem
// 4.11: mouth 60, base 40, depth 60 from 3 mm.
func TestGeometricElement(t *testing.T) {
	for _, w := range []struct {
		angle float64 // of the wall from level
		long  bool
		want  [5]float64
	}{
		{30, false, [5]float64{.9330, .8924, .8381, .7529, .6534}}, {45, false, [5]float64{.8536, .7577, .6405, .4807, .3289}},
		{60, false, [5]float64{.7500, .5625, .3750, .1875, .0750}}, {75, false, [5]float64{.6294, .2762, .0865, .0119, .0009}},
		{30, true, [5]float64{.9549, .9271, .8893, .8283, .7539}}, {60, true, [5]float64{.8270, .6852, .5256, .3340, .1834}},
		{45, true, [5]float64{.9003, .8323, .7450, .6164, .4799}}, {75, true, [5]float64{.7379, .4332, .2045, .0567, .0104}},
	} {
		p := Pan{Half: 25, Draft: geom.Angle(90-w.angle) * geom.Degree, Long: w.long}
		apex := 25 / p.Draft.Tan()
		p.Depth = apex
		for i, z := range []float64{0, .25, .5, .75, .9} {
			if got := p.Wall(z * apex); !(math.Abs(got-w.want[i]) < 6e-5) {
				t.Errorf("wall of %g°, trough %v: %.5f at %g of its depth, want %.4f", w.angle, w.long, got, z, w.want[i])
			}
		}
	}
	for _, w := range []struct {
		depth       float64
		round, slot float64
	}{{1, .5000, .63662}, {1.5, .3033, .46306}, {2, .1839, .33682}, {0.5, 1 / 1.25, 0.86272}} { // the last: a flat cap meets the floor
		for _, long := range []bool{false, true} {
			want := w.round
			if long {
				want = w.slot
			}
			if got := (Pan{Half: 25, Depth: 25 * w.depth, Long: long}).Floor(); !(math.Abs(got-want) < 6e-5) {
				t.Errorf("floor %g half widths down, trough %v: %.5f, want %.5f", w.depth, long, got, want)
			}
		}
	}
	f := Pan{Half: 30, Draft: geom.Angle(math.Atan(10. / 60)), Depth: 60}
	for _, w := range [][2]float64{{0, 1.7466}, {35 * math.Cos(math.Atan(1./6)), 0.5917}} {
		if got := 3 * f.onWall(w[0]); !(math.Abs(got-w[1]) < 6e-5) {
			t.Errorf("frustum, %.2f mm down: %.4f mm, want %.4f", w[0], got, w[1])
		}
	}
	if got := f.Wall(50); !math.IsNaN(got) {
		t.Errorf("below where the cap meets the floor there is no closed form, got %g", got)
	}
}

// On one cone the even cap and the membrane differ as is told: the membrane leaves
// more at the mouth and less deep down (the neo-Hookean column of TestStickingCone).
func TestElementIsNotTheMembrane(t *testing.T) {
	p := Pan{Half: 25, Draft: 30 * geom.Degree, Depth: 43}
	f := form(t, shotOver(hollow{half: 25, slope: 60 * geom.Degree, depth: 43}, neo, 80, 80))
	along := func(q geom.Vec) (float64, bool) { return -q.Z, q.Z < 0 }
	if high, low := f.at(along, 3, 2)/p.Wall(3), f.at(along, 24, 2)/p.Wall(24); !(high > 1.05 && low < 0.9) {
		t.Errorf("membrane by even cap: %.3f at 3 mm, %.3f at 24 mm", high, low)
	}
}
