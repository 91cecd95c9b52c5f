package pattern

import (
	"math"

	"buckwright/generate/geom"
)

// Cross is a blank in one piece: a flat panel with a flap folded along each
// straight side. Every second flap, the longer ones, goes on round the corners
// at both its ends, cut free of the panel there, so that flaps meet in upright
// butt seams and never lie over each other.
type Cross struct {
	Panel Path       // the flat part: lines and left-turning arcs, counterclockwise
	Fold  float64    // from the panel to the reference line, along the surface
	Grow  float64    // the same in plan
	Lean  geom.Angle // of the flaps, away from the panel's middle
	Up    float64    // from the reference line to the flap's end
	Seam  float64    // from the panel to the seam round its corners, along the surface
}

// crossGap is how far, in mm, a flap that goes round a corner stays off the
// panel: the panel's edge must not be cut into, nor the slit close by the kerf.
const crossGap = 0.6

// outline of the blank; false when the panel has no straight sides to fold
// along, or corners that turn inwards.
func (x Cross) outline() (Path, bool) {
	lines := x.lines()
	if len(lines) < 3 {
		return Path{}, false
	}
	var out Path
	add := func(p geom.Vec2, b float64) { out.P, out.B = append(out.P, p), append(out.B, b) }
	for k, i := range lines {
		before, after := x.cornerAt(i-1), x.cornerAt(i+1)
		f := x.flap(i, x.owns(lines, k))
		f.trace(add, before, after)
		if after.Sweep != 0 { // round the panel's corner to the next flap
			out.B[len(out.B)-1] = math.Tan(after.Sweep / 4)
		}
	}
	p := out.Tidy()
	return p, p.Area() > 0 && Shape{Outer: p}.Check() == nil
}

// lines are the straight sides, in order; none if some side cannot be had.
func (x Cross) lines() []int {
	var out []int
	n := len(x.Panel.P)
	for i := range n {
		a, arc := x.Panel.Arc(i)
		_, next := x.Panel.Arc((i + 1) % n)
		switch {
		case arc && (a.Sweep < 0 || next):
			return nil
		case !arc && !next:
			return nil // a sharp corner: both sides would want it
		case !arc:
			out = append(out, i)
		}
	}
	if len(out)%2 == 1 {
		return nil
	}
	return out
}

// owns reports whether flap k goes round its corners: every second one, those
// that are longer together.
func (x Cross) owns(lines []int, k int) bool {
	var sum [2]float64
	for j, i := range lines {
		sum[j%2] += x.Panel.sideLength(i)
	}
	longer := 0
	if sum[1] > sum[0] {
		longer = 1
	}
	return k%2 == longer
}

func (x Cross) cornerAt(i int) Arc {
	n := len(x.Panel.P)
	a, _ := x.Panel.Arc((i + n) % n)
	return a
}

// flap is one side's, in its own frame: along the side, and outwards.
type flap struct {
	Cross
	from, dir geom.Vec2
	length    float64
	corners   bool
}

func (x Cross) flap(i int, corners bool) flap {
	a, b := x.Panel.side(i)
	return flap{x, a, b.Sub(a).Unit(), b.Sub(a).Len(), corners}
}

func (f flap) at(x, y float64) geom.Vec2 {
	out := pt(f.dir.Y, -f.dir.X)
	return f.from.Add(f.dir.Scale(x)).Add(out.Scale(y))
}

// trace goes round the flap, from the panel's corner before to the one after.
func (f flap) trace(add func(geom.Vec2, float64), before, after Arc) {
	top := f.Fold + f.Up
	if !f.corners {
		add(f.at(0, f.Seam), 0)
		add(f.at(0, top), 0)
		add(f.at(f.length, top), 0)
		add(f.at(f.length, f.Seam), 0)
		return
	}
	low := f.Seam + crossGap
	add(f.at(0, f.Seam), 0)
	add(f.at(0, low), -f.bulge(before))
	add(f.round(0, -1, before, low), 0)
	add(f.round(0, -1, before, top), f.bulge(before))
	add(f.at(0, top), 0)
	add(f.at(f.length, top), f.bulge(after))
	add(f.round(f.length, 1, after, top), 0)
	add(f.round(f.length, 1, after, low), -f.bulge(after))
	add(f.at(f.length, low), 0)
	add(f.at(f.length, f.Seam), 0)
}

// bulge of the flap's edges round a corner: its development turns by the
// corner's angle times the sine of the lean.
func (f flap) bulge(c Arc) float64 { return math.Tan(c.Sweep * f.Lean.Sin() / 4) }

// round is the end of the flap beyond a corner, y out from the panel.
func (f flap) round(x, side float64, c Arc, y float64) geom.Vec2 {
	r := c.R + f.Grow // plan radius at the reference line
	if f.Lean.Sin()*c.Sweep < 1e-9 {
		return f.at(x+side*r*c.Sweep, y)
	}
	s, cs := math.Sincos(c.Sweep * f.Lean.Sin())
	apex := f.Fold - r/f.Lean.Sin()
	return f.at(x+side*(y-apex)*s, apex+(y-apex)*cs)
}

// folds are the lines along which the flaps turn.
func (x Cross) folds() []Mark {
	var out []Mark
	for _, i := range x.lines() {
		a, b := x.Panel.side(i)
		out = append(out, Mark{Path: Straight(a, b), Open: true})
	}
	return out
}

// cross is the lining of a pan: flat floor, upright wall of one depth and lean,
// straight sides with round corners between; false for any other pocket.
func (c *Cavity) cross(st []station, outline Path, l Lining) (Flat, bool) {
	level, ok := pan(st)
	if !ok {
		return Flat{}, false
	}
	psi := c.floorSeam(st)
	panel, ok := inner(outline, level.In)
	if !ok {
		return Flat{}, false
	}
	seam := 0.0
	for _, s := range st {
		seam = max(seam, level.Down-atSlope(s.down, psi).Down)
	}
	up := c.above(c.Draft, l.Phi)
	x := Cross{Panel: panel, Fold: level.Down, Grow: level.In, Lean: c.Draft, Up: up + l.Trim, Seam: seam}
	p, ok := x.outline()
	if !ok {
		return Flat{}, false
	}
	r := sharpest(outline)
	foot := atSlope(st[0].down, psi)
	strain := Strain{Where: "on the mean of its bends in the corners"}
	for _, e := range []float64{
		hoop(r-foot.Down*c.Draft.Sin(), r-foot.In),
		hoop(r-level.In+seam, r-foot.In),
		hoop(r+up*c.Draft.Sin(), r+c.out(c.Draft, l.Phi)),
	} {
		strain.Stretch, strain.Gather = max(strain.Stretch, e/2), max(strain.Gather, -e/2)
	}
	f := Flat{
		Name: "felt-cross-" + c.Name, Title: "felt for the pocket of " + c.Name + ", in one piece with four flaps", Material: l.Material, Count: 1,
		Shape: Shape{Outer: p}, Marks: x.folds(), Strain: &strain,
		Notes: []string{"Fold the flaps up along the grey lines; the long ones go round the corners and butt against the short ones."},
	}
	return f, true
}

// inner is an outline of straight sides and round corners moved in by d, its
// corners made tangent; false for any other outline, and for corners sharper
// than d.
func inner(p Path, d float64) (Path, bool) {
	type line struct{ at, dir geom.Vec2 }
	var lines []line
	var radius []float64 // of the corner after each line
	n := len(p.P)
	for i := range n {
		a, b := p.side(i)
		arc, is := p.Arc(i)
		_, next := p.Arc((i + 1) % n)
		switch {
		case is == next, is && (arc.Sweep <= 0 || arc.R <= d+leastCorner):
			return Path{}, false
		case is:
			radius = append(radius, arc.R-d)
		default:
			dir := b.Sub(a).Unit()
			lines = append(lines, line{a.Add(pt(-dir.Y, dir.X).Scale(d)), dir})
		}
	}
	if _, first := p.Arc(0); first { // then the first radius is of the corner before the first line
		radius = append(radius[1:], radius[0])
	}
	var out Path
	for i, l := range lines {
		m := lines[(i+1)%len(lines)]
		turn := math.Atan2(l.dir.Cross(m.dir), l.dir.Dot(m.dir))
		if turn < float64(wholeCorner) {
			return Path{}, false
		}
		tip := l.at.Add(l.dir.Scale(m.at.Sub(l.at).Cross(m.dir) / l.dir.Cross(m.dir)))
		back := radius[i] * math.Tan(turn/2)
		out.P = append(out.P, tip.Sub(l.dir.Scale(back)), tip.Add(m.dir.Scale(back)))
		out.B = append(out.B, math.Tan(turn/4), 0)
	}
	return out, true
}

// leastCorner is the least corner radius, in mm, of a panel.
const leastCorner = 0.5

// pan reports whether all profiles are alike: then the walls have one depth
// and one foot, and the floor is flat.
func pan(st []station) (rung, bool) {
	const alike = 0.15 // mm
	first := st[0].down[len(st[0].down)-1]
	for _, s := range st {
		last := s.down[len(s.down)-1]
		if float64(last.Slope) > levelSlope || math.Abs(last.Down-first.Down) > alike ||
			math.Abs(last.In-first.In) > alike || math.Abs(last.Z-first.Z) > alike {
			return rung{}, false
		}
	}
	return first, true
}
