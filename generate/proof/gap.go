package proof

import (
	"fmt"
	"math"
	"runtime"
	"sync"
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
	return b.each(func(t Tri) bool {
		n, m := t.Normal(), t.Mid()
		if n.Dot(d) <= 0 {
			return false
		}
		for _, p := range []Vec{m, t[0], t[1], t[2]} {
			if !b.Tree.Escapes(m.Add(p.Sub(m).Mul(0.9)).Add(n.Mul(1e-3)), d) {
				return false
			}
		}
		return true
	})
}

// each asks of every facet, side by side.
func (b *Body) each(f func(t Tri) bool) []bool {
	out := make([]bool, len(b.Facets))
	var wait sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		wait.Go(func() {
			for i := w; i < len(out); i += workers {
				out[i] = f(b.Facets[i])
			}
		})
	}
	wait.Wait()
	return out
}

// Seen is like Open, but one free place on a facet is enough, and so is facing
// sideways: it leaves out nothing of a wall whose facets are not quite even.
func (b *Body) Seen(d Vec) []bool {
	return b.each(func(t Tri) bool {
		n, m := t.Normal(), t.Mid()
		if n.Dot(d) < -0.05 {
			return false
		}
		for _, p := range []Vec{m, t[0], t[1], t[2]} {
			if b.Tree.Escapes(m.Add(p.Sub(m).Mul(0.9)).Add(n.Mul(0.02)), d) {
				return true
			}
		}
		return false
	})
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

// Meet is the least signed distance between two bodies, one of them moved,
// from the places given on each. Beyond far it is far.
func Meet(moving *Body, on []Point, by Vec, fixed *Body, under []Point, far float64) Spread {
	back := by.Mul(-1)
	s := measured(on, func(p Vec) (float64, Vec) { q := p.Add(by); return fixed.Tree.Signed(q, far), q })
	s.merge(measured(under, func(p Vec) (float64, Vec) { return moving.Tree.Signed(p.Add(back), far), p }))
	return s
}

// measured measures places side by side; the result does not depend on how
// many processors there are.
func measured(all []Point, f func(p Vec) (float64, Vec)) Spread {
	const lot = 512
	lots := make([]Spread, (len(all)+lot-1)/lot)
	var wait sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for k := range next {
				for _, p := range all[k*lot : min((k+1)*lot, len(all))] {
					v, at := f(p.At)
					lots[k].Add(v, at)
				}
			}
		})
	}
	for k := range lots {
		next <- k
	}
	close(next)
	wait.Wait()
	var s Spread
	for _, l := range lots {
		s.merge(l)
	}
	return s
}

// merge adds what another spread has counted.
func (s *Spread) merge(o Spread) {
	if o.N == 0 {
		return
	}
	n, sum := s.N+o.N, s.sum+o.sum
	if s.N == 0 || !(o.Least >= s.Least) {
		s.Least, s.LeastAt = o.Least, o.LeastAt
	}
	if s.N == 0 || !(o.Most <= s.Most) {
		s.Most, s.MostAt = o.Most, o.MostAt
	}
	s.N, s.sum = n, sum
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
