package mesh

import (
	"fmt"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Fault is why a mesh is not sound, and where.
type Fault struct {
	What string   // "open edge", "triangles cross", ...
	At   geom.Vec // mm
	Tri  [2]int32 // triangles concerned, -1 if none
}

func (f *Fault) Error() string {
	return fmt.Sprintf("mesh: %s at (%.4f, %.4f, %.4f)", f.What, f.At.X, f.At.Y, f.At.Z)
}

// gateNear is the least distance of two vertices, in mm.
const gateNear = 1e-3

// Check reports the first reason why the mesh is not sound, as a *Fault; nil
// when it is. It looks at the coordinates as float32, which is what an STL file
// will hold, and computes exactly. A sound mesh has at least one triangle; every
// directed edge comes once and its opposite once; the triangles at a vertex form
// one fan; no triangle is degenerate; no two vertices are nearer than 1 µm; no
// two triangles meet except in what they share; the volume is positive.
func (m *Mesh) Check() error {
	g := newGate(m)
	for _, test := range []func() *Fault{g.indices, g.edges, g.fans, g.slivers, g.near, g.crossings, g.volume} {
		if f := test(); f != nil {
			return f
		}
	}
	return nil
}

// gate is a mesh as a file will hold it.
type gate struct {
	v []geom.Vec // rounded to float32
	t [][3]int32
	x gateExact
}

func newGate(m *Mesh) *gate {
	g := &gate{v: make([]geom.Vec, len(m.V)), t: m.T}
	for i, p := range m.V {
		g.v[i] = geom.Vec{X: float64(float32(p.X)), Y: float64(float32(p.Y)), Z: float64(float32(p.Z))}
	}
	g.x = newGateExact(g.v)
	return g
}

func (g *gate) fault(what string, at geom.Vec, tri ...int32) *Fault {
	f := &Fault{What: what, At: at, Tri: [2]int32{-1, -1}}
	copy(f.Tri[:], tri)
	return f
}

// middle is the centroid of triangle i.
func (g *gate) middle(i int) geom.Vec {
	t := g.t[i]
	return g.v[t[0]].Add(g.v[t[1]]).Add(g.v[t[2]]).Scale(1.0 / 3)
}

func (g *gate) indices() *Fault {
	if len(g.t) == 0 {
		return g.fault("no triangles", geom.Vec{})
	}
	used := make([]bool, len(g.v))
	for i, t := range g.t {
		for _, v := range t {
			if v < 0 || int(v) >= len(g.v) {
				return g.fault("a triangle names a vertex that does not exist", geom.Vec{}, int32(i))
			}
			used[v] = true
		}
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			return g.fault("a triangle repeats a vertex", g.v[t[0]], int32(i))
		}
	}
	for i, p := range g.v {
		if !p.Finite() {
			return g.fault("a vertex is not a number", geom.Vec{})
		}
		if !used[i] {
			return g.fault("a vertex is in no triangle", p)
		}
	}
	return nil
}

// gateEdge is a directed edge from vertex a to b, of triangle tri.
type gateEdge struct{ a, b, tri int32 }

// sorted lists all directed edges by their lower vertex, their upper, and which
// way they run.
func (g *gate) sorted() []gateEdge {
	out := make([]gateEdge, 0, 3*len(g.t))
	for i, t := range g.t {
		for k := range 3 {
			out = append(out, gateEdge{t[k], t[(k+1)%3], int32(i)})
		}
	}
	key := func(e gateEdge) uint64 { return uint64(min(e.a, e.b))<<32 | uint64(max(e.a, e.b)) }
	slices.SortFunc(out, func(x, y gateEdge) int {
		if kx, ky := key(x), key(y); kx != ky {
			if kx < ky {
				return -1
			}
			return 1
		}
		if x.a != y.a {
			return int(x.a - y.a)
		}
		return int(x.tri - y.tri)
	})
	return out
}

// edges looks for edges that are not shared by two triangles that agree which
// side is out.
func (g *gate) edges() *Fault {
	s := g.sorted()
	for i := 0; i < len(s); {
		e := s[i]
		j := i + 1
		for j < len(s) && min(s[j].a, s[j].b) == min(e.a, e.b) && max(s[j].a, s[j].b) == max(e.a, e.b) {
			j++
		}
		at := g.v[e.a].Lerp(g.v[e.b], 0.5)
		switch {
		case j-i == 1:
			return g.fault("open edge", at, e.tri)
		case j-i > 2:
			return g.fault("an edge with more than two triangles", at, e.tri, s[i+1].tri)
		case e.a == s[i+1].a:
			return g.fault("neighbours that face opposite ways", at, e.tri, s[i+1].tri)
		}
		i = j
	}
	return nil
}

// fans looks for vertices where two or more fans of triangles touch.
func (g *gate) fans() *Fault {
	valence := make([]int32, len(g.v))
	first := make([]int32, len(g.v)) // a triangle of each vertex
	for i, t := range g.t {
		for _, v := range t {
			valence[v]++
			first[v] = int32(i)
		}
	}
	opposite := g.opposites()
	for v := range g.v {
		i, n := first[v], int32(0)
		for {
			n++
			k := gateCorner(g.t[i], int32(v))
			i = opposite[i][k] // across the edge that leaves v
			if i == first[v] || n > valence[v] {
				break
			}
		}
		if n != valence[v] {
			return g.fault("two fans of triangles touch in a vertex", g.v[v], first[v])
		}
	}
	return nil
}

// opposites gives, for edge k of each triangle (from its corner k), the triangle
// on the other side.
func (g *gate) opposites() [][3]int32 {
	out := make([][3]int32, len(g.t))
	s := g.sorted()
	for i := 0; i+1 < len(s); i += 2 {
		a, b := s[i], s[i+1]
		out[a.tri][gateCorner(g.t[a.tri], a.a)] = b.tri
		out[b.tri][gateCorner(g.t[b.tri], b.a)] = a.tri
	}
	return out
}

// gateCorner is which corner of t vertex v is.
func gateCorner(t [3]int32, v int32) int {
	switch v {
	case t[0]:
		return 0
	case t[1]:
		return 1
	}
	return 2
}

// slivers looks for triangles without area.
func (g *gate) slivers() *Fault {
	for i, t := range g.t {
		if g.x.collinear(t[0], t[1], t[2]) {
			return g.fault("a triangle without area", g.middle(i), int32(i))
		}
	}
	return nil
}

// near looks for vertices that nearly coincide.
func (g *gate) near() *Fault {
	// Cells three times the distance wide, so that few pairs straddle.
	const cell = 3 * gateNear
	key := func(p geom.Vec) [3]int64 {
		return [3]int64{int64(math.Floor(p.X / cell)), int64(math.Floor(p.Y / cell)), int64(math.Floor(p.Z / cell))}
	}
	at := make(map[[3]int64][]int32, len(g.v))
	for i, p := range g.v {
		c := key(p)
		lo := key(p.Sub(geom.Vec{X: gateNear, Y: gateNear, Z: gateNear}))
		hi := key(p.Add(geom.Vec{X: gateNear, Y: gateNear, Z: gateNear}))
		for x := lo[0]; x <= hi[0]; x++ {
			for y := lo[1]; y <= hi[1]; y++ {
				for z := lo[2]; z <= hi[2]; z++ {
					for _, j := range at[[3]int64{x, y, z}] {
						if p.Dist(g.v[j]) < gateNear {
							return g.fault("two vertices nearer than a micrometre", p)
						}
					}
				}
			}
		}
		at[c] = append(at[c], int32(i))
	}
	return nil
}

func (g *gate) volume() *Fault {
	m := Mesh{V: g.v, T: g.t}
	if v := m.Volume(); !(v > 0) {
		return g.fault("volume is not positive", m.Bounds().Center())
	}
	return nil
}
