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
	nearVent   = 0.4 // of the pitch: nearer to a vent no corner gets one of its own
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
	p.rows, p.across = l.channelLines()
	l.Vents, l.Pins = nil, nil
	for _, at := range l.Dims.Buck.Pin {
		z := drop(p.face, at, 0)
		if math.IsNaN(z) {
			stray = append(stray, at)
			continue
		}
		l.Pins = append(l.Pins, p.pinned(at.At(z)))
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

	rows, across []float64  // middles of the channels
	passed       []geom.Vec // places that no vent serves
}

func (p *ventPlan) add(at geom.Vec) {
	p.l.Vents = append(p.l.Vents, Vent{at, p.l.landUnder(p.face, at)})
}

// Pin is a vent that the kit asks for. It stands where it is asked for; here is how it
// stands to the channels.
type Pin struct {
	At     geom.Vec2
	Shut   bool      // its bore runs into no channel: no air leaves through it
	Thin   bool      // a wall that the printer leaves out stands between its bore and a channel
	Better geom.Vec2 // the nearest place within 2 mm where it is neither; At where there is none
}

// pinned judges a vent that the kit asks for, before it is added.
func (p *ventPlan) pinned(q geom.Vec) Pin {
	const past, cent = 0.05, 0.01 // mm that a better place lies beyond the limit, and that it is written to
	grade := p.grade(q.XY())
	pin := Pin{At: q.XY(), Shut: grade == ventShut, Thin: grade == ventReaches, Better: q.XY()}
	if !pin.Shut && !pin.Thin {
		return pin
	}
	best, _ := p.best(q, surveyStep)
	way := best.XY().Sub(pin.At)
	if way.Len() == 0 {
		return pin
	}
	to := best.XY().Add(way.Scale(past / way.Len()))
	to = geom.Vec2{X: math.Round(to.X/cent) * cent, Y: math.Round(to.Y/cent) * cent}
	if p.grade(to) > ventReaches {
		pin.Better = to
	}
	return pin
}

// addNear adds a vent at the best place about q. Where it can run into no channel there
// is no vent.
func (p *ventPlan) addNear(q geom.Vec, within float64) {
	best, grade := p.best(q, within)
	if grade == ventShut {
		p.passed = append(p.passed, q)
		return
	}
	p.add(best)
}

// best is the nearest place to q, less than within mm from it, that serves best: where a
// bore runs into a channel and leaves no thin land, or else where it runs into a channel.
func (p *ventPlan) best(q geom.Vec, within float64) (geom.Vec, ventGrade) {
	const step, turns = 0.1, 16 // mm, and directions: this program's own choice
	best, grade := q, p.grade(q.XY())
	apart := p.l.ClosestVents()
	if p.pitch < apart {
		apart = p.pitch / 2 // the kit will have it so
	}
	for k := 1; grade < ventGood && step*float64(k) < within; k++ {
		for i := range turns {
			a := geom.Angle(2 * math.Pi * float64(i) / turns)
			at := q.XY().Add(geom.Vec2{X: a.Cos(), Y: a.Sin()}.Scale(step * float64(k)))
			g := p.grade(at)
			if g <= grade {
				continue
			}
			r := at.At(drop(p.face, at, 0))
			if r.Dist(q) < within && math.Abs(r.Z-q.Z) < flatSlope*surveyStep && p.allowed(r) && p.clear(r, apart) {
				best, grade = r, g
			}
		}
	}
	return best, grade
}

// ventGrade is how well a bore serves at a place.
type ventGrade int

const (
	ventShut    ventGrade = iota // it runs into no channel
	ventReaches                  // it does, but leaves land that the printer leaves out
	ventLands                    // no such land, but a flap of roof where channels cross
	ventGood
)

// grade looks at the land between a bore at a place and the channels beside it: what is
// left of it must be as wide as the printer makes in two lines, or nothing. Where bore and
// channel meet they must do so by so much that no knife's edge is left, and no land may
// stand alone in the corner of two channels.
func (p *ventPlan) grade(at geom.Vec2) ventGrade {
	const meet = 0.2 // of the bore's radius: this program's own choice
	d := p.l.Dims
	r := d.Buck.Bore / 2
	grade, reaches := ventGood, false
	met := func(lines []float64, from float64) (lands []float64) {
		for _, line := range lines {
			land := math.Abs(line-from) - d.Buck.Channel/2 // from the bore's middle
			switch {
			case land <= (1-meet)*r:
				reaches = true
			case land < r+2*d.Print.Width:
				grade = ventReaches
			}
			if land > 0 && land < r {
				lands = append(lands, land)
			}
		}
		return lands
	}
	x := met(p.across, at.X-p.l.Center.X)
	for _, y := range met(p.rows, at.Y-p.l.Center.Y) {
		for _, x := range x {
			if math.Hypot(x, y) > (1-meet/2)*r {
				grade = ventReaches
			}
		}
	}
	switch {
	case !reaches:
		return ventShut
	case grade == ventGood && p.cutsCrossing(at.Sub(p.l.Center)):
		return ventLands
	}
	return grade
}

// cutsCrossing reports that a bore at a place, from the plan's middle, ends a channel's roof
// just beside another channel: what is left of the roof between them is shorter than it is
// wide, and hangs by one end. A bore well within a crossing takes all of its roof.
func (p *ventPlan) cutsCrossing(at geom.Vec2) bool {
	const within = 0.75 // of the bore's radius: this program's own choice
	r := p.l.Dims.Buck.Bore / 2
	for _, x := range p.across {
		for _, y := range p.rows {
			if d := at.Sub(geom.Vec2{X: x, Y: y}).Len(); d > within*r && d < r+1.5*channelTop {
				return true
			}
		}
	}
	return false
}

// ClosestVents is how near, in mm, two vents come: a rib of half a bore is left between
// their bores, and two lines of the printer. This program's own choice.
func (l *Layout) ClosestVents() float64 {
	bore := l.Dims.Buck.Bore
	return max(1.5*bore, bore+2*l.Dims.Print.Width)
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
		if q := f.extreme(c); p.clear(q, max(p.pitch*nearVent, p.l.ClosestVents())) {
			p.addNear(q, surveyStep)
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
		if p.clear(q.at, max(p.pitch*2*nearVent, p.l.ClosestVents())) {
			p.addNear(q.at, surveyStep)
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
		p.addNear(q, min(by, surveyStep)) // or q would be the farthest again
	}
}

func (p *ventPlan) clear(q geom.Vec, by float64) bool {
	return !slices.ContainsFunc(p.l.Vents, func(v Vent) bool { return v.At.Dist(q) < by })
}

// farthest is the point whose nearest vent, or place passed over, is farthest.
func (p *ventPlan) farthest(points []geom.Vec) (geom.Vec, float64) {
	var best geom.Vec
	far := -1.0
	for _, q := range points {
		d := math.Inf(1)
		for _, v := range p.l.Vents {
			d = min(d, q.Dist(v.At))
		}
		for _, at := range p.passed {
			d = min(d, q.Dist(at))
		}
		if d > far+1e-9 {
			best, far = q, d
		}
	}
	return best, far
}
