package forming

import (
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
)

// Sample is a small piece of an item's surface, in the kit's frame with the
// item at rest.
type Sample struct {
	At     geom.Vec
	Normal geom.Vec // unit, out of the item
	Area   float64  // mm²
}

// Lining is an item in its lined pocket.
type Lining struct {
	Samples  []Sample // of the item's surface below the rim
	Gap      func(geom.Vec) float64
	Law      fit.Law
	Free     float64 // mm, thickness of the liner
	Cement   float64 // mm, film under it
	Friction float64 // of the liner on the item
	Most     float64 // share, largest working compression
	Depth    float64 // mm, of the item below the rim
	Weight   float64 // N, of the item
	Pad      float64 // N, of the lid's pad on it
}

// LinerMap is what the liner does all over an item. Slices have one entry a
// sample.
type LinerMap struct {
	Samples     []Sample
	Gap         []float64  // mm, item to insert
	Compression []float64  // share of the free thickness; 0 and less: not touched
	Pressure    []float64  // kPa
	Wall        []geom.Vec // unit, from the insert towards the sample

	Grip     float64  // N, all the pressure on the item's sides
	Rest     float64  // mm that the item rests higher than it was placed, lid closed
	Pull     float64  // N that lift it out, its weight with it, lid off
	Hold     float64  // N that keep it in against its weight
	HoldsG   float64  // Hold over its weight: turned over it stays in up to this many g
	Band     float64  // mm, height of the side that the liner touches, mean round the item
	Sides    float64  // mm², of the item's sides below the rim
	Touched  float64  // mm², of that
	Tight    float64  // mm², of the item, compressed more than Most
	Tightest float64  // share, largest compression
	At       geom.Vec // where that is
}

// sideSlope is the sine of 45°: a face that leans less is a side.
const sideSlope = 0.7

// isSide reports whether the sample is on the item's side.
func (s Sample) isSide() bool { return math.Abs(s.Normal.Z) < sideSlope }

// Map finds the gap, the compression and the pressure at every sample, and what
// they come to. The gap is that of the item to the product side of the finished
// insert, as a true distance.
func (l Lining) Map() *LinerMap {
	m := &LinerMap{Samples: l.Samples}
	for _, s := range l.Samples {
		gap := l.Gap(s.At)
		m.Gap = append(m.Gap, gap)
		m.Wall = append(m.Wall, towards(l.Gap, s.At, gap))
		e := l.compression(gap)
		m.Compression = append(m.Compression, e)
		m.Pressure = append(m.Pressure, l.Law.Pressure(l.Law.Working(e)))
	}
	l.sum(m)
	m.Rest = l.rest(m, l.Weight+l.Pad)
	l.pull(m)
	return m
}

// compression is the liner's in a gap.
func (l Lining) compression(gap float64) float64 { return 1 - (gap-l.Cement)/l.Free }

// towards is the direction in which the gap opens fastest.
func towards(gap func(geom.Vec) float64, at geom.Vec, here float64) geom.Vec {
	const step = 0.02 // mm
	d := geom.V(
		gap(at.Add(geom.V(step, 0, 0)))-here,
		gap(at.Add(geom.V(0, step, 0)))-here,
		gap(at.Add(geom.V(0, 0, step)))-here,
	)
	if n := d.Len(); n > 0 {
		return d.Scale(1 / n)
	}
	return geom.Vec{}
}

// sum adds up the areas.
func (l Lining) sum(m *LinerMap) {
	m.Tightest = math.Inf(-1)
	for i, s := range m.Samples {
		e := m.Compression[i]
		if e > m.Tightest {
			m.Tightest, m.At = e, s.At
		}
		if e > l.Most {
			m.Tight += s.Area
		}
		if !s.isSide() {
			continue
		}
		m.Sides += s.Area
		if e > 0 && math.Abs(m.Wall[i].Z) < sideSlope { // else it is the floor that it meets
			m.Touched += s.Area
			m.Grip += m.Pressure[i] / 1000 * s.Area
		}
	}
	if m.Sides > 0 {
		m.Band = m.Touched / m.Sides * l.Depth
	}
}

// lifted is the pressure, kPa, at sample i with the item lifted by up, mm: a
// wall that leans outwards by the draft opens the gap by up sin(draft).
func (l Lining) lifted(m *LinerMap, i int, up float64) float64 {
	e := l.compression(m.Gap[i] + up*m.Wall[i].Z)
	return l.Law.Pressure(l.Law.Working(e))
}

// carried is the force, N, with which the liner pushes the item up when it is
// lifted by up; friction aside.
func (l Lining) carried(m *LinerMap, up float64) float64 {
	f := 0.0
	for i, s := range m.Samples {
		f += l.lifted(m, i, up) / 1000 * s.Area * m.Wall[i].Z
	}
	return f
}

// rest is how far the item is lifted where the liner carries a load, N.
func (l Lining) rest(m *LinerMap, load float64) float64 {
	lo, hi := -l.Free, l.Free
	if !(l.carried(m, lo) > load) {
		return math.Inf(-1) // nothing under it
	}
	for range 50 {
		if mid := (lo + hi) / 2; l.carried(m, mid) > load {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// held is the force, N, that resists pulling the item up from where it is
// lifted by up: friction on every face, less what the liner pushes it up with.
func (l Lining) held(m *LinerMap, up float64) float64 {
	f := 0.0
	for i, s := range m.Samples {
		n := l.lifted(m, i, up) / 1000 * s.Area
		lean := m.Wall[i].Z
		f += n * (l.Friction*math.Sqrt(max(1-lean*lean, 0)) - lean)
	}
	return f
}

// pull is the largest force met on the way out. At rest the floor still pushes
// with the item's weight; a little higher it has let go and only the walls hold.
func (l Lining) pull(m *LinerMap) {
	const steps = 40
	start := l.rest(m, l.Weight)
	if math.IsInf(start, -1) {
		start = 0
	}
	for i := range steps + 1 {
		m.Hold = max(m.Hold, l.held(m, start+l.Free*float64(i)/steps))
	}
	m.Pull = m.Hold + l.Weight
	if l.Weight > 0 {
		m.HoldsG = m.Hold / l.Weight
	}
}
