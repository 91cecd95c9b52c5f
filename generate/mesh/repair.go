package mesh

import (
	"math"

	"buckwright/generate/geom"
)

// Report is what Diagnose found in a mesh. Edges are given by their ends, so
// that a message can say where to look; lengths in mm.
type Report struct {
	Triangles, Vertices int // vertices that coincide are counted once
	Bounds              geom.Box
	Volume              float64 // mm³, signed: negative when most triangles face in

	Open        [][2]geom.Vec // edges of one triangle only: rims of holes
	Flipped     [][2]geom.Vec // edges whose two triangles face opposite ways
	NonManifold [][2]geom.Vec // edges of three triangles or more
	Degenerate  []geom.Vec    // middles of triangles without area
	Duplicate   []geom.Vec    // middles of triangles that repeat another

	Shells   int        // pieces that hang together by edges
	Internal []geom.Box // shells that face out inside another; looked for in closed meshes only
	Crossing []geom.Vec // a few points where triangles pass through each other
}

// Clean reports whether the mesh is the boundary of a solid as it stands.
func (r Report) Clean() bool {
	return len(r.Open)+len(r.Flipped)+len(r.NonManifold)+len(r.Degenerate)+
		len(r.Duplicate)+len(r.Internal)+len(r.Crossing) == 0 && r.Volume > 0
}

// Diagnose looks for what keeps a mesh from bounding a solid. Vertices that
// coincide within a millionth of the mesh's size count as one.
func Diagnose(m *Mesh) Report {
	w := m.Weld(repairTolerance(m))
	r := Report{Triangles: len(m.T), Vertices: len(w.V), Bounds: m.Bounds(), Volume: m.Volume()}
	for i, t := range w.T {
		if repairPointed(t) || repairFlat(w, t) {
			r.Degenerate = append(r.Degenerate, w.middle(i))
		}
	}
	w = w.without(func(i int) bool { return repairPointed(w.T[i]) })
	_, repeat := repairDuplicates(w)
	for i := range w.T {
		if repeat[i] {
			r.Duplicate = append(r.Duplicate, w.middle(i))
		}
	}
	w = w.without(func(i int) bool { return repeat[i] })
	r.edges(w)
	r.Shells = len(repairShells(w))
	if len(r.Open)+len(r.NonManifold) == 0 {
		repairTurn(w)
		_, r.Internal = repairStack(w)
	}
	r.Crossing = repairCrossings(NewBVH(w), w, repairMostCrossings)
	return r
}

// repairTolerance is the gap over which vertices are joined: a millionth of the
// mesh's size, which is what single precision leaves of a coordinate.
func repairTolerance(m *Mesh) float64 {
	if len(m.V) == 0 {
		return 0
	}
	return 1e-6 * m.Bounds().Size().Len()
}

// Weld joins vertices no farther than tol mm apart and drops those that no
// triangle uses; the first of a group stays where it is. Triangles keep their order,
// also those that lose their area by it.
func (m *Mesh) Weld(tol float64) *Mesh {
	type cell [3]int64
	b := m.Bounds()
	size := max(2*tol, 1e-9, 1e-12*b.Min.Len(), 1e-12*b.Max.Len()) // small, but countable
	key := func(p geom.Vec, i int) cell {
		d := [3]float64{tol, tol, tol}
		for a := range 3 {
			if i>>a&1 == 0 {
				d[a] = -tol
			}
		}
		return cell{
			int64(math.Floor((p.X + d[0]) / size)),
			int64(math.Floor((p.Y + d[1]) / size)),
			int64(math.Floor((p.Z + d[2]) / size)),
		}
	}
	out := &Mesh{T: make([][3]int32, len(m.T))}
	grid := make(map[cell][]int32, len(m.V))
	to := make([]int32, len(m.V))
	for i := range to {
		to[i] = -1
	}
	join := func(p geom.Vec) int32 {
		for i := range 8 {
			for _, j := range grid[key(p, i)] {
				if out.V[j].Dist(p) <= tol {
					return j
				}
			}
		}
		j := int32(len(out.V))
		out.V = append(out.V, p)
		c := cell{int64(math.Floor(p.X / size)), int64(math.Floor(p.Y / size)), int64(math.Floor(p.Z / size))}
		grid[c] = append(grid[c], j)
		return j
	}
	for i, t := range m.T {
		for k, v := range t {
			if to[v] < 0 {
				to[v] = join(m.V[v])
			}
			out.T[i][k] = to[v]
		}
	}
	return out
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
