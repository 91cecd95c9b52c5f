package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Revolve turns the half outline g about z: x is the radius, y the height. What
// of g lies at x < 0 is cut away. Exact on both sides.
func Revolve(g Region) Solid {
	lo, hi := g.Bounds2()
	if lo.X < 0 {
		half := Place2(Rect(-lo.X+1, (hi.Y-lo.Y)/2+1, 0), geom.Vec2{X: lo.X - 1, Y: (lo.Y + hi.Y) / 2}, 0)
		g = Difference2(g, half)
	}
	return newRevolved(offAxis(asPlanar(g).pieces()))
}

// offAxis is the pieces without those on the axis, which are no surface.
func offAxis(e []piece) []piece {
	var out []piece
	for _, f := range e {
		if f.r != 0 || math.Abs(f.a.X) > weld || math.Abs(f.b.X) > weld {
			out = append(out, f)
		}
	}
	return out
}

// newRevolved takes linked pieces without those on the axis.
func newRevolved(e []piece) Solid {
	if len(e) == 0 {
		return Nothing{}
	}
	return revolved{newOutline(axisEnds(e))}
}

// axisEnds gives the ends on the axis the normal that they share with their
// mirror image: along the axis.
func axisEnds(e []piece) []piece {
	for i := range e {
		na, nb := e[i].normals()
		if math.Abs(e[i].a.X) <= weld {
			e[i].na = geom.Vec2{Y: 2 * na.Y}
		}
		if math.Abs(e[i].b.X) <= weld {
			e[i].nb = geom.Vec2{Y: 2 * nb.Y}
		}
	}
	return e
}

type revolved struct{ g planar }

func (s revolved) Dist(p geom.Vec) float64 {
	return s.g.Dist(geom.Vec2{X: math.Sqrt(p.X*p.X + p.Y*p.Y), Y: p.Z})
}

func (s revolved) Bounds() geom.Box {
	lo, hi := s.g.Bounds2()
	return geom.Box{Min: geom.V(-hi.X, -hi.X, lo.Y), Max: geom.V(hi.X, hi.X, hi.Y)}
}

func (s revolved) ExactOutside() bool       { return true }
func (s revolved) ExactInside() bool        { return true }
func (s revolved) Cell(tol float64) float64 { return s.bends().cell(tol) }

// convex: the half outline is convex and nowhere faces the axis.
func (s revolved) convex() bool {
	for _, e := range s.g.pieces() {
		na, nb := e.normals()
		if na.X < -smoothTurn || nb.X < -smoothTurn {
			return false
		}
	}
	b := s.g.bends2()
	return math.IsInf(b.concave, 1) && !b.valley && oneRun(s.g.pieces())
}

func oneRun(e []piece) bool {
	breaks := 0
	for i := range e {
		if !same(e[i].b, e[(i+1)%len(e)].a) {
			breaks++
		}
	}
	return breaks <= 1
}

func (s revolved) bends() bends { return revolvedBends(s.g, 0) }

// revolvedBends adds to the outline's own bends the circles about the axis: a
// point at radius x whose normal has the radial part n curves by n/x. Those
// of less than rmin count as rmin.
func revolvedBends(g planar, rmin float64) bends {
	b := g.bends2()
	turn := func(p, n geom.Vec2) {
		switch x := max(p.X, rmin); {
		case n.X > smoothTurn:
			b.convex = min(b.convex, x/n.X)
		case n.X < -smoothTurn:
			b.concave = min(b.concave, x/-n.X)
		}
	}
	switch t := g.(type) {
	case plane2:
		turn(geom.Vec2{}, t.n)
	case sides2:
		for _, h := range t.h {
			turn(geom.Vec2{}, h.n)
		}
	}
	for _, e := range g.pieces() {
		na, nb := e.normals()
		turn(e.a, na)
		turn(e.b, nb)
		for _, x := range [2]float64{-1, 1} { // where an arc is steepest
			if n := (geom.Vec2{X: x}); e.r != 0 && e.sector(n) {
				turn(e.c.Add(n.Scale(math.Abs(e.r))), n.Scale(math.Copysign(1, e.r)))
			}
		}
	}
	return b
}

func (s revolved) Local(b geom.Ball) Solid { return s.Near(b, 0) }

func (s revolved) Near(b geom.Ball, m float64) Solid {
	c := geom.Vec2{X: math.Sqrt(b.C.X*b.C.X + b.C.Y*b.C.Y), Y: b.C.Z}
	g := s.g.near2(c, b.R, -m, m)
	switch t := g.(type) {
	case none2:
		return Nothing{}
	case all2:
		return Everything{}
	case plane2:
		if math.Abs(t.n.X) < 1e-12 { // a flat end
			return HalfSpace{geom.V(0, 0, t.n.Y), t.d}
		}
		if d := math.Abs(s.g.Dist(c)); m > 0 && c.X < d+2*b.R+2*m {
			g = nearest(s.g, s.g.pieces(), d+2*b.R, c) // the plane ends at the axis
		}
	}
	return revolvedPart{revolved{g}, max(0, c.X-b.R)}
}

// revolvedPart is a revolved solid in a ball that comes no nearer to the axis
// than rmin.
type revolvedPart struct {
	revolved
	rmin float64
}

func (s revolvedPart) bends() bends             { return revolvedBends(s.g, s.rmin) }
func (s revolvedPart) Cell(tol float64) float64 { return s.bends().cell(tol) }
func (s revolvedPart) convex() bool             { return false }

// Creased is false off the axis, where the outline has no corner.
func (s revolvedPart) Creased() bool { return s.rmin == 0 || creased2(s.g) || s.bends().sharp() }
