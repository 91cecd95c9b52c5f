package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// releaseSlow is the distance by its definition: over all triangles and over t,
// first in steps, then by golden section about the best step.
func releaseSlow(f *MeshField, y geom.Vec, alpha geom.Angle, most float64) float64 {
	best := math.Inf(1)
	for k := range f.bvh.tris {
		tri := &f.bvh.tris[k]
		g := func(t float64) float64 {
			return math.Sqrt(tri.dist2(y.Sub(geom.V(0, 0, t)))) - t*alpha.Sin()
		}
		best = min(best, golden(0, most, g)) // convex in t
	}
	return best
}

func TestReleaseAgainstDefinition(t *testing.T) {
	m := bvhBlob(14)
	f := CleanField(m, 0)
	for _, alpha := range []geom.Angle{0, 1 * geom.Degree, 5 * geom.Degree, 30 * geom.Degree} {
		s := f.Release(0, alpha).(*release)
		r := rand.New(rand.NewPCG(19, 20))
		for range 150 {
			y := bvhPoint(r, m.Bounds().Grow(15))
			got, want := s.sweep(y), releaseSlow(f, y, alpha, 400)
			if math.Abs(got-want) > 1e-6 {
				t.Fatalf("alpha %v: sweep at %v = %v, definition %v", alpha.Degrees(), y, got, want)
			}
		}
	}
}

// Every part of a triangle, seen from all around, also upright and flat ones.
func TestReleaseOfOneTriangle(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	rnd := func() geom.Vec { return geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Scale(3) }
	for i := range 3000 {
		a, b, c := rnd(), rnd(), rnd()
		switch i % 6 {
		case 1:
			b.Z, c.Z = a.Z, a.Z
		case 2:
			b.X, b.Y = a.X, a.Y
		case 3:
			b.Y, c.Y = a.Y, a.Y
		case 4:
			c = a.Lerp(b, 0.4)
		}
		y := rnd().Scale(2)
		if i%5 == 0 {
			y.X, y.Y = a.X, a.Y
		}
		f := CleanField(&Mesh{V: []geom.Vec{a, b, c}, T: [][3]int32{{0, 1, 2}}}, 0)
		alpha := geom.Angle(r.Float64()) * 60 * geom.Degree
		got, want := f.Release(0, alpha).(*release).sweep(y), releaseSlow(f, y, alpha, 2000)
		if math.Abs(got-want) > 1e-6 {
			t.Fatalf("case %d: triangle %v %v %v, alpha %v, at %v: %v, definition %v", i%6, a, b, c, alpha.Degrees(), y, got, want)
		}
	}
}

// The sweep of a box is a frustum: four leaning planes and the floor, closed
// form outside the walls away from the corners.
func TestReleaseOfBox(t *testing.T) {
	lo, hi := geom.V(-20, -10, 0), geom.V(20, 10, 30)
	alpha, grow := 4*geom.Degree, 1.5
	s := Field(bvhBox(lo, hi)).Release(grow, alpha)
	for _, tt := range []struct {
		p    geom.Vec
		want float64
	}{
		{geom.V(30, 0, 20), 10*alpha.Cos() - 20*alpha.Sin() - grow},
		{geom.V(30, 0, 200), 10*alpha.Cos() - 200*alpha.Sin() - grow},
		{geom.V(3, -17, 5), 7*alpha.Cos() - 5*alpha.Sin() - grow},
		{geom.V(3, 4, -6), 6 - grow},
		{geom.V(23, 0, -4), 5 - grow},
		{geom.V(23, 14, -12), 13 - grow},
		{geom.V(23, 14, 10), 5*alpha.Cos() - 10*alpha.Sin() - grow}, // off the cone at the corner
	} {
		if got := s.Dist(tt.p); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("Dist(%v) = %v, want %v", tt.p, got, tt.want)
		}
	}
	if got := s.Dist(geom.V(0, 0, 15)); !(got <= -10) {
		t.Errorf("in the middle of the box: %v, want -10 or less", got)
	}
}

// A bound inside may never exceed the way to the surface: from a point at depth d
// no point within d is outside.
func TestReleaseInsideIsABound(t *testing.T) {
	s := Field(bvhBlob(16)).Release(0.5, 3*geom.Degree)
	r := rand.New(rand.NewPCG(23, 24))
	for range 400 {
		p, q := bvhPoint(r, CleanField(bvhBlob(8), 0).Bounds().Grow(4)), geom.Vec{}
		d := s.Dist(p)
		for range 20 {
			q = inBall(r, geom.Ball{C: p, R: math.Abs(d) * 0.999}, 1)
			if e := s.Dist(q); (e < 0) != (d < 0) {
				t.Fatalf("Dist(%v) = %v but Dist(%v) = %v, %v away", p, d, q, e, p.Dist(q))
			}
			if e := s.Dist(q); math.Abs(e-d) > p.Dist(q)+1e-9 {
				t.Fatalf("field rises by %v over %v", e-d, p.Dist(q))
			}
		}
	}
}

// Nothing above an inside point is outside.
func TestReleaseHasNoUndercut(t *testing.T) {
	m := bvhBlob(20)
	s := Field(m).Release(0, 2*geom.Degree)
	r := rand.New(rand.NewPCG(25, 26))
	for range 500 {
		p := bvhPoint(r, m.Bounds())
		up := p.Add(geom.V(0, 0, 30*r.Float64()))
		if s.Dist(p) < 0 && s.Dist(up) > 0 {
			t.Fatalf("%v is inside, %v above it is not", p, up)
		}
	}
}

func BenchmarkRelease60k(b *testing.B) {
	f := CleanField(bvhBlob(173), 0)
	s := f.Release(1, 3*geom.Degree)
	pts := bvhShell(f.bvh, 4096, 5)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s.Dist(pts[i%len(pts)])
	}
}

// One cell of a mesher: shorten the field near the surface, then ask eight corners.
func BenchmarkReleaseLocal60k(b *testing.B) {
	f := CleanField(bvhBlob(173), 0)
	s := f.Release(1, 3*geom.Degree)
	r := rand.New(rand.NewPCG(7, 8))
	var pts []geom.Vec
	for box := f.Bounds().Grow(3); len(pts) < 512; {
		p := bvhPoint(r, box)
		if math.Abs(s.Dist(p)) < 0.2 {
			pts = append(pts, p)
		}
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		p := pts[i%len(pts)]
		l := sdf.Local(s, geom.Ball{C: p, R: 0.35})
		for k := range 8 {
			l.Dist(p.Add(geom.V(0.2*float64(k&1), 0.2*float64(k>>1&1), 0.2*float64(k>>2&1))))
		}
	}
}
