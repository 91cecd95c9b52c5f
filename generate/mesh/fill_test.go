package mesh

import (
	"fmt"
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
		fillCovers(t, fmt.Sprint("round ", round), v, ids, got, above)
	}
}

// fillCovers checks that triangles face the right way, have the loops as their
// rim, and cover the area between them once.
func fillCovers(t *testing.T, name string, v []geom.Vec, loops [][]int32, tris [][3]int32, above bool) {
	t.Helper()
	side := map[bool]float64{true: 1, false: -1}[above]
	open := map[[2]int32]bool{}
	cut := func(a, b int32) {
		if open[[2]int32{b, a}] {
			delete(open, [2]int32{b, a})
		} else if open[[2]int32{a, b}] {
			t.Errorf("%s: side %d to %d is there twice", name, a, b)
		} else {
			open[[2]int32{a, b}] = true
		}
	}
	var area, want float64
	for _, c := range tris {
		a := v[c[1]].Sub(v[c[0]]).Cross(v[c[2]].Sub(v[c[0]])).Z / 2
		if a*side <= 0 {
			t.Errorf("%s: triangle %v has area %g", name, c, a)
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
				t.Errorf("%s: no triangle has the side %d to %d of a loop", name, a, b)
			}
			delete(open, [2]int32{a, b})
		}
	}
	if len(open) > 0 {
		t.Errorf("%s: %d sides are left open", name, len(open))
	}
	if area != want { // whole numbers and halves: exact
		t.Errorf("%s: area %g, want %g", name, area, want)
	}
}

// Shapes in which the shortest way to a hole is barred, or several holes are
// reached from one corner. Corners lie on whole numbers.
func TestFillFlatReachesHoles(t *testing.T) {
	at := func(xy ...float64) (loop []geom.Vec) {
		for i := 0; i < len(xy); i += 2 {
			loop = append(loop, geom.V(xy[i], xy[i+1], 7))
		}
		return loop
	}
	around := func(x, y float64) []geom.Vec { return at(x-9, y-9, x+9, y-9, x+9, y+9, x-9, y+9) }
	dot := func(x, y float64) []geom.Vec { return at(x-2, y-2, x+2, y-2, x+2, y+2, x-2, y+2) }
	needle := at(-3, -200, 200, -200, 200, 200, 1, 200, 0, -50, -1, 200, -3, 200, -3, 0)
	corner := at(0, 0, 0, -900, 900, -900, 900, 900, -900, 900, -900, 0)
	sharp := at(0, 0, 900, -900, 900, 900)
	for name, loops := range map[string][][]geom.Vec{
		"behind a needle":         {needle, at(4, 0, 30, -10, 30, 10)},
		"round a reflex corner":   {corner, around(-77, 64), around(34, 94), around(98, -17), around(50, -87)},
		"the other way about":     {corner, around(50, -87), around(98, -17), around(34, 94), around(-77, 64)},
		"close to one side":       {corner, dot(98, -17), dot(27, -101)},
		"close to the other":      {corner, dot(17, 98), dot(-101, 27)},
		"before a sharp corner":   {sharp, around(80, 45), around(80, -45), around(100, 0)},
		"and in another order":    {sharp, around(80, -45), around(100, 0), around(80, 45)},
		"one behind the other":    {sharp, around(400, 0), around(300, 0), around(200, 0), around(100, 0)},
		"within a hook's opening": {corner, at(50, 50, 350, 50, 350, 350, 50, 350, 50, 250, 250, 250, 250, 150, 50, 150), around(200, 200)},
	} {
		for _, above := range []bool{true, false} {
			v, ids := fillLoops(above, loops...)
			got, err := fillFlat(v, ids)
			if err != nil {
				t.Errorf("%s: fillFlat = %v", name, err)
				continue
			}
			fillCovers(t, name, v, ids, got, above)
		}
	}
}

// A ring with long straight sides is cut across, not along its curves: every
// triangle has corners of both outlines, so that it does not turn over when an
// outline is bent a little.
func TestFillFlatJoinsOutlines(t *testing.T) {
	ring := func(half, r float64, n int) (loop []geom.Vec) {
		for i := range 4 * n {
			a := math.Pi / 2 * (float64(i/n) + float64(i%n)/float64(n-1))
			c := geom.V(half*float64([4]int{1, -1, -1, 1}[i/n]), half*float64([4]int{1, 1, -1, -1}[i/n]), 0)
			loop = append(loop, c.Add(geom.V(r*math.Cos(a), r*math.Sin(a), 0)))
		}
		return (&Mesh{V: loop}).Snap().V
	}
	outer := ring(60, 20, 13)
	v, ids := fillLoops(false, outer, ring(60, 19.5, 11))
	got, err := fillFlat(v, ids)
	if err != nil {
		t.Fatal(err)
	}
	n := int32(len(outer))
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
