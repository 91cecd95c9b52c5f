package forming

import (
	"cmp"
	"math"
	"slices"

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
	Samples  []Sample                // of the item's surface below the rim
	Gap      func(geom.Vec) float64  // mm, to the product side of the insert
	Wall     func(geom.Vec) geom.Vec // unit, from the insert to a place; nil: how Gap grows fastest
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
	Gap         []float64  // mm, item at rest to insert
	Compression []float64  // share of the free thickness; 0 and less: not touched
	Pressure    []float64  // kPa
	Wall        []geom.Vec // unit, from the insert towards the sample

	Grip     float64  // N, all the pressure on the item's sides
	Rest     float64  // mm that the item rests higher than it was placed, pushed home and the lid closed
	Push     float64  // N beyond its weight that push it home
	Pull     float64  // N that lift it out, its weight with it, lid off
	Hold     float64  // N that keep it in against its weight
	HoldsG   float64  // Hold over its weight: turned over it stays in up to this many g
	Band     float64  // mm, height of the side that the liner touches, mean round the item
	Sides    float64  // mm², of the item's sides below the rim
	Touched  float64  // mm², of that
	Tight    float64  // mm², of the item, compressed more than Most
	Tightest float64  // share, compression that 20 mm² of the item exceed
	At       geom.Vec // where that is
}

// IsSide reports whether a face with this unit normal is a side: it leans less than
// 45 degrees from the upright.
func IsSide(normal geom.Vec) bool {
	const sin45 = 0.7
	return math.Abs(normal.Z) < sin45
}

// Map finds where the item comes to rest, the gap, the compression and the
// pressure at every sample there, and what they come to. The gap is that of the
// item to the product side of the finished insert, a true distance as the item
// was placed; raised by Rest it grows with the lean of the wall.
func (l Lining) Map() *LinerMap {
	m := &LinerMap{Samples: l.Samples}
	if l.Wall == nil {
		l.Wall = func(p geom.Vec) geom.Vec { return towards(l.Gap, p, l.Gap(p)) }
	}
	for _, s := range l.Samples {
		m.Gap, m.Wall = append(m.Gap, l.Gap(s.At)), append(m.Wall, l.Wall(s.At))
	}
	m.Rest = l.rest(m, l.Weight+l.Pad)
	l.pull(m)
	for i, w := range m.Wall {
		m.Gap[i] += m.Rest * w.Z
		e := l.compression(m.Gap[i])
		m.Compression, m.Pressure = append(m.Compression, e), append(m.Pressure, l.Law.Pressure(l.Law.Working(e)))
	}
	l.sum(m)
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
	l.tightest(m)
	for i, s := range m.Samples {
		e := m.Compression[i]
		if e > l.Most {
			m.Tight += s.Area
		}
		if !IsSide(s.Normal) {
			continue
		}
		m.Sides += s.Area
		if e > 0 && IsSide(m.Wall[i]) { // else it is the floor that it meets
			m.Touched += s.Area
			m.Grip += m.Pressure[i] / 1000 * s.Area
		}
	}
	if m.Sides > 0 {
		m.Band = m.Touched / m.Sides * l.Depth
	}
}

// spot is the area, mm², below which a tight place is not reported: a match's
// head. This program's own choice.
const spot = 20.0

// tightest finds the compression that a spot of the item exceeds, and the middle
// sample of it.
func (l Lining) tightest(m *LinerMap) {
	order := make([]int, len(m.Samples))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(m.Compression[b], m.Compression[a]) })
	area := 0.0
	for n, i := range order {
		m.Tightest, m.At = m.Compression[i], m.Samples[order[n/2]].At
		if area += m.Samples[i].Area; area >= spot {
			break
		}
	}
}

// lifted is the pressure, kPa, at sample i with the item lifted by up, mm: a
// wall that leans outwards by the draft opens the gap by up sin(draft).
func (l Lining) lifted(m *LinerMap, i int, up float64) float64 {
	e := l.compression(m.Gap[i] + up*m.Wall[i].Z)
	return l.Law.Pressure(l.Law.Working(e))
}

// forces are those of the liner on the item lifted by up, N: how it pushes the
// item up, and the friction that it can give on top in either direction.
func (l Lining) forces(m *LinerMap, up float64) (push, friction float64) {
	for i, s := range m.Samples {
		n := l.lifted(m, i, up) / 1000 * s.Area
		lean := m.Wall[i].Z
		push += n * lean
		friction += n * l.Friction * math.Sqrt(max(1-lean*lean, 0))
	}
	return push, friction
}

const liftSteps = 40 // from one free thickness of the liner below to one above

// rest is how far the item is lifted when it was pushed down and let go under a
// load, N: it springs up until friction and load hold it. A drafted wall that
// presses hard is a wedge that holds the item wherever it was pushed to.
func (l Lining) rest(m *LinerMap, load float64) float64 {
	springs := func(up float64) bool {
		push, friction := l.forces(m, up)
		return push > load+friction
	}
	lo := -l.Free
	if !springs(lo) {
		return 0 // nothing under it
	}
	step := l.Free / liftSteps
	for springs(lo+step) && lo < l.Free {
		lo += step
	}
	hi := lo + step
	for range 40 {
		if mid := (lo + hi) / 2; springs(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// pull finds the largest forces met on the way out, and on the way in to where
// the item rests. At rest the floor still pushes with the item's weight; a
// little higher it has let go and only the walls hold.
func (l Lining) pull(m *LinerMap) {
	start := l.rest(m, l.Weight)
	for i := range liftSteps + 1 {
		push, friction := l.forces(m, start+l.Free*float64(i)/liftSteps)
		m.Hold = max(m.Hold, friction-push)
		push, friction = l.forces(m, m.Rest+l.Free*float64(i)/liftSteps)
		m.Push = max(m.Push, push+friction-l.Weight)
	}
	m.Pull = m.Hold + l.Weight
	if l.Weight > 0 {
		m.HoldsG = m.Hold / l.Weight
	}
}
