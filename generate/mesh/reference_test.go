package mesh

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"
	"time"

	"buckwright/generate/proof"
	"buckwright/generate/sdf"
)

// The reference solids are judged from outside: distances are written from
// their drawings, distances to a mesh come from package proof, which shares no
// code with this one.

// referencePoints is how many places are judged each way; referenceEdge how
// many at least on each named edge and hole wall.
const (
	referencePoints = 300_000
	referenceEdge   = 2_000
)

// referenceQualities are the tolerances that parts are meshed with, and what
// is promised of the largest error.
var referenceQualities = []struct {
	name          string
	tol, promised float64 // mm
	trayTriangles int     // at most
}{
	{"fine", 0.008, 0.02, 100_000},
	{"normal", 0.025, 0.05, 50_000},
}

// referenceMesh meshes a solid and fails the test unless the mesh is sound.
func referenceMesh(t *testing.T, s sdf.Solid, tol float64) *Mesh {
	t.Helper()
	start := time.Now()
	m, err := Contour(context.Background(), s, Options{Tol: tol})
	if err != nil {
		t.Fatalf("Contour = %v", err)
	}
	if err := m.Check(); err != nil {
		t.Fatalf("Check = %v", err)
	}
	t.Logf("%d triangles in %.2f s", len(m.T), time.Since(start).Seconds())
	return m
}

// facetsOf is the mesh in the judge's form.
func facetsOf(m *Mesh) []proof.Tri {
	out := make([]proof.Tri, len(m.T))
	for i := range m.T {
		a, b, c := m.Corners(i)
		out[i] = proof.Tri{{a.X, a.Y, a.Z}, {b.X, b.Y, b.Z}, {c.X, c.Y, c.Z}}
	}
	return out
}

// worst is the largest value of |d| over the places, and where. The places are
// shared out over the processors.
func worst(places []proof.Vec, d proof.Distance) (most float64, at proof.Vec) {
	n := runtime.GOMAXPROCS(0)
	var wait sync.WaitGroup
	var told sync.Mutex
	for w := range n {
		wait.Go(func() {
			var far float64
			var there proof.Vec
			for i := w; i < len(places); i += n {
				if e := math.Abs(d(places[i])); !(e <= far) {
					far, there = e, places[i]
				}
			}
			told.Lock()
			defer told.Unlock()
			if !(far <= most) {
				most, at = far, there
			}
		})
	}
	wait.Wait()
	return most, at
}

// meshPlaces are places on the mesh: spread by area, and every facet's middle,
// corners and middles of sides, where errors are largest.
func meshPlaces(f []proof.Tri) []proof.Vec {
	var out []proof.Vec
	for _, p := range proof.Sample(f, referencePoints, func(int, proof.Tri) bool { return true }) {
		out = append(out, p.At)
	}
	for _, t := range f {
		for k := range 3 {
			out = append(out, t[k], t[k].Add(t[(k+1)%3]).Mul(0.5))
		}
	}
	return out
}

// judgeMesh holds every place of the mesh to the solid's own distance.
func judgeMesh(t *testing.T, f []proof.Tri, d proof.Distance, promised float64) {
	t.Helper()
	places := meshPlaces(f)
	most, at := worst(places, d)
	t.Logf("mesh to solid: %.4f mm at %.3f, of %d", most, at, len(places))
	if !(most <= promised) {
		t.Errorf("the mesh is %.4f mm off the solid at %.3f, want at most %g", most, at, promised)
	}
}

// judgeSolid holds places on the solid's surface to the mesh.
func judgeSolid(t *testing.T, name string, places []proof.Vec, tree *proof.Tree, promised float64) {
	t.Helper()
	most, at := worst(places, func(p proof.Vec) float64 { return tree.Nearest(p, math.Inf(1)).Dist })
	t.Logf("%s to mesh: %.4f mm at %.3f, of %d", name, most, at, len(places))
	if !(most <= promised) || len(places) < referenceEdge {
		t.Errorf("%s: %.4f mm off the mesh at %.3f, of %d places, want at most %g", name, most, at, len(places), promised)
	}
}

// plot draws n places at random.
func plot(n int, at func(r *rand.Rand) proof.Vec) []proof.Vec {
	r := rand.New(rand.NewPCG(17, uint64(n)))
	out := make([]proof.Vec, n)
	for i := range out {
		out[i] = at(r)
	}
	return out
}
