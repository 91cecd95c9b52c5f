package pattern

import (
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %.6g ± %g", what, got, want, tol)
	}
}

func TestPathFacts(t *testing.T) {
	r := Rect(pt(3, -2), 40, 25, 8)
	near(t, "area of a rounded rectangle", r.Area(), 80*50-(4-math.Pi)*64, 1e-9)
	near(t, "its length", r.Length(), 2*(80+50)-(8-2*math.Pi)*8, 1e-9)
	near(t, "area the other way round", r.Reverse().Area(), -r.Area(), 1e-9)
	lo, hi := r.Bounds()
	near(t, "width", hi.X-lo.X, 80, 1e-12)
	near(t, "height", hi.Y-lo.Y, 50, 1e-12)
	c := Circle(pt(1, 1), 10)
	near(t, "area of a circle", c.Area(), 100*math.Pi, 1e-9)
	lo, hi = c.Bounds()
	near(t, "its diameter", hi.Y-lo.Y, 20, 1e-9)
	near(t, "area of a turned rectangle", r.Move(30*geom.Degree, pt(5, 6)).Area(), r.Area(), 1e-9)
	if got := len(Rect(pt(0, 0), 10, 10, 10).P); got != 2 {
		t.Errorf("a square rounded to a circle has %d sides, want 2 arcs", got)
	}
}

func TestContourFollowsAndFitFindsTheArcs(t *testing.T) {
	for _, turn := range []geom.Angle{0, 17 * geom.Degree, 61 * geom.Degree} {
		g := sdf.Place2(sdf.Rect(40, 25, 8), pt(2, 3), turn)
		loops := Contour(g.Dist, pt(-60, -60), pt(60, 60), contourStep)
		if len(loops) != 1 {
			t.Fatalf("%d loops, want 1", len(loops))
		}
		p := Fit(loops[0], 0.005)
		want := Rect(pt(0, 0), 40, 25, 8)
		near(t, "area followed", p.Area(), want.Area(), 0.005*want.Length())
		if len(p.P) > 12 {
			t.Errorf("turned %v: %d sides for a rectangle with round corners, want 8", turn.Degrees(), len(p.P))
		}
		for _, q := range p.Flatten(0.001) {
			if d := math.Abs(g.Dist(q)); d > 0.01 {
				t.Errorf("the fitted outline is %.4f mm off at %v", d, q)
			}
		}
	}
}

func TestContourKeepsHolesClockwise(t *testing.T) {
	ring := sdf.Difference2(sdf.Disc(20), sdf.Disc(12))
	loops := Contour(ring.Dist, pt(-25, -25), pt(25, 25), contourStep)
	if len(loops) != 2 {
		t.Fatalf("%d loops, want 2", len(loops))
	}
	sum := 0.0
	for _, l := range loops {
		p := Fit(l, fitTol)
		sum += p.Area()
		if len(p.P) > 4 {
			t.Errorf("a circle came to %d sides", len(p.P))
		}
	}
	near(t, "area of the ring", sum, math.Pi*(400-144), 1)
}

// The kerf of trade practice: outside 100 becomes 100.2, a hole of 20 becomes
// 19.8 for a kerf of 0.2 (Offset each path kerf/2 to the waste side).
func TestGrowMovesIntoTheWaste(t *testing.T) {
	s := Shape{Outer: Rect(pt(0, 0), 50, 30, 5), Holes: []Path{Circle(pt(10, 0), 10)}}
	g, err := s.Grow(0.1)
	if err != nil {
		t.Fatal(err)
	}
	lo, hi := g.Outer.Bounds()
	near(t, "outside", hi.X-lo.X, 100.2, 1e-9)
	lo, hi = g.Holes[0].Bounds()
	near(t, "hole", hi.X-lo.X, 19.8, 1e-9)
	if len(g.Outer.P) != 8 || len(g.Holes[0].P) > 4 {
		t.Errorf("arcs were lost: %d and %d sides", len(g.Outer.P), len(g.Holes[0].P))
	}
	if g.Outer.Area() < 0 || g.Holes[0].Area() > 0 {
		t.Error("the outline must run counterclockwise, holes clockwise")
	}
	if err := g.Check(); err != nil {
		t.Error(err)
	}
}

func TestCheckRefuses(t *testing.T) {
	square := Rect(pt(0, 0), 10, 10, 0)
	for name, s := range map[string]Shape{
		"nothing":         {},
		"no area":         {Outer: Straight(pt(0, 0), pt(10, 0), pt(5, 0))},
		"a bow tie":       {Outer: Straight(pt(0, 0), pt(10, 10), pt(10, 0), pt(0, 10), pt(-5, 5))},
		"a hole outside":  {Outer: square, Holes: []Path{Circle(pt(30, 0), 2)}},
		"a hole across":   {Outer: square, Holes: []Path{Circle(pt(10, 0), 2)}},
		"holes that meet": {Outer: square, Holes: []Path{Circle(pt(0, 0), 2), Circle(pt(3, 0), 2)}},
	} {
		if s.Check() == nil {
			t.Errorf("%s is taken", name)
		}
	}
	if err := (Shape{Outer: square, Holes: []Path{Circle(pt(0, 0), 2)}}).Check(); err != nil {
		t.Error(err)
	}
}

// An offset in the plane is traced from lines and arcs; it is also the level
// set of the distance, followed on a lattice. Both must agree.
func TestGrowAgreesWithTheLevelOfTheDistance(t *testing.T) {
	s := Shape{
		Outer: Path{
			P: []geom.Vec2{pt(0, 0), pt(60, 0), pt(60, 30), pt(40, 30), pt(20, 30), pt(0, 30)},
			B: []float64{0, 0.4, 0, -0.5, 0, 0},
		},
		Holes: []Path{Circle(pt(15, 12), 6)},
	}
	g, err := s.region()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []float64{-2.5, -0.1, 0.1, 1, 4} {
		grown, err := s.Grow(d)
		if err != nil {
			t.Fatal(err)
		}
		level := 0.0
		for _, l := range Contour(func(p geom.Vec2) float64 { return g.Dist(p) - d }, pt(-20, -20), pt(90, 60), contourStep) {
			level += Straight(l...).Area()
		}
		near(t, "area of the level", level, grown.Area(), 0.5)
		for _, p := range append(grown.Holes, grown.Outer) {
			for _, q := range p.Flatten(0.01) {
				if e := math.Abs(g.Dist(q) - d); e > 0.011 {
					t.Fatalf("grown by %v: a point is %.4f mm off", d, e)
				}
			}
		}
	}
}
