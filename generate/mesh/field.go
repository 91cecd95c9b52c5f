package mesh

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// MeshField is the solid that a mesh encloses, with the true distance to its
// surface on both sides. It never changes and may be used from many goroutines.
type MeshField struct {
	bvh    *BVH
	wind   *Winding   // tells the side; nil if the pseudonormals do
	facets []fieldTri // in the order of bvh.tris
	corner []geom.Vec // pseudonormal at each vertex
	bounds geom.Box   // of the mesh
	rough  bool       // parts of the mesh may lie inside the solid
	bend   fieldBend  // the sharpest anywhere
	off    float64    // mm, that the mesh may be off what it stands for
}

// fieldTri is what a triangle knows of its neighbours. Edge i runs from corner
// i to corner i+1.
type fieldTri struct {
	v    [3]int32
	next [3]int32     // place of the triangle across each edge, -1 if not exactly one
	bend [3]fieldBend // at each edge
}

// CleanField is the field of a closed mesh whose triangles face out and do not
// cross each other, such as Contour makes. The side is told by the angle-weighted
// pseudonormal at the closest point, which is exact for such a mesh (Baerentzen
// and Aanaes 2005). For any other mesh use Field.
// off is how far, in mm, m may be from the smooth surface that it stands for; 0 if
// that is not known.
func CleanField(m *Mesh, off float64) *MeshField { return newMeshField(m, NewBVH(m), off) }

func newMeshField(m *Mesh, bvh *BVH, off float64) *MeshField {
	f := &MeshField{bvh: bvh, bounds: m.Bounds(), off: off}
	f.link(m)
	f.corner = fieldCorners(m)
	for k := range f.facets {
		f.facets[k].bend = f.bendsAt(k)
		for _, b := range f.facets[k].bend {
			f.bend.join(b)
		}
	}
	return f
}

// link finds the neighbours of every triangle by shared vertices.
func (f *MeshField) link(m *Mesh) {
	f.facets = make([]fieldTri, len(f.bvh.tris))
	place := make([]int32, len(f.bvh.tris)) // mesh index -> place in tris
	for k := range f.bvh.tris {
		place[f.bvh.tris[k].id] = int32(k)
	}
	next := repairNeighbours(m)
	for k := range f.facets {
		id := f.bvh.tris[k].id
		t := &f.facets[k]
		t.v = m.T[id]
		for e, o := range next[id] {
			t.next[e] = -1
			if o >= 0 {
				t.next[e] = place[o/3]
			}
		}
	}
}

// fieldCorners is the angle-weighted normal at each vertex.
func fieldCorners(m *Mesh) []geom.Vec {
	sum := make([]geom.Vec, len(m.V))
	for i, t := range m.T {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a)).Unit()
		for j, p := range [3]geom.Vec{a, b, c} {
			u := [3]geom.Vec{b, c, a}[j].Sub(p)
			v := [3]geom.Vec{c, a, b}[j].Sub(p)
			angle := math.Atan2(u.Cross(v).Len(), u.Dot(v))
			sum[t[j]] = sum[t[j]].Add(n.Scale(angle))
		}
	}
	return sum
}

// Dist is the true signed distance in mm, negative inside.
func (f *MeshField) Dist(p geom.Vec) float64 {
	k, d2 := f.bvh.nearest(p, math.Inf(1))
	if k < 0 {
		return sdf.Nothing{}.Dist(p)
	}
	return f.signed(p, k, math.Sqrt(d2))
}

// signed gives the distance d, to the triangle at k, the sign of p's side.
func (f *MeshField) signed(p geom.Vec, k int, d float64) float64 {
	if f.inside(p, k) {
		return -d
	}
	return d
}

// inside tells the side of p, whose closest triangle is at k.
func (f *MeshField) inside(p geom.Vec, k int) bool {
	if f.wind != nil {
		return f.bounds.Contains(p) && f.wind.At(p) >= 0.5
	}
	q, part := f.bvh.tris[k].closest(p)
	return p.Sub(q).Dot(f.normal(k, part)) < 0
}

// normal is the pseudonormal, not of unit length, at a part of a triangle.
func (f *MeshField) normal(k int, part bvhPart) geom.Vec {
	n := f.bvh.tris[k].n
	switch part {
	case bvhFace:
		return n
	case bvhEdgeAB, bvhEdgeBC, bvhEdgeCA:
		if o := f.facets[k].next[part-bvhEdgeAB]; o >= 0 {
			return n.Add(f.bvh.tris[o].n)
		}
		return n
	}
	return f.corner[f.facets[k].v[part-bvhCornerA]]
}

// Bounds is the box around the mesh.
func (f *MeshField) Bounds() geom.Box   { return f.bounds }
func (f *MeshField) ExactOutside() bool { return true }
func (f *MeshField) ExactInside() bool  { return !f.rough }

// Cell is the largest cell that follows the facets to within tol mm, taking
// neighbouring facets that turn gently for samples of a curved surface.
func (f *MeshField) Cell(tol float64) float64 { return f.bend.cell(tol, 0, math.Pi) }

// Local shortens the field near its zero set.
func (f *MeshField) Local(b geom.Ball) sdf.Solid { return fieldLocal{f: f}.Local(b) }

// LocalValue shortens the field without changing a value in the ball.
func (f *MeshField) LocalValue(b geom.Ball) sdf.Solid { return fieldLocal{f: f}.LocalValue(b) }
