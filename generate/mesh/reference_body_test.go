package mesh

import (
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/judge"
)

// scannedBody is the scanned body at ten times its size: 99 x 97 x 75 mm.
func scannedBody(t testing.TB) *Mesh {
	t.Helper()
	corners, triangles := judge.ScannedBody(t)
	m := &Mesh{T: triangles}
	for _, v := range corners {
		m.V = append(m.V, geom.V(10*v[0], 10*v[1], 10*v[2]))
	}
	return m
}

// smoothBody is the scanned body twice subdivided: 58 784 triangles.
func smoothBody(t testing.TB) *Mesh {
	t.Helper()
	m := loopSubdivided(loopSubdivided(scannedBody(t)))
	if len(m.T) != 58_784 {
		t.Fatalf("%d triangles, want 58 784", len(m.T))
	}
	return m
}

// side is an edge of a closed mesh, ends in order.
type side [2]int32

func sideOf(a, b int32) side { return side{min(a, b), max(a, b)} }

// loopSubdivided cuts every triangle of a closed mesh in four and smooths
// (C. Loop, "Smooth subdivision surfaces based on triangles", thesis,
// University of Utah, 1987).
func loopSubdivided(m *Mesh) *Mesh {
	out := &Mesh{V: make([]geom.Vec, len(m.V))}
	middle := map[side]int32{}
	around := make([]geom.Vec, len(m.V)) // sum over a vertex's neighbours, each counted once
	valence := make([]int, len(m.V))
	for _, t := range m.T {
		for k := range 3 {
			a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
			around[a] = around[a].Add(m.V[b]) // b comes once after a: in one triangle
			valence[a]++
			e := sideOf(a, b)
			if _, met := middle[e]; !met {
				middle[e] = int32(len(out.V))
				out.V = append(out.V, m.V[a].Add(m.V[b]).Scale(3.0/8))
			}
			at := &out.V[middle[e]]
			*at = at.Add(m.V[c].Scale(1.0 / 8))
		}
	}
	for i, v := range m.V {
		n := float64(valence[i])
		w := 3.0/8 + math.Cos(2*math.Pi/n)/4
		beta := (5.0/8 - w*w) / n
		out.V[i] = v.Scale(1 - n*beta).Add(around[i].Scale(beta))
	}
	for _, t := range m.T {
		ab, bc, ca := middle[sideOf(t[0], t[1])], middle[sideOf(t[1], t[2])], middle[sideOf(t[2], t[0])]
		out.T = append(out.T, [3]int32{t[0], ab, ca}, [3]int32{t[1], bc, ab}, [3]int32{t[2], ca, bc}, [3]int32{ab, bc, ca})
	}
	return out
}

// TestLoopSubdivided: an icosahedron once subdivided, its vertices against the
// masks worked by hand. Its corners lie at 1, its edges' middles at cos(a) and
// the two corners facing an edge at cos(b) out along it, and the mean of a
// corner's neighbours at 1/sqrt(5).
func TestLoopSubdivided(t *testing.T) {
	m := icosahedron()
	fine := loopSubdivided(m)
	if len(m.T) != 20 || len(fine.T) != 80 || len(fine.V) != 42 {
		t.Fatalf("%d triangles, then %d of %d vertices", len(m.T), len(fine.T), len(fine.V))
	}
	if err := fine.Check(); err != nil {
		t.Fatal(err)
	}
	w := 3.0/8 + math.Cos(2*math.Pi/5)/4
	corner := 1 - (5.0/8-w*w)*(1-1/math.Sqrt(5))
	middle := 0.75*math.Cos(math.Atan(2)/2) + 0.25*math.Sqrt((5-math.Sqrt(5))/10)
	radius := m.V[0].Len()
	for i, v := range fine.V {
		want := radius * middle
		if i < len(m.V) {
			want = radius * corner
		}
		if math.Abs(v.Len()-want) > 1e-9 {
			t.Errorf("vertex %d at %.6f from the middle, want %.6f", i, v.Len(), want)
		}
	}
}

// icosahedron has edges of 2.
func icosahedron() *Mesh {
	g := (1 + math.Sqrt(5)) / 2
	m := &Mesh{}
	for _, s := range [4][2]float64{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
		m.V = append(m.V, geom.V(0, s[0], s[1]*g), geom.V(s[0], s[1]*g, 0), geom.V(s[1]*g, 0, s[0]))
	}
	beside := func(i, j int) bool { return math.Abs(m.V[i].Dist(m.V[j])-2) < 1e-9 }
	for i := range m.V {
		for j := range i {
			for k := range j {
				if !beside(i, j) || !beside(j, k) || !beside(k, i) {
					continue
				}
				t := [3]int32{int32(i), int32(j), int32(k)}
				if m.V[i].Dot(m.V[j].Cross(m.V[k])) < 0 {
					t[1], t[2] = t[2], t[1]
				}
				m.T = append(m.T, t)
			}
		}
	}
	return m
}
