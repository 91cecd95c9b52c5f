package mesh

import (
	"context"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Where cells of two sizes meet on a smooth body, polygons are traced folded over
// each other; collapsing edges takes that out and leaves the mesh closed.
func TestUnfold(t *testing.T) {
	before := 0
	for _, c := range []struct {
		s   sdf.Solid
		tol float64
	}{
		{sdf.Ellipsoid(geom.V(17.39, 10.23, 3.36)), 0.01},
		{sdf.Ellipsoid(geom.V(14.66, 8.55, 4.29)), 0.03},
		{sdf.Ellipsoid(geom.V(22.99, 5.67, 2.09)), 0.01},
		{sdf.Capsule(geom.V(-9.266, -11.062, 0), geom.V(9.266, 11.062, 2), 5.319), 0.03},
		{sdf.Capsule(geom.V(-22.991, -5.672, 0), geom.V(22.991, 5.672, 2), 2.095), 0.03},
	} {
		tree := treeOf(t, c.s, c.tol, true)
		r := &refiner{octree: tree, limit: 0.8 * c.tol, most: refineMost, workers: 1}
		s, err := r.first(context.Background(), newOctSkeleton(tree))
		if err != nil {
			t.Fatal(err)
		}
		n, closed := folds(s.out)
		if before += n; !closed {
			t.Errorf("%T is not closed as it is traced", c.s)
		}
		s.unfold()
		if n, closed = folds(s.out); n > 0 || !closed {
			t.Errorf("%T at %g mm: %d folds are left; closed: %v", c.s, c.tol, n, closed)
		}
	}
	if before < 10 {
		t.Errorf("only %d folds to take out: this proves little", before)
	}
}

// folds counts the edges over which a mesh turns by more than 107 degrees; closed
// tells that every edge has a triangle on each side.
func folds(m *Mesh) (n int, closed bool) {
	side := map[[2]int32]geom.Vec{}
	for _, c := range m.T {
		for k := range 3 {
			side[[2]int32{c[k], c[(k+1)%3]}] = triNormal(m.V, c).Unit()
		}
	}
	closed = len(side) == 3*len(m.T)
	for e, u := range side {
		v, ok := side[[2]int32{e[1], e[0]}]
		closed = closed && ok
		if e[0] < e[1] && u.Dot(v) < unfoldBent {
			n++
		}
	}
	return n, closed
}
