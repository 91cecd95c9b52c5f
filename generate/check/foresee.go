package check

import (
	"math"
	"slices"

	"buckwright/generate/forming"
	"buckwright/generate/geom"
)

// lined is what the kit says of liner and pocket, or what a finding may advise.
type lined struct {
	compression float64 // share
	draft       geom.Angle
}

func (j *Job) lined() lined { return lined{j.Kit.Liner.Compression, j.Dims.Pocket.Draft} }

// foreseen is what the liner does to one item.
type foreseen struct {
	band     float64 // mm, as of the map
	push     float64 // N beyond its weight that push it home
	hold     float64 // N that keep it in against its weight
	tightest float64 // share, as of the map, where it is tightest now
	rest     float64 // mm that it rests higher than drawn
}

// plumb is the sine of the lean, 6 degrees, up to which a face of an item goes straight
// up: from there on its pocket's wall leans back. This program's own choice.
const plumb = 0.1

// foresee adds item i's map up again for another lining, to first order: gaps
// follow r = tf (1 - c) + g and the seat tf (c - c_floor), a wall leans by the new draft
// from where the item goes straight up, the sheet is as thick as before, and the
// item comes to rest anew. False without a map.
func (j *Job) foresee(i int, to lined) (foreseen, bool) {
	if i >= len(j.Maps) || j.Maps[i] == nil || !(j.Maps[i].Sides > 0) || len(j.Maps[i].Samples) == 0 {
		return foreseen{}, false
	}
	m := j.Maps[i]
	on, weight := j.springs(i, to), m.Pull-m.Hold
	up := j.rest(on, weight+j.Dims.Items[i].PadForce)
	push, friction := j.forces(on, up)
	out := foreseen{
		band:     j.touched(m, to, up) / m.Sides * j.Dims.Items[i].Depth,
		push:     max(push+friction-weight, 0),
		tightest: m.Tightest,
		rest:     m.Rest + up,
	}
	if k := slices.IndexFunc(m.Samples, func(s forming.Sample) bool { return s.At == m.At }); k >= 0 {
		s := j.spring(m, k, to, wallFoot(m))
		out.tightest += (m.Gap[k] - s.gap - up*s.lean) / j.Kit.Liner.Thickness
	}
	const lifts = 8 // the hold is largest soon after the floor has let go
	up = j.rest(on, weight)
	for k := range lifts + 1 {
		push, friction := j.forces(on, up+j.Kit.Liner.Thickness/2*float64(k)/lifts)
		out.hold = max(out.hold, friction-push)
	}
	return out, true
}

// spring is the liner under one sample of an item.
type spring struct {
	gap, lean, area float64
	side            bool // of the item, on a wall of the pocket
}

// enough is how many samples of an item are added up: with every n-th of 3500 to
// 8400, forces of 20 N and more came out within 4 % on six items.
const enough = 1000

// springs are those of item i on another lining, the item where it was: of every
// n-th sample, which stands for its neighbours.
func (j *Job) springs(i int, to lined) []spring {
	m := j.Maps[i]
	foot, step := wallFoot(m), (len(m.Samples)+enough-1)/enough
	var out []spring
	for k := 0; k < len(m.Samples); k += step {
		s := j.spring(m, k, to, foot)
		s.area *= float64(step)
		out = append(out, s)
	}
	return out
}

// spring is that under sample k; the item goes straight up from foot.
func (j *Job) spring(m *forming.LinerMap, k int, to lined, foot float64) spring {
	s, lean := m.Samples[k], m.Wall[k].Z
	tighter := j.Kit.Liner.Thickness * (to.compression - j.Kit.Liner.Compression) // on walls; the floor is cut as much lower
	p := spring{gap: m.Gap[k] - tighter*(1-lean), lean: lean, area: s.Area}
	if forming.IsSide(m.Wall[k]) {
		steeper := to.draft.Sin() - j.Dims.Pocket.Draft.Sin()
		p.gap += max(s.At.Z-foot, 0) * steeper
		p.lean += steeper
		p.side = forming.IsSide(s.Normal)
	}
	return p
}

// wallFoot is the height, mm, from which the item goes straight up.
func wallFoot(m *forming.LinerMap) float64 {
	foot := math.Inf(1)
	for _, s := range m.Samples {
		if math.Abs(s.Normal.Z) < plumb {
			foot = min(foot, s.At.Z)
		}
	}
	return foot
}

// squeezed is the compression of a spring with the item lifted by up.
func (j *Job) squeezed(s spring, up float64) float64 {
	return 1 - (s.gap+up*s.lean-j.Kit.Liner.Cement)/j.Kit.Liner.Thickness
}

// touched is the area, mm², of the sides that the liner touches.
func (j *Job) touched(m *forming.LinerMap, to lined, up float64) float64 {
	area, foot := 0.0, wallFoot(m)
	for k := range m.Samples {
		if s := j.spring(m, k, to, foot); s.side && j.squeezed(s, up) > 0 {
			area += s.area
		}
	}
	return area
}

// forces of the springs on the item lifted by up, N: how they push it up, and the
// friction they can give on top.
func (j *Job) forces(on []spring, up float64) (push, friction float64) {
	for _, s := range on {
		e := j.squeezed(s, up)
		if !(e > 0) {
			continue
		}
		n := j.Dims.Liner.Pressure(j.Dims.Liner.Working(e)) / 1000 * s.area
		push += n * s.lean
		friction += n * j.Liner.Friction * math.Sqrt(max(1-s.lean*s.lean, 0))
	}
	return push, friction
}

// rest is how far the springs lift the item from where it was, mm, under a load, N.
func (j *Job) rest(on []spring, load float64) float64 {
	lifts := func(up float64) bool {
		push, friction := j.forces(on, up)
		return push > load+friction
	}
	lo, hi := -j.Kit.Liner.Thickness/2, j.Kit.Liner.Thickness/2
	if !lifts(lo) {
		return 0 // nothing under it
	}
	for range 11 { // to 1/2048 of the liner
		if mid := (lo + hi) / 2; lifts(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
