package mesh

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// fieldList is the most triangles that are searched one by one; beyond it the
// tree is quicker.
const fieldList = 160

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

// closest searches the list until no later triangle can be closer: one that is
// x from the centre is at least x - |p - centre| from p.
func (l fieldLocal) closest(p geom.Vec) (int, float64) {
	off := p.Dist(l.ball.C)
	best, found := math.Inf(1), -1
	for _, t := range l.tris {
		if least := t.dist - off; least > 0 && least*least > best {
			break
		}
		if d := l.f.bvh.tris[t.k].dist2(p); d < best {
			best, found = d, int(t.k)
		}
	}
	return found, math.Sqrt(best)
}

func (l fieldLocal) Bounds() geom.Box   { return l.f.bounds }
func (l fieldLocal) ExactOutside() bool { return true }
func (l fieldLocal) ExactInside() bool  { return true }

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
	reach := geom.Ball{C: b.C, R: (math.Abs(d) + 2*b.R) * (1 + 1e-12)}
	if l.tris == nil {
		out.tris = l.f.bvh.collect(reach, fieldList)
	} else {
		for _, t := range l.tris {
			if e := math.Sqrt(l.f.bvh.tris[t.k].dist2(b.C)); e <= reach.R {
				out.tris = append(out.tris, bvhNear{t.k, e})
			}
		}
	}
	slices.SortFunc(out.tris, func(x, y bvhNear) int {
		return cmp.Or(cmp.Compare(x.dist, y.dist), cmp.Compare(x.k, y.k))
	})
	return out
}

// fieldFlat is how far, in mm, corners may lie off a plane that stands for
// them: the value changes by no more.
const fieldFlat = 1e-7

// plane is the half space that has the same values in the ball, if there is
// one; d is the value at the centre. All triangles that can be closest must lie
// in one plane and have neighbours on every side. Those neighbours that are not
// on the list are farther than |d| + 2R from the centre, so the disc that the
// ball casts on the plane is covered to its rim.
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
