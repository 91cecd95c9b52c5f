package mesh

import (
	"math"

	"buckwright/generate/geom"
)

// releaseLevel is how much higher than need be a normal may point and still
// count, so that rounding loses no triangle.
const releaseLevel = 1e-6

// under is the part of a mesh that its sweep can be nearest to. Where the nearest
// point x lies, the gradient of phi points out of the solid, and its z is -sin or
// less: so some normal at x must point that far down. A face has one normal, an
// edge those between its faces, a vertex all that point away from its edges.
func (c releaseCone) under(f *MeshField) *Mesh {
	keep := make([]bool, len(f.facets))
	for k := range keep {
		t := &f.bvh.tris[k]
		keep[k] = t.sliver || t.n.Z <= -c.sin+releaseLevel
	}
	for k := range keep {
		for e, o := range f.facets[k].next {
			if !keep[k] && (o < 0 || !keep[o] && c.edgeUnder(f, k, e)) {
				keep[k] = true
			}
		}
	}
	held := make([]bool, len(f.corner))
	for k := range keep {
		if keep[k] {
			for _, v := range f.facets[k].v {
				held[v] = true
			}
		}
	}
	around := f.around()
	for k := range keep {
		for _, v := range f.facets[k].v {
			if !held[v] && c.vertexUnder(around[v]) {
				held[v], keep[k] = true, true
			}
		}
	}
	out := &Mesh{}
	for k := range keep {
		if t := &f.bvh.tris[k]; keep[k] {
			n := int32(len(out.V))
			out.V = append(out.V, t.a, t.b(), t.c())
			out.T = append(out.T, [3]int32{n, n + 1, n + 2})
		}
	}
	return out
}

// edgeUnder reports whether a normal at edge e of the triangle at k, which has a
// neighbour, points down enough.
func (c releaseCone) edgeUnder(f *MeshField, k, e int) bool {
	t := &f.bvh.tris[k]
	n, o := t.n, f.bvh.tris[f.facets[k].next[e]].n
	along := [3]geom.Vec{t.ab, t.ac.Sub(t.ab), t.ac.Scale(-1)}[e].Unit()
	if n.Cross(o).Dot(along) <= 0 { // reflex or flat: no normal but the faces'
		return false
	}
	low := along.Scale(along.Z).Sub(geom.V(0, 0, 1)).Unit()
	if n.Cross(low).Dot(along) < -releaseLevel || low.Cross(o).Dot(along) < -releaseLevel {
		return false // the lowest normal about the edge is not between the faces'
	}
	return low.Z <= -c.sin+releaseLevel
}

// around lists the directions of the edges at each vertex.
func (f *MeshField) around() [][]geom.Vec {
	out := make([][]geom.Vec, len(f.corner))
	for k := range f.facets {
		t, v := &f.bvh.tris[k], f.facets[k].v
		p := [3]geom.Vec{t.a, t.b(), t.c()}
		for i := range 3 {
			for _, j := range [2]int{(i + 1) % 3, (i + 2) % 3} {
				if d := p[j].Sub(p[i]); d != (geom.Vec{}) {
					out[v[i]] = append(out[v[i]], d.Unit())
				}
			}
		}
	}
	return out
}

// vertexUnder reports whether some g = (a, b, -1), as steep as the cone asks,
// points away from all edges: a x + b y <= z for each. The flattest such point
// (a, b) is the origin, or its foot on one edge's line, or where two lines cross.
func (c releaseCone) vertexUnder(edges []geom.Vec) bool {
	const many = 40 // too many to try: taken for under
	if len(edges) > many {
		return true
	}
	far := c.cos/c.sin + releaseLevel // +Inf for an upright sweep
	fits := func(a, b float64) bool {
		if !(math.Hypot(a, b) <= far*(1+releaseLevel)) {
			return false
		}
		for _, e := range edges {
			if !(a*e.X+b*e.Y <= e.Z+releaseLevel*(1+math.Hypot(a, b))) {
				return false
			}
		}
		return true
	}
	if fits(0, 0) {
		return true
	}
	for i, e := range edges {
		if l := e.X*e.X + e.Y*e.Y; l > 0 && fits(e.X*e.Z/l, e.Y*e.Z/l) {
			return true
		}
		for _, o := range edges[:i] {
			if det := e.X*o.Y - e.Y*o.X; det != 0 && fits((e.Z*o.Y-e.Y*o.Z)/det, (e.X*o.Z-e.Z*o.X)/det) {
				return true
			}
		}
	}
	return false
}
