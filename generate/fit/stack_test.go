package fit

import (
	"math"
	"slices"
	"testing"
)

// .2, .2, .1, .25: worst .75, RSS .3905.
func TestWorstAndRSS(t *testing.T) {
	near(t, "Worst", Worst(.2, -.2, .1, .25), .75, 1e-12)
	near(t, "RSS", RSS(.2, -.2, .1, .25), .3905, 5e-5)
}

// Two parts of +-.2 and a least gap of .1: .300 worst case, .2414 RSS a side,
// which agrees with the .2 to .3 that print services publish for a sliding fit.
func TestSlipPerSide(t *testing.T) {
	near(t, "worst", .1+Worst(.1, .1), .300, 1e-12)
	near(t, "RSS", .1+RSS(.1, .1), .2414, 5e-5)
}

// Chance of interference at diametral clearances, worked from the normal
// distribution: parts of +-.2 on size, and two IT13 parts of 150 mm.
func TestGapChance(t *testing.T) {
	for _, tt := range []struct{ diametral, size, want float64 }{
		{.2, .2, 1.695e-2}, {.4, .2, 1.104e-5},
		{.2, .315, 8.90e-2}, {.4, .315, 3.53e-3}, {.6, .315, 2.67e-5},
	} {
		got := gapChance(tt.diametral/2, 0, tt.size/2)
		near(t, "chance", got, tt.want, .002*tt.want)
	}
	if gapChance(.1, 0, 0) != 0 || gapChance(-.1, 0, 0) != 1 {
		t.Error("perfect parts fit or do not")
	}
}

// Felt 3.17 +- .35 in a gap of 2.6 +- .2: .1798, worst .0071 to .3182, RSS .1104.
func TestCompressionStack(t *testing.T) {
	s := Stack{Gap: 2.6, Free: 3.17, Gaps: []float64{.2}, Thick: .35}
	w, r := s.Worst(), s.RSS()
	near(t, "nominal", w.Nominal, .1798, 5e-5)
	near(t, "least", w.Least, .0071, 5e-5)
	near(t, "most", w.Most, .3182, 5e-5)
	near(t, "RSS", r.Most-r.Nominal, .1104, 5e-5)
	near(t, "RSS", r.Nominal-r.Least, .1104, 5e-5)
}

// A sum of independent normal errors spreads as the root of the sum of
// squares. Clipping a normal at three sigma leaves .98658 of its sigma:
// sqrt(1 - 6 phi(3)/(2 Phi(3) - 1)).
func TestSampleSpreadsAsRSS(t *testing.T) {
	s := Stack{Gap: 1.7, Free: 2, Gaps: []float64{.2, .15, .1, .05}}
	sum, squares := 0.0, 0.0
	sample := s.Sample()
	for _, e := range sample {
		sum, squares = sum+e, squares+e*e
	}
	n := float64(len(sample))
	sigma := math.Sqrt(squares/n - sum*sum/n/n)
	r := s.RSS()
	near(t, "mean", sum/n, r.Nominal, .001)
	want := (r.Most - r.Nominal) / 3 * .98658
	// The standard error of a sigma from n normal draws is sigma/sqrt(2n): .5 %.
	near(t, "sigma", sigma, want, .015*want)
}

func TestSampleStaysWithinTheWorstCase(t *testing.T) {
	s := Stack{Gap: 1.7, Free: 2, Gaps: []float64{.2, .3}, Thick: .3}
	w, sample := s.Worst(), s.Sample()
	if !(sample[0] >= w.Least && sample[len(sample)-1] <= w.Most) {
		t.Errorf("drawn %g to %g, worst case %g to %g", sample[0], sample[len(sample)-1], w.Least, w.Most)
	}
	// One tolerance alone reaches its ends, nearly.
	one := Stack{Gap: 1.7, Free: 2, Gaps: []float64{.3}}
	w, sample = one.Worst(), one.Sample()
	near(t, "least", sample[0], w.Least, .01)
	near(t, "most", sample[len(sample)-1], w.Most, .01)
}

func TestSampleIsRepeatable(t *testing.T) {
	s := Stack{Gap: 1.7, Free: 2, Gaps: []float64{.2}, Thick: .2}
	if !slices.Equal(s.Sample(), s.Sample()) {
		t.Error("two samples differ")
	}
}

// A gap normal about .1 compression with sigma .1/3*.. touches nothing with the
// chance that the normal distribution gives.
func TestLooseShare(t *testing.T) {
	s := Stack{Gap: 1.9, Free: 2, Gaps: []float64{.15, .15}}
	sigma := RSS(.15, .15) / 3 / 2
	near(t, "loose", s.built().Loose, normal(-.05/sigma), .004)
}

func TestQuantile(t *testing.T) {
	x := []float64{0, 1, 2, 3, 4}
	for q, want := range map[float64]float64{0: 0, .5: 2, 1: 4, .125: .5} {
		near(t, "quantile", quantile(x, q), want, 1e-12)
	}
}
