package pattern

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// randomCavity is a tray, a cup, a trough or a bowl, with or without finger notches.
func randomCavity(r *rand.Rand) (Cavity, bool) {
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	draft := geom.Angle(u(0.5, 8)) * geom.Degree
	hx, hy, depth := u(18, 70), u(14, 40), u(9, 32)
	edge := u(0.8, 6)
	var body sdf.Solid
	switch r.IntN(4) {
	case 0:
		body = sdf.RoundPrism(sdf.Rect(hx, hy, u(edge, hy)), 0, 3*depth, edge)
	case 1:
		body = sdf.RoundPrism(sdf.Disc(hy), 0, 3*depth, edge)
	case 2:
		rad := min(hy, depth*1.2)
		body = sdf.Move(sdf.Capsule(geom.V(-hx, 0, 0), geom.V(hx, 0, 0), rad), geom.Translate(geom.V(0, 0, rad)))
	default:
		high := u(depth*0.6, depth*1.3)
		body = sdf.Move(sdf.Ellipsoid(geom.V(hx, hy, high)), geom.Translate(geom.V(0, 0, high)))
	}
	all := []sdf.Solid{}
	add := func(s sdf.Solid, z float64) bool {
		s, err := sdf.Release(sdf.Offset(s, 0.7), draft)
		all = append(all, sdf.Move(s, geom.Translate(geom.V(0, 0, z))))
		return err == nil
	}
	ok := add(body, -depth)
	for _, side := range []float64{-1, 1} {
		if r.IntN(2) == 0 {
			w := min(15, hx*0.8)
			notch := sdf.RoundPrism(sdf.Place2(sdf.Rect(w, (hy+12)/2, 8), pt(0, side*(hy+12)/2), 0), 0, 3*depth, 4)
			ok = ok && add(notch, -depth+3)
		}
	}
	c := Cavity{Name: "random", Field: sdf.Union(all...).Dist, Top: -3, Bend: 4.1, Draft: draft}
	far := hx + hy + depth + 40
	loops := Contour(func(p geom.Vec2) float64 { return c.Field(p.At(c.Top)) }, pt(-far, -far), pt(far, far), contourStep)
	if !ok || len(loops) != 1 {
		return c, false
	}
	c.Outline = loops[0]
	return c, true
}

// Whatever the pocket, its felt is drawn, its outlines can be cut, and together
// it has about the area of the pocket's surface.
func TestRandomCavities(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	n := 60
	if testing.Short() {
		n = 12
	}
	for i := range n {
		c, ok := randomCavity(r)
		if !ok {
			continue
		}
		outline := Fit(c.Outline, fitTol)
		st := c.stations(outline)
		for k := range st {
			st[k].down = profile(c.Field, st[k].at.At(c.Top), st[k].in, span(outline))
		}
		whole, err := c.whole(st, outline)
		if err != nil {
			t.Errorf("case %d: %v", i, err)
			continue
		}
		want := whole.net.area() + outline.Length()*c.above(c.Draft, 1)
		flats, err := c.Line(Lining{Phi: 1, Limit: 0.05})
		if err != nil {
			t.Errorf("case %d: %v", i, err)
			continue
		}
		got := 0.0
		for k := range flats {
			f := &flats[k]
			if f.Ready(Cutter{Name: "laser", Kerf: 0.2}, ""); f.Refused != "" {
				t.Errorf("case %d: %s: %s", i, f.Name, f.Refused)
			}
			if s := f.Strain; s == nil || math.IsNaN(s.Most()) || s.Most() > 1 {
				t.Errorf("case %d: %s: strain %+v", i, f.Name, s)
			}
			got += f.Shape.Area()
		}
		if !(got > 0.85*want && got < 1.15*want) {
			t.Errorf("case %d: %d pieces of %.0f mm² for a surface of %.0f", i, len(flats), got, want)
		}
	}
}
