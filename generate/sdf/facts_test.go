package sdf

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

// volume counts the centres of cubes of edge h inside s, the last half cube by
// its distance.
func volume(s Solid, box geom.Box, h float64) float64 {
	var n float64
	for x := box.Min.X + h/2; x < box.Max.X; x += h {
		for y := box.Min.Y + h/2; y < box.Max.Y; y += h {
			for z := box.Min.Z + h/2; z < box.Max.Z; z += h {
				n += max(0, min(1, 0.5-s.Dist(geom.V(x, y, z))/h))
			}
		}
	}
	return n * h * h * h
}

func TestVolumesByClosedForm(t *testing.T) {
	const pi = math.Pi
	for _, c := range []struct {
		name string
		s    Solid
		want float64 // mm³
	}{
		{"box", Box(geom.V(-1, -2, -3), geom.V(4, 5, 6)), 5 * 7 * 9},
		{"ball", Ball(geom.V(1, 2, 3), 4), 4 * pi / 3 * 64},
		{"capsule", Capsule(geom.V(-3, 0, 0), geom.V(1, 4, 2), 3), pi*9*6 + 4*pi/3*27},
		{"cylinder", Cylinder(geom.V(-3, 0, 0), geom.V(1, 4, 2), 3), pi * 9 * 6},
		{"frustum", Cone(geom.V(-3, 0, 0), geom.V(1, 4, 2), 4, 1), pi * 6 / 3 * (16 + 4 + 1)},
		{"ellipsoid", Ellipsoid(geom.V(7, 3, 5)), 4 * pi / 3 * 7 * 3 * 5},
		{"torus, by Pappus", Revolve(Place2(Disc(2), geom.Vec2{X: 5}, 0)), 2 * pi * 5 * pi * 4},
		{"square ring, by Pappus", Revolve(Place2(Rect(1.5, 2, 0), geom.Vec2{X: 5, Y: 1}, 0)), 2 * pi * 5 * 12},
		// The box shrunk by r, six slabs, twelve quarter cylinders and a ball (Steiner).
		{"rounded box", RoundPrism(Rect(6, 5, 0), -4, 4, 2), 8*6*4 + 2*2*(8*6+6*4+4*8) + pi*4*(8+6+4) + 4*pi/3*8},
		{"grown box", Offset(Box(geom.V(-4, -3, -2), geom.V(4, 3, 2)), 2), 8*6*4 + 2*2*(8*6+6*4+4*8) + pi*4*(8+6+4) + 4*pi/3*8},
		// Prismatoid: the ends and four times the middle.
		{"drafted block", Taper(Rect(8, 6, 0), 0, geom.Angle(math.Atan(0.25)), 0, 8), 8.0 / 6 * (16*12 + 4*14*10 + 12*8)},
		{"prism of an L", Prism(mustPolygon(ell, nil), -2, 3), (100 - 36) * 5},
		{"slot", Prism(slot, 0, 3), 3 * (20*8 + pi*16 - pi*9/2)},
		{"rounded L", Prism(RoundRegion(mustPolygon(ell, nil), 1), 0, 4), 4 * (64 - 4*(1-pi/4))},
		{"hull of two discs", Prism(Hull(Disc(2), Place2(Disc(2), geom.Vec2{X: 6}, 0)), 0, 3), 3 * (6*4 + pi*4)},
		{"lens", Intersect(Ball(geom.V(-2, 0, 0), 5), Ball(geom.V(2, 0, 0), 5)), 2 * pi * 9 / 3 * (3*5 - 3)},
		{"drilled ball", Difference(Ball(geom.Vec{}, 5), Rod(geom.Vec2{}, 3, -9, 9)), pi / 6 * 512}, // the napkin ring: height 8
	} {
		box := c.s.Bounds().Grow(0.5)
		got := volume(c.s, box, box.Size().Len()/120)
		if !(math.Abs(got/c.want-1) < 2e-3) {
			t.Errorf("volume of %s = %.2f mm³, want %.2f", c.name, got, c.want)
		}
	}
}

// Chords no longer than Cell(tol) between points of a smooth surface stay within tol.
func TestCellKeepsChordsWithinTolerance(t *testing.T) {
	const tol = 0.01
	box := Box(geom.V(-5, -4, -3), geom.V(5, 4, 3))
	tilted := Move(RoundPrism(Rect(5, 4, 2), -4, 4, 1), geom.RotateX(0.5))
	for name, s := range map[string]Solid{
		"ball":           Ball(geom.V(1, 0, 0), 6),
		"capsule":        Capsule(geom.V(-3, 0, 1), geom.V(4, 1, 0), 2),
		"ellipsoid":      Ellipsoid(geom.V(7, 3, 5)),
		"flat ellipsoid": Ellipsoid(geom.V(8, 6, 2)),
		"grown flat one": Offset(Ellipsoid(geom.V(8, 6, 2)), 0.5),
		"cast cylinder":  mustRelease(t, Offset(Cylinder(geom.V(-4, 0, 1), geom.V(4, 2, 0), 3), 0.5), 10*geom.Degree),
		"torus":          Revolve(Place2(Disc(2), geom.Vec2{X: 5}, 0)),
		"round prism":    RoundPrism(Rect(6, 5, 2), -4, 4, 1.5),
		"grown box":      Offset(box, 1),
		"grown cylinder": Offset(Cylinder(geom.V(-4, 0, 1), geom.V(4, 2, 0), 3), 0.5),
		"shrunk torus":   Offset(Revolve(Place2(Disc(3), geom.Vec2{X: 5}, 0)), -1),
		"grown ring":     Offset(Revolve(Place2(Disc(1), geom.Vec2{X: 5}, 0)), 1),
		"released ball":  mustRelease(t, Ball(geom.V(1, 0, 0), 4), 10*geom.Degree),
		"released round": mustRelease(t, RoundPrism(Rect(4, 3, 1), -5, 4, 1), 10*geom.Degree),
		"released grown": mustRelease(t, Offset(box, 1), 10*geom.Degree),
		"released lying": mustRelease(t, Capsule(geom.V(-3, 0, 1), geom.V(4, 1, 0), 2), 10*geom.Degree),
		"released tilt":  mustRelease(t, tilted, 10*geom.Degree),
		"released ring":  mustRelease(t, Offset(Cone(geom.V(0, 0, -5), geom.V(0, 0, 2), 2, 3), 0.5), 10*geom.Degree),
		"fillet":         filleted(HalfSpace{geom.V(1, 0, 0), -1}, HalfSpace{geom.V(0, 0, 1), 1}, 2, 0),
		"rounded edge":   RoundIntersect(HalfSpace{geom.V(0.8, 0, 0.6), 2}, HalfSpace{geom.V(0, 0, 1), 3}, 2, 0.6),
		"rounded disc":   Prism(RoundRegion(mustPolygon(ell, nil), 1), math.Inf(-1), math.Inf(1)),
		"scaled":         Scale(RoundPrism(Rect(3, 2, 1), -2, 2, 0.5), geom.Vec{}, 2),
	} {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(2, 2))
			worst, loosest := 0.0, math.Inf(1)
			for range 3000 {
				b := geom.Ball{C: point(r, cube(9)), R: 0.2 + 2*r.Float64()}
				p, ok := onto(s, b.C)
				if !ok {
					continue
				}
				b.C = p
				l := Local(s, b)
				cell := l.(Resolver).Cell(tol)
				loosest = min(loosest, cell)
				q, ok := onto(s, inBall(r, geom.Ball{C: p, R: min(b.R, cell) * 0.98}))
				if !ok || q.Dist(p) > min(b.R, cell) {
					continue
				}
				worst = max(worst, math.Abs(s.Dist(p.Lerp(q, 0.5))))
			}
			if worst > tol*1.02 {
				t.Errorf("a chord of a cell's length is %.4f mm off, want %g or less", worst, tol)
			}
			if worst < tol/50 && !math.IsInf(loosest, 1) {
				t.Errorf("the longest chords are %.6f mm off: cells of %.4f mm are finer than %g mm asks for", worst, loosest, tol)
			}
		})
	}
}

// onto moves p to the surface of s along the gradient.
func onto(s Solid, p geom.Vec) (geom.Vec, bool) {
	for range 20 {
		d := s.Dist(p)
		if math.Abs(d) < 1e-9 {
			return p, true
		}
		p = p.Sub(gradient(s, p).Scale(d))
	}
	return p, false
}

// Over the faces of solids with flats, balls see planes.
func TestFlatsBecomePlanes(t *testing.T) {
	for name, c := range map[string]struct {
		s     Solid
		least float64 // share of balls of radius 0.5 on the surface that must see one plane
	}{
		"box":            {Box(geom.V(-10, -10, -10), geom.V(10, 10, 10)), 0.85},
		"round prism":    {RoundPrism(Rect(10, 10, 2), -10, 10, 2), 0.55},
		"taper":          {Taper(Rect(10, 10, 2), -10, 5*geom.Degree, -10, 10), 0.75},
		"prism of an L":  {Scale(Prism(mustPolygon(ell, nil), 0, 10), geom.Vec{}, 2), 0.8},
		"turned box":     {Move(Box(geom.V(-10, -10, -10), geom.V(10, 10, 10)), geom.RotateX(0.3)), 0.85},
		"released prism": {mustRelease(t, Box(geom.V(-10, -10, -10), geom.V(10, 10, 10)), 5*geom.Degree), 0.75},
		"grown box":      {Offset(Box(geom.V(-10, -10, -10), geom.V(10, 10, 10)), 2), 0.55},
		"plate with hole": {Difference(Box(geom.V(-10, -10, -2), geom.V(10, 10, 2)),
			Rod(geom.Vec2{}, 1, -3, 3)), 0.7},
	} {
		r := rand.New(rand.NewPCG(4, 4))
		planes, tried := 0, 0
		for range 20000 {
			from := point(r, c.s.Bounds().Intersect(cube(20)).Grow(0.3))
			p, ok := onto(c.s, from)
			if !ok || p.Dist(from) > 1 { // an even sample of the surface
				continue
			}
			tried++
			if _, ok := Local(c.s, geom.Ball{C: p, R: 0.5}).(HalfSpace); ok {
				planes++
			}
		}
		if share := float64(planes) / float64(tried); !(share >= c.least) || tried < 1000 {
			t.Errorf("%s: %.2f of %d balls on its surface see one plane, want %.2f", name, share, tried, c.least)
		}
	}
	edge := Local(Box(geom.V(-10, -10, -10), geom.V(10, 10, 10)), geom.Ball{C: geom.V(10, 10, 0), R: 1})
	if x, ok := edge.(*intersection); !ok || !planes(x.kids) || len(x.kids) != 2 {
		t.Errorf("a ball on the edge of a box sees %T, want the intersection of two planes", edge)
	}
	l := Prism(mustPolygon(ell, nil), -5, 5)
	crease := Local(l, geom.Ball{C: geom.V(4, 4, 0), R: 1})
	if u, ok := crease.(*union); !ok || !planes(u.kids) || len(u.kids) != 2 {
		t.Errorf("a ball on the inner edge of an L sees %T, want the union of two planes", crease)
	}
	if n := Local(l, geom.Ball{C: geom.V(4, 4, 9), R: 1}); n != Solid(Nothing{}) {
		t.Errorf("a ball off the solid sees %T", n)
	}
	if n := Local(l, geom.Ball{C: geom.V(2, 2, 0), R: 1}); n != Solid(Everything{}) {
		t.Errorf("a ball within the solid sees %T", n)
	}
}

func TestOffsetRefusesInexactFields(t *testing.T) {
	a, b := Box(geom.V(-5, -5, -5), geom.V(1, 5, 5)), Box(geom.V(-1, -5, -5), geom.V(5, 5, 5))
	// min(da, db) is only 1 deep in the middle of the overlap, where the union is 5
	// deep: shrinking it by 2 would cut it in two.
	u := Union(a, b)
	if d := u.Dist(geom.Vec{}); d != -1 {
		t.Fatalf("Dist in the overlap = %g, want -1", d)
	}
	mustPanic(t, "shrink a union", func() { Offset(u, -2) })
	mustPanic(t, "grow an intersection", func() { Offset(Intersect(a, b), 2) })
	mustPanic(t, "grow a taper", func() { Offset(Taper(Rect(5, 5, 1), 0, 5*geom.Degree, 0, 5), 1) })
	mustPanic(t, "shrink a blend", func() { Offset(filleted(a, b, 1, 0), -1) })
	Offset(u, 2)
	Offset(Intersect(a, b), -0.5)
}

func mustPanic(t *testing.T, what string, f func()) {
	t.Helper()
	defer func() {
		if recover() == nil {
			t.Errorf("%s: no panic", what)
		}
	}()
	f()
}

// Where the winner is the same, a union in a ball has the very same value.
func TestLocalUnionKeepsBits(t *testing.T) {
	var kids []Solid
	r := rand.New(rand.NewPCG(6, 6))
	for range 40 {
		kids = append(kids, Ball(point(r, cube(10)), 1+r.Float64()))
	}
	u := Union(kids...)
	for range 500 {
		b := geom.Ball{C: point(r, cube(10)), R: 1}
		l := Local(u, b)
		switch l.(type) {
		case Nothing, Everything:
			continue
		}
		for range 20 {
			p := inBall(r, b)
			want := math.Inf(1)
			for _, k := range kids {
				want = min(want, k.Dist(p))
			}
			if got := u.Dist(p); got != want {
				t.Fatalf("Dist(%v) = %v, want %v", p, got, want)
			}
			if got := l.Dist(p); want <= 0 && got != want {
				t.Fatalf("in ball %v Dist(%v) = %v, want %v", b, p, got, want)
			}
		}
	}
}

// A body of revolution is released by an outline, exact inside too: the
// ball of that radius reaches a point that the sweep finds outside.
func TestReleasedRevolutionIsExactInside(t *testing.T) {
	const alpha = 12 * geom.Degree
	for _, c := range specimens() {
		body, ok := c.solid.(revolved)
		if !ok {
			continue
		}
		s := mustRelease(t, body, alpha)
		if !exactInside(s) || !exactOutside(s) {
			t.Errorf("%s: %T is not exact on both sides", c.name, s)
		}
		by, err := sweep(body, alpha)
		if err != nil {
			t.Fatal(err)
		}
		mustTouch(t, specimen{c.name, s, func(p geom.Vec) bool { return by.Dist(p) <= 0 }, c.box}, rand.New(rand.NewPCG(8, 8)))
	}
}

// Where two parts share a face, or a cutter ends flush with one, no skin is seen.
func TestSharedFacesVanish(t *testing.T) {
	a, b := Box(geom.V(-5, -5, -5), geom.V(0, 5, 5)), Box(geom.V(0, -4, -4), geom.V(5, 4, 4))
	seam := geom.Ball{C: geom.V(0, 1, 1), R: 0.5}
	if l := Local(Union(a, b), seam); l != Solid(Everything{}) {
		t.Errorf("a ball on the seam of a union sees %#v", l)
	}
	if l := Local(Difference(a, Box(geom.V(-9, -9, -5), geom.V(0, 9, 9))), seam); l != Solid(Nothing{}) {
		t.Errorf("a ball on the face of what is cut flush sees %#v", l)
	}
	c := Union(a, Box(geom.V(-5, -5, 0), geom.V(0, 8, 5)))
	if l := Local(c, geom.Ball{C: geom.V(0, 1, 1), R: 0.5}); l != Solid(HalfSpace{geom.V(1, 0, 0), 0}) {
		t.Errorf("a ball on a face that two parts share sees %#v", l)
	}
}

func TestWhatIsTooThinIsNothing(t *testing.T) {
	for name, s := range map[string]Solid{
		"round prism":   RoundPrism(Rect(5, 1, 0), 0, 10, 1.5),
		"shrunk prism":  Offset(Prism(mustPolygon(ell, nil), 0, 3), -2),
		"shrunk region": Prism(Grow(Disc(1), -2), 0, 3),
		"shrunk ball":   Offset(Ball(geom.V(0, 0, 0), 1), -2),
		"upside down":   Box(geom.V(0, 0, 1), geom.V(1, 1, 0)),
	} {
		if s != Solid(Nothing{}) {
			t.Errorf("%s = %T, want Nothing", name, s)
		}
		if b := s.Bounds(); !b.Empty() {
			t.Errorf("%s has bounds %v", name, b)
		}
	}
}

// Points in the planes of symmetry, and the ends of the axes, have a distance too:
// no term of the search may be 0 over 0. Against the nearest point of the surface
// that a search by halves over its two angles finds.
func TestEllipsoidInItsPlanes(t *testing.T) {
	for _, e := range []geom.Vec{geom.V(11.5545, 5.0195, 8.0765), geom.V(3, 9, 4), geom.V(5, 5, 2), geom.V(2, 7, 7)} {
		s := Ellipsoid(e)
		at := func(a, b float64) geom.Vec {
			return geom.V(e.X*math.Cos(a)*math.Cos(b), e.Y*math.Sin(a)*math.Cos(b), e.Z*math.Sin(b))
		}
		nearest := func(p geom.Vec) float64 {
			const n = 24
			best, a, b := math.Inf(1), 0.0, 0.0
			try := func(u, v float64) {
				if d := at(u, v).Dist(p); d < best {
					best, a, b = d, u, v
				}
			}
			for i := range n {
				for j := range n {
					try(float64(i)*math.Pi/2/(n-1), float64(j)*math.Pi/2/(n-1))
				}
			}
			for h := 0.1; h > 1e-9; {
				was := best
				for _, d := range [8][2]float64{{h, 0}, {-h, 0}, {0, h}, {0, -h}, {h, h}, {-h, -h}, {h, -h}, {-h, h}} {
					try(a+d[0], b+d[1])
				}
				if !(best < was-1e-10) {
					h /= 2
				}
			}
			return best
		}
		shares := []float64{0, 1e-300, 1e-20, 1e-8, 0.25, 0.5, 0.8, 1, 1.5}
		for _, x := range shares {
			for _, y := range shares {
				for _, z := range shares {
					p := geom.V(x*e.X, y*e.Y, z*e.Z)
					if got, want := math.Abs(s.Dist(p)), nearest(p); !(math.Abs(got-want) < 1e-6) {
						t.Fatalf("%v: |Dist(%v)| = %g, want %g", e, p, got, want)
					}
				}
			}
		}
	}
}
