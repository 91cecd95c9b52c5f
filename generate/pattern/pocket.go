package pattern

import (
	"errors"
	"fmt"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Lining is how a cavity is to be lined.
type Lining struct {
	Material Material
	Phi      geom.Angle // of the mouth's bend at which the seam lies
	Limit    float64    // strain that the felt takes, as a share
	Trim     float64    // mm left over at the mouth, to be trimmed after pressing
}

// Seam is the angle of a mouth's bend at which wall and rim meet so that both
// are strained alike in the sharpest corner: measured from the rim's flat.
func (c *Cavity) Seam() geom.Angle {
	outline := Fit(c.Outline, fitTol)
	r := sharpest(outline)
	lean := c.Draft
	most := math.Pi/2 - float64(lean)
	if math.IsInf(r, 1) {
		return geom.Angle(most / 2)
	}
	flat := r + c.Bend/lean.Cos() // where the rim's flat begins
	worst := func(phi float64) float64 {
		a := geom.Angle(phi)
		true := r + c.out(lean, a)
		wall := hoop(r+c.above(lean, a)*lean.Sin(), true)
		rim := hoop(flat-c.Bend*phi, true)
		if flat-c.Bend*phi <= 0 {
			return math.Inf(1)
		}
		return max(math.Abs(wall), math.Abs(rim))
	}
	return geom.Angle(least(worst, 0, most))
}

// least finds where f is least between a and b, by golden sections; f has one valley.
func least(f func(float64) float64, a, b float64) float64 {
	const g = 0.6180339887498949
	x, y := b-g*(b-a), a+g*(b-a)
	fx, fy := f(x), f(y)
	for b-a > 1e-4 {
		if fx <= fy {
			b, y, fy = y, x, fx
			x = b - g*(b-a)
			fx = f(x)
		} else {
			a, x, fx = x, y, fy
			y = a + g*(b-a)
			fy = f(y)
		}
	}
	return (a + b) / 2
}

// sharpest is the least radius of an outline's outward corners, +Inf if it has none.
func sharpest(p Path) float64 {
	r := math.Inf(1)
	for i := range p.P {
		if a, ok := p.Arc(i); ok && a.Sweep >= float64(wholeCorner) {
			r = min(r, a.R)
		}
	}
	return r
}

// errNoFloor says that the surface could not be followed.
var errNoFloor = errors.New("its floor could not be developed")

// Line develops the felt of a cavity: a single piece where the felt takes it,
// else the cheaper of floor with wall strip and a cross.
func (c *Cavity) Line(l Lining) ([]Flat, error) {
	outline := Fit(c.Outline, fitTol)
	st := c.stations(outline)
	reach := span(outline)
	for i := range st {
		st[i].down = profile(c.Field, st[i].at.At(c.Top), st[i].in, reach)
	}
	whole, err := c.whole(st, outline)
	if err != nil {
		return nil, err
	}
	area, line := whole.net.pressStrain(whole.edge)
	told := fmt.Sprintf("From one flat piece the felt would have to stretch by %s in area, %s along the longest line; it takes about %s.",
		percent(area), percent(line), percent(l.Limit))
	if area <= l.Limit {
		if one, err := c.onePiece(whole, l); err != nil || one.Strain.Most() <= l.Limit {
			return []Flat{one}, err
		}
	}
	psi := c.floorSeam(st)
	pair, err := c.floorAndWall(st, outline, psi, l)
	if err != nil {
		return nil, err
	}
	pair[0].Notes = append(pair[0].Notes, told)
	if cross, ok := c.cross(st, outline, l); ok && better(cross, pair, l.Limit) {
		cross.Notes = append(cross.Notes, told)
		return []Flat{cross}, nil
	}
	return pair, nil
}

// better reports whether a cross beats floor and wall: by strain if only one of
// them stays within the limit, else by the material they take.
func better(cross Flat, pair []Flat, limit float64) bool {
	strain := 0.0
	for _, f := range pair {
		if f.Strain != nil {
			strain = max(strain, f.Strain.Most())
		}
	}
	if a, b := cross.Strain.Most() <= limit, strain <= limit; a != b {
		return a
	}
	taken := func(f Flat) float64 {
		lo, hi := f.Shape.Outer.Bounds()
		return (hi.X - lo.X) * (hi.Y - lo.Y)
	}
	sum := 0.0
	for _, f := range pair {
		sum += taken(f)
	}
	return taken(cross) <= sum
}

// span is the longer side of an outline's box.
func span(p Path) float64 {
	lo, hi := p.Bounds()
	return max(hi.X-lo.X, hi.Y-lo.Y)
}

// surface is a piece of the cavity, laid over its plan.
type surface struct {
	net  *net
	edge []int32
}

const (
	leastSquare = 1.0  // mm, side of the squares a floor is laid over
	mostSquare  = 2.5  // mm
	squares     = 50.0 // across the root of a floor's area
	wholePlan   = 0.95 // share of a plan that its squares must cover in one piece
)

// over lays the cavity's surface over a plan, in finer squares where they are
// too coarse for a neck of it.
func (c *Cavity) over(plan sdf.Region, area, guess float64) (surface, error) {
	h := max(leastSquare, min(mostSquare, math.Sqrt(area)/squares))
	for range 3 {
		m, edge := overPlan(plan, c.height, guess, h)
		if p := m.plan(edge); len(edge) > 2 && p.Area() > wholePlan*area {
			return surface{m, edge}, nil
		}
		h *= 0.6
	}
	return surface{}, errNoFloor
}

// height is where the surface is under a place; guess is a height near it. It is
// the guess where none is in reach: at the foot of a wall there may be solid all
// the way up.
func (c *Cavity) height(at geom.Vec2, guess float64) float64 {
	f := func(z float64) float64 { return c.Field(at.At(z)) }
	a, fa := guess, f(guess)
	// The field is a distance: the surface is at least that far. Going up from
	// the solid or down from the pocket, the sign changes once.
	dir := 1.0
	if fa <= 0 {
		dir = -1
	}
	step := max(math.Abs(fa)*1.1, 1e-3)
	for math.Abs(a-guess) <= c.Top-guess+heightBeyond {
		b := a + dir*step
		fb := f(b)
		if (fb <= 0) != (fa <= 0) {
			return zero(func(p geom.Vec2) float64 { return f(p.X) }, pt(a, 0), pt(b, 0), fa, fb).X
		}
		a, fa = b, fb
		step = max(1.5*step, math.Abs(fb))
	}
	return guess
}

// heightBeyond is how far beyond the pocket's own depth its surface is looked for, in mm.
const heightBeyond = 20

// whole is the cavity's surface within its outline.
func (c *Cavity) whole(st []station, outline Path) (surface, error) {
	g, err := outline.region()
	if err != nil {
		return surface{}, err
	}
	return c.over(g, outline.Area(), c.deepest(st))
}

// deepest is the lowest height that any profile reaches.
func (c *Cavity) deepest(st []station) float64 {
	z := c.Top
	for _, s := range st {
		z = min(z, s.down[len(s.down)-1].Z)
	}
	return z
}

// piece flattens a surface into a flat piece.
func (s surface) piece(where string) (Path, Strain) {
	u := s.net.flatten()
	pts := make([]geom.Vec2, len(s.edge))
	for i, v := range s.edge {
		pts[i] = u[v]
	}
	return Fit(pts, fitTol).Turned(true), s.net.strain(u, where)
}

// onePiece is the whole lining as one flat piece.
func (c *Cavity) onePiece(s surface, l Lining) (Flat, error) {
	p, strain := s.piece("over the pocket")
	up := c.above(c.Draft, l.Phi) + l.Trim
	shape, err := Shape{Outer: p}.Grow(up)
	return Flat{
		Name: "felt-pocket-" + c.Name, Title: "felt for the pocket of " + c.Name + ", in one piece", Material: l.Material, Count: 1,
		Shape: shape, Strain: &strain, Notes: []string{"It is pressed in flat: no cut, no seam."},
	}, err
}
