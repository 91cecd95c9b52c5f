package mesh

import (
	"math"

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

// Dist has the sign of the whole sweep in the ball. Inside it is shallower: only
// an upright, ungrown sweep, which is 0 there by itself, needs the depth in the mesh.
func (l *releaseLocal) Dist(y geom.Vec) float64 {
	d, _ := l.sweep(y)
	if l.s.r == 0 && l.s.cone.sin == 0 {
		return l.s.deepen(y, d)
	}
	return d - l.s.r
}

// Grad is the value and its gradient: that of phi at the nearest triangle, or that of
// the depth in the mesh.
func (l *releaseLocal) Grad(y geom.Vec) (float64, geom.Vec) {
	d, k := l.sweep(y)
	if l.s.r == 0 && l.s.cone.sin == 0 && l.s.deepen(y, d) < d {
		return fieldLocal{f: l.s.f}.Grad(y)
	}
	t := &l.s.bvh.tris[k]
	_, v := l.s.cone.triangle(t, y)
	g, ok := l.s.cone.slope(v)
	if !ok && !t.sliver { // above the face
		if g = t.n; g.Dot(y.Sub(t.a)) > 0 {
			g = g.Scale(-1)
		}
	}
	return d - l.s.r, g
}

// sweep is the least phi over the list, and the place of its triangle in the
// tree, passing over those that cannot be lower.
func (l *releaseLocal) sweep(y geom.Vec) (best float64, found int32) {
	d := y.Sub(l.ball.C)
	off := d.Len()
	best = math.Inf(1)
	for i := range l.tris {
		t := &l.tris[i]
		if float64(t.dist)-off > best+bvhRounding {
			break
		}
		if t.least(d, off) > best+bvhRounding {
			continue
		}
		if e, _ := l.s.cone.triangle(&l.s.bvh.tris[t.k], y); e < best {
			best, found = e, t.k
		}
	}
	return best, found
}

func (l *releaseLocal) Bounds() geom.Box   { return l.s.Bounds() }
func (l *releaseLocal) ExactOutside() bool { return true }
func (l *releaseLocal) ExactInside() bool  { return false }

// Cell is the largest cell that follows the sweep to within tol mm. A chord of
// length L sags by L²/8 over the radius of curvature, which is at least that of
// phi, and by L/8 times the angle by which the surface turns, which is looked up
// on the axes and at the corners of the ball.
func (l *releaseLocal) Cell(tol float64) float64 {
	c := l.s.cone
	_, v := c.triangle(&l.s.bvh.tris[l.tris[0].k], l.ball.C)
	turn := l.turn()
	cell := max(math.Sqrt(8*max(0, c.radius(v, l.ball.R))*tol), 8*tol/turn)
	return min(fieldCoarse, max(fieldFine, cell))
}

// turn is the angle by which the gradient turns in the ball, in radians.
func (l *releaseLocal) turn() float64 {
	const none = 1e-9 // too small to tell
	middle := &l.tris[0]
	turn := none
	for i := range 27 {
		way := geom.V(float64(i%3-1), float64(i/3%3-1), float64(i/9-1))
		if n := way.Dot(way); n != 1 && n != 3 {
			continue
		}
		y := l.ball.C.Add(way.Unit().Scale(l.ball.R))
		_, k := l.sweep(y)
		n := l.s.cone.near(&l.s.bvh.tris[k], k, y)
		if n.slack > 0 || middle.slack > 0 {
			return math.Pi
		}
		turn = max(turn, 2*fieldAngle(n.grad(), middle.grad()))
	}
	return turn
}

// Local prunes by the value at the centre.
func (s *release) Local(b geom.Ball) sdf.Solid {
	if len(s.bvh.tris) == 0 {
		return sdf.Nothing{}
	}
	phi := s.sweep(b.C)
	if far, ok := s.pruned(b, phi); ok {
		return far
	}
	tris := s.gather(b.C, phi+2*b.R+bvhRounding)
	if tris == nil {
		return s
	}
	if tris = s.can(tris, b); len(tris) > fieldLong {
		return s
	}
	return &releaseLocal{s, b, bvhSorted(tris)}
}

// Local shortens the list for a smaller ball.
func (l *releaseLocal) Local(b geom.Ball) sdf.Solid {
	phi, _ := l.sweep(b.C)
	if far, ok := l.s.pruned(b, phi); ok {
		return far
	}
	var room [fieldLong]bvhNear
	tris := room[:0]
	for i := range l.tris {
		k := l.tris[i].k
		if n := l.s.cone.near(&l.s.bvh.tris[k], k, b.C); float64(n.dist) <= phi+2*b.R+bvhRounding {
			tris = append(tris, n)
		}
	}
	return &releaseLocal{l.s, b, bvhSorted(l.s.can(tris, b))}
}

// pruned is the solid that stands for the sweep where its surface stays out of the ball.
func (s *release) pruned(b geom.Ball, phi float64) (sdf.Solid, bool) {
	switch d := phi - s.r; {
	case d > b.R:
		return sdf.Nothing{}, true
	case d < -b.R || d <= 0 && s.deepen(b.C, phi) < -b.R:
		return sdf.Everything{}, true
	}
	return nil, false
}

// can cuts a list down to what can be nearest in the ball.
func (s *release) can(tris []bvhNear, b geom.Ball) []bvhNear {
	bvhFirst(tris)
	_, v := s.cone.triangle(&s.bvh.tris[tris[0].k], b.C)
	return bvhCan(tris, b.R, bvhBend(s.cone.radius(v, b.R), b.R))
}

// gather lists the triangles whose phi at y is at most most, or gives nil if
// they are too many for a list.
func (s *release) gather(y geom.Vec, most float64) []bvhNear {
	var stack [bvhStack]int32
	var out []bvhNear
	b := s.bvh
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
			if t := s.cone.near(&b.tris[k], k, y); float64(t.dist) <= most {
				out = append(out, t)
			}
		}
		if len(out) > fieldList {
			return nil
		}
	}
	return out
}
