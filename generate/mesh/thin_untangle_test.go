package mesh

import (
	"context"
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Edges of a sound mesh are collapsed though triangles turn over, until they cross:
// untangled, it is sound again and as near to the solid as before, by its own
// closed form.
func TestUntangle(t *testing.T) {
	const x, y, z, r, tol = 12, 9, 6, 2, 0.05
	solid := sdf.RoundPrism(sdf.Rect(x, y, r), -z, z, r)
	tree := treeOf(t, solid, tol, true)
	full, err := (&refiner{octree: tree, limit: 0.8 * tol, most: refineMost, workers: 1}).run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	full.levels()
	h := newThinner(full)
	h.tight = make([]bool, len(h.v))
	if err := h.mesh().Check(); err != nil {
		t.Fatal(err)
	}
	// The triangles of a fan turn over when it is collapsed onto one of its rim.
	spoilt := 0
	for u := int32(0); spoilt < 12 && int(u) < len(h.v); u++ {
		if len(h.fan[u]) == 0 {
			continue
		}
		h.around(u, func(_, w, _ int32) {
			turned, off := false, 0.0
			for _, id := range h.fan[u] {
				c := h.t[id]
				if c[0] == w || c[1] == w || c[2] == w {
					continue
				}
				was := triNormal(h.v, c)
				off = max(off, math.Abs(was.Unit().Dot(h.v[w].Sub(h.v[u]))))
				c[gateCorner(c, u)] = w
				turned = turned || triNormal(h.v, c).Dot(was) < 0
			}
			if turned && off < tol && len(h.fan[u]) > 0 && h.linked(u, w) {
				h.collapse(u, w, false)
				spoilt++
			}
		})
	}
	m := h.mesh()
	before := len(newGate(m).crossingPairs(math.MaxInt))
	if before < 5 {
		t.Fatalf("only %d crossings to undo", before)
	}
	m, tangled := h.untangle(m, tol)
	if len(tangled) > 0 {
		t.Fatalf("%d corners stay tangled of %d crossings", len(tangled), before)
	}
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	contourNear(t, m, 2*tol, func(p geom.Vec) float64 { return rounded(p, geom.Vec{}, geom.V(x, y, z), r) })
}
