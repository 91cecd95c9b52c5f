package mesh

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// fieldList is the most triangles that are looked at for a list, and fieldLong
// the most on it; beyond it the tree is quicker.
const fieldList, fieldLong = 1500, 400

// fieldLocal is a mesh field inside a ball: either the few triangles that can be
// closest to a point of it, or, where tris is nil, the whole field.
type fieldLocal struct {
	f    *MeshField
	ball geom.Ball
	tris []bvhNear // by rising distance from the ball's centre
	side float64   // -1 or +1 if the whole ball lies on one side, else 0
}

// Dist is the distance of the field it came from, inside the ball.
func (l fieldLocal) Dist(p geom.Vec) float64 {
	if l.tris == nil {
		return l.f.Dist(p)
	}
	k, d := l.closest(p)
	switch {
	case l.side != 0:
		return l.side * d
	case l.f.inside(p, k):
		return -d
	}
	return d
}

// nearest is the place of the closest triangle, and its distance from p.
func (l fieldLocal) nearest(p geom.Vec) (int, float64) {
	if l.tris != nil {
		return l.closest(p)
	}
	k, d2 := l.f.bvh.nearest(p, math.Inf(1))
	return k, math.Sqrt(d2)
}

// Grad is the distance at p and its gradient, the normal on the surface itself.
func (l fieldLocal) Grad(p geom.Vec) (float64, geom.Vec) {
	k, d := l.nearest(p)
	if k < 0 {
		return l.f.Dist(p), geom.Vec{Z: 1}
	}
	q, part := l.f.bvh.tris[k].closest(p)
	v, n := p.Sub(q), l.f.normal(k, part)
	switch {
	case l.f.wind == nil && part == bvhFace:
		return v.Dot(n), n
	case d < fieldTouch:
		return d, n.Unit()
	case l.side < 0 || l.side == 0 && l.f.inside(p, k):
		return -d, v.Scale(-1 / d)
	}
	return d, v.Scale(1 / d)
}

// fieldTouch is how near to the surface, in mm, the way to it gives no direction.
const fieldTouch = 1e-9

// closest searches the list, passing over those that cannot be closer.
func (l fieldLocal) closest(p geom.Vec) (int, float64) {
	d := p.Sub(l.ball.C)
	off := d.Len()
	best, best2, found := math.Inf(1), math.Inf(1), -1
	for i := range l.tris {
		t := &l.tris[i]
		if float64(t.dist)-off > best {
			break
		}
		if t.least(d, off) > best {
			continue
		}
		if e := l.f.bvh.tris[t.k].dist2(p); e < best2 {
			best, best2, found = math.Sqrt(e)+bvhRounding, e, int(t.k)
		}
	}
	return found, math.Sqrt(best2)
}

func (l fieldLocal) Bounds() geom.Box   { return l.f.bounds }
func (l fieldLocal) ExactOutside() bool { return true }
func (l fieldLocal) ExactInside() bool  { return l.f.ExactInside() }

// Cell, Local and LocalValue are those of an offset by nothing.
func (l fieldLocal) Cell(tol float64) float64         { return fieldOffset{l, 0}.Cell(tol) }
func (l fieldLocal) Local(b geom.Ball) sdf.Solid      { return fieldOffset{l, 0}.Local(b) }
func (l fieldLocal) LocalValue(b geom.Ball) sdf.Solid { return fieldOffset{l, 0}.LocalValue(b) }

// shorten keeps what a smaller ball needs; d is the value at its centre. A point
// of the ball is at most |d| + R from the mesh, so only triangles within
// |d| + 2R of the centre can be closest to it.
func (l fieldLocal) shorten(b geom.Ball, d float64) fieldLocal {
	out := fieldLocal{f: l.f, ball: b, side: l.side}
	if math.Abs(d) > b.R {
		out.side = math.Copysign(1, d)
	}
	reach := geom.Ball{C: b.C, R: math.Abs(d) + 2*b.R + bvhRounding}
	var room [fieldLong]bvhNear
	near := room[:0]
	if l.tris == nil {
		near = l.f.bvh.collect(near, reach, fieldList)
	} else {
		way := b.C.Sub(l.ball.C)
		off := way.Len()
		for i := range l.tris {
			t := &l.tris[i]
			if t.least(way, off) > reach.R {
				continue
			}
			if n := l.f.bvh.tris[t.k].near(t.k, b.C); float64(n.dist) <= reach.R {
				near = append(near, n)
			}
		}
	}
	bvhFirst(near)
	near = bvhCan(near, b.R, bvhBend(math.Abs(d)-b.R, b.R))
	if near != nil && len(near) <= fieldLong {
		out.tris = bvhSorted(near)
	}
	return out
}

// fieldFlat is how far, in mm, corners may lie off a plane that stands for
// them: the value changes by no more.
const fieldFlat = 1e-7

// plane is the half space that has the same values in the ball, if there is
// one; d is the value at the centre. All triangles that can be closest must lie
// in one plane and have neighbours on every side: where the foot of a point leaves
// one triangle of the list, the neighbour there is as close, and so on the list.
func (l fieldLocal) plane(d float64) (sdf.HalfSpace, bool) {
	if len(l.tris) == 0 {
		return sdf.HalfSpace{}, false
	}
	first := &l.f.bvh.tris[l.tris[0].k]
	h := sdf.HalfSpace{N: first.n, D: first.n.Dot(first.a)}
	for _, t := range l.tris {
		tri, facet := &l.f.bvh.tris[t.k], &l.f.facets[t.k]
		if tri.sliver || min(facet.next[0], facet.next[1], facet.next[2]) < 0 || !(tri.n.Dot(h.N) > 0) {
			return h, false
		}
		for _, p := range [3]geom.Vec{tri.a, tri.b(), tri.c()} {
			if !(math.Abs(h.Dist(p)) <= fieldFlat) {
				return h, false
			}
		}
	}
	if !(math.Abs(h.Dist(l.ball.C)-d) <= 2*fieldFlat) {
		return h, false
	}
	return h, l.sidesAgree(h)
}

// sidesAgree checks both sides of the plane by winding number where the field
// does: in a mesh that overlaps itself a facet may have the inside on both sides.
func (l fieldLocal) sidesAgree(h sdf.HalfSpace) bool {
	if l.f.wind == nil || l.side != 0 {
		return true
	}
	above := l.ball.C.Sub(h.N.Scale(h.Dist(l.ball.C) - l.ball.R/2))
	below := l.ball.C.Sub(h.N.Scale(h.Dist(l.ball.C) + l.ball.R/2))
	return l.f.wind.At(above) < 0.5 && l.f.wind.At(below) >= 0.5
}
