package mesh

import (
	"path/filepath"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/judge"

	"github.com/hschendel/stl"
)

// The scanned body, finer than it need be, is sound to CGAL before and after it is
// simplified, and has one volume by its account as well.
func TestSimplifiedScannedBodyIsSound(t *testing.T) {
	body := smoothBody(t)
	out := simplified(t, body, 0.05)
	before, after := judge.CGAL(t, writtenSTL(t, body)), judge.CGAL(t, writtenSTL(t, out))
	if p := before.Problem(); p != "" {
		t.Fatal(p)
	}
	if p := after.Problem(); p != "" {
		t.Error(p)
	}
	if moved := before.Volume - after.Volume; !(moved <= 0.05*before.Area && -moved <= 0.05*before.Area) {
		t.Errorf("the volume is %.1f mm³, was %.1f", after.Volume, before.Volume)
	}
	if after.Triangles > before.Triangles/2 || after.Euler != before.Euler || after.Components != before.Components {
		t.Errorf("%+v, was %+v", after, before)
	}
}

// writtenSTL writes a mesh by a writer that is not ours.
func writtenSTL(t *testing.T, m *Mesh) string {
	t.Helper()
	s := &stl.Solid{}
	for i := range m.T {
		var tri stl.Triangle
		a, b, c := m.Corners(i)
		for k, p := range [3]geom.Vec{a, b, c} {
			tri.Vertices[k] = stl.Vec3{float32(p.X), float32(p.Y), float32(p.Z)}
		}
		s.AppendTriangle(tri)
	}
	path := filepath.Join(t.TempDir(), "body.stl")
	if err := s.WriteFile(path); err != nil {
		t.Fatal(err)
	}
	return path
}
