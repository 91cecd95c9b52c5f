package forming

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sync"

	"buckwright/generate/geom"
)

// Numbers of the method, in parts of an element's edge. They were set by trials
// against the exact solutions in the tests.
const (
	usualElement = 2.5  // mm
	skinShare    = 0.02 // as near as this is in contact, where the sheet is laid and where an edge is halved
	stepShare    = 0.4  // farthest that a node moves in one step of the vacuum
	dropShare    = 2.0  // and that the frame comes down in one step
	growShare    = 1.7  // longest side that a formed element is left with
	mostSteps    = 3000 // of either stage
	looseTol     = 0.02 // force left over while the sheet moves, and at rest
	tightTol     = 1e-3
)

// former is a shot under way.
type former struct {
	set   Setup
	tool  tool
	sheet *sheet
	step  int
}

// Form lays the hot sheet on the tool, brings the frame down and draws the
// vacuum. Friction holds or slows what touches.
//
// Not modelled: chill and viscosity (the sheet is elastic and isothermal, its
// shape depends on the order of events, not on their speed), sag before the shot,
// trapped air, plugs, and bending: features below an element's edge are bridged.
func Form(ctx context.Context, set Setup) (*Formed, error) {
	if err := set.check(); err != nil {
		return nil, err
	}
	f := &former{set: set, tool: newTool(&set)}
	f.sheet = f.mesh()
	if err := f.lay(); err != nil {
		return nil, err
	}
	if err := f.drape(ctx); err != nil {
		return nil, err
	}
	if err := f.draw(ctx); err != nil {
		return nil, err
	}
	return f.formed(), nil
}

// check fills in what is left out and refuses what cannot be formed.
func (s *Setup) check() error {
	if s.Element == 0 {
		s.Element = usualElement
	}
	w, h := s.Area[0], s.Area[1]
	finite := s.Center.At(s.Rim).Finite() && geom.V(s.Vacuum, s.Platen, float64(s.Turn)).Finite()
	switch {
	case s.Body == nil:
		return errors.New("forming: there is no tool")
	case !finite || !(s.Vacuum >= 0) || math.IsNaN(s.Friction):
		return errors.New("forming: a height, the vacuum or the friction is not a number that can be used")
	case !(s.Gauge > 0 && s.Gauge < math.Inf(1)):
		return fmt.Errorf("forming: the sheet's gauge is %g mm, it must be more than 0", s.Gauge)
	case !(s.Element > 0 && min(w, h) >= 4*s.Element):
		return fmt.Errorf("forming: a sheet of %g x %g mm is too small for elements of %g mm", w, h, s.Element)
	case !(w*h <= 1e6*s.Element*s.Element):
		return fmt.Errorf("forming: a sheet of %g x %g mm takes too many elements of %g mm", w, h, s.Element)
	case s.Platen > s.Rim:
		return fmt.Errorf("forming: the frame's end at %g mm is above the rim at %g mm", s.Platen, s.Rim)
	case s.Box.Max.X < s.Center.X-w/2 || s.Box.Min.X > s.Center.X+w/2 ||
		s.Box.Max.Y < s.Center.Y-h/2 || s.Box.Min.Y > s.Center.Y+h/2:
		return errors.New("forming: the tool does not lie under the sheet")
	}
	return s.Law.check()
}

// skin is as near as contact.
func (f *former) skin() float64 { return skinShare * f.set.Element }

// lay puts the flat sheet on the rim: what touches there is held.
func (f *former) lay() error {
	edge := f.sheet.onEdge()
	for n := range f.sheet.node {
		p, st := f.sheet.node[n], &f.sheet.state[n]
		d := f.tool.below(p)
		if d < -2*f.skin() {
			return fmt.Errorf("forming: the tool stands above the rim by %.2f mm at x %.1f, y %.1f", -d, p.X, p.Y)
		}
		st.seen, st.clear = p, f.tool.dist(p)
		st.frame = edge[n]
		st.held = edge[n] || d <= f.skin()
	}
	return nil
}

// drape brings the frame down from the rim to the platen.
func (f *former) drape(ctx context.Context) error {
	fall := f.set.Rim - f.set.Platen
	n := int(math.Ceil(fall / (dropShare * f.set.Element)))
	if n > mostSteps {
		return fmt.Errorf("forming: a drop of the frame of %g mm is too long for elements of %g mm", fall, f.set.Element)
	}
	for i := range n {
		if err := ctx.Err(); err != nil {
			return err
		}
		z := f.set.Rim - fall*float64(i+1)/float64(n)
		for k := range f.sheet.node {
			if f.sheet.state[k].frame {
				f.sheet.node[k].Z = z
			}
		}
		f.refine()
		f.each(func(r *region) {
			if r.framed() {
				f.follow(r, moment{0, 0, i + 1})
			}
		})
	}
	return f.frameClear()
}

// frameClear refuses a tool that the frame cannot pass.
func (f *former) frameClear() error {
	for n, st := range f.sheet.state {
		if p := f.sheet.node[n]; st.frame && f.tool.below(p) < -2*f.skin() {
			return fmt.Errorf("forming: the frame runs into the tool at x %.1f, y %.1f", p.X, p.Y)
		}
	}
	return nil
}

// framed reports whether the frame moves a region.
func (r *region) framed() bool {
	for _, n := range r.node[r.free:] {
		if r.state[n].frame {
			return true
		}
	}
	return false
}

// follow settles a region without pressure, the frame having moved.
func (f *former) follow(r *region, when moment) {
	f.stiffen(r)
	r.settle(looseTol, f.set.Element)
	f.touch(r, 0, when)
}

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
		if f.each(func(r *region) {
			if !r.state[r.node[0]].rests {
				f.advance(r, i)
			}
		}) == 0 {
			return nil
		}
	}
	return fmt.Errorf("forming: the sheet did not come to rest in %d steps", mostSteps)
}

// each does work on every free region that does not rest, side by side: regions
// share no free node. It returns how many there were.
func (f *former) each(work func(*region)) int {
	busy := 0
	var wait sync.WaitGroup
	for _, r := range regions(f.sheet, f.set.Law, f.set.Gauge) {
		if r.state[r.node[0]].rests {
			continue
		}
		busy++
		r.side = f.set.Element
		wait.Go(func() { work(r) })
	}
	wait.Wait()
	return busy
}

// stiffen prepares a region's stiffness.
func (f *former) stiffen(r *region) {
	unit := f.set.Law.Shear() * f.set.Gauge
	r.k = newStiffness(r, func(regionElem) float64 { return unit })
	r.pushing = r.push(r.x)
}

// firmness is how many times the load's softness is stiffer than the sheet: it
// must outweigh the sheet's falling pressure beyond its summit.
const firmness = 6.0

// advance moves a region on by one step of the vacuum.
func (f *former) advance(r *region, step int) {
	f.stiffen(r)
	give := r.k.solve(r.pushing, 0.05)
	p, p0, peak := 0.0, 0.0, 0.0
	for _, n := range r.node[:r.free] {
		p0, peak = max(p0, r.state[n].press), max(peak, r.state[n].when.load)
	}
	r.load.cap = f.set.Vacuum
	r.load.rate = firmness / dot(r.pushing, give)
	start := r.x
	volume := r.volume(start)
	more := f.set.Element * stepShare * (1 + firmness) / (r.load.rate * longest(give))
	aim := stepShare * f.set.Element
	for range 6 {
		r.x = append([]geom.Vec(nil), start...)
		r.load.full = volume + p0/r.load.rate + more
		p = r.settle(looseTol, f.set.Element)
		moved := farthest(r.x[:r.free], start)
		switch {
		case moved > 2.5*aim:
			more /= 2.5
			continue
		case moved < 0.2*aim && p < f.set.Vacuum:
			more *= 3
			continue
		}
		break
	}
	full := p >= f.set.Vacuum*(1-1e-9)
	if full {
		r.settle(tightTol, f.set.Element)
	}
	peak = max(peak, p)
	hits := f.touch(r, p, moment{1, peak, step}) + f.closeUp(r, p)
	if full && hits == 0 {
		for _, n := range r.node[:r.free] {
			r.state[n].rests = true
		}
	}
}

func farthest(a, b []geom.Vec) float64 {
	most := 0.0
	for i := range a {
		most = max(most, a[i].Dist(b[i]))
	}
	return most
}

// touch carries a region's places over to the sheet. Nodes whose way enters the
// tool are held where it does. It returns how many.
func (f *former) touch(r *region, p float64, when moment) int {
	hits := 0
	tangled := r.tangled()
	for i, n := range r.node[:r.free] {
		st, from, to := &r.state[n], r.sheet.node[n], r.x[i]
		st.press, st.when = p, when
		push := r.pushing[i].Unit()
		if tangled[i] {
			f.fall(r, n, push)
			hits++
			continue
		}
		if p > 0 { // the vacuum only rises, so no part of the sheet goes back
			to = to.Sub(push.Scale(min(0, to.Sub(from).Dot(push))))
		}
		if to.Dist(st.seen) >= st.clear {
			share, clear, hit := f.tool.meet(from, to)
			to = from.Lerp(to, share)
			st.seen, st.clear = to, clear
			if hit {
				st.held = true
				hits++
			}
		}
		r.sheet.node[n] = to
	}
	return hits
}

// tangled marks the free nodes of elements that turned over in the last step:
// the mesh can follow the sheet no further there.
func (r *region) tangled() []bool {
	bad := make([]bool, len(r.x))
	for i := range r.elem {
		el := &r.elem[i]
		a := r.x[el.v[0]]
		now := r.x[el.v[1]].Sub(a).Cross(r.x[el.v[2]].Sub(a))
		was := r.normal(el.t).Scale(2)
		if !(now.Dot(was) > 0.05*was.Dot(was)) {
			for _, v := range el.v {
				bad[v] = true
			}
		}
	}
	return bad[:r.free]
}

// closeShare is how many times longer than the radius that the pressure bends
// the sheet to a side may be. A node amid longer sides is no longer held in place
// by the sheet: p times the side outweighs the tension, and the mesh would tangle.
const closeShare = 2.5

// closeUp brings nodes onto the tool where what is left of the gap is finer than
// the elements can follow: the pressure would bend the sheet there to a radius
// well below a side.
func (f *former) closeUp(r *region, p float64) int {
	hits := 0
	for i := range r.elem {
		el := &r.elem[i]
		if !(p*r.formedEdge(el.t) > closeShare*f.tension(el.t)) {
			continue
		}
		for _, v := range el.v {
			if n := r.node[v]; !r.state[n].held {
				f.fall(r, n, r.pushing[v].Unit())
				hits++
			}
		}
	}
	return hits
}

// fall holds node n where its way along d meets the tool, or where it is if that
// is far.
func (f *former) fall(r *region, n int32, d geom.Vec) {
	st, at := &r.state[n], r.sheet.node[n]
	st.held = true
	for range 60 {
		gap := f.tool.dist(at)
		if !(gap > 1e-4) || at.Dist(r.sheet.node[n]) > 2*f.set.Element {
			break
		}
		at = at.Add(d.Scale(gap))
	}
	if f.tool.dist(at) <= f.skin() {
		r.sheet.node[n] = at
	}
}

// tension is that of an element per length of the flat sheet, N/m.
func (f *former) tension(t int32) float64 {
	a, b := f.sheet.stretches(t)
	a, b = max(a, 1e-6), max(b, 1e-6)
	_, wa, wb := f.set.Law.relaxed(a, b)
	return f.set.Gauge * (wa/a + wb/b) / 2
}
