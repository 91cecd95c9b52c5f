package sdf

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

// specimen is a solid with a membership rule written without its field.
type specimen struct {
	name  string
	solid Solid
	in    func(p geom.Vec) bool
	box   geom.Box // where to look
}

// mustHold checks the promises of package sdf on one solid.
func mustHold(t *testing.T, c specimen) {
	t.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	mustBeLipschitz(t, c.solid, c.box, r)
	mustSeparate(t, c, r)
	mustTouch(t, c, r)
	mustLocalize(t, c.solid, c.box, r)
	mustGrade(t, c.solid, c.box, r)
}

func point(r *rand.Rand, b geom.Box) geom.Vec {
	s := b.Size()
	return b.Min.Add(geom.V(r.Float64()*s.X, r.Float64()*s.Y, r.Float64()*s.Z))
}

// inBall is a uniform point of the ball.
func inBall(r *rand.Rand, b geom.Ball) geom.Vec {
	for {
		v := geom.V(2*r.Float64()-1, 2*r.Float64()-1, 2*r.Float64()-1)
		if v.Dot(v) <= 1 {
			return b.C.Add(v.Scale(b.R))
		}
	}
}

func mustBeLipschitz(t *testing.T, s Solid, box geom.Box, r *rand.Rand) {
	t.Helper()
	for i := range 4000 {
		p := point(r, box)
		q := point(r, box)
		if i%2 == 0 {
			q = inBall(r, geom.Ball{C: p, R: math.Pow(10, -4*r.Float64())})
		}
		dp, dq := s.Dist(p), s.Dist(q)
		if !(math.Abs(dp-dq) <= p.Dist(q)*(1+1e-9)+1e-9) {
			t.Fatalf("Dist(%v) = %g, Dist(%v) = %g: apart by more than %g", p, dp, q, dq, p.Dist(q))
		}
	}
}

// mustSeparate compares the sign with the membership rule, and the bounds with both.
func mustSeparate(t *testing.T, c specimen, r *rand.Rand) {
	t.Helper()
	bounds := c.solid.Bounds().Grow(1e-9)
	inside := 0
	for range 4000 {
		p := point(r, c.box)
		d, in := c.solid.Dist(p), c.in(p)
		if math.Abs(d) > 1e-7 && (d < 0) != in {
			t.Fatalf("Dist(%v) = %g, but inside is %v", p, d, in)
		}
		if in {
			inside++
		}
		if in && !bounds.Contains(p) {
			t.Fatalf("%v is inside but not within the bounds %v", p, bounds)
		}
	}
	if inside < 40 || inside > 3960 {
		t.Fatalf("only %d of 4000 points are inside: look elsewhere", inside)
	}
}

// mustTouch checks exactness where it is claimed: the field never exceeds the
// distance (it is 1-Lipschitz), so it is exact if the ball of that radius reaches
// a point on the other side.
func mustTouch(t *testing.T, c specimen, r *rand.Rand) {
	t.Helper()
	out, in := exactOutside(c.solid), exactInside(c.solid)
	misses, tried := 0, 0
	for range 1500 {
		p := point(r, c.box)
		d := c.solid.Dist(p)
		if d > 0 && !out || d < 0 && !in || math.Abs(d) < 1e-3 {
			continue
		}
		tried++
		foot := p.Sub(gradient(c.solid, p).Scale(d))
		if !reaches(c.in, foot, d > 0, r) {
			misses++
			if misses > 3 { // a point may lie on a medial surface, where there is no gradient
				t.Fatalf("Dist(%v) = %g: nothing on the other side within that distance (around %v); %d of %d", p, d, foot, misses, tried)
			}
		}
	}
	if (out || in) && tried < 30 {
		t.Fatalf("only %d points tried", tried)
	}
}

func gradient(s Solid, p geom.Vec) geom.Vec {
	const h = 1e-5
	d := func(v geom.Vec) float64 { return (s.Dist(p.Add(v)) - s.Dist(p.Sub(v))) / (2 * h) }
	return geom.V(d(geom.V(h, 0, 0)), d(geom.V(0, h, 0)), d(geom.V(0, 0, h))).Unit()
}

// mustGrade compares a gradient that a solid gives, whole and in small balls, with
// differences of its field: they agree but near the few places where it has none.
func mustGrade(t *testing.T, s Solid, box geom.Box, r *rand.Rand) {
	t.Helper()
	tried, misses := 0, 0
	for range 600 {
		p := point(r, box)
		for _, l := range []Solid{s, Local(s, geom.Ball{C: p, R: 0.5}), Near(s, geom.Ball{C: p, R: 2}, 1)} {
			d, g, ok := Gradient(l, p)
			if !ok {
				continue
			}
			tried++
			if got := l.Dist(p); math.Abs(d-got) > 1e-9 {
				t.Fatalf("%T: Gradient(%v) is at %g, Dist = %g", l, p, d, got)
			}
			if math.Abs(g.Len()-1) > 1e-9 || g.Dist(gradient(l, p)) > 1e-3 {
				misses++
			}
		}
	}
	if misses > 2+tried/100 {
		t.Fatalf("%T: %d of %d gradients are not those of the field", s, misses, tried)
	}
}

// reaches reports whether a point with the wanted membership lies next to p.
func reaches(in func(geom.Vec) bool, p geom.Vec, want bool, r *rand.Rand) bool {
	for range 400 {
		if in(inBall(r, geom.Ball{C: p, R: 1e-3})) == want {
			return true
		}
	}
	return false
}

// mustLocalize compares the solid with what it becomes in balls, and in smaller
// balls within them: same sign, still 1-Lipschitz, and values kept up to m.
func mustLocalize(t *testing.T, s Solid, box geom.Box, r *rand.Rand) {
	t.Helper()
	for i := range 400 {
		b := geom.Ball{C: point(r, box), R: box.Size().Len() / 2 * math.Pow(10, -3*r.Float64())}
		if i%2 == 0 { // close to the surface, where it matters
			for range 3 {
				b.C = b.C.Sub(gradient(s, b.C).Scale(s.Dist(b.C)))
			}
			b.C = inBall(r, b)
		}
		m := 3 * r.Float64()
		mustAgree(t, s, Local(s, b), b, 0, r)
		mustAgree(t, s, Near(s, b, m), b, m, r)
		small := geom.Ball{C: inBall(r, b), R: b.R * 0.3}
		small.R = min(small.R, b.R-small.C.Dist(b.C))
		mustAgree(t, s, Local(Local(s, b), small), small, 0, r)
		mustAgree(t, s, Near(Near(s, b, m), small, m/2), small, m/2, r)
	}
}

func mustAgree(t *testing.T, s, l Solid, b geom.Ball, m float64, r *rand.Rand) {
	t.Helper()
	last, lastAt := math.NaN(), geom.Vec{}
	for range 30 {
		p := inBall(r, b)
		d, got := s.Dist(p), l.Dist(p)
		if math.Abs(d) > 1e-7 && (d < 0) != (got < 0) {
			t.Fatalf("%T: Dist(%v) = %g, but %g in ball %v (%T)", s, p, d, got, b, l)
		}
		if (math.Abs(d) < m || math.Abs(got) < m) && math.Abs(d-got) > 1e-9 {
			t.Fatalf("%T: Dist(%v) = %g, but %g in ball %v (%T) though values up to %g are kept", s, p, d, got, b, l, m)
		}
		if !math.IsNaN(last) && !(math.Abs(got-last) <= p.Dist(lastAt)*(1+1e-9)+1e-6) {
			t.Fatalf("%T in ball %v (%T): not 1-Lipschitz between %v and %v", s, b, l, p, lastAt)
		}
		last, lastAt = got, p
	}
}
