package mesh

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Nearest is the point of the mesh closest to p, the triangle it lies on and its
// distance in mm. An empty mesh gives triangle -1 at distance +Inf.
func (b *BVH) Nearest(p geom.Vec) (q geom.Vec, tri int, dist float64) {
	return b.NearestWithin(p, math.Inf(1))
}

// NearestWithin is Nearest, but gives up beyond r mm: then the triangle is -1
// and the distance +Inf.
func (b *BVH) NearestWithin(p geom.Vec, r float64) (q geom.Vec, tri int, dist float64) {
	k, _ := b.nearest(p, r*r)
	if k < 0 {
		return geom.Vec{}, -1, math.Inf(1)
	}
	q, _ = b.tris[k].closest(p)
	return q, int(b.tris[k].id), p.Dist(q)
}

// nearest is the place in tris of the closest triangle no farther than
// sqrt(limit), or -1, and its squared distance.
func (b *BVH) nearest(p geom.Vec, limit float64) (int, float64) {
	if len(b.nodes) == 0 {
		return -1, limit
	}
	type todo struct {
		node int32
		d2   float64
	}
	var stack [bvhStack]todo
	n, best, found := 0, limit, -1
	node, d2 := int32(0), b.nodes[0].dist2(p)
	for {
		if d2 <= best {
			at := &b.nodes[node]
			if at.right != 0 {
				near, far := node+1, at.right
				dn, df := b.nodes[near].dist2(p), b.nodes[far].dist2(p)
				if df < dn {
					near, far, dn, df = far, near, df, dn
				}
				stack[n] = todo{far, df}
				n++
				node, d2 = near, dn
				continue
			}
			for k := at.first; k < at.first+at.count; k++ {
				if d := b.tris[k].dist2(p); d < best || d == best && found < 0 {
					best, found = d, int(k)
				}
			}
		}
		if n == 0 {
			return found, best
		}
		n--
		node, d2 = stack[n].node, stack[n].d2
	}
}

// dist2 is the squared distance from p to the node's box.
func (n *bvhNode) dist2(p geom.Vec) float64 {
	x := max(n.box.Min.X-p.X, p.X-n.box.Max.X, 0)
	y := max(n.box.Min.Y-p.Y, p.Y-n.box.Max.Y, 0)
	z := max(n.box.Min.Z-p.Z, p.Z-n.box.Max.Z, 0)
	return x*x + y*y + z*z
}

// collect adds the triangles within the ball to out, which is empty, unsorted. It
// gives up with nil as soon as there are more than most.
func (b *BVH) collect(out []bvhNear, ball geom.Ball, most int) []bvhNear {
	if len(b.nodes) == 0 {
		return nil
	}
	var stack [bvhStack]int32
	n, r2 := 1, ball.R*ball.R
	for n > 0 {
		n--
		at := stack[n]
		node := &b.nodes[at]
		if !(node.dist2(ball.C) <= r2) {
			continue
		}
		if node.right != 0 {
			stack[n], stack[n+1] = node.right, at+1
			n += 2
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			if d := b.tris[k].dist2(ball.C); d <= r2 {
				out = append(out, b.tris[k].near(k, ball.C))
			}
		}
		if len(out) > most {
			return nil
		}
	}
	return out
}

// near is what a list for a ball about c says of the triangle at k.
func (t *bvhTri) near(k int32, c geom.Vec) bvhNear {
	q, _ := t.closest(c)
	v := c.Sub(q)
	d := v.Len()
	if d < 1e-6 { // mm: too close for a direction
		return bvhNear{k: k, dist: float32(d), slack: 1}
	}
	return newBVHNear(k, d, v.Scale(1/d))
}

// Hit is where a line meets a triangle: at o + T d.
type Hit struct {
	T   float64
	Tri int
}

// Ray lists every meeting of the ray o + t d, t >= 0, with the mesh, in order of
// t and then of triangle. A ray through an edge or a vertex meets each triangle there.
func (b *BVH) Ray(o, d geom.Vec) []Hit {
	if len(b.nodes) == 0 {
		return nil
	}
	var stack [bvhStack]int32
	var hits []Hit
	inv := geom.V(1/d.X, 1/d.Y, 1/d.Z)
	for n := 1; n > 0; {
		n--
		at := stack[n]
		node := &b.nodes[at]
		if !node.meets(o, d, inv) {
			continue
		}
		if node.right != 0 {
			stack[n], stack[n+1] = node.right, at+1
			n += 2
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			if t, ok := b.tris[k].ray(o, d); ok && t >= 0 {
				hits = append(hits, Hit{t, int(b.tris[k].id)})
			}
		}
	}
	slices.SortFunc(hits, func(x, y Hit) int {
		return cmp.Or(cmp.Compare(x.T, y.T), cmp.Compare(x.Tri, y.Tri))
	})
	return hits
}

// meets is the slab test, made a hair generous so that rounding loses no hit.
func (n *bvhNode) meets(o, d, inv geom.Vec) bool {
	lo, hi := 0.0, math.Inf(1)
	for i := range 3 {
		a, b, p := n.box.Min.Axis(i), n.box.Max.Axis(i), o.Axis(i)
		if d.Axis(i) == 0 {
			if !(p >= a && p <= b) {
				return false
			}
			continue
		}
		t0, t1 := (a-p)*inv.Axis(i), (b-p)*inv.Axis(i)
		lo, hi = max(lo, min(t0, t1)), min(hi, max(t0, t1))
	}
	return lo <= hi*(1+1e-12)+1e-12
}
