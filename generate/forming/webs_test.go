package forming

import (
	"testing"

	"buckwright/generate/geom"
)

// Two folds apart, one of two elements; a third is not kept.
func TestWebs(t *testing.T) {
	f := &Formed{
		Node: []geom.Vec{
			{}, {X: 2}, {X: 2, Y: 2}, {Y: 2},
			{X: 10}, {X: 11}, {X: 10, Y: 1},
			{Z: -9}, {X: 9, Z: -9}, {Y: 9, Z: -9},
		},
		Element: [][3]int32{{4, 5, 6}, {0, 1, 2}, {0, 2, 3}, {7, 8, 9}, {1, 4, 6}},
		Fold:    []bool{true, true, true, true, false},
	}
	got := f.Webs(func(p geom.Vec) bool { return p.Z > -5 })
	if len(got) != 2 || got[0].Area != 4 || got[0].At.Dist(geom.V(1, 1, 0)) > 1e-12 || got[1].Area != 0.5 {
		t.Errorf("Webs = %+v, want 4 mm² about (1, 1) and 0.5 mm²", got)
	}
}
