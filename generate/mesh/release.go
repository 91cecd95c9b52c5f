package mesh

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Release is the solid of the field, grown by r >= 0 mm and swept upwards without
// end while it widens by alpha on every side: the Minkowski sum of it, a ball of
// radius r and the union over t >= 0 of balls of radius t sin(alpha) at height t.
// It has no undercut seen from above and a slope of at least alpha everywhere.
//
// The distance is exact outside. Inside it is a bound. With r = 0 and alpha = 0
// the field above it is 0, which counts as inside.
func (f *MeshField) Release(r float64, alpha geom.Angle) sdf.Solid {
	if !(r >= 0) || !(alpha >= 0 && alpha < 90*geom.Degree) {
		panic("mesh: Release needs r >= 0 and 0 <= alpha < 90 degrees")
	}
	c := releaseCone{alpha.Sin(), alpha.Cos(), alpha.Tan()}
	return &release{f: f, bvh: NewBVH(c.under(f)), r: r, cone: c}
}

// release is a swept mesh.
//
// The sweep of one point x has, at y = x + v with v = (rho, zeta) across and
// along the axis, the distance min over t >= 0 of |v - t z| - t sin(alpha). The
// minimum is at t = zeta + rho tan(alpha) if that is positive, so
//
//	phi(v) = rho cos(alpha) - zeta sin(alpha)   if zeta >= -rho tan(alpha)
//	phi(v) = |v|                                 below
//
// which is convex, grows with rho and falls with zeta. The distance to the sweep
// of the mesh is the least phi over its triangles. A point within the mesh need
// not be considered: moving it straight down only lowers phi.
type release struct {
	f    *MeshField
	bvh  *BVH // of the triangles that can be nearest
	r    float64
	cone releaseCone
}

type releaseCone struct{ sin, cos, tan float64 }

// at is phi.
func (c releaseCone) at(rho2, zeta float64) float64 {
	rho := math.Sqrt(rho2)
	if zeta >= -rho*c.tan {
		return rho*c.cos - zeta*c.sin
	}
	return math.Sqrt(rho2 + zeta*zeta)
}

func (c releaseCone) point(v geom.Vec) float64 { return c.at(v.X*v.X+v.Y*v.Y, v.Z) }

// box is the least phi over the box, seen from y: at its lowest level, straight
// across.
func (c releaseCone) box(b *geom.Box, y geom.Vec) float64 {
	dx := max(b.Min.X-y.X, y.X-b.Max.X, 0)
	dy := max(b.Min.Y-y.Y, y.Y-b.Max.Y, 0)
	return c.at(dx*dx+dy*dy, y.Z-b.Min.Z)
}

// Dist is exact outside. Inside it is the better of two bounds: the sweep's own,
// which is shallow, and the depth in the mesh.
func (s *release) Dist(y geom.Vec) float64 {
	if len(s.bvh.tris) == 0 {
		return sdf.Nothing{}.Dist(y)
	}
	return s.deepen(y, s.sweep(y))
}

// deepen takes the depth in the mesh where y may lie in it.
func (s *release) deepen(y geom.Vec, d float64) float64 {
	if d > 0 || !s.f.bounds.Contains(y) {
		return d - s.r
	}
	return min(d, s.f.Dist(y)) - s.r
}

// sweep is the least phi over all triangles.
func (s *release) sweep(y geom.Vec) float64 {
	type todo struct {
		node  int32
		least float64
	}
	var stack [bvhStack]todo
	nodes := s.bvh.nodes
	best, n := math.Inf(1), 0
	node, least := int32(0), math.Inf(-1)
	for {
		if least < best {
			at := &nodes[node]
			if at.right != 0 {
				near, far := node+1, at.right
				dn, df := s.cone.box(&nodes[near].box, y), s.cone.box(&nodes[far].box, y)
				if df < dn {
					near, far, dn, df = far, near, df, dn
				}
				stack[n] = todo{far, df}
				n++
				node, least = near, dn
				continue
			}
			for k := at.first; k < at.first+at.count; k++ {
				if d, _ := s.cone.triangle(&s.bvh.tris[k], y); d < best {
					best = d
				}
			}
		}
		if n == 0 {
			return best
		}
		n--
		node, least = stack[n].node, stack[n].least
	}
}

// Bounds has no top.
func (s *release) Bounds() geom.Box {
	if s.f.bounds.Empty() {
		return geom.EmptyBox()
	}
	inf := math.Inf(1)
	b := geom.Box{Min: s.f.bounds.Min, Max: geom.V(inf, inf, inf)}
	if s.cone.sin == 0 {
		b.Max = geom.V(s.f.bounds.Max.X, s.f.bounds.Max.Y, inf)
		return b.Grow(s.r)
	}
	return geom.Box{Min: geom.V(-inf, -inf, b.Min.Z-s.r), Max: b.Max}
}

func (s *release) ExactOutside() bool { return true }
func (s *release) ExactInside() bool  { return false }
