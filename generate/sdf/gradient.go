package sdf

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Grader is a Solid that gives the gradient of its field with the value: of
// unit length, and of either side where two faces are equally near.
type Grader interface {
	Grad(p geom.Vec) (d float64, g geom.Vec)
}

// Gradient is the field of s at p and its gradient; ok is false if s does not give
// that.
func Gradient(s Solid, p geom.Vec) (d float64, g geom.Vec, ok bool) {
	if !grades(s) {
		return 0, geom.Vec{}, false
	}
	d, g = s.(Grader).Grad(p)
	return d, g, true
}

// planarGrader is the same for a Region.
type planarGrader interface {
	grad2(p geom.Vec2) (d float64, g geom.Vec2)
}

// grades reports whether s gives its gradient; that a *moved has the method does
// not mean that its solid has it too.
func grades(s Solid) bool {
	switch t := s.(type) {
	case *moved:
		return grades(t.s)
	case offset:
		return grades(t.s)
	case complement:
		return grades(t.s)
	case planned:
		return grades2(t.plan2())
	case *blend:
		return grades(t.a) && grades(t.b)
	case *released:
		return grades(t.s)
	case *releasedPart:
		return grades(t.s)
	case *union:
		return !slices.ContainsFunc(t.kids, gradeless)
	case *intersection:
		return !slices.ContainsFunc(t.kids, gradeless)
	}
	_, ok := s.(Grader)
	return ok
}

// planned is a solid that takes its gradient from that of a plan.
type planned interface{ plan2() planar }

func (s *prism) plan2() planar   { return s.plan }
func (s *taper) plan2() planar   { return s.plan }
func (s *flare) plan2() planar   { return s.plan }
func (s revolved) plan2() planar { return s.g }

func grades2(g planar) bool {
	if t, ok := g.(placed); ok {
		return grades2(t.g)
	}
	_, ok := g.(planarGrader)
	return ok
}

func gradeless(s Solid) bool { return !grades(s) }

// Grad is the distance and the normal.
func (h HalfSpace) Grad(p geom.Vec) (float64, geom.Vec) { return h.Dist(p), h.N }

func (o offset) Grad(p geom.Vec) (float64, geom.Vec) {
	d, g := o.s.(Grader).Grad(p)
	return d - o.r, g
}

func (c complement) Grad(p geom.Vec) (float64, geom.Vec) {
	d, g := c.s.(Grader).Grad(p)
	return -d, g.Scale(-1)
}

// Grad is that of the part that gives the value.
func (u *union) Grad(p geom.Vec) (float64, geom.Vec) { return gradOf(u.kids, u.Dist(p), p) }

// Grad is that of the part that gives the value.
func (x *intersection) Grad(p geom.Vec) (float64, geom.Vec) { return gradOf(x.kids, x.Dist(p), p) }

// gradOf is d and the gradient of the one of the solids whose value at p is nearest to it.
func gradOf(kids []Solid, d float64, p geom.Vec) (float64, geom.Vec) {
	var best geom.Vec
	least := math.Inf(1)
	for _, k := range kids {
		if e, g := k.(Grader).Grad(p); math.Abs(e-d) < least {
			if least, best = math.Abs(e-d), g; least == 0 {
				break
			}
		}
	}
	return d, best
}

// Grad is that of the solid where the cone's foot is nearest: to the first order the
// foot's own move changes nothing.
func (s *released) Grad(p geom.Vec) (float64, geom.Vec) {
	d, t := s.search(p)
	_, g := s.s.(Grader).Grad(down(p, t))
	return d, g
}

func (m *moved) Grad(p geom.Vec) (float64, geom.Vec) {
	d, g := m.s.(Grader).Grad(m.in(p))
	return d * m.k, m.a.Dir(g).Scale(1 / m.k)
}

func (s *prism) Grad(p geom.Vec) (float64, geom.Vec) {
	u, n := s.plan.(planarGrader).grad2(p.XY())
	up := 1.0
	v := p.Z - s.z1
	if s.z0-p.Z > v {
		v, up = s.z0-p.Z, -1
	}
	u, v = u+s.edge, v+s.edge
	switch {
	case u > 0 && v > 0:
		l := math.Sqrt(u*u + v*v)
		return l - s.edge, geom.Vec{X: n.X * u / l, Y: n.Y * u / l, Z: up * v / l}
	case u > v:
		return u - s.edge, n.At(0)
	}
	return v - s.edge, geom.Vec{Z: up}
}

func (s *taper) Grad(p geom.Vec) (float64, geom.Vec) { return s.grad(p, s.z0, s.z1) }

func (s *taperPart) Grad(p geom.Vec) (float64, geom.Vec) { return s.grad(p, s.end0, s.end1) }

// grad is that of a taper that ends at the heights z0 and z1.
func (s *taper) grad(p geom.Vec, z0, z1 float64) (float64, geom.Vec) {
	u, n := s.plan.(planarGrader).grad2(p.XY())
	d, g := u*s.cos+(p.Z-s.z)*s.sin, geom.Vec{X: n.X * s.cos, Y: n.Y * s.cos, Z: s.sin}
	if low := z0 - p.Z; low > d {
		d, g = low, geom.Vec{Z: -1}
	}
	if high := p.Z - z1; high > d {
		d, g = high, geom.Vec{Z: 1}
	}
	return d, g
}

func (s *flare) Grad(p geom.Vec) (float64, geom.Vec) {
	d, n := s.plan.(planarGrader).grad2(p.XY())
	d += s.edge
	w := p.Z - s.z
	if d > 0 && d*s.sin+w*s.cos < 0 {
		l := math.Sqrt(d*d + w*w)
		return l - s.edge, geom.Vec{X: n.X * d / l, Y: n.Y * d / l, Z: w / l}
	}
	if side := d*s.cos - w*s.sin; side > -w {
		return side - s.edge, geom.Vec{X: n.X * s.cos, Y: n.Y * s.cos, Z: -s.sin}
	}
	return -w - s.edge, geom.Vec{Z: -1}
}

func (s *blend) Grad(p geom.Vec) (float64, geom.Vec) {
	u, m := s.a.(Grader).Grad(p)
	v, n := s.b.(Grader).Grad(p)
	u, v = u+s.r, v+s.r
	switch {
	case u > 0 && v > 0:
		l := math.Sqrt(u*u + v*v)
		return (l - s.r) * s.unit, m.Scale(u / l).Add(n.Scale(v / l)).Unit()
	case u > v:
		return (u - s.r) * s.unit, m
	}
	return (v - s.r) * s.unit, n
}

func (s capsule) Grad(p geom.Vec) (float64, geom.Vec) {
	w := s.arm(p)
	l := w.Len()
	return l - s.r, w.Scale(1 / max(l, math.SmallestNonzeroFloat64))
}

func (s ellipsoid) Grad(p geom.Vec) (float64, geom.Vec) {
	a := p.Abs()
	q := s.closest(a)
	e := s.e
	n := geom.V(math.Copysign(q.X/(e.X*e.X), p.X), math.Copysign(q.Y/(e.Y*e.Y), p.Y), math.Copysign(q.Z/(e.Z*e.Z), p.Z))
	return s.sign(a) * q.Dist(a), n.Unit()
}

func (s revolved) Grad(p geom.Vec) (float64, geom.Vec) {
	r := math.Sqrt(p.X*p.X + p.Y*p.Y)
	d, g := s.g.(planarGrader).grad2(geom.Vec2{X: r, Y: p.Z})
	if r == 0 {
		return d, geom.V(g.X, 0, g.Y)
	}
	return d, geom.V(g.X*p.X/r, g.X*p.Y/r, g.Y)
}

func (g rect) grad2(p geom.Vec2) (float64, geom.Vec2) {
	w := p.Sub(g.at)
	x, y := math.Abs(w.X)-g.half.X+g.r, math.Abs(w.Y)-g.half.Y+g.r
	switch {
	case x > 0 && y > 0:
		l := math.Sqrt(x*x + y*y)
		return l - g.r, geom.Vec2{X: math.Copysign(x/l, w.X), Y: math.Copysign(y/l, w.Y)}
	case x > y:
		return x - g.r, geom.Vec2{X: math.Copysign(1, w.X)}
	}
	return y - g.r, geom.Vec2{Y: math.Copysign(1, w.Y)}
}

func (g disc) grad2(p geom.Vec2) (float64, geom.Vec2) {
	w := p.Sub(g.at)
	l := len2(w)
	if l == 0 {
		return -g.r, geom.Vec2{X: 1}
	}
	return l - g.r, w.Scale(1 / l)
}

func (g plane2) grad2(p geom.Vec2) (float64, geom.Vec2) { return g.Dist(p), g.n }

func (g sides2) grad2(p geom.Vec2) (float64, geom.Vec2) {
	d, n := g.h[0].grad2(p)
	for _, h := range g.h[1:] {
		if e := h.Dist(p); e > d != g.reflex {
			d, n = e, h.n
		}
	}
	return d, n
}

func (w placed) grad2(p geom.Vec2) (float64, geom.Vec2) {
	d, g := w.g.(planarGrader).grad2(w.in(p))
	return d, w.turn(g)
}

func (g *outline) grad2(p geom.Vec2) (float64, geom.Vec2) { return gradPieces(g.e, p) }
func (g *part) grad2(p geom.Vec2) (float64, geom.Vec2)    { return gradPieces(g.e, p) }

func gradPieces(e []piece, p geom.Vec2) (float64, geom.Vec2) {
	best, at := math.Inf(1), 0
	for i := range e {
		if d := e[i].closer(p, best); d != best {
			best, at = d, i
		}
	}
	return best, e[at].normalTo(p, best)
}

// normalTo is the gradient at p of the distance to e, whose value there is d.
func (e *piece) normalTo(p geom.Vec2, d float64) geom.Vec2 {
	if e.r == 0 {
		if t := p.Sub(e.a).Dot(e.u); t > 0 && t < e.l {
			return right(e.u)
		}
	} else if v := p.Sub(e.c); e.sector(v) {
		return v.Unit().Scale(math.Copysign(1, e.r))
	}
	v, n := p.Sub(e.a), e.na
	if w := p.Sub(e.b); len2(w) < len2(v) {
		v, n = w, e.nb
	}
	if d == 0 {
		return n.Unit()
	}
	return v.Scale(1 / d)
}
