package mesh

import (
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Offset is the set of points whose signed distance from the solid in f is at most
// r mm: larger by r, or smaller by -r if r is negative. The mesh may be dirty in the
// ways that Field allows.
func (f *MeshField) Offset(r float64) sdf.Solid {
	return fieldOffset{fieldLocal{f: f}, r}
}

// fieldOffset is a mesh field, whole or in a ball, less r.
type fieldOffset struct {
	near fieldLocal
	r    float64
}

// Dist is the field less r. Where the field is a true distance and the path to
// the nearest point crosses the new surface, so is this: outside for r >= 0,
// inside for r <= 0. On the other side it is a bound.
func (o fieldOffset) Dist(p geom.Vec) float64 { return o.near.Dist(p) - o.r }
func (o fieldOffset) ExactOutside() bool      { return o.r >= 0 }
func (o fieldOffset) ExactInside() bool       { return o.r <= 0 && o.near.f.ExactInside() }

// Grad is Dist and its gradient, that of the mesh field.
func (o fieldOffset) Grad(p geom.Vec) (float64, geom.Vec) {
	d, g := o.near.Grad(p)
	return d - o.r, g
}

func (o fieldOffset) Bounds() geom.Box {
	b := o.near.f.bounds.Grow(o.r)
	if b.Empty() {
		return geom.EmptyBox()
	}
	return b
}

// Local prunes by the offset field, but keeps the distances that it is made of.
func (o fieldOffset) Local(b geom.Ball) sdf.Solid {
	d := o.near.Dist(b.C)
	switch {
	case d-o.r > b.R:
		return sdf.Nothing{}
	case d-o.r < -b.R:
		return sdf.Everything{}
	}
	return o.shorten(b, d)
}

// LocalValue shortens the offset without changing a value in the ball.
func (o fieldOffset) LocalValue(b geom.Ball) sdf.Solid {
	return o.shorten(b, o.near.Dist(b.C))
}

// shorten keeps all values in the ball, whose centre is at distance d from the mesh.
func (o fieldOffset) shorten(b geom.Ball, d float64) sdf.Solid {
	near := o.near.shorten(b, d)
	if h, ok := near.plane(d); ok {
		return sdf.HalfSpace{N: h.N, D: h.D + o.r}
	}
	return fieldOffset{near, o.r}
}

// Cell is the largest cell that follows the surface to within tol mm.
func (o fieldOffset) Cell(tol float64) float64 {
	b := o.near.bends()
	return b.cell(tol, o.r, 2*b.turn)
}

// Creased reports whether the offset surface may have sharp edges: those of the
// mesh that the offset does not round, and those where surfaces from different
// sides, or from a curve tighter than the offset, run into each other.
func (o fieldOffset) Creased() bool {
	b := o.near.bends()
	if b.creaseOut && o.r < fieldFine || b.creaseIn && o.r > -fieldFine || b.radius(o.r) < fieldFine {
		return true
	}
	return b.turn > float64(fieldCrease) && !(b.whole && b.turn <= float64(fieldTurn))
}

// fieldBends is how the triangles of a list turn.
type fieldBends struct {
	fieldBend         // at edges that both have their triangles on the list
	turn      float64 // radians, most between their normals and one direction
	whole     bool    // the triangles hang together over edges
}

// bends looks at the triangles of the list. Where a fold is the nearest to a point
// of the ball, so are the triangles on both sides of it.
func (l fieldLocal) bends() fieldBends {
	if l.tris == nil {
		return fieldBends{fieldBend: l.f.bend, turn: math.Pi}
	}
	out := fieldBends{turn: l.turn()}
	var room [fieldLong]int32
	place := room[:0]
	for _, t := range l.tris {
		place = append(place, t.k)
	}
	slices.Sort(place)
	sides, left := NewJoined(len(place)), len(place)
	for i, k := range place {
		for e, o := range l.f.facets[k].next {
			if o <= k {
				continue // none, or seen from there
			}
			j, found := slices.BinarySearch(place[i+1:], o)
			if !found {
				continue
			}
			out.join(l.f.facets[k].bend[e])
			if sides.Join(int32(i), int32(i+1+j)) {
				left--
			}
		}
	}
	out.whole = left == 1
	return out
}

// turn is the most that a normal on the list is off the direction in the middle of
// all: half way between the one that is farthest from the first, and the one that is
// farthest from that.
func (l fieldLocal) turn() float64 {
	first := l.f.bvh.tris[l.tris[0].k].n
	one := l.farthest(first)
	axis := one.Add(l.farthest(one))
	if !(axis.Len() > 0) {
		return math.Pi
	}
	axis = axis.Unit()
	return fieldAngle(axis, l.farthest(axis))
}

// farthest is the normal on the list that is farthest from n. It is n if all
// triangles are thin.
func (l fieldLocal) farthest(n geom.Vec) geom.Vec {
	far, best := 1.0, n
	for _, t := range l.tris {
		tri := &l.f.bvh.tris[t.k]
		if cos := tri.n.Dot(n); cos < far && tri.width() > fieldThin {
			far, best = cos, tri.n
		}
	}
	return best
}

// fieldThin is the width, in mm, below which the normal of a triangle tells
// nothing of the body: rounding of its corners may have turned it. Common
// practice, no source.
const fieldThin = 0.02

// width is twice the area over the longest edge.
func (t *bvhTri) width() float64 {
	bc := t.ac.Sub(t.ab)
	return t.ab.Cross(t.ac).Len() / math.Sqrt(max(t.abab, t.acac, bc.Dot(bc)))
}

// fieldBend is how sharply a surface turns: the largest curvature, 1/mm, of its
// gentle folds, and whether there are creases. Out is convex, in is reflex.
type fieldBend struct {
	out, in             float64
	creaseOut, creaseIn bool
}

func (b *fieldBend) join(c fieldBend) {
	b.out, b.in = max(b.out, c.out), max(b.in, c.in)
	b.creaseOut = b.creaseOut || c.creaseOut
	b.creaseIn = b.creaseIn || c.creaseIn
}

const (
	// fieldCrease is the angle between facets from which an edge is taken for
	// the body's own and not for a chord of something round. Common practice, no source.
	fieldCrease = 30 * geom.Degree

	// fieldFine and fieldCoarse bound the cell of anything but planes, in mm.
	fieldFine, fieldCoarse = 0.25, 1.5

	// fieldLeast is the least curvature, 1/mm, of what is not plane.
	fieldLeast = 1e-3

	// fieldTurn is by how much a surface without a fold may turn before sides of
	// it may meet when it is moved by less than its radius: well under half a turn.
	fieldTurn = 75 * geom.Degree
)

// cell is the largest cell that keeps the sag of a chord within tol on the
// surface moved out by r: the sag is L²/(8 radius), and where the surface turns
// by no more than turn radians in all, L turn/8.
func (b fieldBend) cell(tol, r, turn float64) float64 {
	round := b.creaseOut && r > 0 || b.creaseIn && r < 0
	if b.out == 0 && b.in == 0 && !round { // planes and sharp edges
		return math.Inf(1)
	}
	radius := b.radius(r)
	if round {
		radius = min(radius, math.Abs(r))
	}
	l := math.Sqrt(8 * radius * tol)
	if turn > 0 {
		l = max(l, 8*tol/turn)
	}
	return min(fieldCoarse, max(fieldFine, l))
}

// radius is the least radius of the folds moved out by r, 0 where that is beyond
// their centre.
func (b fieldBend) radius(r float64) float64 {
	radius := math.Inf(1)
	if b.out > 0 {
		radius = min(radius, max(0, 1/b.out+r))
	}
	if b.in > 0 {
		radius = min(radius, max(0, 1/b.in-r))
	}
	return radius
}

// bendsAt measures the folds at the edges of the triangle at k. The curvature of
// a fold is its angle over the distance between the middles of its facets.
func (f *MeshField) bendsAt(k int) (out [3]fieldBend) {
	t := &f.bvh.tris[k]
	if t.width() <= fieldThin {
		return out
	}
	edges := [3]geom.Vec{t.ab, t.ac.Sub(t.ab), t.ac.Scale(-1)}
	for e, o := range f.facets[k].next {
		if o < 0 || f.bvh.tris[o].width() <= fieldThin {
			continue
		}
		u := &f.bvh.tris[o]
		angle := fieldAngle(t.n, u.n)
		convex := t.n.Cross(u.n).Dot(edges[e]) > 0
		curve := f.curvature(angle, 2*fieldArea(t)/edges[e].Len(), 2*fieldArea(u)/edges[e].Len())
		switch sharp := angle > float64(fieldCrease); {
		case angle < 1e-6:
		case sharp && convex:
			out[e].creaseOut = true
		case sharp:
			out[e].creaseIn = true
		case convex:
			out[e].out = curve
		default:
			out[e].in = curve
		}
	}
	return out
}

// curvature is that of a fold between two facets of heights g and h over it. Of
// its angle, what their corners' being off the surface may make is taken away.
func (f *MeshField) curvature(angle, g, h float64) float64 {
	if f.off == 0 {
		return 3 * angle / (g + h)
	}
	return max(fieldLeast, 2*(angle-2*f.off*(1/g+1/h))/(g+h))
}

func fieldArea(t *bvhTri) float64 { return t.ab.Cross(t.ac).Len() / 2 }

// fieldAngle is the angle between unit vectors, in radians.
func fieldAngle(a, b geom.Vec) float64 { return math.Atan2(a.Cross(b).Len(), a.Dot(b)) }
