package pattern

import (
	"errors"
	"fmt"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Area is the outline's less the holes'.
func (s Shape) Area() float64 {
	sum := math.Abs(s.Outer.Area())
	for _, h := range s.Holes {
		sum -= math.Abs(h.Area())
	}
	return sum
}

// Oriented has the outline counterclockwise and the holes clockwise.
func (s Shape) Oriented() Shape {
	out := Shape{Outer: s.Outer.Turned(true)}
	for _, h := range s.Holes {
		out.Holes = append(out.Holes, h.Turned(false))
	}
	return out
}

// Move turns the shape about the origin and then moves it.
func (s Shape) Move(turn geom.Angle, by geom.Vec2) Shape {
	out := Shape{Outer: s.Outer.Move(turn, by)}
	for _, h := range s.Holes {
		out.Holes = append(out.Holes, h.Move(turn, by))
	}
	return out
}

// paths are the outline and the holes.
func (s Shape) paths() []Path { return append([]Path{s.Outer}, s.Holes...) }

// ErrEmpty is the error of a shape with nothing to cut.
var ErrEmpty = errors.New("the shape has no area")

// leastArea is the area, in mm², that counts as something to cut.
const leastArea = 1e-3

// region is the shape as a signed distance.
func (s Shape) region() (sdf.Region, error) {
	if len(s.Outer.P) < 2 || !(math.Abs(s.Outer.Area()) > leastArea) {
		return nil, ErrEmpty
	}
	outer, err := s.Outer.region()
	if err != nil {
		return nil, err
	}
	if len(s.Holes) == 0 {
		return outer, nil
	}
	var holes []sdf.Region
	for _, h := range s.Holes {
		g, err := h.region()
		if err != nil {
			return nil, err
		}
		holes = append(holes, g)
	}
	return sdf.Difference2(outer, holes...), nil
}

func (p Path) region() (sdf.Region, error) {
	for i := range p.P {
		if math.Abs(p.bulge(i)) > 0.4 { // a circle of two halves has too few points for Polygon
			p = p.halved(i)
			return p.region()
		}
	}
	return sdf.Polygon(p.P, p.B)
}

// halved cuts side i in two.
func (p Path) halved(i int) Path {
	c, _ := p.Arc(i)
	var out Path
	for j, q := range p.P {
		b := p.bulge(j)
		if j == i {
			b = math.Tan(c.Sweep / 8)
		}
		out.P, out.B = append(out.P, q), append(out.B, b)
		if j == i {
			out.P, out.B = append(out.P, c.At(0.5)), append(out.B, b)
		}
	}
	return out
}

// Check says why a shape cannot be cut: no area, a path that crosses or touches
// itself, a hole that is not inside, holes that touch.
func (s Shape) Check() error {
	if len(s.Outer.P) < 2 || !(math.Abs(s.Outer.Area()) > leastArea) {
		return ErrEmpty
	}
	outer, err := s.Outer.region()
	if err != nil {
		return err
	}
	var before []sdf.Region
	for i, h := range s.Holes {
		g, err := h.region()
		if err != nil {
			return fmt.Errorf("hole %d: %w", i, err)
		}
		for _, q := range h.Flatten(0.01) {
			if !(outer.Dist(q) < 0) {
				return fmt.Errorf("hole %d is not inside the outline", i)
			}
			for j, other := range before {
				if !(other.Dist(q) > 0) {
					return fmt.Errorf("holes %d and %d meet", j, i)
				}
			}
		}
		before = append(before, g)
	}
	return nil
}

// Grow is the shape with every cut line moved by d into the waste: outwards
// for the outline, inwards for the holes. What closes up by it is gone.
func (s Shape) Grow(d float64) (Shape, error) {
	s = s.Oriented()
	if d == 0 {
		return s, nil
	}
	g, err := s.region()
	if err != nil {
		return Shape{}, err
	}
	paths, err := outlines(sdf.Grow(g, d))
	if err != nil {
		return Shape{}, err
	}
	return oneShape(paths)
}

// outlines are the paths around a region: traced, or followed where the
// tracing gave up.
func outlines(g sdf.Region) ([]Path, error) {
	var out []Path
	if loops, ok := sdf.Loops(g); ok {
		for _, l := range loops {
			out = append(out, Path{l.P, l.Bulge}.Tidy())
		}
		return out, nil
	}
	lo, hi := g.Bounds2()
	if !(hi.X-lo.X < 1e5 && hi.Y-lo.Y < 1e5) {
		return nil, errors.New("the outline cannot be followed")
	}
	for _, l := range Contour(g.Dist, lo.Sub(pt(1, 1)), hi.Add(pt(1, 1)), contourStep) {
		out = append(out, Fit(l, fitTol))
	}
	return out, nil
}

// oneShape takes the largest outline and the holes inside it.
func oneShape(paths []Path) (Shape, error) {
	var s Shape
	best := 0.0
	for _, p := range paths {
		if a := p.Area(); a > best {
			best, s.Outer = a, p
		}
	}
	if best <= leastArea {
		return Shape{}, ErrEmpty
	}
	outer, err := s.Outer.region()
	if err != nil {
		return Shape{}, err
	}
	for _, p := range paths {
		if p.Area() < -leastArea && outer.Dist(p.P[0]) < 0 {
			s.Holes = append(s.Holes, p)
		}
	}
	return s, nil
}
