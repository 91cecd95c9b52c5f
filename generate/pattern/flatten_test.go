package pattern

import (
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// laid flattens the surface z over a plan and gives its area, the area and
// bounds of the flat piece, and the strain.
func laid(g sdf.Region, h float64, z func(geom.Vec2) float64) (area, flat float64, size geom.Vec2, s Strain) {
	m, edge := overPlan(g, func(p geom.Vec2, _ float64) float64 { return z(p) }, 0, h)
	u := m.flatten()
	var p Path
	for _, v := range edge {
		p.P = append(p.P, u[v])
	}
	lo, hi := p.Bounds()
	return m.area(), p.Area(), hi.Sub(lo), m.strain(u, "")
}

// A lying half tube is developable: arc length R asin(x/R) across, unchanged along.
func TestFlattenTroughKeepsLengths(t *testing.T) {
	const r, half = 20.0, 16.0
	area, flat, size, s := laid(sdf.Rect(half, 30, 0), 1, func(p geom.Vec2) float64 { return -math.Sqrt(r*r - p.X*p.X) })
	arc := 2 * r * math.Asin(half/r)
	near(t, "width", size.X, arc, 0.02)
	near(t, "length", size.Y, 60, 0.02)
	near(t, "area", flat, arc*60, 2)
	near(t, "flat area against the surface's", flat, area, 1e-3*area)
	if s.Most() > 1e-3 {
		t.Errorf("strain %v, want none", s)
	}
}

// A cone of half angle a unrolls to a sector: its slant keeps its length, and a
// ring of plan radius r its length r times the angle.
func TestFlattenConeSector(t *testing.T) {
	// A quarter of a cone that opens upwards at 45 degrees, from 20 to 40 in plan.
	ring := sdf.Difference2(sdf.Disc(40), sdf.Disc(20))
	quarter := sdf.Difference2(ring, sdf.Place2(sdf.Rect(50, 50, 0), pt(-50, 0), 0), sdf.Place2(sdf.Rect(50, 50, 0), pt(0, -50), 0))
	area, flat, _, s := laid(quarter, 0.8, func(p geom.Vec2) float64 { return p.Len() })
	want := math.Pi / 4 * (1600 - 400) * math.Sqrt2
	near(t, "area", area, want, 1)
	near(t, "flat area", flat, want, 2)
	if s.Most() > 2e-3 {
		t.Errorf("strain %v, want none", s)
	}
}

// A floor with a step of radius-4 bends: developable along the step. Trade
// sheet: a bend of 90 degrees has the arc length pi/2 (r + k t).
func TestFlattenStepWithBends(t *testing.T) {
	const r = 4.0                       // of the middle surface
	step := func(p geom.Vec2) float64 { // down by 2 r over 2 r in plan: two quarter bends
		switch x := p.X; {
		case x < -r:
			return 0
		case x < 0:
			return -r + math.Sqrt(max(0, r*r-(x+r)*(x+r)))
		case x < r:
			return -r - math.Sqrt(max(0, r*r-(x-r)*(x-r)))
		}
		return -2 * r
	}
	_, _, size, s := laid(sdf.Rect(30, 20, 0), 0.5, step)
	near(t, "length over the step", size.X, 60-2*r+math.Pi*r, 0.15)
	near(t, "width", size.Y, 40, 0.05)
	if s.Most() > 0.02 {
		t.Errorf("strain %v, want none but what the squares are too coarse for", s)
	}
}

// A spherical dish cannot be laid flat. Trade sheet: pressed in from a flat disc
// of its rim's radius it needs an area strain of k² and a meridian strain of
// (1+k²) atan(k)/k - 1, k = h/a: 4.00 and 2.65 % for h 5, a 25; 16.0 and 10.35
// for h 10; 25.0 and 15.91 for h 12.5.
func TestDishStrain(t *testing.T) {
	for _, tt := range []struct{ h, area, meridian float64 }{{5, 0.04, 0.0265}, {10, 0.16, 0.1035}, {12.5, 0.25, 0.1591}} {
		const a = 25.0
		r := (a*a + tt.h*tt.h) / (2 * tt.h)
		m, edge := overPlan(sdf.Disc(a), func(p geom.Vec2, _ float64) float64 {
			return r - tt.h - math.Sqrt(max(0, r*r-p.Dot(p)))
		}, 0, 0.8)
		area, line := m.pressStrain(edge)
		near(t, "area strain", area, tt.area, 2e-3)
		near(t, "meridian strain", line, tt.meridian, 2e-3)
	}
}
