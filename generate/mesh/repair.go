package mesh

import (
	"cmp"
	"slices"

	"buckwright/generate/geom"
)

// Report is what Diagnose found in a mesh. Edges are given by their ends, so
// that a message can say where to look; lengths in mm.
type Report struct {
	Triangles, Vertices int // vertices that coincide are counted once
	Bounds              geom.Box
	Volume              float64 // mm³, signed: negative when most triangles face in

	Open        [][2]geom.Vec // edges of one triangle only: rims of holes
	Holes       []Hole        // what Heal closes, the widest first
	Flipped     [][2]geom.Vec // edges whose two triangles face opposite ways
	NonManifold [][2]geom.Vec // edges of three triangles or more
	Degenerate  []geom.Vec    // middles of triangles without area
	Duplicate   []geom.Vec    // middles of triangles that repeat another

	Shells   int        // pieces that hang together by edges
	Internal []geom.Box // shells that face out inside another; looked for in closed meshes only
	Crossing []geom.Vec // a few points where triangles pass through each other
}

// Hole is a place where the surface is missing, and the smallest skin over it.
type Hole struct {
	At    geom.Vec // the middle of its rim
	Width float64  // mm, 4 area / rim: the diameter of a round one, twice the gape of a slit
	Area  float64  // mm², of the skin
}

// Clean reports whether the mesh is the boundary of a solid as it stands.
func (r Report) Clean() bool {
	return len(r.Open)+len(r.Flipped)+len(r.NonManifold)+len(r.Degenerate)+
		len(r.Duplicate)+len(r.Internal)+len(r.Crossing) == 0 && r.Volume > 0
}

// Diagnose looks for what keeps a mesh from bounding a solid. Vertices that
// coincide within a millionth of the mesh's size count as one. Of a heap of more
// than MostShells pieces no more is told than how many there are.
func Diagnose(m *Mesh) Report {
	w := m.Weld(repairTolerance(m))
	r := Report{Triangles: len(m.T), Vertices: len(w.V), Bounds: m.Bounds(), Volume: m.Volume()}
	for i, t := range w.T {
		if repairPointed(t) || repairFlat(w, t) {
			r.Degenerate = append(r.Degenerate, w.middle(i))
		}
	}
	w = w.without(func(i int) bool { return repairPointed(w.T[i]) })
	if _, r.Shells = repairPieces(w); r.Shells > MostShells {
		return r
	}
	surplus, repeat := repairDuplicates(w)
	for i := range w.T {
		if repeat[i] {
			r.Duplicate = append(r.Duplicate, w.middle(i))
		}
	}
	r.edges(w.without(func(i int) bool { return repeat[i] }))
	w = w.without(func(i int) bool { return surplus[i] })
	repairTurn(w)
	if len(r.Open)+len(r.NonManifold) == 0 {
		_, r.Internal = repairStack(w)
	}
	r.Holes = repairHoles(w)
	r.Crossing = repairCrossings(NewBVH(w), w, repairMostCrossings)
	return r
}

// MostShells is how many shells Diagnose looks at more closely, as the time rises
// with their square; more than that are a heap of triangles.
const MostShells = 10_000

// repairHoles lists the holes of m, the widest first.
func repairHoles(m *Mesh) []Hole {
	var out []Hole
	given := len(m.T)
	loops := repairLoops(m)
	long := repairWhole(loops)
	for _, loop := range loops {
		if len(loop) < 3 {
			continue
		}
		var h Hole
		rim, last := 0.0, m.V[loop[len(loop)-1]]
		for _, v := range loop {
			h.At = h.At.Add(m.V[v].Scale(1 / float64(len(loop))))
			rim += m.V[v].Dist(last)
			last = m.V[v]
		}
		repairSkin(m, loop, long)
		for i := given; i < len(m.T); i++ {
			a, b, c := m.Corners(i)
			h.Area += b.Sub(a).Cross(c.Sub(a)).Len() / 2
		}
		m.T = m.T[:given]
		if rim > 0 {
			h.Width = 4 * h.Area / rim
			out = append(out, h)
		}
	}
	slices.SortStableFunc(out, func(a, b Hole) int { return cmp.Compare(b.Width, a.Width) })
	return out
}

// repairTolerance is the gap over which vertices are joined: a millionth of the
// mesh's size, which is what single precision leaves of a coordinate.
func repairTolerance(m *Mesh) float64 {
	if len(m.V) == 0 {
		return 0
	}
	return 1e-6 * m.Bounds().Size().Len()
}

// without is the mesh less the triangles that drop picks; vertices stay.
func (m *Mesh) without(drop func(i int) bool) *Mesh {
	out := &Mesh{V: m.V, T: make([][3]int32, 0, len(m.T))}
	for i, t := range m.T {
		if !drop(i) {
			out.T = append(out.T, t)
		}
	}
	return out
}

// middle is the centroid of triangle i.
func (m *Mesh) middle(i int) geom.Vec {
	a, b, c := m.Corners(i)
	return a.Add(b).Add(c).Scale(1.0 / 3)
}

// repairPointed reports a triangle two corners of which are one.
func repairPointed(t [3]int32) bool { return t[0] == t[1] || t[1] == t[2] || t[2] == t[0] }

// repairFlat reports a triangle whose corners lie on a line.
func repairFlat(m *Mesh, t [3]int32) bool {
	tri := newBVHTri(m.V[t[0]], m.V[t[1]], m.V[t[2]], 0)
	return tri.sliver
}
