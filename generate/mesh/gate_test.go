package mesh

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

// gateBox is a box with its corners numbered as Box.Corner does.
func gateBox(lo, hi geom.Vec) *Mesh {
	m := &Mesh{}
	for i := range 8 {
		m.V = append(m.V, geom.Box{Min: lo, Max: hi}.Corner(i))
	}
	m.T = [][3]int32{
		{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6},
		{0, 1, 5}, {0, 5, 4}, {2, 6, 7}, {2, 7, 3},
		{0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5},
	}
	return m
}

// gateJoin puts meshes side by side without welding.
func gateJoin(all ...*Mesh) *Mesh {
	out := &Mesh{}
	for _, m := range all {
		base := int32(len(out.V))
		out.V = append(out.V, m.V...)
		for _, t := range m.T {
			out.T = append(out.T, [3]int32{t[0] + base, t[1] + base, t[2] + base})
		}
	}
	return out
}

// gateWeld makes vertex b the same as a.
func gateWeld(m *Mesh, a, b int32) *Mesh {
	for i, t := range m.T {
		for k, v := range t {
			if v == b {
				v = a
			}
			if v > b {
				v--
			}
			m.T[i][k] = v
		}
	}
	m.V = append(m.V[:b], m.V[b+1:]...)
	return m
}

func gateInsideOut(m *Mesh) *Mesh {
	for i, t := range m.T {
		m.T[i] = [3]int32{t[0], t[2], t[1]}
	}
	return m
}

// gateTent is a box whose top has a vertex in the middle, put at p.
func gateTent(p geom.Vec) *Mesh {
	m := gateBox(geom.V(0, 0, 0), geom.V(10, 10, 10))
	m.V = append(m.V, p)
	m.T = append(m.T[:2:2], m.T[4:]...)
	for _, e := range [4][2]int32{{4, 5}, {5, 7}, {7, 6}, {6, 4}} {
		m.T = append(m.T, [3]int32{e[0], e[1], 8})
	}
	return m
}

func TestCheckAcceptsSoundMeshes(t *testing.T) {
	for name, m := range map[string]*Mesh{
		"box":          gateBox(geom.V(0, 0, 0), geom.V(10, 10, 10)),
		"flat top":     gateTent(geom.V(5, 5, 10)),
		"dented top":   gateTent(geom.V(5, 5, 1)),
		"two apart":    gateJoin(gateBox(geom.V(0, 0, 0), geom.V(1, 1, 1)), gateBox(geom.V(2, 0, 0), geom.V(3, 1, 1))),
		"with a void":  gateJoin(gateBox(geom.V(0, 0, 0), geom.V(9, 9, 9)), gateInsideOut(gateBox(geom.V(3, 3, 3), geom.V(6, 6, 6)))),
		"off the grid": gateBox(geom.V(0.1, 0.2, 0.3), geom.V(1000.7, 9.1, 1e-2)).mirrored(),
		"a hair apart": gateJoin(gateBox(geom.V(0, 0, 0), geom.V(1, 1, 1)), gateBox(geom.V(1.002, 0, 0), geom.V(3, 1, 1))),
	} {
		if err := m.Check(); err != nil {
			t.Errorf("%s: Check = %v, want none", name, err)
		}
	}
}

// mirrored turns a mesh whose volume came out negative.
func (m *Mesh) mirrored() *Mesh {
	if m.Volume() < 0 {
		return gateInsideOut(m)
	}
	return m
}

func TestCheckRefusesBrokenMeshes(t *testing.T) {
	box := func() *Mesh { return gateBox(geom.V(0, 0, 0), geom.V(10, 10, 10)) }
	far := geom.V(10, 10, 10)
	tests := []struct {
		name, what string
		mesh       func() *Mesh
	}{
		{"empty", "no triangles", func() *Mesh { return &Mesh{} }},
		{"hole", "open edge", func() *Mesh { m := box(); m.T = m.T[1:]; return m }},
		{"flipped triangle", "neighbours that face opposite ways", func() *Mesh {
			m := box()
			m.T[3] = [3]int32{4, 6, 7}
			return m
		}},
		{"inside out", "volume is not positive", func() *Mesh { return gateInsideOut(box()) }},
		{"duplicate", "an edge with more than two triangles", func() *Mesh { m := box(); m.T = append(m.T, m.T[0]); return m }},
		{"repeated vertex", "a triangle repeats a vertex", func() *Mesh { m := box(); m.T[0][1] = 0; return m }},
		{"bad index", "a triangle names a vertex that does not exist", func() *Mesh { m := box(); m.T[0][1] = 8; return m }},
		{"negative index", "a triangle names a vertex that does not exist", func() *Mesh { m := box(); m.T[0][1] = -1; return m }},
		{"loose vertex", "a vertex is in no triangle", func() *Mesh { m := box(); m.V = append(m.V, far.Scale(2)); return m }},
		{"not a number", "a vertex is not a number", func() *Mesh { m := box(); m.V[2].Y = math.NaN(); return m }},
		{"too large for float32", "a vertex is not a number", func() *Mesh { m := box(); m.V[2].Y = 1e39; return m }},
		{"corner to corner", "two fans of triangles touch in a vertex", func() *Mesh {
			return gateWeld(gateJoin(box(), gateBox(far, far.Scale(2))), 7, 8)
		}},
		{"edge to edge", "an edge with more than two triangles", func() *Mesh {
			m := gateJoin(box(), gateBox(geom.V(10, 10, 0), geom.V(20, 20, 10)))
			return gateWeld(gateWeld(m, 7, 12), 3, 8)
		}},
		{"corners coincide", "two vertices nearer than a micrometre", func() *Mesh { return gateJoin(box(), gateBox(far, far.Scale(2))) }},
		{"corners nearly coincide", "two vertices nearer than a micrometre", func() *Mesh {
			return gateJoin(box(), gateBox(geom.V(10.0005, 10, 10), far.Scale(2)))
		}},
		{"through each other", "triangles cross", func() *Mesh { return gateJoin(box(), gateBox(geom.V(5, 5, 5), geom.V(15, 15, 15))) }},
		{"one inside the skin of another", "triangles cross", func() *Mesh { return gateJoin(box(), gateBox(geom.V(4, 4, 10), geom.V(6, 6, 12))) }},
		{"corner on a face", "triangles cross", func() *Mesh {
			turn := geom.RotateX(0.6).Then(geom.RotateY(0.5))
			b := gateBox(geom.V(0, 0, 0), geom.V(2, 2, 2)).Transform(turn)
			low := b.Bounds().Min.Z
			for i := range b.V { // the lowest corner lands exactly on z = 10
				b.V[i] = b.V[i].Add(geom.V(3, 3, 10-low))
			}
			return gateJoin(box(), b)
		}},
		{"spike through the floor", "triangles cross", func() *Mesh { return gateTent(geom.V(5, 5, -1)) }},
		{"folded flat", "triangles cross", func() *Mesh { return gateTent(geom.V(12, 5, 10)) }},
		{"sliver", "a triangle without area", func() *Mesh { return gateTent(geom.V(10, 5, 10)) }},
		{"sliver after rounding", "a triangle without area", func() *Mesh { return gateTent(geom.V(10-1e-8, 5, 10)) }},
	}
	for _, tt := range tests {
		err := tt.mesh().Check()
		var f *Fault
		if !errors.As(err, &f) || f.What != tt.what {
			t.Errorf("%s: Check = %v, want %q", tt.name, err, tt.what)
		}
	}
}

// TestCrossAgainstSeparatingAxes compares with the separating axis theorem, on
// small whole numbers so that touching and coplanar pairs are common.
func TestCrossAgainstSeparatingAxes(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	met := 0
	for range 200000 {
		v := make([]geom.Vec, 6)
		for i := range v {
			v[i] = geom.V(float64(r.IntN(5)), float64(r.IntN(5)), float64(r.IntN(1+r.IntN(5))))
		}
		g := newGate(&Mesh{V: v, T: [][3]int32{{0, 1, 2}, {3, 4, 5}}})
		if g.x.collinear(0, 1, 2) || g.x.collinear(3, 4, 5) {
			continue
		}
		want := !gateSeparated([3]geom.Vec(v[:3]), [3]geom.Vec(v[3:]))
		if got := g.cross(0, 1); got != want {
			t.Fatalf("cross(%v) = %v, want %v", v, got, want)
		}
		if want {
			met++
		}
	}
	if met < 1000 {
		t.Errorf("only %d pairs met", met)
	}
}

// gateSeparated reports that a plane keeps two triangles strictly apart. All
// numbers are small integers, so nothing is rounded.
func gateSeparated(s, t [3]geom.Vec) bool {
	edges := func(t [3]geom.Vec) [3]geom.Vec {
		return [3]geom.Vec{t[1].Sub(t[0]), t[2].Sub(t[1]), t[0].Sub(t[2])}
	}
	es, et := edges(s), edges(t)
	ns, nt := es[0].Cross(es[1]), et[0].Cross(et[1])
	axes := []geom.Vec{ns, nt}
	for i := range 3 {
		axes = append(axes, ns.Cross(es[i]), nt.Cross(et[i]))
		for j := range 3 {
			axes = append(axes, es[i].Cross(et[j]))
		}
	}
	span := func(t [3]geom.Vec, a geom.Vec) (lo, hi float64) {
		x, y, z := t[0].Dot(a), t[1].Dot(a), t[2].Dot(a)
		return min(x, y, z), max(x, y, z)
	}
	for _, a := range axes {
		slo, shi := span(s, a)
		tlo, thi := span(t, a)
		if shi < tlo || thi < slo {
			return true
		}
	}
	return false
}

// TestSideAgainstBigNumbers compares the fast integer path, with points made
// coplanar or nearly so, with rational arithmetic.
func TestSideAgainstBigNumbers(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	grid := func() float64 { return math.Round((r.Float64()-0.5)*200*splitInverse) / splitInverse }
	for range 20000 {
		a, b, c := geom.V(grid(), grid(), grid()), geom.V(grid(), grid(), grid()), geom.V(grid(), grid(), grid())
		d := a.Add(b.Sub(a).Scale(math.Round(r.Float64() * 2))).Add(c.Sub(a).Scale(math.Round(r.Float64()*2) - 1))
		if r.IntN(2) == 0 {
			d.X += float64(r.IntN(3)-1) / splitInverse
		}
		x := newGateExact([]geom.Vec{a, b, c, d})
		if got, want := x.side(0, 1, 2, 3), x.slow(0, 1, 2, 3); got != want {
			t.Fatalf("side(%v, %v, %v, %v) = %d, want %d", a, b, c, d, got, want)
		}
	}
}

const splitInverse = 1 / splitQuantum

func TestStatsOfBoxes(t *testing.T) {
	m := gateJoin(gateBox(geom.V(0, 0, 0), geom.V(1, 2, 2)), gateBox(geom.V(3, 0, 0), geom.V(4, 1, 1)))
	want := Stats{Vertices: 16, Edges: 36, Triangles: 24, Components: 2, Euler: 4, Genus: 0, Longest: math.Sqrt(8)}
	if got := m.Stats(); got != want {
		t.Errorf("Stats = %+v, want %+v", got, want)
	}
}
