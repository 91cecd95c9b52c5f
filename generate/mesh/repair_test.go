package mesh

import (
	"bytes"
	"cmp"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"buckwright/generate/geom"

	"github.com/hschendel/stl"
)

// repairSTL reads a test mesh by a reader that is not ours.
func repairSTL(t testing.TB, name string) *Mesh {
	t.Helper()
	src, err := os.ReadFile("../../testdata/mesh/" + name)
	if err != nil {
		t.Fatal(err)
	}
	s, err := stl.ReadAll(bytes.NewReader(src))
	if err != nil {
		t.Fatal(err)
	}
	m := &Mesh{}
	for _, tri := range s.Triangles {
		n := int32(len(m.V))
		for _, p := range tri.Vertices {
			m.V = append(m.V, geom.V(float64(p[0]), float64(p[1]), float64(p[2])))
		}
		m.T = append(m.T, [3]int32{n, n + 1, n + 2})
	}
	return m.Weld(0)
}

func TestDiagnoseSoundBody(t *testing.T) {
	m := repairSTL(t, "drift-buoy.stl")
	r := Diagnose(m)
	if !r.Clean() || r.Shells != 1 {
		t.Errorf("%d open, %d flipped, %d non-manifold, %d degenerate, %d crossing, %d shells",
			len(r.Open), len(r.Flipped), len(r.NonManifold), len(r.Degenerate), len(r.Crossing), r.Shells)
	}
	s := r.Bounds.Size()
	if math.Abs(s.X-110) > 0.01 || math.Abs(s.Y-62) > 0.8 || math.Abs(s.Z-34) > 0.01 {
		t.Errorf("size %v, want 110 x 62 x 34", s)
	}
}

// Each fault, made on its own in a sound body, is found and nothing else.
func TestDiagnoseFindsEachFault(t *testing.T) {
	for _, tt := range []struct {
		name string
		harm func(m *Mesh)
		want func(r Report) bool
	}{
		{"hole", func(m *Mesh) { m.T = m.T[1:] }, func(r Report) bool { return len(r.Open) == 3 }},
		{"flipped", func(m *Mesh) { m.T[40][0], m.T[40][1] = m.T[40][1], m.T[40][0] }, func(r Report) bool { return len(r.Flipped) == 3 }},
		{"repeated", func(m *Mesh) { m.T = append(m.T, m.T[7]) }, func(r Report) bool { return len(r.Duplicate) == 1 }},
		{"fin", func(m *Mesh) {
			m.V = append(m.V, geom.V(99, 0, 0))
			m.T = append(m.T, [3]int32{m.T[9][0], m.T[9][1], int32(len(m.V) - 1)})
		}, func(r Report) bool { return len(r.NonManifold) == 1 && len(r.Open) == 2 }},
		{"point", func(m *Mesh) { m.T = append(m.T, [3]int32{3, 3, 4}) }, func(r Report) bool { return len(r.Degenerate) == 1 }},
		{"inside out", func(m *Mesh) {
			for i, x := range m.T {
				m.T[i] = [3]int32{x[1], x[0], x[2]}
			}
		}, func(r Report) bool { return r.Volume < 0 }},
		{"shell", func(m *Mesh) { m.join(bvhBox(geom.V(-2, -2, -2), geom.V(2, 2, 2))) }, func(r Report) bool {
			return len(r.Internal) == 1 && r.Shells == 2 && r.Internal[0].Max == geom.V(2, 2, 2)
		}},
		{"crossing", func(m *Mesh) { m.join(bvhBox(geom.V(-2, -2, -2), geom.V(2, 2, 40))) }, func(r Report) bool {
			return len(r.Crossing) > 0 && len(r.Internal) == 0
		}},
	} {
		m := bvhBlob(12)
		tt.harm(m)
		r := Diagnose(m)
		if r.Clean() || !tt.want(r) {
			t.Errorf("%s: %d open, %d flipped, %d non-manifold, %d degenerate, %d repeated, %d internal, %d crossing, volume %v", tt.name,
				len(r.Open), len(r.Flipped), len(r.NonManifold), len(r.Degenerate), len(r.Duplicate), len(r.Internal), len(r.Crossing), r.Volume)
		}
		h := Heal(m)
		if got := Diagnose(h); tt.name != "crossing" && !got.Clean() {
			t.Errorf("%s: after healing %d open, %d flipped, %d non-manifold, %d degenerate, %d crossing, volume %v", tt.name,
				len(got.Open), len(got.Flipped), len(got.NonManifold), len(got.Degenerate), len(got.Crossing), got.Volume)
		}
		if v, want := h.Volume(), bvhBlob(12).Volume(); tt.name != "crossing" && math.Abs(v-want) > 0.01*want {
			t.Errorf("%s: volume %v after healing, was %v", tt.name, v, want)
		}
	}
}

// Two bodies that share a whole face, as a drawing of several bodies is exported: the wall
// between them is told as repeated triangles, it is no hole, and goes.
func TestBodiesThatShareAFace(t *testing.T) {
	m := bvhBox(geom.V(0, 0, 0), geom.V(20, 20, 20))
	m.join(bvhBox(geom.V(20, 0, 0), geom.V(35, 20, 20)))
	r := Diagnose(m)
	if len(r.Duplicate) != 2 || len(r.Open)+len(r.Holes)+len(r.Flipped)+len(r.Crossing) > 0 {
		t.Errorf("%d repeats, %d open, %d holes, %d flipped, %d crossing", len(r.Duplicate), len(r.Open), len(r.Holes), len(r.Flipped), len(r.Crossing))
	}
	h := Heal(m)
	if err := h.Check(); err != nil || math.Abs(h.Volume()-35*20*20) > 1e-6 {
		t.Errorf("volume %v, want %v; %v", h.Volume(), 35*20*20, err)
	}
}

// A cavity faces in: it stays, and so does a body in the cavity.
func TestHealKeepsCavities(t *testing.T) {
	m := bvhBox(geom.V(0, 0, 0), geom.V(30, 30, 30))
	hollow := bvhBox(geom.V(5, 5, 5), geom.V(25, 25, 25))
	for i, x := range hollow.T {
		hollow.T[i] = [3]int32{x[1], x[0], x[2]}
	}
	core := bvhBox(geom.V(10, 10, 10), geom.V(20, 20, 20))
	m.join(core)
	m.join(hollow)
	if got, want := Heal(m).Volume(), 27000.0-8000+1000; math.Abs(got-want) > 1e-6 {
		t.Errorf("volume %v, want %v", got, want)
	}
	f := Field(m)
	for _, tt := range []struct {
		p    geom.Vec
		want float64
	}{{geom.V(15, 15, 2), -2}, {geom.V(15, 15, 7), 2}, {geom.V(15, 15, 13), -3}} {
		if got := f.Dist(tt.p); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("Dist(%v) = %v, want %v", tt.p, got, tt.want)
		}
	}
}

// The fast winding number agrees with the plain sum on the file as it is, and the
// field of the healed body has the side that the plain sum gives for the sound
// one, save in the dents that the skins over the holes leave.
func TestDirtyBuoy(t *testing.T) {
	sound, dirty := repairSTL(t, "drift-buoy.stl"), repairSTL(t, "drift-buoy-dirty.stl")
	d := Diagnose(dirty)
	if len(d.Open) == 0 || len(d.Flipped) == 0 || len(d.Duplicate) == 0 || d.Shells < 2 {
		t.Fatalf("the dirty body has %d open edges, %d flipped, %d repeats, %d shells", len(d.Open), len(d.Flipped), len(d.Duplicate), d.Shells)
	}
	soundTree, dirtyTree := NewBVH(sound), NewBVH(dirty)
	w, f := NewWinding(dirty, dirtyTree), Field(dirty)
	r := rand.New(rand.NewPCG(27, 28))
	box := sound.Bounds().Grow(3)
	wrong, sideways, deepest := 0, 0, 0.0
	for i := range 10_000 {
		p := bvhPoint(r, box)
		if sum := windSum(dirtyTree, p); (w.At(p) >= 0.5) != (sum >= 0.5) && math.Abs(sum-0.5) > 1e-3 {
			wrong++
		}
		if i%3 > 0 { // plain sums are slow
			continue
		}
		if in := windSum(soundTree, p) >= 0.5; in != (f.Dist(p) < 0) {
			_, _, e := soundTree.Nearest(p)
			sideways, deepest = sideways+1, max(deepest, e)
		}
	}
	if wrong > 0 {
		t.Errorf("fast and plain winding number differ at %d of 10000 points", wrong)
	}
	if sideways > 7 || deepest > 1 {
		t.Errorf("healed and sound body differ at %d of 3334 points, up to %.2f mm from the surface", sideways, deepest)
	}
	if f.wind != nil {
		t.Error("the healed body still passes through itself")
	}
	if got, want := Heal(dirty).Volume(), sound.Volume(); math.Abs(got-want) > 1e-3*want {
		t.Errorf("volume %v after healing, the sound body has %v", got, want)
	}
}

// A long rim is closed in pieces, and the winding number is whole all the same.
func TestHealClosesLongRim(t *testing.T) {
	m := bvhBlob(205)
	top := m.Bounds().Max.Z - 3
	m = m.without(func(i int) bool { return m.middle(i).Z > top })
	var r Report
	if r.edges(m); len(r.Open) <= repairLong {
		t.Fatalf("the rim has only %d edges", len(r.Open))
	}
	h := Heal(m)
	for i, n := range repairNeighbours(h) {
		if min(n[0], n[1], n[2]) < 0 {
			t.Fatalf("after healing triangle %d lacks a neighbour", i)
		}
	}
	b := NewBVH(h)
	for _, p := range []geom.Vec{{}, {Z: top - 1}, {Z: top + 2.9}, {X: 30}} {
		if w := windSum(b, p); math.Abs(w-math.Round(w)) > 1e-9 {
			t.Errorf("winding number %v at %v", w, p)
		}
	}
}

func TestWeld(t *testing.T) {
	m := &Mesh{
		V: []geom.Vec{{X: 1}, {X: 1.0004}, {X: 2}, {Y: 5}, {X: 1.0009}, {Z: 9}},
		T: [][3]int32{{0, 2, 3}, {1, 2, 3}, {4, 2, 3}},
	}
	w := m.Weld(5e-4)
	if w.T[0] != w.T[1] || w.T[0] == w.T[2] || len(w.V) != 4 {
		t.Errorf("welded to %v, %v", w.V, w.T)
	}
	if len(m.Weld(0).V) != 5 {
		t.Errorf("Weld(0) leaves %d vertices, want the 5 that are used", len(m.Weld(0).V))
	}
}

// A box without its floor: the skin over the hole is the floor, and 4 area / rim
// of a rectangle a x b is 2 a b / (a + b).
func TestHolesAreMeasured(t *testing.T) {
	m := bvhBox(geom.V(0, 0, 0), geom.V(60, 40, 20))
	m = m.without(func(i int) bool { a, b, c := m.Corners(i); return max(a.Z, b.Z, c.Z) == 0 })
	r := Diagnose(m)
	if len(r.Holes) != 1 || math.Abs(r.Holes[0].Area-2400) > 1e-9 || math.Abs(r.Holes[0].Width-48) > 1e-9 || r.Holes[0].At.Dist(geom.V(30, 20, 0)) > 1e-9 {
		t.Errorf("holes %+v, want one of 2400 mm², 48 mm wide, at (30, 20, 0)", r.Holes)
	}
	m.join(m.Transform(geom.Translate(geom.V(100, 0, 0))).without(func(i int) bool { return i == 0 }))
	third := 4 * 1200 / (100 + math.Hypot(60, 40)) // half of the top, cut from corner to corner
	if h := Diagnose(m).Holes; len(h) != 3 || h[1].Width != h[0].Width || math.Abs(h[2].Width-third) > 1e-9 {
		t.Errorf("holes %+v, want three, the widest first, the last %g wide", h, third)
	}
	if r := Diagnose(bvhBlob(12)); len(r.Holes) != 0 {
		t.Errorf("a closed body has holes %+v", r.Holes)
	}
}

// repairEdges against a plain sort, on bodies with triangles thrown in.
func TestEdgesAreSorted(t *testing.T) {
	r := rand.New(rand.NewPCG(47, 48))
	for n := range 100 {
		m := bvhBlob(5 + n%9)
		for range 50 {
			k := int32(len(m.V))
			m.T = append(m.T, [3]int32{r.Int32N(k), r.Int32N(k), r.Int32N(k)})
		}
		var want []repairEdge
		for i, t := range m.T {
			for k := range 3 {
				a, b := t[k], t[(k+1)%3]
				want = append(want, repairEdge{min(a, b), max(a, b), int32(3*i + k), a > b})
			}
		}
		slices.SortFunc(want, func(x, y repairEdge) int {
			return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b), cmp.Compare(x.half, y.half))
		})
		if got := repairEdges(m); !slices.Equal(got, want) {
			t.Fatalf("mesh %d: the sides of %d triangles are out of order", n, len(m.T))
		}
	}
}

// Weld against a search through all vertices before.
func TestWeldAgainstSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(35, 36))
	for n := range 300 {
		tol := []float64{0, 0.01, 0.3}[n%3]
		m := &Mesh{}
		for i := range int32(60) {
			m.V = append(m.V, geom.V(math.Round(r.Float64()*20), r.Float64(), math.Round(r.Float64()*20)/10).Scale(0.5))
			m.T = append(m.T, [3]int32{i, r.Int32N(i + 1), r.Int32N(i + 1)})
		}
		var kept []geom.Vec
		to := make([]int32, len(m.V))
		for i, p := range m.V {
			to[i] = -1
			for j, q := range kept {
				if q.Dist(p) <= tol {
					to[i] = int32(j)
					break
				}
			}
			if to[i] < 0 {
				to[i] = int32(len(kept))
				kept = append(kept, p)
			}
		}
		w := m.Weld(tol)
		for i, s := range m.T {
			if want := [3]int32{to[s[0]], to[s[1]], to[s[2]]}; w.T[i] != want {
				t.Fatalf("mesh %d, gap %g: triangle %d is %v, want %v", n, tol, i, w.T[i], want)
			}
		}
	}
}

// Soup: any triangles at all give a winding number that is whole.
func TestHealSoup(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 30))
	for n := range 200 {
		m := &Mesh{}
		for range 4 + n%5 {
			m.V = append(m.V, geom.V(r.Float64(), r.Float64(), r.Float64()).Scale(10))
		}
		for range 1 + n%17 {
			m.T = append(m.T, [3]int32{r.Int32N(int32(len(m.V))), r.Int32N(int32(len(m.V))), r.Int32N(int32(len(m.V)))})
		}
		b := NewBVH(Heal(m))
		for range 10 {
			p := geom.V(r.Float64(), r.Float64(), r.Float64()).Scale(10)
			if w := windSum(b, p); math.Abs(w-math.Round(w)) > 1e-6 {
				t.Fatalf("soup %d: winding number %v at %v", n, w, p)
			}
		}
	}
}

func BenchmarkFieldOfDirtyBuoy(b *testing.B) {
	m := repairSTL(b, "drift-buoy-dirty.stl")
	for b.Loop() {
		Field(m)
	}
}

// Two boxes that share one vertex: the side near it must be right all round.
func TestFieldAtPinch(t *testing.T) {
	m := bvhBox(geom.V(-4, -4, -4), geom.Vec{})
	m.join(bvhBox(geom.Vec{}, geom.V(5, 5, 5)))
	f := Field(m.Weld(0))
	r := rand.New(rand.NewPCG(31, 32))
	for range 1000 {
		p := inBall(r, geom.Ball{R: 2}, 1)
		in := p.X > 0 && p.Y > 0 && p.Z > 0 || p.X < 0 && p.Y < 0 && p.Z < 0
		if got := f.Dist(p); (got < 0) != in {
			t.Fatalf("Dist(%v) = %v", p, got)
		}
	}
}

// Two bodies that overlap are one solid; a fold without area changes nothing.
func TestFieldOfOverlap(t *testing.T) {
	m := bvhBox(geom.V(-10, -10, -10), geom.V(10, 10, 10))
	m.join(bvhBox(geom.V(5, -5, -5), geom.V(30, 5, 5)))
	f := Field(m)
	if f.ExactInside() || !f.ExactOutside() {
		t.Error("distances inside bodies that overlap are only bounds")
	}
	fold := bvhBox(geom.V(-10, -10, -10), geom.V(10, 10, 10))
	first := fold.T[0] // a corner more, on one side of it, with a triangle of no area beyond
	fold.V = append(fold.V, fold.V[first[0]].Lerp(fold.V[first[1]], 0.3))
	n := int32(len(fold.V) - 1)
	fold.T[0] = [3]int32{n, first[1], first[2]}
	fold.T = append(fold.T, [3]int32{first[0], n, first[2]}, [3]int32{first[0], first[1], n})
	g := Field(fold)
	if !g.ExactInside() || g.wind == nil {
		t.Errorf("exact %v, by winding number %v, want both", g.ExactInside(), g.wind != nil)
	}
	r := rand.New(rand.NewPCG(33, 34))
	for range 2000 {
		p := bvhPoint(r, m.Bounds().Grow(4))
		a, b := fieldBoxDist(geom.V(-10, -10, -10), geom.V(10, 10, 10), p), fieldBoxDist(geom.V(5, -5, -5), geom.V(30, 5, 5), p)
		want := min(a, b)
		if got := f.Dist(p); want > 0 && math.Abs(got-want) > 1e-12 || want < 0 && !(got < 0 && got >= want) {
			t.Fatalf("overlap: Dist(%v) = %v, boxes have %v", p, got, want)
		}
		if got := g.Dist(p); math.Abs(got-a) > 1e-12 {
			t.Fatalf("fold: Dist(%v) = %v, the box has %v", p, got, a)
		}
	}
}
