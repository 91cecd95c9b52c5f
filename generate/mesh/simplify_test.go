package mesh

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"

	"buckwright/generate/geom"
)

// rings is a closed body of n sides about z: a ring of vertices at each (radius, z)
// of the profile, turned by turn radians more than the one before; fans close its ends.
func rings(n int, turn float64, profile ...[2]float64) *Mesh {
	m := &Mesh{}
	for k, p := range profile {
		for i := range n {
			s, c := math.Sincos(2*math.Pi*float64(i)/float64(n) + turn*float64(k))
			m.V = append(m.V, geom.V(p[0]*c, p[0]*s, p[1]))
		}
	}
	last := len(profile) - 1
	m.V = append(m.V, geom.V(0, 0, profile[0][1]), geom.V(0, 0, profile[last][1]))
	at := func(k, i int) int32 { return int32(k*n + i%n) }
	low, high := int32(len(m.V)-2), int32(len(m.V)-1)
	for i := range n {
		m.T = append(m.T, [3]int32{low, at(0, i+1), at(0, i)}, [3]int32{high, at(last, i), at(last, i+1)})
		for k := range last {
			m.T = append(m.T, [3]int32{at(k, i), at(k, i+1), at(k+1, i+1)}, [3]int32{at(k, i), at(k+1, i+1), at(k+1, i)})
		}
	}
	return m
}

// roughened moves every vertex out or in by up to by mm.
func roughened(m *Mesh, by float64) *Mesh {
	r := rand.New(rand.NewPCG(43, 44))
	for i, p := range m.V {
		m.V[i] = p.Add(p.Unit().Scale(by * (2*r.Float64() - 1)))
	}
	return m
}

// quartered cuts every triangle in four, flat.
func quartered(m *Mesh) *Mesh {
	out := &Mesh{V: append([]geom.Vec(nil), m.V...)}
	middle := map[side]int32{}
	half := func(a, b int32) int32 {
		e := sideOf(a, b)
		if _, met := middle[e]; !met {
			middle[e] = int32(len(out.V))
			out.V = append(out.V, m.V[a].Lerp(m.V[b], 0.5))
		}
		return middle[e]
	}
	for _, t := range m.T {
		ab, bc, ca := half(t[0], t[1]), half(t[1], t[2]), half(t[2], t[0])
		out.T = append(out.T, [3]int32{t[0], ab, ca}, [3]int32{t[1], bc, ab}, [3]int32{t[2], ca, bc}, [3]int32{ab, bc, ca})
	}
	return out
}

// apart is how far about places samples of a mesh are from another: corners, middles
// of sides and of triangles, and places anywhere in them. The nearest of the other
// is looked for among all its triangles.
func apart(m, o *Mesh, places int) (worst float64) {
	r := rand.New(rand.NewPCG(41, 42))
	boxes := make([]geom.Box, len(o.T))
	for k := range o.T {
		boxes[k] = geom.BoxOf(o.Corners(k))
	}
	for range places {
		a, b, c := m.Corners(r.IntN(len(m.T)))
		p := [5]geom.Vec{a, a.Lerp(b, 0.5), a.Lerp(c, 0.5), a.Add(b).Add(c).Scale(1.0 / 3), a.Lerp(b, r.Float64()).Lerp(c, r.Float64())}[r.IntN(5)]
		best := math.Inf(1)
		for k := range boxes {
			b := &boxes[k]
			if b.Min.X-p.X > best || p.X-b.Max.X > best || b.Min.Y-p.Y > best || p.Y-b.Max.Y > best || b.Min.Z-p.Z > best || p.Z-b.Max.Z > best {
				continue // too far
			}
			u, v, w := o.Corners(k)
			best = min(best, toTriangle(p, u, v, w))
		}
		worst = max(worst, best)
	}
	return worst
}

// toTriangle is the distance of p to a triangle: to its plane where p stands over
// it, else to the nearest of its sides.
func toTriangle(p, a, b, c geom.Vec) float64 {
	n := b.Sub(a).Cross(c.Sub(a))
	over := n != geom.Vec{}
	best := math.Inf(1)
	for _, s := range [3][2]geom.Vec{{a, b}, {b, c}, {c, a}} {
		d, q := s[1].Sub(s[0]), p.Sub(s[0])
		over = over && n.Cross(d).Dot(q) >= 0
		best = min(best, q.Sub(d.Scale(min(1, max(0, q.Dot(d)/d.Dot(d))))).Len())
	}
	if over {
		best = min(best, math.Abs(n.Dot(p.Sub(a)))/n.Len())
	}
	return best
}

func simplified(t testing.TB, m *Mesh, limit float64) *Mesh {
	t.Helper()
	out, err := Simplify(t.Context(), m, limit)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Both ways: from the given mesh to the simplified one and back. stray is what
// Simplify says may be added to the limit between the places that it looks at.
func TestSimplifyStaysWithinItsLimit(t *testing.T) {
	for _, tt := range []struct {
		name         string
		m            *Mesh
		limit, stray float64
		most         int // triangles
	}{
		{"smooth", bvhBlob(60), 0.05, 0.1, 7000},
		{"fine", quartered(bvhBlob(40)), 0.05, 0.1, 5500},
		{"rough", roughened(bvhBlob(60), 0.01), 0.05, 1.0 / 3, 7000},
		{"long faces", rings(1000, 0, [2]float64{20, 0}, [2]float64{20, 60}), 0.02, 0.1, 500},
		{"long faces, leaning", rings(1000, 0, [2]float64{20, 0}, [2]float64{5, 60}), 0.02, 0.1, 500},
		{"long faces, twisted", rings(2000, 1, [2]float64{20, 0}, [2]float64{20, 60}), 0.04, 0.1, 5000},
		{"thinner than the limit", rings(400, 0, [2]float64{20, 0}, [2]float64{20, 0.02}), 0.05, 0.1, 300},
	} {
		out := simplified(t, tt.m, tt.limit)
		there, back := apart(tt.m, out, 2000), apart(out, tt.m, 2000)
		if most := tt.limit * (1 + tt.stray); !(there <= most) || !(back <= most) || len(out.T) > tt.most {
			t.Errorf("%s: %d triangles come to %d, within %.4f mm and back within %.4f; want %d at most, within %.4f", tt.name, len(tt.m.T), len(out.T), there, back, tt.most, most)
		}
		if got, want := out.Bounds(), tt.m.Bounds(); got != want {
			t.Errorf("%s: the box is %v, was %v", tt.name, got, want)
		}
		if moved := math.Abs(out.Volume() - tt.m.Volume()); !(moved <= tt.limit*tt.m.Area()) {
			t.Errorf("%s: the volume is off by %.1f mm³, more than the limit times the area", tt.name, moved)
		}
		if tt.m.Check() == nil && out.Check() != nil {
			t.Errorf("%s: %v", tt.name, out.Check())
		}
		if s := out.Stats(); s.Euler != 2 || s.Components != 1 {
			t.Errorf("%s: Euler number %d, %d pieces", tt.name, s.Euler, s.Components)
		}
		for _, p := range out.V {
			if !given(tt.m, p) {
				t.Fatalf("%s: %v is no vertex of the given mesh", tt.name, p)
			}
		}
	}
}

func given(m *Mesh, p geom.Vec) bool {
	for _, q := range m.V {
		if p == q {
			return true
		}
	}
	return false
}

// A box needs 12 triangles, whatever it is given with.
func TestSimplifyBox(t *testing.T) {
	m := bvhBox(geom.V(-20, -15, 0), geom.V(20, 15, 10))
	for range 4 {
		m = quartered(m)
	}
	out := simplified(t, m, 0.005)
	if len(m.T) != 3072 || len(out.T) != 12 || math.Abs(out.Volume()-12000) > 1e-9 || out.Check() != nil {
		t.Errorf("%d triangles come to %d, volume %v, %v", len(m.T), len(out.T), out.Volume(), out.Check())
	}
}

// A bowl whose two skins are far nearer to each other than the limit: collapses
// would push one through the other.
func TestSimplifyDoesNotCross(t *testing.T) {
	var profile [][2]float64
	for i := 1; i <= 40; i++ { // down the outside from the pole, and back up the inside
		s, c := math.Sincos(math.Pi / 2 * float64(i) / 40)
		profile = append(profile, [2]float64{20 * s, -20 * c})
	}
	for i := 40; i >= 1; i-- {
		s, c := math.Sincos(math.Pi / 2 * float64(i) / 40)
		profile = append(profile, [2]float64{19.99 * s, -19.99 * c})
	}
	m := rings(120, 0, profile...)
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	out := simplified(t, m, 0.1)
	if err := out.Check(); err != nil {
		t.Error(err)
	}
	t.Logf("%d triangles come to %d", len(m.T), len(out.T))
}

// Rims of holes, fins and places where two bodies touch stay as they are.
func TestSimplifyKeepsWhatIsNoPlainSurface(t *testing.T) {
	m := bvhBlob(40)
	top := m.Bounds().Max.Z - 5
	m = m.without(func(i int) bool { return m.middle(i).Z > top }).used()
	var before, after Report
	before.edges(m)
	out := simplified(t, m, 0.05)
	after.edges(out)
	if len(out.T) > len(m.T)*3/4 || len(before.Open) == 0 || !sameEdges(before.Open, after.Open) {
		t.Errorf("%d triangles come to %d, %d open edges to %d", len(m.T), len(out.T), len(before.Open), len(after.Open))
	}
	a, b := Field(m), Field(out)
	r := rand.New(rand.NewPCG(45, 46))
	for range 2000 {
		if p := bvhPoint(r, m.Bounds().Grow(3)); !(math.Abs(a.Dist(p)-b.Dist(p)) <= 0.06) {
			t.Fatalf("at %v the field is %v, was %v", p, b.Dist(p), a.Dist(p))
		}
	}

	pinch := quartered(quartered(bvhBox(geom.V(-4, -4, -4), geom.Vec{})))
	pinch.join(quartered(quartered(bvhBox(geom.Vec{}, geom.V(5, 5, 5)))))
	if out := simplified(t, pinch.Weld(0), 0.005); len(out.T) != 24 || !given(out, geom.Vec{}) {
		t.Errorf("two boxes that touch in a corner come to %d triangles", len(out.T))
	}

	one := bvhBlob(60)
	two := one.With(one.Transform(geom.Translate(geom.V(12, 0, 0)))) // they cross, and may go on to
	if few, all := simplified(t, one, 0.03), simplified(t, two, 0.03); !(len(all.T) < 9*len(few.T)/4) || !(len(few.T) < len(one.T)/2) {
		t.Errorf("two bodies that cross come to %d triangles, one to %d of %d", len(all.T), len(few.T), len(one.T))
	}
}

// sameEdges compares edges, whatever their order and that of their ends.
func sameEdges(a, b [][2]geom.Vec) bool {
	count := map[[2]geom.Vec]int{}
	for _, e := range a {
		count[e]++
	}
	for _, e := range b {
		k := e
		if count[k] == 0 {
			k = [2]geom.Vec{e[1], e[0]}
		}
		count[k]--
	}
	for _, n := range count {
		if n != 0 {
			return false
		}
	}
	return true
}

func TestSimplifySameForAnyWorkers(t *testing.T) {
	m := roughened(bvhBlob(50), 0.01)
	one := simplified(t, m, 0.03)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if !reflect.DeepEqual(one, simplified(t, m, 0.03)) {
		t.Error("one processor gives another mesh")
	}
}

func TestSimplifyStops(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := Simplify(ctx, bvhBlob(20), 0.05); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if out := simplified(t, &Mesh{}, 0.05); len(out.T) != 0 {
		t.Error("nothing comes to something")
	}
}

func BenchmarkSimplify(b *testing.B) {
	m := bvhBlob(350) // 489 000 triangles
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Simplify(b.Context(), m, 0.01); err != nil {
			b.Fatal(err)
		}
	}
}
