package mesh

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"buckwright/generate/proof"
)

// offsetPlaces are places on the surface at distance r from a closed body: over
// its facets, over its edges and over its corners, as far as nothing else of the
// body is nearer.
func offsetPlaces(f []proof.Tri, tree *proof.Tree, r float64) (out []proof.Vec) {
	rnd := rand.New(rand.NewPCG(19, 23))
	try := func(at, n proof.Vec) {
		p := at.Add(n.Mul(r))
		if tree.Nearest(p, math.Inf(1)).Dist >= math.Abs(r)-1e-7 {
			out = append(out, p)
		}
	}
	for _, p := range proof.Sample(f, referencePoints/2, func(int, proof.Tri) bool { return true }) {
		try(p.At, p.Normal)
	}
	beside := map[[2]proof.Vec]proof.Vec{} // normal left of an edge
	normals := map[proof.Vec]proof.Vec{}   // some direction in the fan of a corner
	for _, t := range f {
		n := t.Normal()
		for k := range 3 {
			beside[[2]proof.Vec{t[k], t[(k+1)%3]}] = n
			normals[t[k]] = normals[t[k]].Add(n.Mul(rnd.Float64()))
		}
	}
	for _, t := range f {
		n := t.Normal()
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			s, u := rnd.Float64(), rnd.Float64()
			o := beside[[2]proof.Vec{b, a}]
			try(a.Mul(1-s).Add(b.Mul(s)), n.Mul(u).Add(o.Mul(1-u)).Unit())
			try(a, normals[a].Add(n.Mul(u)).Unit())
		}
	}
	return out
}

// everything asks the tests that judge many cases for all of them.
const everything = "BUCKWRIGHT_LONG"

// TestReferenceOffset: the surfaces 2 mm outside and inside the scanned body,
// and the smooth one of 58 784 triangles, both ways. Unless all are asked for,
// only some are judged.
func TestReferenceOffset(t *testing.T) {
	if testing.Short() {
		t.Skip("a minute of processor time")
	}
	all := os.Getenv(everything) != ""
	for _, tt := range []struct {
		name   string
		body   func(testing.TB) *Mesh
		r      float64
		always string // the quality that is always judged
	}{
		{"scanned out", scannedBody, 2, ""},
		{"scanned in", scannedBody, -2, "normal"},
		{"smooth out", smoothBody, 2, "fine"},
		{"smooth in", smoothBody, -2, ""},
	} {
		for _, q := range referenceQualities {
			t.Run(tt.name+" "+q.name, func(t *testing.T) {
				if !all && tt.always != q.name {
					t.Skipf("%s is not set", everything)
				}
				judgeOffset(t, tt.body(t), tt.r, q.tol, q.promised)
			})
		}
	}
}

// judgeOffset measures both ways. On the side where the body is nearer than r
// the value is a distance only away from creases; the places on the surface
// reach those.
func judgeOffset(t *testing.T, body *Mesh, r, tol, promised float64) {
	t.Helper()
	m := referenceMesh(t, Field(body).Offset(r), tol)
	f, facets := facetsOf(m), facetsOf(body)
	tree := proof.NewTree(facets)
	judgeMesh(t, f, func(p proof.Vec) float64 { return tree.Signed(p, math.Inf(1)) - r }, promised)
	judgeSolid(t, "surface", offsetPlaces(facets, tree, r), proof.NewTree(f), promised)
}
