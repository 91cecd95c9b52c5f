package proof

import (
	"fmt"
	"math"
)

// Spread is a measured size over many places.
type Spread struct {
	N               int
	Least, Most     float64
	LeastAt, MostAt Vec
	sum             float64
}

// Add counts one place.
func (s *Spread) Add(v float64, at Vec) {
	if s.N == 0 || !(v >= s.Least) {
		s.Least, s.LeastAt = v, at
	}
	if s.N == 0 || !(v <= s.Most) {
		s.Most, s.MostAt = v, at
	}
	s.N++
	s.sum += v
}

// Mean of all places.
func (s Spread) Mean() float64 { return s.sum / float64(s.N) }

func (s Spread) String() string {
	return fmt.Sprintf("%.4f at %.2f to %.4f at %.2f, mean %.4f of %d", s.Least, s.LeastAt, s.Most, s.MostAt, s.Mean(), s.N)
}

// Body is a closed mesh with its tree.
type Body struct {
	Facets []Tri
	Tree   *Tree
}

// NewBody makes the tree.
func NewBody(f []Tri) *Body { return &Body{f, NewTree(f)} }

// Open tells which facets a straight pull along d leaves free: they face d and
// nothing stands in their way, seen from the middle and near each corner.
func (b *Body) Open(d Vec) []bool {
	out := make([]bool, len(b.Facets))
	for i, t := range b.Facets {
		n := t.Normal()
		if n.Dot(d) <= 0 {
			continue
		}
		out[i] = true
		m := t.Mid()
		for _, p := range []Vec{m, t[0], t[1], t[2]} {
			q := m.Add(p.Sub(m).Mul(0.9)).Add(n.Mul(1e-3))
			if !b.Tree.Escapes(q, d) {
				out[i] = false
				break
			}
		}
	}
	return out
}

// Seen is like Open, but one free place on a facet is enough, and so is facing
// sideways: it leaves out nothing of a wall whose facets are not quite even.
func (b *Body) Seen(d Vec) []bool {
	out := make([]bool, len(b.Facets))
	for i, t := range b.Facets {
		n := t.Normal()
		if n.Dot(d) < -0.05 {
			continue
		}
		m := t.Mid()
		for _, p := range []Vec{m, t[0], t[1], t[2]} {
			q := m.Add(p.Sub(m).Mul(0.9)).Add(n.Mul(0.02))
			if b.Tree.Escapes(q, d) {
				out[i] = true
				break
			}
		}
	}
	return out
}

// Part of a body: the facets that keep picks.
func (b *Body) Part(keep func(i int, t Tri) bool) *Body {
	var f []Tri
	for i, t := range b.Facets {
		if keep(i, t) {
			f = append(f, t)
		}
	}
	return NewBody(f)
}

// Tight tells whether a ball of this radius that touches the surface from
// within at p does not fit: the surface is rounder there than the ball.
func (b *Body) Tight(p Point, radius float64) bool {
	c := p.At.Sub(p.Normal.Mul(radius))
	return b.Tree.Nearest(c, radius).Dist < radius-0.02*radius
}

// Straight tells whether a body's outline at height z runs straight for reach
// to both sides of p: points beside it along the wall lie on the surface.
func (b *Body) Straight(p Point, reach float64) bool {
	along := Vec{-p.Normal[1], p.Normal[0], 0}.Unit()
	for _, k := range []float64{-reach, -reach / 2, reach / 2, reach} {
		if b.Tree.Nearest(p.At.Add(along.Mul(k)), 1).Dist > 0.01 {
			return false
		}
	}
	return true
}

// Meet is the least signed distance between two bodies, one of them moved,
// from the places given on each. Beyond far it is far.
func Meet(moving *Body, on []Point, by Vec, fixed *Body, under []Point, far float64) Spread {
	s := Spread{}
	for _, p := range on {
		q := p.At.Add(by)
		s.Add(fixed.Tree.Signed(q, far), q)
	}
	back := by.Mul(-1)
	for _, p := range under {
		s.Add(moving.Tree.Signed(p.At.Add(back), far), p.At)
	}
	return s
}

// Near picks the places within a box grown by grow.
func Near(all []Point, lo, hi Vec, grow float64) []Point {
	var out []Point
	for _, p := range all {
		in := true
		for k := range 3 {
			in = in && p.At[k] >= lo[k]-grow && p.At[k] <= hi[k]+grow
		}
		if in {
			out = append(out, p)
		}
	}
	return out
}

// All keeps every facet.
func All(int, Tri) bool { return true }

// Off is how far v is from want.
func Off(v, want float64) float64 { return math.Abs(v - want) }
