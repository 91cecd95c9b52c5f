package forming

import (
	"context"
	"fmt"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// draw raises the vacuum until every part of the sheet is in equilibrium with it.
func (f *former) draw(ctx context.Context) error {
	if f.set.Vacuum == 0 {
		return nil
	}
	for i := range mostSteps {
		if err := ctx.Err(); err != nil {
			return err
		}
		f.refine()
		start := slices.Clone(f.sheet.node)
		if busy := f.each(func(r *region) { f.advance(r, i) }); busy == 0 {
			return nil
		}
		if f.web(start) > 0 {
			f.sheet.wake(i)
		}
	}
	return fmt.Errorf("forming: the sheet did not come to rest in %d steps", mostSteps)
}

// firmness is how many times the load's softness is stiffer than the sheet: it
// must outweigh the sheet's falling pressure beyond its summit.
const firmness = 6.0

// advance moves a region on by one step of the vacuum.
func (f *former) advance(r *region, step int) {
	f.stiffen(r)
	p0, peak := r.pressed()
	p, moves := f.inflate(r, p0)
	if f.full(p) {
		p = r.settle(tightTol, f.set.Element)
	}
	hits := f.touch(r, p, moment{1, max(peak, p), step}) + f.closeUp(r, p)
	if f.full(p) && hits == 0 || !moves {
		r.rest()
	}
}

// full reports whether a pressure is the whole vacuum.
func (f *former) full(p float64) bool { return p >= f.set.Vacuum*(1-1e-9) }

// pressed is the pressure that the last step left a region with, and the most it has had.
func (r *region) pressed() (p, peak float64) {
	for _, n := range r.node[:r.free] {
		p, peak = max(p, r.state[n].press), max(peak, r.state[n].when.load)
	}
	return p, peak
}

// wake takes back that nodes came to rest in a step: a web has formed since.
func (s *sheet) wake(step int) {
	for n := range s.state {
		if st := &s.state[n]; st.when.step == step {
			st.rests = false
		}
	}
}

// rest ends a region's part in the shot.
func (r *region) rest() {
	for _, n := range r.node[:r.free] {
		r.state[n].rests = true
	}
}

// inflate settles a region at a volume that is larger by so much that its
// fastest node moves by about one step, the pressure having been p0. It returns
// the pressure, and whether the region can move at all.
func (f *former) inflate(r *region, p0 float64) (p float64, moves bool) {
	give := r.k.solve(r.pushing, 0.05) // its movement by pressure
	softness := dot(r.pushing, give)
	if !(softness > 0 && softness < math.Inf(1)) {
		return p0, false
	}
	aim := stepShare * math.Sqrt(f.set.Element*usualElement) // so that the cost grows slower than the steps of an element would
	start, volume := r.x, r.volume(r.x)
	r.load.cap = f.set.Vacuum
	r.load.rate = firmness / softness
	more := aim * (1 + firmness) / (r.load.rate * longest(give))
	gentle := false
	for range 6 { // the sheet's own stiffness is only guessed by the harmonic one
		r.x = append([]geom.Vec(nil), start...)
		addScaled(r.x[:r.free], give, min(aim/longest(give), more*r.load.rate/(1+firmness)))
		r.load.full = volume + p0/r.load.rate + more
		p = r.settle(looseTol, f.set.Element)
		moved := farthest(r.x[:r.free], start)
		if moved > 2.5*aim {
			more /= 2.5
		} else if moved > aim/16 && f.strikes(r) > frontRows*(len(r.node)-r.free) {
			more /= 4
			gentle = true
		} else if moved < 0.2*aim && p < f.set.Vacuum && !gentle {
			more *= 3
		} else {
			break
		}
	}
	return p, true
}

// frontRows is how many rows of nodes may touch the tool in one step, where the
// free sheet ends: those that touch together have not been held one by one, as a
// front that runs down a wall holds them.
const frontRows = 2

// strikes counts the nodes that would enter the tool.
func (f *former) strikes(r *region) int {
	hits := 0
	for i, n := range r.node[:r.free] {
		if _, hit := f.approach(r, i, n, true); hit {
			hits++
		}
	}
	return hits
}

func farthest(a, b []geom.Vec) float64 {
	most := 0.0
	for i := range a {
		most = max(most, a[i].Dist(b[i]))
	}
	return most
}
