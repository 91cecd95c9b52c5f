package mesh

import (
	"context"
	"errors"
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// TestContourAwkward meshes solids whose faces coincide, touch, or nearly do. The
// volume is a closed form; components and genus are given where there is one answer.
func TestContourAwkward(t *testing.T) {
	box := func(x0, y0, z0, x1, y1, z1 float64) sdf.Solid {
		return sdf.Box(geom.V(x0, y0, z0), geom.V(x1, y1, z1))
	}
	cube := box(0, 0, 0, 10, 10, 10)
	lean := 0.05 // radians
	tests := []struct {
		name       string
		s          sdf.Solid
		volume     float64
		components int // 0: either is right
	}{
		{"edge to edge", sdf.Union(cube, box(10, 10, 0, 20, 20, 10)), 2000, 0},
		{"corner to corner", sdf.Union(cube, box(10, 10, 10, 20, 20, 20)), 2000, 0},
		{"face to face", sdf.Union(cube, box(10, 0, 0, 20, 10, 10)), 2000, 1},
		{"part of a face", sdf.Union(cube, box(10, 2, 0, 20, 8, 10)), 1600, 1},
		{"a gap of 0.05", sdf.Union(cube, box(10.05, 2, 0, 20, 8, 10)), 1597, 2},
		{"a wall of 0.05", sdf.Difference(cube, box(2, 2, 2, 5, 8, 12), box(5.05, 2, 2, 8, 8, 12)), 1000 - 8*6*(3+2.95), 1},
		{"pockets side by side", sdf.Difference(cube, box(2, 2, 2, 5, 8, 12), box(5, 2, 2, 8, 8, 12)), 1000 - 8*6*6, 1},
		{"balls that touch", sdf.Union(sdf.Ball(geom.V(0, 0, 0), 5), sdf.Ball(geom.V(10, 0, 0), 5)), 2 * 4.0 / 3 * math.Pi * 125, 0},
		{"cut flush with the floor", sdf.Difference(cube, box(2, 2, 0, 8, 8, 10)), 640, 1},
		{"a cone to its tip", sdf.Cone(geom.V(0, 0, 0), geom.V(0, 0, 20), 5, 0), math.Pi * 25 * 20 / 3, 1},
		{"a thin plate", box(0, 0, 0, 20, 20, 0.25), 100, 1},
		{"a wedge of 3 degrees", sdf.Intersect(box(-20, 0, 0, 20, 20, 20), sdf.HalfSpace{N: geom.V(-math.Sin(lean), 0, math.Cos(lean)), D: 0}),
			20 * 20 * 20 * math.Tan(lean) / 2, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m, err := Contour(context.Background(), tt.s, Options{Tol: 0.01})
			if err != nil {
				t.Fatal(err)
			}
			if err := m.Check(); err != nil {
				t.Fatal(err)
			}
			contourVolume(t, m, tt.volume)
			if s := m.Stats(); tt.components > 0 && s.Components != tt.components {
				t.Errorf("%d components, want %d", s.Components, tt.components)
			}
		})
	}
}

// TestContourRefuses gives what cannot be meshed.
func TestContourRefuses(t *testing.T) {
	ball := testBall{r: 1}
	ctx := context.Background()
	if _, err := Contour(ctx, ball, Options{}); err == nil {
		t.Error("Contour without a tolerance gave no error")
	}
	if _, err := Contour(ctx, ball, Options{Tol: math.NaN()}); err == nil {
		t.Error("Contour with tolerance NaN gave no error")
	}
	if _, err := Contour(ctx, sdf.Nothing{}, Options{Tol: 0.01}); err == nil {
		t.Error("Contour of nothing gave no error")
	}
	if _, err := Contour(ctx, sdf.HalfSpace{N: geom.V(0, 0, 1)}, Options{Tol: 0.01}); err == nil {
		t.Error("Contour of a half space gave no error")
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if _, err := Contour(stopped, ball, Options{Tol: 0.01}); err != context.Canceled {
		t.Errorf("Contour after a stop = %v, want %v", err, context.Canceled)
	}
}

// TestContourSameForAnyWorkers compares whole meshes.
func TestContourSameForAnyWorkers(t *testing.T) {
	s := sdf.Difference(sdf.RoundPrism(sdf.Rect(10, 8, 2), 0, 6, 1), sdf.Rod(geom.Vec2{X: 3}, 2, -1, 7))
	var first *Mesh
	for _, workers := range [...]int{1, 2, 3, 7} {
		m, err := Contour(context.Background(), s, Options{Tol: 0.02, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = m
		}
		same := len(m.V) == len(first.V) && len(m.T) == len(first.T)
		for i := 0; same && i < len(m.V); i++ {
			same = m.V[i] == first.V[i]
		}
		for i := 0; same && i < len(m.T); i++ {
			same = m.T[i] == first.T[i]
		}
		if !same {
			t.Errorf("%d workers gave another mesh than 1", workers)
		}
	}
}

// A solid that takes more cells than there is room for is given up, with a place.
func TestTooFineIsGivenUp(t *testing.T) {
	s := sdf.Cylinder(geom.V(-9, -5, 1), geom.V(8, 6, 3), 4)
	tree := treeOf(t, s, 0.01, false)
	r := &refiner{octree: tree, limit: 1e-4, most: len(tree.nodes), workers: 1}
	var fine fineError
	if _, err := r.run(t.Context()); !errors.As(err, &fine) {
		t.Fatalf("got %v", err)
	}
	if d := math.Abs(s.Dist(fine.at)); !(d < 1) {
		t.Errorf("%v: the surface is %g mm away", fine, d)
	}
}
