package mesh

import (
	"context"
	"math"
	"testing"
	"time"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// contourSound meshes s and fails the test unless the mesh is sound.
func contourSound(t *testing.T, s sdf.Solid, tol float64) *Mesh {
	t.Helper()
	start := time.Now()
	m, err := Contour(context.Background(), s, Options{Tol: tol})
	if err != nil {
		t.Fatalf("Contour = %v", err)
	}
	if err := m.Check(); err != nil {
		t.Fatalf("Check = %v", err)
	}
	t.Logf("%d triangles, %.2f s", len(m.T), time.Since(start).Seconds())
	return m
}

// contourVolume compares the volume with a closed form, to 0.1 %.
func contourVolume(t *testing.T, m *Mesh, want float64) {
	t.Helper()
	if got := m.Volume(); !(math.Abs(got-want) <= 1e-3*want) {
		t.Errorf("volume = %.4f mm³, want %.4f", got, want)
	}
}

func TestContourBall(t *testing.T) {
	const r = 10.0
	m := contourSound(t, testBall{geom.V(1, 2, 3), r}, 0.01)
	contourVolume(t, m, 4.0/3*math.Pi*r*r*r)
}

func TestContourTorus(t *testing.T) {
	m := contourSound(t, testTorus{20, 5}, 0.01)
	contourVolume(t, m, 2*math.Pi*math.Pi*20*25)
}

func TestContourCrossingRods(t *testing.T) {
	const r = 4.0
	a := testRod{geom.V(0, 0, 0), geom.V(1, 0, 0), r}
	b := testRod{geom.V(0, 0, 0), geom.V(0, 1, 0), r}
	cube := testBlock(geom.V(10, 10, 10), geom.Identity())
	m := contourSound(t, testBounded{testAll{testAny{a, b}, cube}, cube.Bounds()}, 0.01)
	// Two cylinders less their common part, the bicylinder 16 r³/3.
	contourVolume(t, m, 2*math.Pi*r*r*20-16*r*r*r/3)
}

func TestContourPlateWithHoles(t *testing.T) {
	plate := testBlock(geom.V(20, 20, 1.5), geom.Identity())
	all := testAll{plate}
	n := 0
	for x := -15.0; x <= 15; x += 7.3 {
		for y := -15.0; y <= 15; y += 9.1 {
			all = append(all, testNot{testRod{geom.V(x, y, 0), geom.V(0, 0, 1), 0.5}})
			n++
		}
	}
	m := contourSound(t, testBounded{all, plate.Bounds()}, 0.01)
	contourVolume(t, m, 3*(40*40-float64(n)*math.Pi*0.25))
}

func TestContourThinWall(t *testing.T) {
	m := contourSound(t, testBlock(geom.V(20, 0.45, 15), geom.Identity()), 0.01)
	contourVolume(t, m, 40*0.9*30)
}
