package sdf

// sample is a value of a function and its slope there.
type sample struct{ t, f, slope float64 }

// leastConvex is the minimum over t >= 0 of a convex f, given its sample at 0 and
// one that bounds it from below with a rising slope, to 1e-9. The tangents
// at the ends of the bracket bound the minimum from below. Where they meet is the
// next guess (right at a kink), in turn with two at the point where the slope
// would be 0 if it were straight (right where f is smooth).
func leastConvex(at func(t float64) (f, slope float64), lo, hi sample) (value, where float64) {
	if lo.slope >= 0 {
		return lo.f, lo.t
	}
	const enough = 1e-9
	best := lo
	turn := 0
	for range 100 {
		t := (hi.f - lo.f + lo.slope*lo.t - hi.slope*hi.t) / (lo.slope - hi.slope)
		if floor := lo.f + lo.slope*(t-lo.t); !(floor < best.f-enough) {
			break
		}
		if turn%3 != 0 {
			t = lo.t - lo.slope*(hi.t-lo.t)/(hi.slope-lo.slope)
		}
		if !(t > lo.t && t < hi.t) {
			if t = (lo.t + hi.t) / 2; !(t > lo.t && t < hi.t) {
				break
			}
		}
		m := sample{t: t}
		m.f, m.slope = at(t)
		if m.f < best.f {
			best = m
		}
		if m.slope == 0 {
			break
		}
		if m.slope < 0 {
			lo = m
		} else {
			hi = m
		}
		turn++
	}
	return best.f, best.t
}

// leastOfAll is the minimum on [a, b] of an f whose slope is at most l in size.
// It misses a lower value only if two minima lie within 0.05 of each other, and
// then by less than 0.025 l.
func leastOfAll(f func(float64) float64, a, b, l float64) (value, where float64) {
	const first, close = 16, 1e-9
	type span struct{ a, b, fa, fb float64 }
	var todo []span
	h := (b - a) / first
	at, fat := a, f(a)
	best, where := fat, at
	see := func(v, t float64) {
		if v < best {
			best, where = v, t
		}
	}
	for i := 1; i <= first; i++ {
		t := a + float64(i)*h
		ft := f(t)
		see(ft, t)
		todo = append(todo, span{at, t, fat, ft})
		at, fat = t, ft
	}
	for len(todo) > 0 {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if low := (s.fa + s.fb - l*(s.b-s.a)) / 2; low >= best-close {
			continue
		}
		if s.b-s.a < 0.05 { // mm: so short a stretch has one minimum
			see(least(f, s.a, s.b, s.fa))
			continue
		}
		m := (s.a + s.b) / 2
		fm := f(m)
		see(fm, m)
		todo = append(todo, span{s.a, m, s.fa, fm}, span{m, s.b, fm, s.fb})
	}
	return best, where
}
