// Package mesh turns solids into triangles and triangles into solids. All lengths
// are millimetres.
//
// Contour makes a mesh of a solid, Shell one of a thin wall between two. What they
// return passes Mesh.Check, which computes exactly: closed, every edge shared by two
// triangles that face out, no triangle without area, no two that meet except in what
// they share. CleanField and Field make a solid of a mesh, with its true distance; it
// can be grown, shrunk (Offset) and swept upwards (Release). Diagnose, Heal and Simplify
// make other people's meshes fit for that. The same input gives the same mesh on any
// number of processors.
//
// Not promised: features thinner than the least cell, and a true distance inside a mesh
// that passes through itself.
//
// A file's first word says what it is part of:
//
//	contour             the order of what follows
//	octree, qef         the cells, and the vertex of each
//	split, unfold       the first triangles
//	refine, divide      more of them, where they are too far from the solid
//	level               flats across an axis
//	thin, upright       fewer triangles, and a face that is a height field
//	sew, fill           two meshes that end on one flat
//	gate                what a sound mesh is
//	bvh, winding        the nearest triangle, and which side a point is on
//	field, release      the solid of a mesh, offset and swept
//	repair, simplify    meshes as they come
//	moved               vertices moved, as far as they can be
package mesh

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Mesh is an indexed triangle mesh, in mm. Triangles are counterclockwise seen
// from outside.
type Mesh struct {
	V []geom.Vec
	T [][3]int32
}

// Corners returns the three corners of triangle i.
func (m *Mesh) Corners(i int) (a, b, c geom.Vec) {
	t := m.T[i]
	return m.V[t[0]], m.V[t[1]], m.V[t[2]]
}

// triNormal is the normal of a triangle with corners c among v, twice its area long.
func triNormal(v []geom.Vec, c [3]int32) geom.Vec {
	a := v[c[0]]
	return v[c[1]].Sub(a).Cross(v[c[2]].Sub(a))
}

// Bounds is the least box around the vertices.
func (m *Mesh) Bounds() geom.Box { return geom.BoxOf(m.V...) }

// Volume is the signed volume enclosed, in mm³: positive when triangles face out.
func (m *Mesh) Volume() float64 {
	var v float64
	o := m.Bounds().Center() // near the mesh, so that little cancels
	for i := range m.T {
		a, b, c := m.Corners(i)
		v += a.Sub(o).Dot(b.Sub(o).Cross(c.Sub(o)))
	}
	return v / 6
}

// Area is the surface area, in mm².
func (m *Mesh) Area() float64 {
	var s float64
	for i := range m.T {
		a, b, c := m.Corners(i)
		s += b.Sub(a).Cross(c.Sub(a)).Len()
	}
	return s / 2
}

// Transform maps every vertex. A map that mirrors also turns the triangles
// round, so that they still face out.
func (m *Mesh) Transform(a geom.Affine) *Mesh {
	out := &Mesh{make([]geom.Vec, len(m.V)), make([][3]int32, len(m.T))}
	for i, v := range m.V {
		out.V[i] = a.Apply(v)
	}
	mirror := a.Det() < 0
	for i, t := range m.T {
		if mirror {
			t[1], t[2] = t[2], t[1]
		}
		out.T[i] = t
	}
	return out
}

// With is m and o side by side in one mesh.
func (m *Mesh) With(o *Mesh) *Mesh {
	out := &Mesh{slices.Concat(m.V, o.V), slices.Clone(m.T)}
	n := int32(len(m.V))
	for _, t := range o.T {
		out.T = append(out.T, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return out
}

// SnapGrid is the grid that finished vertices lie on, in mm. Below 512 mm every
// point of it is a float32, so that a file in single precision holds exactly
// the mesh that was checked.
const SnapGrid = 1.0 / (1 << 15)

// Snap rounds every vertex to SnapGrid. Equal coordinates stay equal, so a flat
// that is square to an axis stays flat.
func (m *Mesh) Snap() *Mesh {
	out := &Mesh{make([]geom.Vec, len(m.V)), m.T}
	for i, v := range m.V {
		out.V[i] = geom.Vec{X: snap(v.X), Y: snap(v.Y), Z: snap(v.Z)}
	}
	return out
}

func snap(x float64) float64 { return math.Round(x/SnapGrid) * SnapGrid }
