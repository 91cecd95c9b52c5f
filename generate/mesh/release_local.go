package mesh

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// releaseLocal is a swept mesh inside a ball: the few triangles whose sweep can
// be nearest to a point of it.
type releaseLocal struct {
	s    *release
	ball geom.Ball
	tris []bvhNear // by rising phi at the ball's centre
}

// Dist has the sign of the whole sweep in the ball.
func (l *releaseLocal) Dist(y geom.Vec) float64 { return l.s.deepen(y, l.sweep(y)) }

// sweep is the least phi over the list. A triangle's phi changes by no more than
// the way from the centre, so the search may stop early.
func (l *releaseLocal) sweep(y geom.Vec) float64 {
	off := y.Dist(l.ball.C)
	best := math.Inf(1)
	for _, t := range l.tris {
		if t.dist-off > best {
			break
		}
		best = min(best, l.s.cone.triangle(&l.s.f.bvh.tris[t.k], y))
	}
	return best
}

func (l *releaseLocal) Bounds() geom.Box   { return l.s.Bounds() }
func (l *releaseLocal) ExactOutside() bool { return true }
func (l *releaseLocal) ExactInside() bool  { return false }

// Local prunes by the value at the centre.
func (s *release) Local(b geom.Ball) sdf.Solid {
	if len(s.f.bvh.tris) == 0 {
		return sdf.Nothing{}
	}
	phi := s.sweep(b.C)
	if far, ok := s.pruned(b, phi); ok {
		return far
	}
	tris := s.gather(b.C, phi+2*b.R+1e-9)
	if tris == nil {
		return s
	}
	return s.local(b, tris)
}

// Local shortens the list for a smaller ball.
func (l *releaseLocal) Local(b geom.Ball) sdf.Solid {
	phi := l.sweep(b.C)
	if far, ok := l.s.pruned(b, phi); ok {
		return far
	}
	var tris []bvhNear
	for _, t := range l.tris {
		if d := l.s.cone.triangle(&l.s.f.bvh.tris[t.k], b.C); d <= phi+2*b.R+1e-9 {
			tris = append(tris, bvhNear{t.k, d})
		}
	}
	return l.s.local(b, tris)
}

// pruned is the solid that stands for the sweep where its surface stays out of the ball.
func (s *release) pruned(b geom.Ball, phi float64) (sdf.Solid, bool) {
	switch d := s.deepen(b.C, phi); {
	case d > b.R:
		return sdf.Nothing{}, true
	case d < -b.R:
		return sdf.Everything{}, true
	}
	return nil, false
}

func (s *release) local(b geom.Ball, tris []bvhNear) sdf.Solid {
	slices.SortFunc(tris, func(x, y bvhNear) int {
		return cmp.Or(cmp.Compare(x.dist, y.dist), cmp.Compare(x.k, y.k))
	})
	return &releaseLocal{s, b, tris}
}

// gather lists the triangles whose phi at y is at most most, or gives nil if
// they are too many for a list.
func (s *release) gather(y geom.Vec, most float64) []bvhNear {
	var stack [bvhStack]int32
	var out []bvhNear
	b := s.f.bvh
	for n := 1; n > 0; {
		n--
		at := stack[n]
		node := &b.nodes[at]
		if !(s.cone.box(&node.box, y) <= most) {
			continue
		}
		if node.right != 0 {
			stack[n], stack[n+1] = node.right, at+1
			n += 2
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			if d := s.cone.triangle(&b.tris[k], y); d <= most {
				out = append(out, bvhNear{k, d})
			}
		}
		if len(out) > fieldList {
			return nil
		}
	}
	return out
}
