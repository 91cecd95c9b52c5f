package proof

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %.5f, want %.5f +- %g", what, got, want, within)
	}
}

func TestFixturesAreClosed(t *testing.T) {
	near(t, "volume of a box", Volume(box(Vec{1, 2, 3}, Vec{4, 6, 8})), 60, 1e-9)
	cone := lathe([][2]float64{{0, 0}, {10, 0}, {0, 30}}, 720)
	near(t, "volume of a cone", Volume(cone), math.Pi*100*30/3, 0.2)
}

func TestTreeAgainstBox(t *testing.T) {
	lo, hi := Vec{-3, -2, -1}, Vec{3, 2, 1}
	b := NewBody(box(lo, hi))
	want := func(p Vec) float64 {
		return product(product(math.Abs(p[0])-3, math.Abs(p[1])-2), math.Abs(p[2])-1)
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		p := Vec{rnd.Float64()*10 - 5, rnd.Float64()*10 - 5, rnd.Float64()*10 - 5}
		if got := b.Tree.Signed(p, math.Inf(1)); math.Abs(got-want(p)) > 1e-9 {
			t.Fatalf("Signed(%v) = %v, want %v", p, got, want(p))
		}
	}
	h := b.Tree.Ray(Vec{0.1, 0.2, -5}, Vec{0, 0, 1}, 0)
	near(t, "first crossing", h.Dist, 4, 1e-12)
	near(t, "crossings", float64(len(b.Tree.Crossings(Vec{0.1, 0.2, -5}, Vec{0, 0, 1}, 0))), 2, 0)
}

// TestSignByFacetAndByRays: both ways to tell inside from outside agree on a
// body with creases both ways.
func TestSignByFacetAndByRays(t *testing.T) {
	tree := NewTree(cup(3, 40))
	rnd := rand.New(rand.NewPCG(12, 13))
	for range 5000 {
		p := Vec{rnd.Float64()*100 - 50, rnd.Float64()*100 - 50, rnd.Float64()*40 - 35}
		if got, want := tree.Signed(p, math.Inf(1)) < 0, tree.Inside(p); got != want {
			t.Fatalf("Signed(%v) inside = %v, want %v", p, got, want)
		}
	}
}

func TestTreeAgainstBruteForce(t *testing.T) {
	f := lathe([][2]float64{{5, 0}, {20, 0}, {18, 14}, {7, 9}}, 40)
	tree := NewTree(f)
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		p := Vec{rnd.Float64()*60 - 30, rnd.Float64()*60 - 30, rnd.Float64()*60 - 30}
		least := math.Inf(1)
		for _, tr := range f {
			q, _ := closest(p, &tr)
			least = math.Min(least, q.Sub(p).Len())
		}
		near(t, "nearest", tree.Nearest(p, math.Inf(1)).Dist, least, 1e-12)
	}
}

// TestClosestAgainstSearch compares with a dense search over one facet.
func TestClosestAgainstSearch(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	v := func() Vec { return Vec{rnd.Float64(), rnd.Float64(), rnd.Float64()} }
	for range 30 {
		tri, p := Tri{v(), v(), v()}, v().Mul(3)
		least := math.Inf(1)
		const n = 200
		for i := range n + 1 {
			for j := range n + 1 - i {
				a, b := float64(i)/n, float64(j)/n
				q := tri[0].Mul(1 - a - b).Add(tri[1].Mul(a)).Add(tri[2].Mul(b))
				least = math.Min(least, q.Sub(p).Len())
			}
		}
		q, _ := closest(p, &tri)
		near(t, "closest", q.Sub(p).Len(), least, 0.006)
	}
}

// TestItemDistances: the distance to a dense sampling of each surface, found
// by walking the field's own zero set, and the gradient's length.
func TestItemDistances(t *testing.T) {
	items := map[string]struct {
		d    Distance
		size Vec
	}{
		"box":       {RoundedBox(Vec{118, 64, 27}, 10, 4), Vec{118, 64, 27}},
		"cylinder":  {Cylinder(46, 22), Vec{46, 46, 22}},
		"lying":     {LyingCylinder(40, 90), Vec{90, 40, 40}},
		"capsule":   {LyingCapsule(18, 90), Vec{90, 18, 18}},
		"ellipsoid": {Ellipsoid(Vec{80, 50, 30}), Vec{80, 50, 30}},
	}
	rnd := rand.New(rand.NewPCG(8, 9))
	for name, it := range items {
		near(t, name+" top", it.d(Vec{0, 0, it.size[2] + 3}), 3, 1e-6)
		near(t, name+" bottom", it.d(Vec{0, 0, -2}), 2, 1e-6)
		near(t, name+" side", it.d(Vec{it.size[0]/2 + 5, 0, it.size[2] / 2}), 5, 1e-6)
		near(t, name+" front", it.d(Vec{0, -it.size[1]/2 - 5, it.size[2] / 2}), 5, 1e-6)
		for range 300 {
			p := Vec{(rnd.Float64() - 0.5) * 2 * it.size[0], (rnd.Float64() - 0.5) * 2 * it.size[1], (rnd.Float64()*2 - 0.5) * it.size[2]}
			v := it.d(p)
			if v < 0.2 {
				continue
			}
			g := gradient(it.d, p)
			near(t, name+" gradient", g.Len(), 1, 1e-4)
			near(t, name+" at its foot", it.d(p.Sub(g.Unit().Mul(v))), 0, 1e-4)
		}
	}
	near(t, "rounded corner", RoundedBox(Vec{118, 64, 27}, 10, 4)(Vec{59, 32, 13}), (math.Sqrt2-1)*10, 1e-9)
	near(t, "rounded edge", RoundedBox(Vec{118, 64, 27}, 10, 4)(Vec{59, 0, 27}), (math.Sqrt2-1)*4, 1e-9)
}

func gradient(d Distance, p Vec) Vec {
	const h = 1e-4
	var g Vec
	for k := range 3 {
		a, b := p, p
		a[k], b[k] = a[k]-h, b[k]+h
		g[k] = (d(b) - d(a)) / (2 * h)
	}
	return g
}

// A box released by alpha: beside its wall at height t above its foot the
// distance is (x - t tan) cos, by plane geometry.
func TestReleasedAgainstCone(t *testing.T) {
	d := Released(RoundedBox(Vec{40, 40, 20}, 0, 0), 5, 60)
	for _, up := range []float64{0, 3, 12, 30} {
		got := d(Vec{25, 0, up})
		near(t, "released", got, (5-up*math.Tan(5*deg))*math.Cos(5*deg), math.Max(1e-6, 0.03*bool2(up == 0)))
	}
}

func bool2(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func TestSTLRoundTrip(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.stl")
	want := box(Vec{0, 0, 0}, Vec{1, 2, 3})
	if err := WriteSTL(path, want); err != nil {
		t.Fatal(err)
	}
	got, err := ReadSTL(path)
	if err != nil || len(got) != len(want) || got[5] != want[5] {
		t.Fatalf("ReadSTL = %v, %v", got, err)
	}
}

// cup is a buck: outer wall 5 degrees, a pocket with walls of draft degrees.
func cup(draft float64, sides int) []Tri {
	in := 20 * math.Tan(draft*deg)
	out := 30 * math.Tan(5*deg)
	return lathe([][2]float64{{0, -30}, {40 + out, -30}, {40, 0}, {25, 0}, {25 - in, -20}, {0, -20}}, sides)
}

func TestReleaseFindsDraftAndUndercut(t *testing.T) {
	p := Pull{PocketDraft: 3, SkirtDraft: 5, Slack: 0.05, Sag: 0.02, Under: -30, Floor: -20, Channel: 3, Bore: 4.3, Vent: 1.6, Band: 1, Top: -1, Bottom: -29}
	good := JudgeRelease(cup(3, 180), p)
	if len(good.Hidden)+len(good.Steep) > 0 {
		t.Errorf("a good cup is blamed: %v %v", good.Hidden, good.Steep)
	}
	// A facet of a cone with n sides leans by atan(tan/cos(pi/n)): 0.0005 degree here.
	near(t, "pocket draft", good.Pocket.Mean, 3, 0.002)
	near(t, "skirt draft", good.Skirt.Mean, 5, 0.002)
	if bad := JudgeRelease(cup(2.5, 24), p); len(bad.Steep) == 0 {
		t.Error("2.5 degrees pass for 3")
	}
	if bad := JudgeRelease(cup(-1, 24), p); len(bad.Hidden) == 0 {
		t.Error("an undercut passes")
	}
}

func TestPrintMeasuresBridges(t *testing.T) {
	// A table: a slab 30 x 10 on two legs, 20 apart.
	slab := lathe([][2]float64{{10, 0}, {14, 0}, {14, 8}, {0, 8}, {0, 5}, {10, 5}}, 90)
	got := JudgePrint(slab, PrintAngle{Most: 45, Over: 1, Sag: 0.02, Cell: 0.4})
	if len(got.Bridges) != 1 || len(got.Voids) != 0 || got.Shells != 1 {
		t.Fatalf("%+v", got)
	}
	near(t, "span", got.Bridges[0].Span, 20, 0.3)
	near(t, "contact", got.Contact, math.Pi*(14*14-100), 1)
	shelf := lathe([][2]float64{{0, 0}, {10, 0}, {10, 5}, {13, 5}, {13, 8}, {0, 8}}, 90)
	got = JudgePrint(shelf, PrintAngle{Most: 45, Over: 1, Sag: 0.02, Cell: 0.4})
	if len(got.Bridges) != 1 || !(got.Bridges[0].Reach > 2.8) {
		t.Errorf("a shelf of 3 mm: %+v", got.Bridges)
	}
	hollow := append(box(Vec{0, 0, 0}, Vec{9, 9, 9}), flipped(box(Vec{3, 3, 3}, Vec{6, 6, 6}))...)
	if got := JudgePrint(hollow, PrintAngle{Most: 45, Over: 1, Sag: 0.02, Cell: 0.4}); len(got.Voids) != 1 {
		t.Errorf("a closed void passes: %+v", got)
	}
}

// vented is a buck with a pocket and one vent in its middle; below is a plenum of
// this radius, or nothing.
func vented(vent, plenum float64) []Tri {
	o := [][2]float64{{plenum, -30}, {42.6, -30}, {40, 0}, {25, 0}, {24, -20}, {vent, -20}}
	if vent == 0 {
		o[0][0] = 0
		return lathe(o, 120)
	}
	return lathe(append(o, [2]float64{vent, -24}, [2]float64{2, -24}, [2]float64{2, -27}, [2]float64{plenum, -27}), 120)
}

func TestVentsReachThePlaten(t *testing.T) {
	s := Suction{Cell: 0.5, Under: -30, Trim: -24, Widest: 1.5, Platen: Platen{10, 2}, Overlap: 0.5, Mouth: 4}
	good := JudgeVents(vented(0.6, 12), s)
	if len(good.Mouths) != 1 || good.Count != 1 || len(good.Pockets)+len(good.Leaks)+len(good.High)+len(good.Unserved) > 0 {
		t.Errorf("a vent over a wide plenum: %d %d %v %v %v %d", len(good.Mouths), good.Count, good.Pockets, good.Leaks, good.High, len(good.Unserved))
	}
	if bad := JudgeVents(vented(0.6, 3), s); len(bad.Unserved) == 0 {
		t.Error("a plenum of 6 mm meets every placement of holes 10 apart")
	}
	if bad := JudgeVents(vented(0, 0), s); len(bad.Pockets) != 1 {
		t.Errorf("a pocket without a vent passes: %+v", bad)
	}
}

func TestMeetFindsInterference(t *testing.T) {
	a, b := NewBody(box(Vec{0, 0, 0}, Vec{10, 10, 10})), NewBody(box(Vec{2, 2, 11}, Vec{8, 8, 15}))
	pa, pb := Sample(a.Facets, 2000, All), Sample(b.Facets, 2000, All)
	near(t, "apart", Meet(b, pb, Vec{}, a, pa, 5).Least, 1, 1e-9)
	near(t, "lowered", Meet(b, pb, Vec{0, 0, -1.5}, a, pa, 5).Least, -0.5, 1e-9)
}
