package sdf

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"buckwright/generate/geom"
)

// shape is a region with a membership rule written without its field.
type shape struct {
	name string
	g    Region
	in   func(x, y float64) bool
	half float64 // look from -half to half
}

// star is a polygon of many sides: radius 8 + 2 cos 7t.
func star(n int) []geom.Vec2 {
	pts := make([]geom.Vec2, n)
	for i := range pts {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := 8 + 2*math.Cos(14*math.Pi*float64(i)/float64(n))
		pts[i] = geom.Vec2{X: r * c, Y: r * s}
	}
	return pts
}

// inPolygon counts crossings of a ray.
func inPolygon(pts []geom.Vec2, x, y float64) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.Y > y) != (b.Y > y) && x < a.X+(y-a.Y)*(b.X-a.X)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// edgeDist is the distance to the sides of a polygon.
func edgeDist(pts []geom.Vec2, x, y float64) float64 {
	best := math.Inf(1)
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		t := ((x-a.X)*(b.X-a.X) + (y-a.Y)*(b.Y-a.Y)) / ((b.X-a.X)*(b.X-a.X) + (b.Y-a.Y)*(b.Y-a.Y))
		t = max(0, min(1, t))
		best = min(best, math.Hypot(x-a.X-t*(b.X-a.X), y-a.Y-t*(b.Y-a.Y)))
	}
	return best
}

func reversed(pts []geom.Vec2) []geom.Vec2 {
	out := make([]geom.Vec2, len(pts))
	for i, p := range pts {
		out[len(pts)-1-i] = p
	}
	return out
}

func shapes() []shape {
	l, many := mustPolygon(ell, nil), star(300)
	at := func(g Region, x, y float64) Region { return Place2(g, geom.Vec2{X: x, Y: y}, 0) }
	return []shape{
		{"rectangle", Rect(5, 3, 0), func(x, y float64) bool { return math.Abs(x) <= 5 && math.Abs(y) <= 3 }, 8},
		{"rounded rectangle", Rect(5, 3, 2), func(x, y float64) bool { return inRoundRect(x, y, 5, 3, 2) }, 8},
		{"stadium", Rect(5, 3, 3), func(x, y float64) bool { return inRoundRect(x, y, 5, 3, 3) }, 8},
		{"disc", Disc(4), func(x, y float64) bool { return math.Hypot(x, y) <= 4 }, 8},
		{"L", l, inEll, 13},
		{"clockwise L", mustPolygon(reversed(ell), nil), inEll, 13},
		{"slot", slot, inSlot, 16},
		{"star", mustPolygon(many, nil), func(x, y float64) bool { return inPolygon(many, x, y) }, 13},
		{"turned slot", Place2(slot, geom.Vec2{X: 1, Y: 2}, 90*geom.Degree), func(x, y float64) bool { return inSlot(y-2, 1-x) }, 16},
		{"grown rectangle", Grow(Rect(5, 3, 0), 2), func(x, y float64) bool {
			return math.Hypot(max(0, math.Abs(x)-5), max(0, math.Abs(y)-3)) <= 2
		}, 9},
		{"shrunk rectangle", Grow(Rect(5, 4, 1), -2), func(x, y float64) bool { return math.Abs(x) <= 3 && math.Abs(y) <= 2 }, 6},
		{"grown L", Grow(l, 1.5), func(x, y float64) bool { return distEll(geom.V(x, y, 0), 0, 0) <= 1.5 }, 13},
		{"shrunk L", Grow(l, -1), func(x, y float64) bool { return inEllInset(x, y, 1) }, 13},
		{"L shrunk to its corner", Place2(Grow(l, -2.05), geom.Vec2{X: -2.5, Y: -2.5}, 0), func(x, y float64) bool {
			x, y = x+2.5, y+2.5
			return x >= 2.05 && y >= 2.05 && math.Hypot(x-4, y-4) >= 2.05 && x <= 4 && y <= 4
		}, 1},
		{"grown slot", Grow(slot, 1), func(x, y float64) bool {
			if y <= 4 && math.Hypot(x, y-4) < 2 {
				return false // the bite, its radius less by 1
			}
			if y > 4 && math.Abs(x) < 3 {
				return math.Hypot(math.Abs(x)-3, y-4) <= 1 // its rounded lips
			}
			return capsuleIn(x, y, 10, 5)
		}, 16},
		{"shrunk slot", Grow(slot, -1.5), func(x, y float64) bool { return capsuleIn(x, y, 10, 2.5) && math.Hypot(x, y-4) >= 4.5 }, 16},
		{"grown star", Grow(mustPolygon(many, nil), 0.7), func(x, y float64) bool {
			return inPolygon(many, x, y) || edgeDist(many, x, y) <= 0.7
		}, 13},
		{"shrunk star", Grow(mustPolygon(many, nil), -0.7), func(x, y float64) bool {
			return inPolygon(many, x, y) && edgeDist(many, x, y) >= 0.7
		}, 13},
		{"rounded L", RoundRegion(l, 1), func(x, y float64) bool {
			if x > 4 && y > 4 && x < 5 && y < 5 { // the fillet of the inner corner
				return math.Hypot(x-5, y-5) >= 1
			}
			if !inEll(x, y) {
				return false
			}
			for _, c := range [][4]float64{{1, 1, -1, -1}, {9, 1, 1, -1}, {9, 3, 1, 1}, {3, 9, 1, 1}, {1, 9, -1, 1}} {
				if dx, dy := (x-c[0])*c[2], (y-c[1])*c[3]; dx > 0 && dy > 0 && math.Hypot(dx, dy) > 1 {
					return false
				}
			}
			return true
		}, 13},
		{"union", Union2(Rect(6, 2, 0), at(Disc(3), 5, 1), at(Rect(1, 6, 0.5), -3, 0)), func(x, y float64) bool {
			return math.Abs(x) <= 6 && math.Abs(y) <= 2 || math.Hypot(x-5, y-1) <= 3 || inRoundRect(x+3, y, 1, 6, 0.5)
		}, 9},
		{"union of rectangles with a common side", Union2(Rect(3, 2, 0), at(Rect(2, 2, 0), 5, 0)), func(x, y float64) bool {
			return x >= -3 && x <= 7 && math.Abs(y) <= 2
		}, 9},
		{"disjoint union", Union2(at(Disc(3), -4, 0), at(Disc(2), 4, 0)), func(x, y float64) bool {
			return math.Hypot(x+4, y) <= 3 || math.Hypot(x-4, y) <= 2
		}, 9},
		{"ring", Difference2(Rect(6, 5, 2), Disc(3)), func(x, y float64) bool {
			return inRoundRect(x, y, 6, 5, 2) && math.Hypot(x, y) >= 3
		}, 9},
		{"bitten rectangle", Difference2(Rect(6, 5, 0), at(Disc(3), 6, 0), at(Rect(1, 3, 0), -6, 5)), func(x, y float64) bool {
			return math.Abs(x) <= 6 && math.Abs(y) <= 5 && math.Hypot(x-6, y) >= 3 && !(x < -5 && y > 2)
		}, 9},
		{"hull of discs", Hull(at(Disc(3), -4, 0), at(Disc(1), 5, 2)), func(x, y float64) bool {
			for i := range 20001 { // a hull of discs is every disc between them
				t := float64(i) / 20000
				if math.Hypot(x+4-9*t, y-2*t) <= 3-2*t {
					return true
				}
			}
			return false
		}, 9},
		{"hull of an L", Hull(l), func(x, y float64) bool { return x >= 0 && y >= 0 && x <= 10 && y <= 10 && x+y <= 14 }, 13},
	}
}

func capsuleIn(x, y, half, r float64) bool { return math.Hypot(max(0, math.Abs(x)-half), y) <= r }

func TestRegionsKeepTheirPromises(t *testing.T) {
	for _, c := range shapes() {
		t.Run(c.name, func(t *testing.T) {
			if o, i := exact2(c.g); !o || !i {
				t.Fatalf("%T is not exact on both sides", c.g)
			}
			// An endless prism has the region's own distance.
			mustHold(t, specimen{c.name, Prism(c.g, math.Inf(-1), math.Inf(1)), func(p geom.Vec) bool { return c.in(p.X, p.Y) }, cube(c.half)})
		})
	}
}

func TestGrownRegionsReturn(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 9))
	for _, g := range []Region{slot, mustPolygon(star(120), nil)} {
		back := Grow(Grow(RoundRegion(g, 0.3), 0.25), -0.25)
		want := RoundRegion(g, 0.3)
		for range 2000 {
			p := geom.Vec2{X: 30*r.Float64() - 15, Y: 30*r.Float64() - 15}
			if a, b := back.Dist(p), want.Dist(p); !(math.Abs(a-b) < 1e-6) {
				t.Fatalf("grown and shrunk back: Dist(%v) = %g, want %g", p, a, b)
			}
		}
	}
}

func TestPolygonRefuses(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name  string
		pts   []geom.Vec2
		bulge []float64
		want  string
	}{
		{"two points", []geom.Vec2{{X: 0}, {X: 1}}, nil, "2 points"},
		{"bow tie", []geom.Vec2{{X: 0, Y: 0}, {X: 4, Y: 4}, {X: 4, Y: 0}, {X: 0, Y: 4}}, nil, "sides 0 and 2"},
		{"repeated point", []geom.Vec2{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 0}, {X: 0, Y: 4}}, nil, "points 1 and 2 coincide"},
		{"spike", []geom.Vec2{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 8, Y: 0}, {X: 4, Y: 0.0}, {X: 0, Y: 4}}, nil, "meet"},
		{"flat", []geom.Vec2{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 8, Y: 0}}, nil, "meet"},
		{"touching itself", []geom.Vec2{{X: 0, Y: 0}, {X: 8, Y: 0}, {X: 8, Y: 4}, {X: 4, Y: 0}, {X: 0, Y: 4}}, nil, "meet"},
		{"crossing arc", []geom.Vec2{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 1}, {X: 0, Y: 1}}, []float64{-1, 0, 0, 0}, "meet"},
		{"not a number", []geom.Vec2{{X: 0, Y: nan}, {X: 4, Y: 0}, {X: 4, Y: 1}}, nil, "point 0"},
		{"endless", []geom.Vec2{{X: 0, Y: 0}, {X: math.Inf(1), Y: 0}, {X: 4, Y: 1}}, nil, "point 1"},
		{"bulges missing", ell, []float64{1}, "1 bulges for 6 points"},
	} {
		_, err := Polygon(c.pts, c.bulge)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Polygon(%s) error = %v, want one with %q", c.name, err, c.want)
		}
	}
}

// wobbly is a random outline around the origin, some sides arcs; false if it
// crosses itself.
func wobbly(r *rand.Rand) (Region, bool) {
	n := 3 + r.IntN(40)
	pts, bulge := make([]geom.Vec2, n), make([]float64, n)
	for i := range pts {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n))
		l := 4 + 6*r.Float64()
		pts[i] = geom.Vec2{X: l * c, Y: l * s}
		if r.IntN(3) == 0 {
			bulge[i] = r.Float64()*1.6 - 0.8
		}
		if r.IntN(4) == 0 { // on a grid, where things coincide
			pts[i] = geom.Vec2{X: math.Round(pts[i].X), Y: math.Round(pts[i].Y)}
		}
	}
	g, err := Polygon(pts, bulge)
	return g, err == nil
}

// Every outline that is grown or shrunk can be traced, and the sign of the result
// is that of the field moved by as much.
func TestGrowTracesRandomOutlines(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for made := 0; made < 300; {
		g, ok := wobbly(r)
		if !ok {
			continue
		}
		made++
		for _, k := range []float64{-3 * r.Float64(), 3 * r.Float64(), -0.5, 1} {
			out := Grow(g, k)
			if _, ok := out.(shifted); ok {
				t.Errorf("outline %d grown by %g was not traced", made, k)
				continue
			}
			for range 100 {
				p := geom.Vec2{X: 28*r.Float64() - 14, Y: 28*r.Float64() - 14}
				a, b := out.Dist(p), g.Dist(p)-k
				if b != 0 && math.Abs(b) > 3e-6 && (a < 0) != (b < 0) {
					t.Fatalf("outline %d grown by %g: Dist(%v) = %g, want the sign of %g", made, k, p, a, b)
				}
				if (b < 0) == (k < 0) && math.Abs(a-b) > 3e-6 {
					t.Fatalf("outline %d grown by %g: Dist(%v) = %.9g, want %.9g", made, k, p, a, b)
				}
			}
		}
	}
}
