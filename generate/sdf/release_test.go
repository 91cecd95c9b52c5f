package sdf

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

func mustRelease(t testing.TB, s Solid, a geom.Angle) Solid {
	t.Helper()
	out, err := Release(s, a)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// releasable are solids with their membership rules, and whether a cone may
// start only at the listed membership.
func releasable() []specimen {
	tilt := geom.RotateX(0.4).Then(geom.RotateZ(0.3))
	untilt := tilt.Inverse()
	all := map[string]bool{"box": true, "rod": true, "prism of an L": true, "prism of a bitten slot": true,
		"round prism": true, "ball": true, "capsule": true, "cylinder": true, "cone": true, "pointed cone": true, "ellipsoid": true,
		"flat ellipsoid": true, "torus": true, "cup": true, "turned round prism": true, "union": true, "grown prism of an L": true,
		"grown frustum": true, "scaled": true, "mirrored": true,
		"round prism of an L": true, "round prism of two discs": true}
	var out []specimen
	for _, c := range specimens() {
		if all[c.name] {
			out = append(out, c)
		}
	}
	return append(out, specimen{"tilted L", Move(Prism(mustPolygon(ell, nil), -2, 3), tilt), func(p geom.Vec) bool {
		q := untilt.Apply(p)
		return inEll(q.X, q.Y) && q.Z >= -2 && q.Z <= 3
	}, cube(13)})
}

// The exact outside distance is the least of d(p - t z) - t sin a over t >= 0
// (a cone is the union of balls of radius t sin a at height t).
func TestReleaseAgainstSweep(t *testing.T) {
	const alpha = 12 * geom.Degree
	for _, c := range releasable() {
		t.Run(c.name, func(t *testing.T) {
			s := mustRelease(t, c.solid, alpha)
			r := rand.New(rand.NewPCG(3, 4))
			tried := 0
			for range 200 {
				p := point(r, c.box)
				d := s.Dist(p)
				if d < 0 {
					continue
				}
				tried++
				want := math.Inf(1)
				const n = 8000
				for i := range n + 1 {
					h := 30 * float64(i) / n
					want = min(want, c.solid.Dist(p.Sub(geom.V(0, 0, h)))-h*math.Sin(float64(alpha)))
				}
				// The sweep overrates by at most half its step times the slope, 1 + sin alpha.
				if !(d <= want+1e-8 && d >= want-30.0/n*0.5*1.21) {
					t.Fatalf("Dist(%v) = %.9g, want %.9g", p, d, want)
				}
			}
			if tried < 25 {
				t.Fatalf("only %d points were outside", tried)
			}
		})
	}
}

// Membership without any field: p is in s (+) cone if some q in s has p in its cone.
func TestReleaseAgainstMinkowskiSampling(t *testing.T) {
	const alpha = 15 * geom.Degree
	tan := math.Tan(float64(alpha))
	for _, c := range releasable() {
		t.Run(c.name, func(t *testing.T) {
			s := mustRelease(t, c.solid, alpha)
			r := rand.New(rand.NewPCG(5, 6))
			var in []geom.Vec
			for len(in) < 30000 {
				if q := point(r, c.box); c.in(q) {
					in = append(in, q)
				}
			}
			covered, inside := 0, 0
			for i := 0; i < 200 || i < 2000 && inside < 30; i++ {
				p := point(r, c.box)
				d := s.Dist(p)
				hit := false
				for _, q := range in {
					if w := p.Z - q.Z; w >= 0 && math.Hypot(p.X-q.X, p.Y-q.Y) <= w*tan {
						hit = true
						break
					}
				}
				if hit && d > 1e-9 {
					t.Fatalf("Dist(%v) = %g, but it is in the cone of a point of the solid", p, d)
				}
				if d < -1 {
					inside++
					if hit {
						covered++
					}
				}
			}
			// A sample finds nearly all points that lie a millimetre deep.
			if inside < 20 || covered*100 < inside*97 {
				t.Errorf("only %d of %d points inside are in the cone of a sampled point", covered, inside)
			}
		})
	}
}

func TestReleaseKeepsItsPromises(t *testing.T) {
	const alpha = 8 * geom.Degree
	for _, c := range releasable() {
		t.Run(c.name, func(t *testing.T) {
			s := mustRelease(t, c.solid, alpha)
			r := rand.New(rand.NewPCG(7, 8))
			mustBeLipschitz(t, s, c.box, r)
			mustLocalize(t, s, c.box, r)
			if !exactOutside(s) {
				t.Errorf("%T is not exact outside", s)
			}
			if b := s.Bounds(); !math.IsInf(b.Max.Z, 1) || math.Abs(b.Min.Z-c.solid.Bounds().Min.Z) > 1e-9 {
				t.Errorf("bounds %v, want from the bottom of the solid, %g, up without end", b, c.solid.Bounds().Min.Z)
			}
		})
	}
}

// An offset of a release is a release of the offset.
func TestReleaseCommutesWithGrowing(t *testing.T) {
	const alpha = 10 * geom.Degree
	r := rand.New(rand.NewPCG(9, 10))
	for _, c := range releasable() {
		a := Offset(mustRelease(t, c.solid, alpha), 1.25)
		b := mustRelease(t, Offset(c.solid, 1.25), alpha)
		for range 200 {
			p := point(r, c.box)
			if da, db := a.Dist(p), b.Dist(p); (da > 0 || db > 0) && !(math.Abs(da-db) < 1e-6) {
				t.Fatalf("%s: at %v offset of release %g, release of offset %g", c.name, p, da, db)
			}
		}
	}
}

func TestReleaseWidensBoxByDepthTimesTan(t *testing.T) {
	const alpha = 5 * geom.Degree
	s := mustRelease(t, Box(geom.V(-10, -8, -30), geom.V(10, 8, 0)), alpha)
	want := 10 + 30*math.Tan(float64(alpha)) // half width of the mouth at z = 0
	for _, e := range []float64{-1e-6, 1e-6} {
		if d := s.Dist(geom.V(want+e, 0, 0)); math.Signbit(d) != math.Signbit(e) {
			t.Errorf("Dist %g beyond half width %g = %g", e, want, d)
		}
	}
	// The foot is still the box: its distance below and beside are closed forms.
	if got := s.Dist(geom.V(13, 0, -34)); math.Abs(got-5) > 1e-12 {
		t.Errorf("Dist from the bottom edge = %g, want 5", got)
	}
}

func TestReleaseRefuses(t *testing.T) {
	for name, s := range map[string]Solid{
		"intersection": Intersect(Ball(geom.Vec{}, 3), Ball(geom.V(1, 0, 0), 3)),
		"bottomless":   Prism(Disc(3), math.Inf(-1), 0),
		"half space":   HalfSpace{geom.V(1, 0, 0), 0},
		"shrunk cone":  Offset(Cone(geom.Vec{}, geom.V(0, 0, 9), 4, 2), -1),
	} {
		if _, err := Release(s, geom.Degree); err == nil {
			t.Errorf("Release(%s) gave no error", name)
		}
	}
	if _, err := Release(Ball(geom.Vec{}, 3), -geom.Degree); err == nil {
		t.Error("Release by a negative angle gave no error")
	}
}

func BenchmarkRelease(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	pts := make([]geom.Vec, 1024)
	for i := range pts {
		pts[i] = point(r, cube(12))
	}
	for _, c := range releasable() {
		s := mustRelease(b, c.solid, 4*geom.Degree)
		b.Run(c.name, func(b *testing.B) {
			var sum float64
			for i := 0; b.Loop(); i++ {
				sum += s.Dist(pts[i&1023])
			}
			_ = sum
		})
	}
}
