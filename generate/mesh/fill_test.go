package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

// fillStar is a loop about c of n corners between half of r and r from it, on
// the vertices' grid, counterclockwise; some sides have a corner half way.
func fillStar(r *rand.Rand, c geom.Vec2, radius float64, n int) (loop []geom.Vec) {
	for i := range n {
		a := 2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n)
		d := radius * (0.5 + 0.5*r.Float64())
		p := c.Add(geom.Vec2{X: math.Round(d * math.Cos(a)), Y: math.Round(d * math.Sin(a))})
		if i > 0 && r.IntN(3) == 0 {
			loop = append(loop, loop[len(loop)-1].Lerp(p.At(7), 0.5))
		}
		loop = append(loop, p.At(7))
	}
	return loop
}

// fillLoops numbers the corners of loops: the first is the rim, the others holes.
// Seen from below all run the other way.
func fillLoops(above bool, loops ...[]geom.Vec) (v []geom.Vec, ids [][]int32) {
	for i, l := range loops {
		var id []int32
		for k := range l {
			if (i == 0) != above {
				k = len(l) - 1 - k
			}
			id = append(id, int32(len(v)+k))
		}
		v, ids = append(v, l...), append(ids, id)
	}
	return v, ids
}

// A triangulation of a polygon of n corners with h holes has n + 2h - 2
// triangles (O'Rourke, Computational Geometry in C, 2nd ed. 1998, section 1.5 and
// exercise 1.2.5); its area is the polygon's.
func TestFillFlat(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for round := range 200 {
		above := round%2 == 0
		loops := [][]geom.Vec{fillStar(r, geom.Vec2{}, 4000, 5+r.IntN(20))}
		for _, at := range []geom.Vec2{{X: 400}, {X: -400}, {Y: 400}, {Y: -400}}[:r.IntN(5)] {
			loops = append(loops, fillStar(r, at, 250, 5+r.IntN(12)))
		}
		v, ids := fillLoops(above, loops...)
		got, err := fillFlat(v, ids)
		if err != nil {
			t.Fatalf("round %d: fillFlat = %v", round, err)
		}
		if want := len(v) + 2*(len(ids)-1) - 2; len(got) != want {
			t.Errorf("round %d: %d triangles, want %d", round, len(got), want)
		}
		fillCovers(t, round, v, ids, got, above)
	}
}

// fillCovers checks that triangles face the right way, have the loops as their
// rim, and cover the area between them once.
func fillCovers(t *testing.T, round int, v []geom.Vec, loops [][]int32, tris [][3]int32, above bool) {
	t.Helper()
	side := map[bool]float64{true: 1, false: -1}[above]
	open := map[[2]int32]bool{}
	cut := func(a, b int32) {
		if open[[2]int32{b, a}] {
			delete(open, [2]int32{b, a})
		} else if open[[2]int32{a, b}] {
			t.Errorf("round %d: side %d to %d is there twice", round, a, b)
		} else {
			open[[2]int32{a, b}] = true
		}
	}
	var area, want float64
	for _, c := range tris {
		a := v[c[1]].Sub(v[c[0]]).Cross(v[c[2]].Sub(v[c[0]])).Z / 2
		if a*side <= 0 {
			t.Errorf("round %d: triangle %v has area %g", round, c, a)
		}
		area += a
		for k := range 3 {
			cut(c[k], c[(k+1)%3])
		}
	}
	for _, l := range loops {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			want += v[a].XY().Cross(v[b].XY()) / 2
			if !open[[2]int32{a, b}] {
				t.Errorf("round %d: no triangle has the side %d to %d of a loop", round, a, b)
			}
			delete(open, [2]int32{a, b})
		}
	}
	if len(open) > 0 {
		t.Errorf("round %d: %d sides are left open", round, len(open))
	}
	if area != want { // whole numbers and halves: exact
		t.Errorf("round %d: area %g, want %g", round, area, want)
	}
}

// A ring is cut across, not along its curves: every triangle has corners of both
// outlines, so that it does not turn over when an outline is bent a little.
func TestFillFlatJoinsOutlines(t *testing.T) {
	loops := [][]geom.Vec{circle(geom.Vec{}, 40, 60), circle(geom.Vec{}, 39.5, 47)}
	v, ids := fillLoops(false, loops...)
	got, err := fillFlat((&Mesh{V: v}).Snap().V, ids)
	if err != nil {
		t.Fatal(err)
	}
	n := int32(len(loops[0]))
	for _, c := range got {
		if a, b, d := c[0] < n, c[1] < n, c[2] < n; a == b && b == d {
			t.Errorf("triangle %v lies within one outline", c)
		}
	}
}

func TestFillFlatRefusesOutlinesThatMeet(t *testing.T) {
	square := func(x, half float64) []geom.Vec {
		return []geom.Vec{{X: x - half, Y: -half}, {X: x + half, Y: -half}, {X: x + half, Y: half}, {X: x - half, Y: half}}
	}
	for name, hole := range map[string][]geom.Vec{
		"outside": square(30, 2), "through the rim": square(10, 3), "two holes in one": square(0, 4),
	} {
		loops := [][]geom.Vec{square(0, 10), hole}
		if name == "two holes in one" {
			loops = append(loops, square(2, 4))
		}
		v, ids := fillLoops(true, loops...)
		if tris, err := fillFlat(v, ids); err == nil {
			t.Errorf("%s: fillFlat gave %d triangles, want an error", name, len(tris))
		}
	}
}
