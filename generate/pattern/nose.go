package pattern

import (
	"slices"

	"buckwright/generate/geom"
)

// noseReach is how far, in mm, beside a nose the profiles are not its wall's.
const noseReach = 1.5

// overNoses takes the foot straight across every corner that turns into the
// pocket, where a profile runs down the crest between two floors and not down a
// wall, and across the stations whose own foot is unclear.
func overNoses(st []station, foot []rung, unclear []bool) []rung {
	n := len(st)
	near := slices.Clone(unclear)
	for i := range st {
		if !st[i].nose() {
			continue
		}
		near[i] = true
		for _, step := range []int{1, n - 1} {
			for j := (i + step) % n; j != i && st[j].at.Sub(st[i].at).Len() < noseReach; j = (j + step) % n {
				near[j] = true
			}
		}
	}
	first := slices.Index(near, false)
	if first < 0 {
		return foot
	}
	out := slices.Clone(foot)
	for k := 0; k < n; k++ {
		if !near[(first+k)%n] {
			continue
		}
		end := k
		for near[(first+end)%n] {
			end++
		}
		bridge(st, out, (first+k+n-1)%n, end-k+1)
		k = end
	}
	return out
}

// nose reports whether the outline turns into the pocket here.
func (s *station) nose() bool {
	return s.radius < 0 || s.leg.Length == 0 && s.turn > 2*smallTurn*geom.Angle(s.lean.Sin())
}

// bridge sets the count-1 feet after station i evenly along the outline,
// between that of i and that of the station after them.
func bridge(st []station, foot []rung, i, count int) {
	n := len(st)
	total, so := 0.0, 0.0
	for k := 1; k <= count; k++ {
		total += st[(i+k)%n].leg.Length
	}
	a, b := foot[i], foot[(i+count)%n]
	for k := 1; k < count; k++ {
		j := (i + k) % n
		so += st[j].leg.Length
		mix := func(x, y float64) float64 { return x + (y-x)*so/max(total, 1e-9) }
		foot[j] = rung{mix(a.Down, b.Down), mix(a.In, b.In), mix(a.Z, b.Z), a.Slope}
	}
}
