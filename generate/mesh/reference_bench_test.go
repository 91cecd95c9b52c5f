//go:build unix

package mesh

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"buckwright/generate/proof"
	"buckwright/generate/sdf"
)

// benchFolder is the folder where testdata/bench/run keeps the bodies that other
// meshers are given and what they made of them.
const benchFolder = "BUCKWRIGHT_BENCH"

// BenchmarkReferenceTray and BenchmarkReferenceOffset are our half of the
// comparison in testdata/bench.
func BenchmarkReferenceTray(b *testing.B) { benchContour(b, testTray(), referenceQualities[0].tol) }
func BenchmarkReferenceOffset(b *testing.B) {
	benchContour(b, Field(smoothBody(b)).Offset(2), referenceQualities[0].tol)
}

// BenchmarkTrayTolerance is for testdata/bench, which runs each alone.
func BenchmarkTrayTolerance(b *testing.B) {
	for _, tol := range []float64{0.1, 0.05, 0.025, 0.0125, 0.00625} {
		b.Run(fmt.Sprint(tol), func(b *testing.B) { benchContour(b, testTray(), tol) })
	}
}

// benchContour meshes, and tells the processor time of a mesh and the most memory
// that the process held so far.
func benchContour(b *testing.B, s sdf.Solid, tol float64) {
	b.ReportAllocs()
	before, triangles := used(b), 0
	for b.Loop() {
		m, err := Contour(context.Background(), s, Options{Tol: tol})
		if err != nil {
			b.Fatal(err)
		}
		triangles = len(m.T)
	}
	after := used(b)
	b.ReportMetric(float64(triangles), "triangles")
	b.ReportMetric((after.seconds-before.seconds)/float64(b.N), "cpu-s/op")
	b.ReportMetric(after.megabytes, "peak-MB")
}

// use is what the process has taken so far.
type use struct{ seconds, megabytes float64 }

func used(tb testing.TB) use {
	tb.Helper()
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		tb.Fatal(err)
	}
	s := func(t syscall.Timeval) float64 { return float64(t.Sec) + 1e-6*float64(t.Usec) }
	return use{s(r.Utime) + s(r.Stime), float64(r.Maxrss) / 1024} // Linux counts in KiB
}

// TestBenchBodies writes the smooth body for the other meshers.
func TestBenchBodies(t *testing.T) {
	dir := os.Getenv(benchFolder)
	if dir == "" {
		t.Skipf("%s is not set", benchFolder)
	}
	if err := proof.WriteSTL(filepath.Join(dir, "body.stl"), facetsOf(smoothBody(t))); err != nil {
		t.Fatal(err)
	}
}

// TestOtherMeshers holds what other meshers made to the same distances. It
// judges nobody but tells the largest errors.
func TestOtherMeshers(t *testing.T) {
	dir := os.Getenv(benchFolder)
	if dir == "" {
		t.Skipf("%s is not set", benchFolder)
	}
	body := proof.NewTree(facetsOf(smoothBody(t)))
	offset := func(p proof.Vec) float64 { return body.Signed(p, math.Inf(1)) - 2 }
	edges := trayPlaces()
	for _, e := range trayEdges() {
		edges = append(edges, e.places...)
	}
	for _, tt := range []struct {
		file   string
		dist   proof.Distance
		places []proof.Vec
	}{
		{"tray-exact.stl", trayExact, edges},
		{"tray-field.stl", trayExact, edges},
		{"body-field.stl", offset, offsetPlaces(body.Facets, body, 2)},
	} {
		f, err := proof.ReadSTL(filepath.Join(dir, tt.file))
		if err != nil {
			t.Fatal(err)
		}
		var places []proof.Vec
		for i := range referencePoints {
			c := f[i*len(f)/referencePoints]
			places = append(places, c[0], c.Mid())
		}
		off, _ := worst(places, tt.dist)
		tree := proof.NewTree(f)
		back, at := worst(tt.places, func(p proof.Vec) float64 { return tree.Nearest(p, math.Inf(1)).Dist })
		t.Logf("%s: %d triangles; mesh to solid %.4f mm, solid to mesh %.4f mm at %.2f", tt.file, len(f), off, back, at)
	}
}
