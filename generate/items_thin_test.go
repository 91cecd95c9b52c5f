package generate

import (
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// pebble is an ellipsoid of 60 x 40 x 24 mm in rings about z: about 4 n² triangles.
func pebble(n int) *mesh.Mesh {
	m := &mesh.Mesh{V: []geom.Vec{{Z: -12}, {Z: 12}}}
	at := func(k, i int) int32 {
		switch k {
		case 0:
			return 0
		case n:
			return 1
		}
		return int32(2 + (k-1)*2*n + i%(2*n))
	}
	for k := 1; k < n; k++ {
		s, c := math.Sincos(math.Pi * float64(k) / float64(n))
		for i := range 2 * n {
			sa, ca := math.Sincos(math.Pi * float64(i) / float64(n))
			m.V = append(m.V, geom.V(30*s*ca, 20*s*sa, -12*c))
		}
	}
	for k := range n {
		for i := range 2 * n {
			a, b, c, d := at(k, i), at(k, i+1), at(k+1, i+1), at(k+1, i)
			if k > 0 {
				m.T = append(m.T, [3]int32{a, b, c})
			}
			if k < n-1 {
				m.T = append(m.T, [3]int32{a, c, d})
			}
		}
	}
	return m
}

// A product's mesh is thinned from so many triangles on only; its box stays, and
// what is measured on it.
func TestOnlyLargeMeshesAreThinned(t *testing.T) {
	few := pebble(80)
	if got, err := thinned(t.Context(), few, Draft); err != nil || got != few {
		t.Errorf("a mesh of %d triangles is not left as it is: %v", len(few.T), err)
	}
	many := pebble(110)
	if len(few.T) >= thinFrom || len(many.T) < thinFrom {
		t.Fatalf("%d and %d triangles do not lie about the bound", len(few.T), len(many.T))
	}
	for _, q := range []Quality{Draft, Normal, Fine} {
		got, err := thinned(t.Context(), many, q)
		if err != nil {
			t.Fatal(err)
		}
		if got.Bounds() != many.Bounds() || got.Check() != nil || len(got.T) >= len(many.T) {
			t.Errorf("%s: %d triangles come to %d in %v, %v", q, len(many.T), len(got.T), got.Bounds(), got.Check())
		}
		if q == Draft && len(got.T) > len(many.T)/3 {
			t.Errorf("draft keeps %d triangles of %d", len(got.T), len(many.T))
		}
		if moved := many.Volume() - got.Volume(); !(math.Abs(moved) <= q.slack()*many.Area()) {
			t.Errorf("%s: the volume is off by %.2f mm³", q, moved)
		}
	}
}

// With the sag of the pocket and of the part the promise is kept, in the press tool too.
func TestSlackIsWithinThePromise(t *testing.T) {
	for q, promise := range map[Quality]float64{Normal: 0.05, Fine: 0.02} {
		tol := q.tolerance()
		for _, other := range []float64{q.slack(), tol.plug} {
			if !(tol.family+other+tol.part <= promise+1e-12) {
				t.Errorf("%s: %g + %g + %g is more than %g", q, tol.family, other, tol.part, promise)
			}
		}
	}
}
