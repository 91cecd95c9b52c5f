package forming

import (
	"context"
	"errors"
	"fmt"
	"math"

	"buckwright/generate/geom"
)

// Numbers of the method, in parts of an element's edge. They were set by trials
// against the exact solutions in the tests.
const (
	usualElement = 2.5   // mm
	skinShare    = 0.02  // as near as this is in contact, where the sheet is laid and where an edge is halved
	stepShare    = 0.3   // farthest that a node moves in one step of the vacuum
	dropShare    = 2.0   // and that the frame comes down in one step
	growShare    = 1.7   // longest side that a formed element is left with
	mostSteps    = 3000  // of either stage
	drapeTol     = 0.02  // force left over while the frame comes down,
	looseTol     = 0.005 // while the vacuum rises,
	tightTol     = 1e-3  // and at rest
)

// former is a shot under way.
type former struct {
	set   Setup
	tool  tool
	sheet *sheet
	first int // elements at the start
}

// Form lays the hot sheet on the tool, brings the frame down and draws the
// vacuum. What touches, sticks, be it the tool or another layer of the sheet.
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
	f.first = len(f.sheet.tri)
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
	case !finite || !(s.Vacuum >= 0):
		return errors.New("forming: a height, a turn or the vacuum is not a number that can be used")
	case !(s.Gauge > 0 && s.Gauge < math.Inf(1)):
		return fmt.Errorf("forming: the sheet's gauge is %g mm, it must be more than 0", s.Gauge)
	case !(s.Element > 0 && min(w, h) >= 4*s.Element):
		return fmt.Errorf("forming: a sheet of %g x %g mm is too small for elements of %g mm", w, h, s.Element)
	case !(w*h <= 1e6*s.Element*s.Element):
		return fmt.Errorf("forming: a sheet of %g x %g mm takes too many elements of %g mm", w, h, s.Element)
	case s.Friction != Sticks:
		return fmt.Errorf("forming: a friction of %g cannot be formed: the sheet is taken to stick where it touches", s.Friction)
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
		if edge[n] && f.frameRuns(p) {
			return fmt.Errorf("forming: the frame runs into the tool at x %.1f, y %.1f", p.X, p.Y)
		}
		st.seen, st.clear = p, f.tool.dist(p)
		st.frame = edge[n]
		st.held = edge[n] || d <= f.skin()
	}
	return nil
}

// frameRuns reports whether the frame's way down from p meets the tool. It is
// looked at in places, since the tool's walls are far longer than a tenth of it.
func (f *former) frameRuns(p geom.Vec) bool {
	for k := 1; k < 10; k++ {
		p.Z = f.set.Rim + (f.set.Platen-f.set.Rim)*float64(k)/10
		if f.tool.below(p) < -2*f.skin() {
			return true
		}
	}
	return false
}
