package generate

import (
	"math"
	"slices"
	"testing"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/params"
)

// Felt that lines the pockets only is drawn as high as its flat pieces reach once they
// are trimmed: along the sheet's product side the seam's angle ends where its wall does.
func TestFeltIsDrawnAsHighAsItIsCut(t *testing.T) {
	r := &Result{Kit: &params.Kit{}, Dims: &fit.Dims{}}
	r.Kit.Liner.Wrap = params.WrapPockets
	r.Dims.Pocket.MouthRadius, r.Dims.Pocket.Draft, r.Dims.Insert.Rim = 2.5, 5*geom.Degree, 1
	round := 3.5
	phi := r.feltLining(nil).Phi // from the rim's flat
	if want := -round + round*phi.Cos(); math.Abs(r.wallTop()-want) > 1e-12 {
		t.Errorf("felt drawn up to %g, cut for %g", r.wallTop(), want)
	}
}

// The upper side of a hollow block is its top and outer walls: not the inside, not
// the flat that both stand on.
func TestUpperSideEndsAtTheCut(t *testing.T) {
	out, in := blockMesh(geom.V(-10, -10, 0), geom.V(10, 10, 8)), blockMesh(geom.V(-9, -9, 0), geom.V(9, 9, 7))
	shell := &mesh.Mesh{V: slices.Concat(out.V, in.V)}
	ground := func(m *mesh.Mesh, t [3]int32) bool { return m.V[t[0]].Z == 0 && m.V[t[1]].Z == 0 && m.V[t[2]].Z == 0 }
	for _, t := range out.T {
		if !ground(out, t) {
			shell.T = append(shell.T, t)
		}
	}
	const n = 8 // corners of a block; 0 to 3 stand on the ground, (x, y) = (-,-), (+,-), (-,+), (+,+)
	for _, t := range in.T {
		if !ground(in, t) {
			shell.T = append(shell.T, [3]int32{t[0] + n, t[2] + n, t[1] + n})
		}
	}
	for ring, k := []int32{0, 1, 3, 2}, 0; k < 4; k++ {
		a, b := ring[k], ring[(k+1)%4]
		shell.T = append(shell.T, [3]int32{b, a, a + n}, [3]int32{b, a + n, b + n})
	}
	if stats := shell.Check(); stats != nil {
		t.Fatal(stats)
	}
	area := 0.0
	up := upperSide(shell)
	for i := range up.T {
		a, b, c := up.Corners(i)
		area += b.Sub(a).Cross(c.Sub(a)).Len() / 2
	}
	if want := 20*20 + 4*20*8.0; math.Abs(area-want) > 1e-9 {
		t.Errorf("%g mm², want %g", area, want)
	}
}
