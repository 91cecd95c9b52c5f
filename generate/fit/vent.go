package fit

import "math"

// Dimple is the height, mm, of the mark that a vent of diameter d leaves in a
// hot sheet of thickness t, mm, under pressure p with shear modulus mu, both
// kPa. It is infinite when the sheet blows through.
//
// A clamped disc of the neo-Hookean membrane in its large-strain limit bulges
// as a spherical cap of height k a over radius a with p a/(mu t) = 4k/(1+k²);
// derived here, its pole is that of Hill's bulge test, 1950.
func Dimple(d, t, p, mu float64) float64 {
	load := p * d / (2 * mu * t)
	if load > 2 {
		return math.Inf(1)
	}
	if load < 1e-9 {
		return load * d / 8
	}
	return (2 - math.Sqrt(4-load*load)) / load * d / 2
}

// The automatic vent.
const (
	mostDimple = 0.1 // mm
	mostVent   = 1.5 // mm; common practice, no source
)

// largestVent is the largest diameter up to mostVent whose dimple stays small.
// The dimple grows with the diameter, so halving finds it.
func largestVent(t, p, mu float64) float64 {
	if Dimple(mostVent, t, p, mu) <= mostDimple {
		return mostVent
	}
	lo, hi := 0.0, mostVent
	for range 60 {
		mid := (lo + hi) / 2
		if Dimple(mid, t, p, mu) <= mostDimple {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// leastRib is the least width of buck between two channels, mm.
const leastRib = 2.0

// channelGap is the spacing of channels of a width such that some row of
// platen holes always meets one by at least 1 mm, wherever the buck stands.
//
// A hole of diameter d overlaps a channel of width w by 1 mm or more while its
// middle is within (w + d)/2 - 1 of the channel's, a window w + d - 2 wide.
// Channels p(q-1)/q apart take, modulo the pitch p, the q phases 0, p/q,
// 2p/q ...; the rows of holes have one phase modulo p, and it lies in some
// channel's window as soon as p/q <= w + d - 2. Whole pitches may be added to
// the spacing without changing a phase; so many are that a rib is left.
// q neighbouring channels must lie on the buck for this to hold.
func channelGap(pitch, hole, width float64) float64 {
	q := math.Ceil(pitch / (width + hole - 2))
	gap := pitch
	if q >= 2 {
		gap = pitch * (q - 1) / q
	}
	for gap < width+leastRib {
		gap += pitch
	}
	return gap
}
