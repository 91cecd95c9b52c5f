package mesh

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"buckwright/generate/geom"
)

// bvhBox is a closed box of 12 triangles that face out.
func bvhBox(lo, hi geom.Vec) *Mesh {
	m := &Mesh{}
	for i := range 8 {
		p := lo
		if i&1 != 0 {
			p.X = hi.X
		}
		if i&2 != 0 {
			p.Y = hi.Y
		}
		if i&4 != 0 {
			p.Z = hi.Z
		}
		m.V = append(m.V, p)
	}
	for _, q := range [6][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.T = append(m.T, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

// bvhBlob is a closed, lumpy, star-shaped body of about 2 n² triangles with
// undercuts, radius near 20.
func bvhBlob(n int) *Mesh {
	m := &Mesh{}
	at := func(i, j int) geom.Vec {
		u, v := math.Pi*float64(i)/float64(n), 2*math.Pi*float64(j%(2*n))/float64(2*n)
		d := geom.V(math.Sin(u)*math.Cos(v), math.Sin(u)*math.Sin(v), math.Cos(u))
		r := 20 + 3*math.Sin(5*d.X+1)*math.Cos(4*d.Y) + 2*math.Sin(7*d.Z)
		return d.Scale(r)
	}
	for i := 1; i < n; i++ {
		for j := range 2 * n {
			m.V = append(m.V, at(i, j))
		}
	}
	top, bottom := int32(len(m.V)), int32(len(m.V)+1)
	m.V = append(m.V, at(0, 0), at(n, 0))
	id := func(i, j int) int32 {
		switch i {
		case 0:
			return top
		case n:
			return bottom
		}
		return int32((i-1)*2*n + j%(2*n))
	}
	for i := range n {
		for j := range 2 * n {
			a, b, c, d := id(i, j), id(i+1, j), id(i+1, j+1), id(i, j+1)
			if i+1 < n {
				m.T = append(m.T, [3]int32{a, b, c})
			}
			if i > 0 {
				m.T = append(m.T, [3]int32{a, c, d})
			}
		}
	}
	return m
}

func bvhPoint(r *rand.Rand, b geom.Box) geom.Vec {
	s := b.Size()
	return b.Min.Add(geom.V(r.Float64()*s.X, r.Float64()*s.Y, r.Float64()*s.Z))
}

// bvhDistSlow is the distance from p to the nearest triangle of m, by a search
// over barycentric coordinates that shares nothing with the code under test.
func bvhDistSlow(m *Mesh, p geom.Vec) float64 {
	best := math.Inf(1)
	for i := range m.T {
		a, b, c := m.Corners(i)
		best = min(best, bvhTriSlow(p, a, b, c))
	}
	return best
}

// bvhTriSlow minimises a convex function twice over: along ab and towards c.
func bvhTriSlow(p, a, b, c geom.Vec) float64 {
	return golden(0, 1, func(u float64) float64 {
		q := a.Lerp(b, u)
		return golden(0, 1, func(v float64) float64 { return p.Dist(q.Lerp(c, v)) })
	})
}

func golden(lo, hi float64, f func(float64) float64) float64 {
	g := (math.Sqrt(5) - 1) / 2
	x, y := hi-g*(hi-lo), lo+g*(hi-lo)
	fx, fy := f(x), f(y)
	for range 60 {
		if fx < fy {
			hi, y, fy = y, x, fx
			x = hi - g*(hi-lo)
			fx = f(x)
		} else {
			lo, x, fx = x, y, fy
			y = lo + g*(hi-lo)
			fy = f(y)
		}
	}
	return min(f(lo), f(hi), fx, fy)
}

func TestNearestAgainstSearch(t *testing.T) {
	m := bvhBlob(6)
	b := NewBVH(m)
	r := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		p := bvhPoint(r, m.Bounds().Grow(10))
		q, tri, d := b.Nearest(p)
		if want := bvhDistSlow(m, p); math.Abs(d-want) > 1e-6 {
			t.Fatalf("Nearest(%v) = %v mm, search gives %v", p, d, want)
		}
		if e := p.Dist(q); math.Abs(d-e) > 1e-12 {
			t.Errorf("Nearest(%v): point is %v away, distance says %v", p, e, d)
		}
		x, y, z := m.Corners(tri)
		if e := bvhTriSlow(q, x, y, z); e > 1e-6 {
			t.Errorf("Nearest(%v): point lies %v off triangle %d", p, e, tri)
		}
	}
}

func TestNearestOverAllTriangles(t *testing.T) {
	m := bvhBlob(60)
	b := NewBVH(m)
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		p := bvhPoint(r, m.Bounds().Grow(5))
		want := math.Inf(1)
		for k := range b.tris {
			want = min(want, b.tris[k].dist2(p))
		}
		if _, _, d := b.Nearest(p); math.Abs(d-math.Sqrt(want)) > 1e-12 {
			t.Fatalf("Nearest(%v) = %v, every triangle: %v", p, d, math.Sqrt(want))
		}
		if _, tri, _ := b.NearestWithin(p, math.Sqrt(want)*0.999); tri >= 0 {
			t.Errorf("NearestWithin(%v) found triangle %d beyond the radius", p, tri)
		}
		if _, tri, _ := b.NearestWithin(p, math.Sqrt(want)*1.001); tri < 0 {
			t.Errorf("NearestWithin(%v) missed a triangle inside the radius", p)
		}
	}
}

func TestThinTriangle(t *testing.T) {
	for _, tt := range []struct {
		a, b, c, p geom.Vec
		want       float64
	}{
		{geom.V(0, 0, 0), geom.V(10, 0, 0), geom.V(4, 0, 0), geom.V(6, 3, 4), 5},
		{geom.V(0, 0, 0), geom.V(0, 0, 0), geom.V(10, 0, 0), geom.V(13, 4, 0), 5},
		{geom.V(1, 1, 1), geom.V(1, 1, 1), geom.V(1, 1, 1), geom.V(1, 3, 1), 2},
		{geom.V(0, 0, 0), geom.V(10, 0, 0), geom.V(5, 1e-12, 0), geom.V(5, 0, 2), 2},
	} {
		tri := newBVHTri(tt.a, tt.b, tt.c, 0)
		q, _ := tri.closest(tt.p)
		if d := math.Sqrt(tri.dist2(tt.p)); math.Abs(d-tt.want) > 1e-12 || math.Abs(q.Dist(tt.p)-tt.want) > 1e-12 {
			t.Errorf("triangle %v %v %v to %v: %v, closest %v, want %v", tt.a, tt.b, tt.c, tt.p, d, q, tt.want)
		}
	}
}

// collected lists the triangles that come within ball.R of ball.C, in rising order.
func collected(b *BVH, ball geom.Ball) []int32 {
	var out []int32
	for _, c := range b.collect(nil, ball, math.MaxInt) {
		out = append(out, b.tris[c.k].id)
	}
	slices.Sort(out)
	return out
}

func TestCollect(t *testing.T) {
	m := bvhBlob(20)
	b := NewBVH(m)
	r := rand.New(rand.NewPCG(5, 6))
	for range 50 {
		ball := geom.Ball{C: bvhPoint(r, m.Bounds()), R: 12 * r.Float64()}
		got := collected(b, ball)
		n := 0
		for i := range m.T {
			x, y, z := m.Corners(i)
			tri := newBVHTri(x, y, z, 0)
			if tri.dist2(ball.C) <= ball.R*ball.R {
				if n >= len(got) || got[n] != int32(i) {
					t.Fatalf("collected(%v): triangle %d is missing or out of order", ball, i)
				}
				n++
			}
		}
		if n != len(got) {
			t.Fatalf("collected(%v) = %d triangles, want %d", ball, len(got), n)
		}
	}
}

func TestRayThroughBox(t *testing.T) {
	b := NewBVH(bvhBox(geom.V(0, 0, 0), geom.V(10, 20, 30)))
	for _, tt := range []struct {
		o, d geom.Vec
		want []float64
	}{
		{geom.V(3, 4, -5), geom.V(0, 0, 1), []float64{5, 35}},
		{geom.V(3, 4, 5), geom.V(0, 0, 1), []float64{25}},
		{geom.V(3, 4, 5), geom.V(0, 0, -2), []float64{2.5}},
		{geom.V(-1, 6, 5), geom.V(1, 1, 0), []float64{1, 11}},
		{geom.V(11, 4, 5), geom.V(0, 1, 0), nil},
	} {
		hits := b.Ray(tt.o, tt.d)
		if len(hits) != len(tt.want) {
			t.Errorf("Ray(%v, %v) = %v, want %v", tt.o, tt.d, hits, tt.want)
			continue
		}
		for i, h := range hits {
			if math.Abs(h.T-tt.want[i]) > 1e-12 {
				t.Errorf("Ray(%v, %v) = %v, want %v", tt.o, tt.d, hits, tt.want)
			}
		}
	}
}

func TestEmptyMesh(t *testing.T) {
	b := NewBVH(&Mesh{})
	if _, tri, d := b.Nearest(geom.V(1, 2, 3)); tri != -1 || !math.IsInf(d, 1) {
		t.Errorf("Nearest in nothing = triangle %d at %v", tri, d)
	}
	if len(collected(b, geom.Ball{R: 1e9})) != 0 || b.Ray(geom.Vec{}, geom.V(0, 0, 1)) != nil {
		t.Error("nothing holds triangles")
	}
	if d := Field(&Mesh{}).Dist(geom.Vec{}); !(d > 1e6) {
		t.Errorf("empty field is %v away", d)
	}
}

// Many equal triangles must not make the tree deep.
func TestTreeOfEqualTriangles(t *testing.T) {
	m := &Mesh{V: []geom.Vec{{}, {X: 1}, {Y: 1}}}
	for range 5000 {
		m.T = append(m.T, [3]int32{0, 1, 2})
	}
	if _, _, d := NewBVH(m).Nearest(geom.V(0.2, 0.2, 3)); d != 3 {
		t.Errorf("distance %v, want 3", d)
	}
}

// bvhShell gives points within reach mm of the surface of b, as a mesher asks for.
func bvhShell(b *BVH, n int, reach float64) []geom.Vec {
	r := rand.New(rand.NewPCG(7, 8))
	box := b.nodes[0].box.Grow(reach)
	var pts []geom.Vec
	for len(pts) < n {
		p := bvhPoint(r, box)
		if _, tri, _ := b.NearestWithin(p, reach); tri >= 0 {
			pts = append(pts, p)
		}
	}
	return pts
}

func BenchmarkNearest60k(b *testing.B) {
	tree := NewBVH(bvhBlob(173))
	pts := bvhShell(tree, 4096, 5)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		tree.Nearest(pts[i%len(pts)])
	}
}

func BenchmarkBuildBVH(b *testing.B) {
	m := bvhBlob(173)
	for b.Loop() {
		NewBVH(m)
	}
}
