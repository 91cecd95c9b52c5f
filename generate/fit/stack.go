package fit

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Worst is the sum of tolerances that all err the same way.
func Worst(t ...float64) float64 {
	sum := 0.0
	for _, v := range t {
		sum += math.Abs(v)
	}
	return sum
}

// RSS is the spread of a sum of independent, centred tolerances: each is three
// standard deviations, and so is the result.
func RSS(t ...float64) float64 {
	sum := 0.0
	for _, v := range t {
		sum += v * v
	}
	return math.Sqrt(sum)
}

// normal is the cumulative standard normal distribution.
func normal(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// gapChance is the chance that a clearance per side lies below limit: two
// parts whose faces each vary by tp, three standard deviations.
func gapChance(mean, limit, tp float64) float64 {
	if tp == 0 {
		if mean < limit {
			return 1
		}
		return 0
	}
	return normal((limit - mean) / (RSS(tp, tp) / 3))
}

// Stack is a gap that a liner of thickness Free fills: the gap varies by the
// tolerances in Gaps, the liner by Thick, each one side.
type Stack struct {
	Gap, Free float64
	Gaps      []float64
	Thick     float64
}

// compression is the share of the liner that the gap takes; negative is air.
func (s Stack) compression(gap, thick float64) float64 {
	return 1 - (s.Gap+gap)/(s.Free+thick)
}

// Worst is the compression when everything errs the same way.
func (s Stack) Worst() Span {
	g := Worst(s.Gaps...)
	return Span{s.compression(0, 0), s.compression(g, -s.Thick), s.compression(-g, s.Thick)}
}

// RSS is the compression to first order when the tolerances are independent.
func (s Stack) RSS() Span {
	e := s.compression(0, 0)
	gap := RSS(s.Gaps...) / s.Free
	thick := (1 - e) * s.Thick / s.Free
	return PlusMinus(e, RSS(gap, thick))
}

// draws is the size of a Monte-Carlo, and start what it always starts from, so
// that one kit always gives one answer.
const (
	draws = 20000
	start = 1946
)

// Sample draws compressions, sorted: every tolerance is normal, three standard
// deviations wide, and drawn again when it falls outside.
func (s Stack) Sample() []float64 {
	rng := rand.New(rand.NewPCG(start, start))
	out := make([]float64, draws)
	for i := range out {
		gap := 0.0
		for _, t := range s.Gaps {
			gap += t * clipped(rng)
		}
		out[i] = s.compression(gap, s.Thick*clipped(rng))
	}
	slices.Sort(out)
	return out
}

// clipped is a normal number of standard deviation 1/3 within -1 to 1.
func clipped(rng *rand.Rand) float64 {
	for {
		if v := rng.NormFloat64() / 3; v >= -1 && v <= 1 {
			return v
		}
	}
}

// quantile reads a sorted sample; q is a share.
func quantile(sorted []float64, q float64) float64 {
	x := q * float64(len(sorted)-1)
	i := int(x)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (x-float64(i))*(sorted[i+1]-sorted[i])
}

// built sums a stack up.
func (s Stack) built() Built {
	sample := s.Sample()
	loose, _ := slices.BinarySearch(sample, 0)
	return Built{
		Worst: s.Worst(),
		RSS:   s.RSS(),
		Drawn: Span{quantile(sample, 0.5), quantile(sample, 0.01), quantile(sample, 0.99)},
		Loose: float64(loose) / float64(len(sample)),
	}
}
