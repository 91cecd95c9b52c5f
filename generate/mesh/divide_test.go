package mesh

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// treeOf is the tree that a solid is seen by.
func treeOf(t *testing.T, s sdf.Solid, tol float64, soft bool) *octree {
	t.Helper()
	o := Options{Tol: tol}
	if err := o.complete(s); err != nil {
		t.Fatal(err)
	}
	grid, floor := o.grid(0)
	tree := &octree{octGrid: grid, octRules: octRules{sag: 0.8 * tol, tol: tol / 2, floor: floor, blind: 1, soft: soft}}
	if err := tree.build(context.Background(), s, 1); err != nil {
		t.Fatal(err)
	}
	tree.balance()
	return tree
}

// leavesOf counts its cells at a tolerance of 0.02 mm.
func leavesOf(t *testing.T, s sdf.Solid, soft bool) int {
	t.Helper()
	return len(treeOf(t, s, 0.02, soft).leaves())
}

// A long fillet is straight along and curved across: few cells see it, and its
// triangles are long. The distance is that of a rounded box, written out.
func TestDivideAcrossTheCurve(t *testing.T) {
	const x, y, z, r = 60, 20, 15, 5
	s := sdf.RoundPrism(sdf.Rect(x, y, r), -z, z, r)
	if fine, soft := leavesOf(t, s, false), leavesOf(t, s, true); !(3*soft <= fine) {
		t.Errorf("%d cells, %d when triangles are not divided", soft, fine)
	}
	m := contourSound(t, s, 0.02)
	contourNear(t, m, 0.02, func(p geom.Vec) float64 {
		q := geom.V(math.Abs(p.X)-x+r, math.Abs(p.Y)-y+r, math.Abs(p.Z)-z+r)
		out := geom.V(max(q.X, 0), max(q.Y, 0), max(q.Z, 0))
		return out.Len() + min(max(q.X, q.Y, q.Z), 0) - r
	})
	if most := 3000; len(m.T) > most {
		t.Errorf("%d triangles, want %d at most", len(m.T), most)
	}
}

// dividedOf is the mesh of a solid before it is thinned.
func dividedOf(t *testing.T, s sdf.Solid, tol float64) *splitter {
	t.Helper()
	r := refiner{octree: treeOf(t, s, tol, true), limit: 0.8 * tol, most: refineMost, workers: 1}
	full, err := r.run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return full
}

// A fillet of radius r takes arc/chord rows of triangles, whose chords sag by
// chord²/(8 r); cells of a quarter of the fillet's length and more see each row.
func TestDivideDoesNotShortenTriangles(t *testing.T) {
	const x, r, tol = 200, 6, 0.01
	rod := sdf.Move(sdf.Rod(geom.Vec2{}, r, -x, x), geom.RotateX(90*geom.Degree))
	full := dividedOf(t, rod, tol)
	chord := math.Sqrt(8 * r * divideShare * 0.8 * tol)
	rows := 2 * math.Pi * r / chord
	const cell = 2 // mm, or larger
	if most := 1.5 * rows * 2 * x / cell; !(float64(len(full.out.V)) < most) {
		t.Errorf("%d vertices, want %.0f at most: %.0f rows, one for each cell along", len(full.out.V), most, rows)
	}
	contourNear(t, contourSound(t, rod, tol), tol, func(p geom.Vec) float64 {
		return max(math.Hypot(p.X, p.Z)-r, math.Abs(p.Y)-x)
	})
}

// The facets of a coarse ball that has been moved out are a surface that waves about its
// chords: what is divided needs no more dividing.
func TestDividingEnds(t *testing.T) {
	const tol = 0.01
	s := Field(contourSound(t, sdf.Ellipsoid(geom.V(9, 7, 5)), 0.1)).Offset(2)
	full := dividedOf(t, s, tol)
	d := divider{splitter: full, limit: 0.8 * tol, flats: make([][]plateau, len(full.out.V))}
	all := make([]int32, len(full.out.T))
	for i := range all {
		all[i] = int32(i)
	}
	left, err := d.round(context.Background(), 1, all)
	if err != nil {
		t.Fatal(err)
	}
	if len(left) > 0 {
		t.Errorf("%d of %d triangles would be divided again", len(left), len(all))
	}
}

// A ball that is a mesh, moved in by half its radius, is known to be smooth and
// of the radius that is left, though the folds of its facets are no measure of it.
func TestCurvatureOfAMeshThatIsOff(t *testing.T) {
	const radius, in, off, tol = 6.0, 3.0, 0.01, 0.02
	m := contourSound(t, sdf.Ball(geom.Vec{}, radius), off)
	s := CleanField(m, off).Offset(-in)
	want := math.Sqrt(8 * (radius - in) * tol) // the sag of a chord is L²/(8 r)
	r := rand.New(rand.NewPCG(5, 7))
	smooth, n := 0, 200
	for range n {
		at := geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit().Scale(radius - in)
		near := sdf.Local(s, geom.Ball{C: at, R: 0.4})
		if !sdf.Creased(near) {
			smooth++
		}
		if cell := near.(sdf.Resolver).Cell(tol); !(cell >= want/2 && cell <= 3*want) {
			t.Errorf("at %v: cells of %.2f mm, want about %.2f", at, cell, want)
		}
	}
	if smooth < 9*n/10 {
		t.Errorf("%d of %d places are known to be smooth", smooth, n)
	}
}

// Faces that come near to each other when they are moved in are not one curve.
func TestCreaseBetweenTwoFaces(t *testing.T) {
	m := contourSound(t, sdf.RoundPrism(sdf.Rect(20, 10, 4), -6, 6, 2), 0.01)
	s := CleanField(m, 0.01).Offset(-5) // the ends of z are 12 apart, the sides of y 20
	for _, at := range []geom.Vec{geom.V(0, 5, 1), geom.V(15, 0, -1), geom.V(0, -5, 1)} {
		near := sdf.Local(s, geom.Ball{C: at, R: 1.2})
		if _, plane := near.(sdf.HalfSpace); plane || !sdf.Creased(near) {
			t.Errorf("at %v: no crease where a side meets an end (%T)", at, near)
		}
	}
}

// Moved out, a ridge becomes round and a valley stays sharp; moved in, the other way
// round. The body is an L of strokes 4 wide.
func TestOffsetRoundsCreases(t *testing.T) {
	ell, err := sdf.Polygon([]geom.Vec2{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 10}, {X: 0, Y: 10}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	f := CleanField(contourSound(t, sdf.Prism(ell, -9, 9), 0.01), 0)
	const slant = 1.5 * math.Sqrt2 / 2
	for _, c := range []struct {
		r      float64
		at     geom.Vec
		sharp  bool
		called string
	}{
		{1.5, geom.V(-slant, -slant, 0.3), false, "ridge, out"},
		{1.5, geom.V(5.5, 5.5, 0.3), true, "valley, out"},
		{-1.5, geom.V(1.5, 1.5, 0.3), true, "ridge, in"},
		{-1.5, geom.V(4-slant, 4-slant, 0.3), false, "valley, in"},
	} {
		near := sdf.Local(f.Offset(c.r), geom.Ball{C: c.at, R: 0.4})
		if _, plane := near.(sdf.HalfSpace); plane || sdf.Creased(near) != c.sharp {
			t.Errorf("%s: %T, creased %v", c.called, near, sdf.Creased(near))
		}
	}
}
