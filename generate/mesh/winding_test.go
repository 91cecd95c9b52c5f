package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

func TestWindingAgainstSum(t *testing.T) {
	m := bvhBlob(30)
	dirty := m.without(func(i int) bool { return i%37 == 5 })
	for i := range dirty.T {
		if i%53 == 7 {
			s := &dirty.T[i]
			s[1], s[2] = s[2], s[1]
		}
	}
	for _, tt := range []struct {
		name string
		m    *Mesh
	}{{"closed", m}, {"dirty", dirty}} {
		bvh := NewBVH(tt.m)
		w := NewWinding(tt.m, bvh)
		r := rand.New(rand.NewPCG(9, 10))
		wrong, worst := 0, 0.0
		for range 3000 {
			p := bvhPoint(r, tt.m.Bounds().Grow(2))
			got, want := w.At(p), windSum(bvh, p)
			worst = max(worst, math.Abs(got-want))
			if (got >= 0.5) != (want >= 0.5) && math.Abs(want-0.5) > 0.01 {
				wrong++
			}
		}
		if wrong > 0 || worst > 0.02 {
			t.Errorf("%s: %d of 3000 on the wrong side, off by up to %v", tt.name, wrong, worst)
		}
	}
}

// The solid angle of a cube's face from its centre is 4π/6.
func TestWindingOfBox(t *testing.T) {
	m := bvhBox(geom.V(-1, -1, -1), geom.V(1, 1, 1))
	bvh := NewBVH(m)
	w := NewWinding(m, bvh)
	if got := w.At(geom.Vec{}); math.Abs(got-1) > 1e-12 {
		t.Errorf("inside: %v, want 1", got)
	}
	if got := w.At(geom.V(0.3, 5, 0.2)); math.Abs(got) > 0.01 {
		t.Errorf("outside: %v, want 0", got)
	}
	lid := &Mesh{V: m.V, T: m.T[:2]}
	lb := NewBVH(lid)
	if got := NewWinding(lid, lb).At(geom.Vec{}); math.Abs(got-1.0/6) > 1e-12 {
		t.Errorf("one face from the middle: %v, want 1/6", got)
	}
}

func BenchmarkWinding60k(b *testing.B) {
	m := bvhBlob(173)
	w := NewWinding(m, NewBVH(m))
	pts := bvhShell(w.bvh, 4096, 5)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		w.At(pts[i%len(pts)])
	}
}

// windSum is the winding number by adding every triangle: slow, for comparison.
func windSum(b *BVH, p geom.Vec) float64 {
	var s float64
	for k := range b.tris {
		s += windAngle(p, &b.tris[k])
	}
	return s / (4 * math.Pi)
}
