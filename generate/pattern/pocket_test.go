package pattern

import (
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// tray is a cavity about the origin: plan at its floor z = -depth, lower edges
// of radius re, walls that lean by draft, and what its mouth bends by.
func tray(t testing.TB, plan sdf.Region, depth, re float64, draft geom.Angle) Cavity {
	t.Helper()
	body, err := sdf.Release(sdf.RoundPrism(plan, 0, 3*depth, re), draft)
	if err != nil {
		t.Fatal(err)
	}
	body = sdf.Move(body, geom.Translate(geom.V(0, 0, -depth)))
	c := Cavity{Name: "test", Field: body.Dist, Top: -3, Bend: 4.1, Draft: draft}
	lo, hi := plan.Bounds2()
	wide := pt(depth, depth)
	loops := Contour(func(p geom.Vec2) float64 { return c.Field(p.At(c.Top)) }, lo.Sub(wide), hi.Add(wide), contourStep)
	if len(loops) != 1 {
		t.Fatalf("%d outlines", len(loops))
	}
	c.Outline = loops[0]
	return c
}

// A profile down a wall of lean a, then round a bend of radius r: straight for
// (height - r (1 - sin a))/cos a, then an arc of r (pi/2 - a).
func TestProfileLengths(t *testing.T) {
	const depth, re = 22.0, 5.0
	a := 3 * geom.Degree
	c := tray(t, sdf.Rect(50, 30, 12), depth, re, a)
	st := c.stations(Fit(c.Outline, fitTol))
	straight := (depth + c.Top - re*(1-a.Sin())) / a.Cos()
	for i := range st {
		p := profile(c.Field, st[i].at.At(c.Top), st[i].in, 60)
		last := p[len(p)-1]
		near(t, "length down", last.Down, straight+re*(math.Pi/2-float64(a)), 0.35) // it stops within 3 degrees of level
		near(t, "height of the floor", last.Z, -depth, 0.02)
		near(t, "way in", last.In, straight*a.Sin()+re*a.Cos(), 0.35)
		near(t, "lean", st[i].lean.Degrees(), 3, 0.2)
	}
}

// A cup with a level floor: its wall is a cone and unrolls to a sector of the
// angle 2 pi sin a, as long round as the cup is at every height.
func TestConeWallIsASector(t *testing.T) {
	const depth, re, radius = 25.0, 3.0, 30.0
	a := 5 * geom.Degree
	c := tray(t, sdf.Disc(radius), depth, re, a)
	l := Lining{Phi: geom.Angle(math.Pi/2) - a, Limit: 0.05} // ends where the wall does
	flats := mustLine(t, c, l)
	if len(flats) != 2 {
		t.Fatalf("%d pieces, want floor and wall", len(flats))
	}
	wall := flats[1].Shape
	// Plan radius of the wall: radius - re at the floor's edge, re cos a more
	// where the bend ends, then tan a for each mm up.
	at := func(z float64) float64 {
		return radius - re + re*a.Cos() + (z+depth-re*(1-a.Sin()))*a.Tan()
	}
	top := at(c.Top) + c.above(a, l.Phi)*a.Sin()
	theta := 2 * math.Pi * a.Sin()
	outer, inner := top/a.Sin(), 0.0
	lo, hi := wall.Outer.Bounds()
	near(t, "width of the sector", hi.X-lo.X, 2*outer*math.Sin(theta/2), 0.2)
	inner = outer - 2*wall.Area()/(theta*outer) // first guess, refined by the area of a sector ring
	for range 30 {
		inner = math.Sqrt(outer*outer - 2*wall.Area()/theta)
	}
	height := outer - inner
	// From the mouth's seam to somewhere in the floor's bend.
	straight := (c.above(a, l.Phi)) + (depth+c.Top-re*(1-a.Sin()))/a.Cos()
	if !(height > straight && height < straight+re*math.Pi/2) {
		t.Errorf("the strip is %.2f wide, want %.2f and a part of the bend", height, straight)
	}
	if s := flats[1].Strain; s.Most() > 0.05 {
		t.Errorf("strain %+v in a cone", *s)
	}
}

// Upright walls: the strip is as long as the outline, to the chord.
func TestUprightWallIsAsLongAsTheOutline(t *testing.T) {
	plan := Rect(pt(0, 0), 50, 30, 12)
	c := tray(t, sdf.Rect(50, 30, 12), 22, 4, 1e-6)
	st := c.stations(Fit(c.Outline, fitTol))
	for i := range st {
		st[i].down = profile(c.Field, st[i].at.At(c.Top), st[i].in, 60)
	}
	posts := c.posts(st, feet(st, 60*geom.Degree), Lining{Phi: 60 * geom.Degree})
	near(t, "length of the strip", posts[len(posts)-1].at.Sub(posts[0].at).Len(), plan.Length(), 0.05)
}

// Trade sheet, plus-shaped blank: L = l + 2 (D + bend), a bend of 90 degrees with
// the middle's radius r adds the arc pi/2 r where the sharp corner had 2 r.
func TestCrossHasTheSizeOfABlankWithBends(t *testing.T) {
	const depth, re = 22.0, 4.0
	c := tray(t, sdf.Rect(75, 50, 9), depth, re, 1e-6)
	st := c.stations(Fit(c.Outline, fitTol))
	for i := range st {
		st[i].down = profile(c.Field, st[i].at.At(c.Top), st[i].in, 80)
	}
	l := Lining{Phi: 90 * geom.Degree, Limit: 0.05}
	f, ok := c.cross(st, Fit(c.Outline, fitTol), l)
	if !ok {
		t.Fatal("a box is no pan")
	}
	if err := f.Shape.Check(); err != nil {
		t.Fatal(err)
	}
	lo, hi := f.Shape.Outer.Bounds()
	wall := depth + c.Top - re
	near(t, "length", hi.X-lo.X, 150-2*re+2*(wall+re*math.Pi/2), 0.3)
	near(t, "width", hi.Y-lo.Y, 100-2*re+2*(wall+re*math.Pi/2), 0.3)
	if n := len(f.Marks); n != 4 {
		t.Errorf("%d folds, want 4", n)
	}
}

// A shallow dish within the felt's limit is offered in one piece; a deeper one
// is cut in two, which strains within the limit what in one piece would need
// (h/a)² = 19 % in area.
func TestOnePieceOnlyWhereTheFeltTakesIt(t *testing.T) {
	for _, tt := range []struct {
		h    float64
		want int
	}{{4, 1}, {11, 2}} {
		const a = 25.0
		r := (a*a + tt.h*tt.h) / (2 * tt.h)
		ball := sdf.Ball(geom.V(0, 0, r-tt.h), r)
		c := Cavity{Name: "dish", Field: ball.Dist, Top: -0.5, Bend: 4, Draft: 3 * geom.Degree}
		c.Outline = Contour(func(p geom.Vec2) float64 { return c.Field(p.At(c.Top)) }, pt(-40, -40), pt(40, 40), contourStep)[0]
		flats := mustLine(t, c, Lining{Phi: 60 * geom.Degree, Limit: 0.05})
		if len(flats) != tt.want {
			t.Errorf("dish %v deep: %d pieces, want %d", tt.h, len(flats), tt.want)
		}
		if s := flats[0].Strain; s.Most() > 0.05 {
			t.Errorf("dish %v deep: strain %+v", tt.h, *s)
		}
	}
}

// A tray with a finger notch: a box and a shallower block across its side.
func TestNotchedTray(t *testing.T) {
	a := 3 * geom.Degree
	box, _ := sdf.Release(sdf.RoundPrism(sdf.Rect(59, 32, 10), 0, 60, 4.7), a)
	notch, _ := sdf.Release(sdf.RoundPrism(sdf.Place2(sdf.Rect(22, 15, 8), pt(0, -22), 90*geom.Degree), 0, 60, 4.7), a)
	body := sdf.Union(sdf.Move(box, geom.Translate(geom.V(0, 0, -20))), sdf.Move(notch, geom.Translate(geom.V(0, 0, -17))))
	c := Cavity{Name: "notched", Field: body.Dist, Top: -3, Bend: 4.1, Draft: a}
	c.Outline = Contour(func(p geom.Vec2) float64 { return c.Field(p.At(c.Top)) }, pt(-80, -80), pt(80, 60), contourStep)[0]
	flats := mustLine(t, c, Lining{Phi: c.Seam(), Limit: 0.05})
	if len(flats) != 2 {
		t.Fatalf("%d pieces", len(flats))
	}
	near(t, "floor", flats[0].Shape.Area(), 118*64, 1500)
}

func mustLine(t testing.TB, c Cavity, l Lining) []Flat {
	t.Helper()
	flats, err := c.Line(l)
	if err != nil {
		t.Fatal(err)
	}
	for i := range flats {
		f := &flats[i]
		f.Ready(Cutter{Name: "knife"}, "")
		if f.Refused != "" {
			t.Errorf("%s: %s", f.Name, f.Refused)
		}
		if !(f.Cut.Area() > 100) {
			t.Errorf("%s has an area of %g", f.Name, f.Cut.Area())
		}
	}
	return flats
}

func BenchmarkLine(b *testing.B) {
	c := tray(b, sdf.Rect(59, 32, 10), 20, 4.7, 3*geom.Degree)
	for b.Loop() {
		if _, err := c.Line(Lining{Phi: 1, Limit: 0.05}); err != nil {
			b.Fatal(err)
		}
	}
}
