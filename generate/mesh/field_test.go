package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// fieldBoxDist is the closed form for the box from lo to hi.
func fieldBoxDist(lo, hi, p geom.Vec) float64 {
	d := lo.Sub(p).Max(p.Sub(hi))
	return d.Max(geom.Vec{}).Len() + min(0, max(d.X, d.Y, d.Z))
}

func TestFieldOfBox(t *testing.T) {
	lo, hi := geom.V(-5, -10, 2), geom.V(7, 12, 30)
	m := bvhBox(lo, hi)
	dirty := &MeshField{}
	*dirty = *CleanField(m, 0)
	dirty.wind = NewWinding(m, dirty.bvh)
	for _, f := range []*MeshField{CleanField(m, 0), Field(m), dirty} {
		r := rand.New(rand.NewPCG(11, 12))
		for range 3000 {
			p := bvhPoint(r, m.Bounds().Grow(8))
			if got, want := f.Dist(p), fieldBoxDist(lo, hi, p); math.Abs(got-want) > 1e-12 {
				t.Fatalf("Dist(%v) = %v, want %v", p, got, want)
			}
		}
	}
}

// The gradient that a field gives is that of its values, on both sides.
func TestFieldGradient(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for name, s := range fieldSolids() {
		tried, misses := 0, 0
		for range 1000 {
			p := bvhPoint(r, s.Bounds().Intersect(geom.Box{Min: geom.V(-40, -40, -40), Max: geom.V(40, 40, 40)}).Grow(3))
			for _, l := range [2]sdf.Solid{sdf.Near(s, geom.Ball{C: p, R: 1}, 30), sdf.Local(s, geom.Ball{C: p, R: 1})} {
				d, g, ok := sdf.Gradient(l, p)
				if _, all := l.(sdf.Everything); all || !ok {
					continue
				}
				tried++
				const h = 1e-6
				slope := func(v geom.Vec) float64 { return (l.Dist(p.Add(v)) - l.Dist(p.Sub(v))) / (2 * h) }
				want := geom.V(slope(geom.V(h, 0, 0)), slope(geom.V(0, h, 0)), slope(geom.V(0, 0, h))).Unit()
				if math.Abs(d-l.Dist(p)) > 1e-12 || g.Dist(want) > 1e-4 {
					misses++
				}
			}
		}
		if misses > tried/200 { // points where two places are equally near have none
			t.Errorf("%s: %d of %d gradients are not those of the field", name, misses, tried)
		}
		if _, is := s.(fieldOffset); is && tried < 900 {
			t.Errorf("%s gives only %d gradients", name, tried)
		}
	}
}

// The pseudonormal must agree with the winding number on a closed body.
func TestSideByPseudonormal(t *testing.T) {
	m := bvhBlob(40)
	f := CleanField(m, 0)
	r := rand.New(rand.NewPCG(13, 14))
	for range 5000 {
		p := bvhPoint(r, m.Bounds().Grow(1))
		if got, w := f.Dist(p) < 0, windSum(f.bvh, p); got != (w >= 0.5) {
			t.Fatalf("inside(%v) = %v, winding number %v", p, got, w)
		}
	}
}

// fieldSolids are fields whose Local and LocalValue are checked below.
func fieldSolids() map[string]sdf.Solid {
	box, blob := bvhBox(geom.V(-15, -15, -15), geom.V(15, 12, 10)), bvhBlob(24)
	double := &Mesh{}
	double.join(box)
	double.join(blob)
	return map[string]sdf.Solid{
		"box":           CleanField(box, 0),
		"blob":          CleanField(blob, 0),
		"both":          Field(double),
		"box out 2":     Field(box).Offset(2),
		"box in 2":      Field(box).Offset(-2),
		"blob in 4":     Field(blob).Offset(-4),
		"blob out 3":    Field(blob).Offset(3),
		"release box":   Field(box).Release(1, 5*geom.Degree),
		"release blob":  Field(blob).Release(0.5, 3*geom.Degree),
		"release sharp": Field(blob).Release(0, 3*geom.Degree),
	}
}

// A shortened solid has the same sign as the whole one all over the ball, stays
// 1-Lipschitz, and may be shortened again.
func TestLocalKeepsSign(t *testing.T) {
	for name, s := range fieldSolids() {
		r := rand.New(rand.NewPCG(15, 16))
		kinds := map[string]int{}
		for range 400 {
			ball := geom.Ball{C: bvhPoint(r, s.Bounds().Grow(2)), R: 0.1 + 4*r.Float64()*r.Float64()}
			local := sdf.Local(s, ball)
			inner := geom.Ball{C: inBall(r, ball, 0.6), R: ball.R * 0.4}
			again := sdf.Local(local, inner)
			kinds[kindOf(local)]++
			for range 20 {
				p, q := inBall(r, ball, 1), inBall(r, ball, 1)
				checkSign(t, name, s, local, ball, p)
				checkSign(t, name, s, again, inner, inBall(r, inner, 1))
				if a, b := local.Dist(p), local.Dist(q); math.Abs(a-b) > p.Dist(q)+1e-9 {
					t.Fatalf("%s: local field rises by %v over %v", name, a-b, p.Dist(q))
				}
			}
		}
		if kinds["pruned"] < 20 {
			t.Errorf("%s: only %v", name, kinds)
		}
	}
}

func kindOf(s sdf.Solid) string {
	switch s.(type) {
	case sdf.Nothing, sdf.Everything:
		return "pruned"
	case sdf.HalfSpace:
		return "plane"
	}
	return "list"
}

func checkSign(t *testing.T, name string, s, local sdf.Solid, b geom.Ball, p geom.Vec) {
	t.Helper()
	want, got := s.Dist(p), local.Dist(p)
	if math.Abs(want) > 2e-7 && (want < 0) != (got < 0) {
		t.Fatalf("%s: at %v in %v the %s field is %v, the whole %v", name, p, b, kindOf(local), got, want)
	}
}

func inBall(r *rand.Rand, b geom.Ball, share float64) geom.Vec {
	d := geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
	return b.C.Add(d.Scale(share * b.R * math.Cbrt(r.Float64())))
}

func TestLocalValueKeepsValues(t *testing.T) {
	for name, s := range fieldSolids() {
		v, ok := s.(sdf.ValueLocalizer)
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(17, 18))
		kinds := map[string]int{}
		for range 400 {
			ball := geom.Ball{C: bvhPoint(r, s.Bounds().Grow(2)), R: 0.05 + 3*r.Float64()*r.Float64()}
			local := v.LocalValue(ball)
			kinds[kindOf(local)]++
			for range 10 {
				p := inBall(r, ball, 1)
				if got, want := local.Dist(p), s.Dist(p); math.Abs(got-want) > 3e-7 {
					t.Fatalf("%s: at %v in %v the %s field is %v, the whole %v", name, p, ball, kindOf(local), got, want)
				}
			}
		}
		if kinds["pruned"] > 0 || name == "box" && kinds["plane"] < 50 {
			t.Errorf("%s: %v", name, kinds)
		}
	}
}

// Erosion of a union must not follow the parts: two overlapping boxes of one
// body, eroded, stay joined where they meet.
func TestErodeLeavesNoCrack(t *testing.T) {
	l := bvhL(20, 8, 10)
	e := Field(l).Offset(-2)
	for _, tt := range []struct {
		p    geom.Vec
		want float64
	}{
		{geom.V(8, 4, 5), 2 - 4},                         // below the inner corner: the floor and the corner are 4 off
		{geom.V(4, 4, 5), 2 - 4},                         // in the corner
		{geom.V(9, 9, 5), 2 + math.Sqrt2},                // outside, by the inner corner: bound
		{geom.V(6, 6, 5), 2 - 2*math.Sqrt2},              // the inner corner is a vertex of the plan
		{geom.V(8-1e-3, 8-1e-3, 5), 2 - 1e-3*math.Sqrt2}, // just inside the corner
	} {
		if got := e.Dist(tt.p); tt.want < 0 && math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("Dist(%v) = %v, want %v", tt.p, got, tt.want)
		} else if (got < 0) != (tt.want < 0) {
			t.Errorf("Dist(%v) = %v, want the sign of %v", tt.p, got, tt.want)
		}
	}
}

// bvhL is an L-shaped prism: legs of length a and width w, height h.
func bvhL(a, w, h float64) *Mesh {
	plan := []geom.Vec2{{X: 0, Y: 0}, {X: a, Y: 0}, {X: a, Y: w}, {X: w, Y: w}, {X: w, Y: a}, {X: 0, Y: a}}
	m := &Mesh{}
	n := int32(len(plan))
	for _, z := range []float64{0, h} {
		for _, p := range plan {
			m.V = append(m.V, p.At(z))
		}
	}
	for i := range n {
		j := (i + 1) % n
		m.T = append(m.T, [3]int32{i, j, j + n}, [3]int32{i, j + n, i + n})
	}
	for _, t := range [][3]int32{{0, 1, 2}, {0, 2, 3}, {0, 3, 5}, {3, 4, 5}} {
		m.T = append(m.T, [3]int32{t[0], t[2], t[1]}, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return m
}

// A chord of the cell's length strays from a sphere of radius 20 by the tolerance.
func TestCellOfSphere(t *testing.T) {
	m := bvhBlob(100)
	for i, v := range m.V {
		m.V[i] = v.Unit().Scale(20)
	}
	for _, tt := range []struct{ r, tol float64 }{{0, 0.002}, {-15, 0.005}, {0, 0.01}} {
		want := math.Sqrt(8 * (20 + tt.r) * tt.tol)
		if got := CleanField(m, 0).Offset(tt.r).(sdf.Resolver).Cell(tt.tol); !(got >= 0.4*want && got <= 1.05*want) {
			t.Errorf("offset %v: Cell(%v) = %v, sphere needs %v", tt.r, tt.tol, got, want)
		}
	}
	flat := sdf.Local(CleanField(bvhBox(geom.Vec{}, geom.V(9, 9, 9)), 0), geom.Ball{C: geom.V(4, 4, 9), R: 1})
	if _, ok := flat.(sdf.HalfSpace); !ok {
		t.Errorf("the middle of a face is %T", flat)
	}
}

func BenchmarkFieldLocal60k(b *testing.B) {
	f := CleanField(bvhBlob(173), 0)
	pts := bvhShell(f.bvh, 1024, 0.3)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		p := pts[i%len(pts)]
		s := f.Local(geom.Ball{C: p, R: 0.35})
		for k := range 8 {
			s.Dist(p.Add(geom.V(0.2*float64(k&1), 0.2*float64(k>>1&1), 0.2*float64(k>>2&1))))
		}
	}
}
