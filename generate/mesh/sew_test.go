package mesh

import (
	"context"
	"math"
	"reflect"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// over is what of a solid lies above z = 0.
func over(s sdf.Solid) sdf.Solid {
	return sdf.Intersect(s, sdf.HalfSpace{N: geom.V(0, 0, -1)})
}

// sewn is the shell as it is sewn, without another way when that fails.
func sewn(t *testing.T, outer, inner sdf.Solid, tol float64) *Mesh {
	t.Helper()
	o := Options{Tol: tol}
	m, _, err := shellOnce(context.Background(), outer, inner, 0, o)
	if err != nil {
		t.Fatalf("shellOnce = %v", err)
	}
	if err := m.Check(); err != nil {
		t.Fatalf("Check = %v", err)
	}
	return m
}

// domeDist is the distance to half a hollow ball of 20 mm, open below, its wall
// 0.3 mm thick: to the balls, and at the flat to the ring between them.
func domeDist(p geom.Vec) float64 {
	const out, in = 20.0, 19.7
	d := min(math.Abs(p.Len()-out), math.Abs(p.Len()-in))
	r := math.Hypot(p.X, p.Y)
	return min(d, math.Hypot(p.Z, max(r-out, in-r, 0)))
}

func TestSewDome(t *testing.T) {
	const tol = 0.02
	m := sewn(t, over(testBall{r: 20}), over(testBall{r: 19.7}), tol)
	contourVolume(t, m, 2.0/3*math.Pi*(8000-math.Pow(19.7, 3)))
	contourNear(t, m, tol, domeDist)
	contourCovers(t, m, "outer edge", tol, circle(geom.Vec{}, 20, 500))
	contourCovers(t, m, "inner edge", tol, circle(geom.Vec{}, 19.7, 500))
	for _, v := range m.V {
		if v.Z < tol && v.Z != 0 {
			t.Errorf("vertex at z = %g, want the flat at 0 exact", v.Z)
		}
	}
}

// Two pegs leave two openings in one flat.
func TestSewTwoOpenings(t *testing.T) {
	pegs := sdf.Union(sdf.Rod(geom.Vec2{X: 6}, 5, 0, 8), sdf.Rod(geom.Vec2{X: -6}, 5, 0, 8))
	m := sewn(t, sdf.Prism(sdf.Rect(12, 6, 0), 0, 8.5), pegs, 0.02)
	contourVolume(t, m, 24*12*8.5-2*math.Pi*25*8)
}

// Two blocks in one body give two rings.
func TestSewTwoRings(t *testing.T) {
	at := func(x, half, high float64) sdf.Solid {
		return sdf.Prism(sdf.Place2(sdf.Rect(half, half, 0), geom.Vec2{X: x}, 0), 0, high)
	}
	m := sewn(t, sdf.Union(at(-10, 5, 5), at(10, 5, 5)), sdf.Union(at(-10, 4, 4), at(10, 4, 4)), 0.02)
	if v := m.Volume(); math.Abs(v-2*(500-256)) > 1e-3 {
		t.Errorf("volume = %v mm³, want 488", v)
	}
}

// A flat that only the outer body has is closed again; the inner is a void.
func TestSewVoid(t *testing.T) {
	m := sewn(t, over(testBall{r: 20}), testBall{c: geom.V(0, 0, 10), r: 5}, 0.02)
	contourVolume(t, m, math.Pi*(2.0/3*8000-4.0/3*125))
}

func TestSewRefuses(t *testing.T) {
	box := gateBox(geom.V(0, 0, 0), geom.V(10, 10, 10))
	for name, inner := range map[string]*Mesh{
		"through a wall":        gateBox(geom.V(2, 2, 0), geom.V(12, 8, 8)),
		"beside":                gateBox(geom.V(12, 2, 0), geom.V(15, 8, 8)),
		"through the top":       gateBox(geom.V(2, 2, 0), geom.V(8, 8, 12)),
		"in a wall":             gateBox(geom.V(0, 2, 0), geom.V(8, 8, 8)),
		"wider above the flat":  gateBox(geom.V(2, 2, 0), geom.V(8, 8, 8)).With(gateBox(geom.V(9, 3, 5), geom.V(11, 4, 6))),
		"larger than the outer": gateBox(geom.V(-2, -2, 0), geom.V(12, 12, 12)),
	} {
		if _, err := Sew(box, inner, 0, 1e-3); err == nil {
			t.Errorf("%s: Sew gave no error", name)
		}
	}
}

// Where the two bodies cross there is nothing to sew, but still a difference.
func TestShellOfBodiesThatCross(t *testing.T) {
	box := sdf.Prism(sdf.Rect(10, 10, 0), 0, 10)
	m, err := Shell(context.Background(), box, sdf.Rod(geom.Vec2{}, 5, 0, 12), 0, Options{Tol: 0.02})
	if err != nil {
		t.Fatal(err)
	}
	contourVolume(t, m, 4000-250*math.Pi)
}

// A wall that the tolerance does not keep apart is meshed finer.
func TestShellOfThinWall(t *testing.T) {
	const tol = 0.05
	outer, inner := over(testBall{r: 10}), over(testBall{r: 9.97})
	o := Options{Tol: tol}
	if m, _, err := shellOnce(context.Background(), outer, inner, 0, o); err == nil {
		t.Fatalf("a wall of 0.03 mm is sewn at a tolerance of %g mm, in %d triangles: a thinner one must be tried", tol, len(m.T))
	}
	m, err := Shell(context.Background(), outer, inner, 0, o)
	if err != nil {
		t.Fatal(err)
	}
	if err := m.Check(); err != nil {
		t.Fatalf("Check = %v", err)
	}
	contourNear(t, m, tol/2, func(p geom.Vec) float64 {
		if p.Z == 0 {
			return 0
		}
		return min(math.Abs(p.Len()-10), math.Abs(p.Len()-9.97))
	})
}

func TestShellSameForAnyWorkers(t *testing.T) {
	shell := func(workers int) *Mesh {
		m, err := Shell(context.Background(), over(testBall{r: 20}), over(testBall{r: 19.7}), 0, Options{Tol: 0.05, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	if one, many := shell(1), shell(5); !reflect.DeepEqual(one, many) {
		t.Error("5 workers gave another mesh than 1")
	}
}
