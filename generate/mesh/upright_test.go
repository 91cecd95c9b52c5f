package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

// uprightHill is a height field of cells 1 mm wide on a block: a hill with walls
// that lean by slope, whose vertices have been moved level at random.
func uprightHill(n int, slope, stir float64) *Mesh {
	r := rand.New(rand.NewPCG(11, 12))
	m := gateBox(geom.V(0, 0, -5), geom.V(float64(n), float64(n), 0))
	m.V, m.T = nil, nil
	at := func(i, j int) int32 { return int32(j*(n+1) + i) }
	for j := range n + 1 {
		for i := range n + 1 {
			p := geom.V(float64(i), float64(j), 0)
			if i > 0 && j > 0 && i < n && j < n {
				p.X, p.Y = p.X+stir*(2*r.Float64()-1), p.Y+stir*(2*r.Float64()-1)
				p.Z = slope * float64(min(i, j, n-i, n-j)%3)
			}
			m.V = append(m.V, geom.V(snap(p.X), snap(p.Y), p.Z))
		}
	}
	for j := range n {
		for i := range n {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.T = append(m.T, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
	foot := int32(len(m.V))
	m.V = append(m.V, geom.V(float64(n)/2, float64(n)/2, -5))
	for i := range n {
		m.T = append(m.T,
			[3]int32{at(i+1, 0), at(i, 0), foot}, [3]int32{at(n, i+1), at(n, i), foot},
			[3]int32{at(i, n), at(i+1, n), foot}, [3]int32{at(0, i), at(0, i+1), foot})
	}
	return m
}

func TestUprightTurnsFoldsBack(t *testing.T) {
	m := uprightHill(30, 4, 0.36)
	above := func(p geom.Vec) bool { return p.Z > -0.01 }
	folds := func(m *Mesh) (n int) {
		for i := range m.T {
			a, b, c := m.Corners(i)
			if above(a.Add(b).Add(c).Scale(1.0/3)) && b.Sub(a).Cross(c.Sub(a)).Z <= 0 {
				n++
			}
		}
		return n
	}
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	before := folds(m)
	if before == 0 {
		t.Fatal("the hill has no folds")
	}
	out := m.Upright(above, 0.05)
	if err := out.Check(); err != nil {
		t.Errorf("Upright made the mesh unsound: %v", err)
	}
	if got := folds(out); got != 0 {
		t.Errorf("%d of %d folds are left", got, before)
	}
	moved, most := 0, 0.0
	for i, p := range out.V {
		if q := m.V[i]; p != q {
			moved++
			most = max(most, p.Dist(q))
		}
		if p.Z != m.V[i].Z {
			t.Errorf("vertex %d was raised", i)
		}
	}
	t.Logf("%d folds, %d vertices moved by at most %.4f mm", before, moved, most)
	if moved > 4*before || math.IsNaN(most) {
		t.Errorf("%d vertices were moved for %d folds", moved, before)
	}
	if still := m.Upright(func(geom.Vec) bool { return false }, 0.5); still != m {
		t.Error("a mesh without a fold that matters was changed")
	}
}
