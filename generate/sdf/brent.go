package sdf

import "math"

const golden = 0.3819660112501051 // (3 - sqrt 5) / 2

// least is the minimum of an f with one minimum on [a, b], to about 1e-10:
// parabolic steps, golden ones where they fail (R. Brent, Algorithms for
// Minimization without Derivatives, 1973, chapter 5). fa is f(a).
func least(f func(float64) float64, a, b, fa float64) (value, where float64) {
	at := a + golden*(b-a)
	x := point1{at, f(at)}
	s := brent{a: a, b: b, best: x, second: x, third: x}
	for range 100 {
		tol := 1e-8*math.Abs(s.best.t) + 1e-7
		if math.Abs(s.best.t-(s.a+s.b)/2) <= 2*tol-(s.b-s.a)/2 {
			break
		}
		t := s.next(tol)
		s.take(point1{t, f(t)})
	}
	if fa <= s.best.f {
		return fa, a
	}
	return s.best.f, s.best.t
}

// point1 is a value of a function of one variable.
type point1 struct{ t, f float64 }

// brent is a bracket with the three best points seen in it, and the last two steps.
type brent struct {
	a, b                float64
	best, second, third point1
	step, before        float64
}

// next is where to look: at least tol from the best point and the ends.
func (s *brent) next(tol float64) float64 {
	x := s.best.t
	mid := (s.a + s.b) / 2
	step, ok := s.parabola(tol)
	if ok {
		s.before = s.step
		if u := x + step; u-s.a < 2*tol || s.b-u < 2*tol {
			step = math.Copysign(tol, mid-x)
		}
	} else {
		s.before = s.a - x
		if x < mid {
			s.before = s.b - x
		}
		step = golden * s.before
	}
	s.step = step
	if math.Abs(step) < tol {
		step = math.Copysign(tol, step)
	}
	return x + step
}

// parabola is the step to the least point of the parabola through the three
// points, if that lies in the bracket and the steps are getting shorter.
func (s *brent) parabola(tol float64) (float64, bool) {
	if math.Abs(s.before) <= tol {
		return 0, false
	}
	x, w, v := s.best, s.second, s.third
	r := (x.t - w.t) * (x.f - v.f)
	q := (x.t - v.t) * (x.f - w.f)
	p := (x.t-v.t)*q - (x.t-w.t)*r
	q = 2 * (q - r)
	if q > 0 {
		p = -p
	}
	q = math.Abs(q)
	ok := math.Abs(p) < math.Abs(q*s.before/2) && p > q*(s.a-x.t) && p < q*(s.b-x.t)
	return p / q, ok
}

// take narrows the bracket by a new point.
func (s *brent) take(u point1) {
	x := s.best
	if u.f <= x.f {
		if u.t >= x.t {
			s.a = x.t
		} else {
			s.b = x.t
		}
		s.best, s.second, s.third = u, x, s.second
		return
	}
	if u.t < x.t {
		s.a = u.t
	} else {
		s.b = u.t
	}
	switch {
	case u.f <= s.second.f || s.second == x:
		s.second, s.third = u, s.second
	case u.f <= s.third.f || s.third == x || s.third == s.second:
		s.third = u
	}
}
