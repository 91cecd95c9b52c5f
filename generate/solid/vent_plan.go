package solid

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Arrival is a place in a pocket and when the sheet gets there: 0 first, 1
// last, more where it does not get to.
type Arrival struct {
	At   geom.Vec
	When float64
}

const (
	nearVent   = 0.4 // of the pitch: as near as two vents come
	arrivalRun = 4.0 // mm from a floor's point to the arrivals that it vents: a fillet's reach
	lateShare  = 0.1 // share of a floor's points that count as late
	mouthClear = 2.0 // mm below the mouth's rounding, the highest that a vent sits
)

// PlanVents puts vents where the sheet arrives last: at the places that the
// kit pins, at the latest places of each floor, then along its edge at
// the pitch, then inside it. Without arrivals a floor's corners are the late
// ones. It returns the pins that no pocket lies under.
func (l *Layout) PlanVents(arrivals []Arrival, pitch float64) (stray []geom.Vec2) {
	p := &ventPlan{l: l, face: l.Under(0), pitch: pitch}
	l.Vents = nil
	for _, at := range l.Dims.Buck.Pin {
		z := drop(p.face, at, 0)
		if math.IsNaN(z) {
			stray = append(stray, at)
			continue
		}
		p.add(at.At(z))
	}
	for _, f := range l.Floors {
		p.floor(f, arrivals)
	}
	return stray
}

// ventPlan collects the vents of a layout.
type ventPlan struct {
	l     *Layout
	face  sdf.Solid
	pitch float64
}

func (p *ventPlan) add(at geom.Vec) {
	p.l.Vents = append(p.l.Vents, Vent{at, p.l.landUnder(p.face, at)})
}

// addNear adds a vent at the nearest place to q whose bore leaves no thin land beside the
// channels, or at q if there is none as near as the survey's plumb lines are.
func (p *ventPlan) addNear(q geom.Vec) {
	const step, turns = 0.1, 16 // mm, and directions
	for k := 0; step*float64(k) < surveyStep; k++ {
		for i := range turns {
			a := geom.Angle(2 * math.Pi * float64(i) / turns)
			at := q.XY().Add(geom.Vec2{X: a.Cos(), Y: a.Sin()}.Scale(step * float64(k)))
			if !p.l.leavesLand(at) {
				continue
			}
			if r := at.At(drop(p.face, at, 0)); math.Abs(r.Z-q.Z) < flatSlope*surveyStep && p.allowed(r) {
				p.add(r)
				return
			}
		}
	}
	p.add(q)
}

// leavesLand reports that of the land between a bore at a place and the channels beside
// it there is left what the printer makes in two lines, or nothing. Where bore and channel
// meet they do so by so much that no knife's edge is left, and no land stands alone in the
// corner of two channels.
func (l *Layout) leavesLand(at geom.Vec2) bool {
	const meet = 0.2 // of the bore's radius
	r := l.Dims.Buck.Bore / 2
	rows, across := l.channelLines()
	wide := func(lines []float64, from float64) (met []float64, ok bool) {
		for _, line := range lines {
			land := math.Abs(line-from) - l.Dims.Buck.Channel/2 // from the bore's middle
			if land > (1-meet)*r && land < r+2*l.Dims.Print.Width {
				return nil, false
			}
			if land > 0 && land < r {
				met = append(met, land)
			}
		}
		return met, true
	}
	x, okX := wide(across, at.X-l.Center.X)
	y, okY := wide(rows, at.Y-l.Center.Y)
	for _, x := range x {
		for _, y := range y {
			if math.Hypot(x, y) > (1-meet/2)*r {
				return false
			}
		}
	}
	return okX && okY
}

// floor vents one floor.
func (p *ventPlan) floor(f Floor, arrivals []Arrival) {
	f.Points = slices.DeleteFunc(slices.Clone(f.Points), func(q geom.Vec) bool { return !p.allowed(q) })
	if len(f.Points) == 0 {
		return
	}
	if len(arrivals) > 0 {
		p.late(f, arrivals)
	} else {
		p.corners(f)
	}
	p.spread(f.edge(), p.pitch)
	p.spread(f.Points, min(innerPitch, 2*p.pitch))
}

// allowed reports whether a vent may stand at q: clear of the mouths and of the
// circles that the kit forbids.
func (p *ventPlan) allowed(q geom.Vec) bool {
	d := p.l.Dims
	if q.Z > -d.Insert.Rim-d.Pocket.MouthRadius-mouthClear {
		return false
	}
	return !slices.ContainsFunc(d.Buck.Forbid, func(c fit.Circle) bool { return q.XY().Sub(c.At).Len() < c.R })
}

// corners takes the four corners of a floor.
func (p *ventPlan) corners(f Floor) {
	for _, c := range [4]geom.Vec2{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}} {
		if q := f.extreme(c); p.clear(q, p.pitch*nearVent) {
			p.addNear(q)
		}
	}
}

// late takes the places of a floor where the sheet arrives last, the last first.
func (p *ventPlan) late(f Floor, arrivals []Arrival) {
	type place struct {
		at   geom.Vec
		when float64
	}
	all := make([]place, len(f.Points))
	for i, q := range f.Points {
		all[i].at = q
		for _, a := range arrivals {
			if a.When > all[i].when && a.At.Dist(q) < arrivalRun {
				all[i].when = a.When
			}
		}
	}
	slices.SortStableFunc(all, func(a, b place) int { return cmp.Compare(b.when, a.when) })
	for _, q := range all[:int(math.Ceil(lateShare*float64(len(all))))] {
		if p.clear(q.at, p.pitch*2*nearVent) {
			p.addNear(q.at)
		}
	}
}

// spread adds the point farthest from every vent until all are within by.
func (p *ventPlan) spread(points []geom.Vec, by float64) {
	for {
		q, d := p.farthest(points)
		if d < by {
			return
		}
		p.addNear(q)
	}
}

func (p *ventPlan) clear(q geom.Vec, by float64) bool {
	return !slices.ContainsFunc(p.l.Vents, func(v Vent) bool { return v.At.Dist(q) < by })
}

// farthest is the point whose nearest vent is farthest.
func (p *ventPlan) farthest(points []geom.Vec) (geom.Vec, float64) {
	var best geom.Vec
	far := -1.0
	for _, q := range points {
		d := math.Inf(1)
		for _, v := range p.l.Vents {
			d = min(d, q.Dist(v.At))
		}
		if d > far+1e-9 {
			best, far = q, d
		}
	}
	return best, far
}
