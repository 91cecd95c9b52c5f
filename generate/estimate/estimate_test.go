package estimate

import (
	"context"
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/sdf"
)

// usual is a 0.4 nozzle at 0.3 mm layers.
func usual() Settings {
	return Settings{
		Layer: 0.3, Width: 0.45, Nozzle: 0.4, Walls: 3, Top: 4, Bottom: 4, Infill: 0.15, Density: 1040,
		Speed: Speed{Outer: 40, Inner: 60, Full: 60, Top: 40, Infill: 80, Bridge: 30, First: 25, Travel: 150}, Acceleration: 1000,
	}
}

func meshed(t testing.TB, s sdf.Solid) *mesh.Mesh {
	t.Helper()
	m, err := mesh.Contour(context.Background(), s, mesh.Options{Tol: 0.03})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// block is a box from the bed up.
func block(x, y, z float64) sdf.Solid { return sdf.Box(geom.V(0, 0, 0), geom.V(x, y, z)) }

// cut is a block with a tunnel through it along y, w wide, between two heights.
func cut(w, z0, z1 float64) sdf.Solid {
	return sdf.Difference(block(60, 40, 12), sdf.Box(geom.V(30-w/2, -1, z0), geom.V(30+w/2, 41, z1)))
}

// TestFullPrintWeighsItsVolume: without gaps in the infill mass is density times
// volume, but for the overlap of infill and walls and round corners.
func TestFullPrintWeighsItsVolume(t *testing.T) {
	s := usual()
	s.Infill = 1
	for _, tt := range []struct {
		name   string
		solid  sdf.Solid
		volume float64 // mm³
	}{
		{"block", block(60, 40, 12), 60 * 40 * 12},
		{"rod", sdf.Rod(geom.Vec2{}, 15, 0, 30), math.Pi * 15 * 15 * 30},
		{"cone", sdf.Cone(geom.V(0, 0, 0), geom.V(0, 0, 30), 20, 5), math.Pi * 30 * (400 + 100 + 25) / 3},
		{"wall of four beads", sdf.Box(geom.V(0, 0, 0), geom.V(80, 1.606, 30)), 80 * 1.606 * 30},
	} {
		p := Part(meshed(t, tt.solid), s)
		want := tt.volume * s.Density * 1e-6
		if !(math.Abs(p.Grams/want-1) < 0.015) {
			t.Errorf("%s: %.3f g, want %.3f", tt.name, p.Grams, want)
		}
	}
}

// TestSparseBlock is a sum done by hand: a 60 x 40 block of 40 layers, three
// walls, four full layers at either end, the rest at 15 %.
func TestSparseBlock(t *testing.T) {
	s := usual()
	p := Part(meshed(t, block(60, 40, 12)), s)
	const spacing = 0.45 - 0.3*(1-math.Pi/4)
	const inset = 0.225 + 2.5*spacing
	inner := (60 - 2*inset) * (40 - 2*inset)
	around := 2 * (60 + 40 - 4*inset)
	inner += around * 0.25 * spacing // the overlap of infill and walls
	var walls float64
	for k := range 3 {
		walls += 2 * (60 + 40 - 4*(0.225+float64(k)*spacing)) * spacing * 12
	}
	bridged := inner * math.Pi * 0.16 / 4 / 0.45 // one layer of round threads over the infill
	full := inner*0.3*7 + bridged
	sparse := inner * 0.3 * 32 * 0.15
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"walls", p.Walls, walls}, {"full", p.Full, full}, {"sparse", p.Sparse, sparse}} {
		if !(math.Abs(c.got/c.want-1) < 0.015) {
			t.Errorf("%s: %.1f mm³, want %.1f", c.what, c.got, c.want)
		}
	}
	if p.Layers != 40 || p.Bridge != 0 {
		t.Errorf("%d layers, bridge %.2f; want 40 and none", p.Layers, p.Bridge)
	}
}

// TestTimeOfOneWall: a single wall, four sides, is its length over its speed and
// what five slow-downs cost, by hand.
func TestTimeOfOneWall(t *testing.T) {
	s := usual()
	s.Walls, s.Top, s.Bottom, s.Infill = 1, 0, 0, 0
	s.Speed.First = 1000
	p := Part(meshed(t, block(60, 40, 12)), s)
	const round = 2 * (60 + 40 - 2*0.45)
	ramp := (40. - 10) * (40. - 10) / (1000 * 40)
	layer := round/40. + 5*ramp
	jumps := 2 * (math.Sqrt(60*40/2)/150 + 0.1 + 0.15) // two moves a layer, each with a pull and a push
	if got, want := p.Seconds/40, layer+jumps; !(math.Abs(got/want-1) < 0.05) {
		t.Errorf("%.3f s a layer, want %.3f", got, want)
	}
}

// TestBridges: a slab over a slot is bridged by the slot's width, whichever way
// it lies; a tunnel with a 45-degree roof by its flat; a ceiling by its shorter
// side; a shelf by how far it stands out; a wall at 45 degrees and a cone not at all.
func TestBridges(t *testing.T) {
	turned := func(s sdf.Solid, deg float64) sdf.Solid {
		return sdf.Move(s, geom.Translate(geom.V(-30, -20, 0)).Then(geom.RotateZ(geom.Angle(deg)*geom.Degree)))
	}
	roof, err := sdf.Polygon([]geom.Vec2{{X: -6, Y: -1}, {X: 6, Y: -1}, {X: 6, Y: 2}, {X: 1.5, Y: 6.5}, {X: -1.5, Y: 6.5}, {X: -6, Y: 2}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	tunnel := sdf.Move(sdf.Prism(roof, -41, 1), geom.RotateX(90*geom.Degree).Then(geom.Translate(geom.V(30, 0, 0))))
	shelf := sdf.Union(block(20, 40, 12), sdf.Box(geom.V(0, 0, 9), geom.V(24, 40, 12)))
	for _, tt := range []struct {
		name  string
		solid sdf.Solid
		want  float64
		free  float64
	}{
		{"slot 12", cut(12, 3, 6), 12, 0},
		{"slot 5", cut(5, 3, 6), 5, 0},
		{"slot 12 turned by 45", turned(cut(12, 3, 6), 45), 12, 0},
		{"slot 12 turned by 26.57", turned(cut(12, 3, 6), 26.565), 12, 0},
		{"roofed tunnel", sdf.Difference(block(60, 40, 12), tunnel), 3, 0},
		{"ceiling 20 x 8", sdf.Difference(block(60, 40, 12), sdf.Box(geom.V(20, 16, -1), geom.V(40, 24, 6))), 8, 0},
		{"shelf 4", shelf, 0, 4},
		{"wall at 45", sdf.Cone(geom.V(0, 0, 0), geom.V(0, 0, 10), 10, 20), 0, 0},
		{"slot open above", cut(12, 3, 13), 0, 0},
	} {
		p := Part(meshed(t, tt.solid), usual())
		if !(math.Abs(p.Bridge-tt.want) < 0.05*tt.want+0.5) { // cells of 0.3 mm at either end
			t.Errorf("%s: bridge of %.2f mm, want %.2f", tt.name, p.Bridge, tt.want)
		}
		if !(math.Abs(p.FreeEdge-tt.free) < 0.05*tt.free+0.3) {
			t.Errorf("%s: stands out %.2f mm, want %.2f", tt.name, p.FreeEdge, tt.free)
		}
	}
}

// TestRasterAgainstCounting: shifts, spreads, islands and holes by the slow way.
func TestRasterAgainstCounting(t *testing.T) {
	r := newRaster(150, 40)
	set := func(x, y int) { r.row(y)[x>>6] |= 1 << (x & 63) }
	for y := 10; y < 30; y++ {
		for x := 50; x < 100; x++ {
			if !(x > 60 && x < 70 && y > 15 && y < 20) && !(x > 75 && x < 95 && y > 15 && y < 25) {
				set(x, y)
			}
		}
	}
	set(120, 12)
	if _, n := runs(r); n != 2 || r.euler() != 0 {
		t.Errorf("%d islands, Euler number %d; want 2, 0: two islands, two holes", n, r.euler())
	}
	for _, n := range []int{1, 2, 4, 10} {
		b := int(float64(n)*0.293 + 0.5)
		in := func(dx, dy int) bool { // the octagon, as the sum of its four strokes
			for i := -b; i <= b; i++ {
				for j := -b; j <= b; j++ {
					if a := n - 2*b; abs(dx-i-j) <= a && abs(dy-i+j) <= a {
						return true
					}
				}
			}
			return false
		}
		grown, eroded := r.dilate(n), r.erode(n)
		for y := range r.ny {
			for x := range r.nx {
				any, all := false, true
				for dy := -n; dy <= n; dy++ {
					for dx := -n; dx <= n; dx++ {
						if in(dx, dy) {
							any, all = any || r.has(x+dx, y+dy), all && r.has(x+dx, y+dy)
						}
					}
				}
				if grown.has(x, y) != any || eroded.has(x, y) != all {
					t.Fatalf("by %d at %d, %d: grown %v, want %v; eroded %v, want %v", n, x, y, grown.has(x, y), any, eroded.has(x, y), all)
				}
			}
		}
	}
	disc := meshed(t, sdf.Rod(geom.Vec2{}, 20, 0, 3))
	st := newStack(disc, usual())
	if got, want := st.layers[3].edge()*st.cell, 2*math.Pi*20; !(math.Abs(got/want-1) < 0.02) {
		t.Errorf("outline of a disc %.2f, want %.2f", got, want)
	}
	if !(math.Abs(st.area[3]-math.Pi*400) < 1.5) || !(math.Abs(st.length[3]-2*math.Pi*20) < 0.1) {
		t.Errorf("disc of 20: area %.2f, length %.3f", st.area[3], st.length[3])
	}
}

func abs(v int) int { return max(v, -v) }

// TestSameMeshSamePrint: the parts of a kit are estimated side by side.
func TestSameMeshSamePrint(t *testing.T) {
	m := meshed(t, cut(12, 3, 6))
	if a, b := Part(m, usual()), Part(m, usual()); a != b {
		t.Errorf("%+v, then %+v", a, b)
	}
}

// BenchmarkTray: a shell as large as a case's base.
func BenchmarkTray(b *testing.B) {
	m := meshed(b, sdf.Difference(block(240, 140, 32), sdf.Box(geom.V(2.4, 2.4, 2.4), geom.V(237.6, 137.6, 40))))
	for b.Loop() {
		Part(m, usual())
	}
}
