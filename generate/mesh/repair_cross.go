package mesh

import "buckwright/generate/geom"

// repairMostCrossings is how many crossings a report lists.
const repairMostCrossings = 16

// repairCrossings finds up to most triangles that pass through another, and
// gives their middles. Triangles that only touch, or that lie in one plane, are
// not found. b must be NewBVH(m).
func repairCrossings(b *BVH, m *Mesh, most int) []geom.Vec {
	var out []geom.Vec
	for k := range b.tris {
		t, hit := &b.tris[k], false
		b.overlap(t.box(), int32(k+1), func(o int32) bool {
			u := &b.tris[o]
			hit = repairCross(t, u, m.T[t.id], m.T[u.id])
			return !hit
		})
		if hit {
			if out = append(out, m.middle(int(t.id))); len(out) >= most {
				break
			}
		}
	}
	return out
}

// repairCross reports whether triangles with vertices s and r pass through each
// other. With one vertex in common, it is the sides opposite to it that may; with
// two, they can only lie on each other.
func repairCross(t, u *bvhTri, s, r [3]int32) bool {
	shared, at, to := 0, 0, 0
	for i, v := range s {
		for j, w := range r {
			if v == w {
				shared, at, to = shared+1, i, j
			}
		}
	}
	switch shared {
	case 0:
		return t.crosses(u)
	case 1:
		return u.pierced(t.corner(at+1), t.corner(at+2)) || t.pierced(u.corner(to+1), u.corner(to+2))
	}
	return false
}

// crosses reports whether a side of one triangle passes through the other.
func (t *bvhTri) crosses(u *bvhTri) bool {
	for i := range 3 {
		if u.pierced(t.corner(i), t.corner(i+1)) || t.pierced(u.corner(i), u.corner(i+1)) {
			return true
		}
	}
	return false
}

// corner is corner i modulo 3.
func (t *bvhTri) corner(i int) geom.Vec {
	switch i % 3 {
	case 0:
		return t.a
	case 1:
		return t.b()
	}
	return t.c()
}

// pierced reports whether the segment pq passes from one side of the triangle to
// the other through its inside.
func (t *bvhTri) pierced(p, q geom.Vec) bool {
	n := t.ab.Cross(t.ac)
	if hp, hq := n.Dot(p.Sub(t.a)), n.Dot(q.Sub(t.a)); !(hp > 0 && hq < 0 || hp < 0 && hq > 0) {
		return false
	}
	d := q.Sub(p)
	a, b, c := t.a.Sub(p), t.b().Sub(p), t.c().Sub(p)
	u, v, w := d.Dot(a.Cross(b)), d.Dot(b.Cross(c)), d.Dot(c.Cross(a))
	return u > 0 && v > 0 && w > 0 || u < 0 && v < 0 && w < 0
}

// overlap calls f with the place of each triangle, from the given place on, whose
// box meets the given one, until f returns false.
func (b *BVH) overlap(box geom.Box, from int32, f func(k int32) bool) {
	if len(b.nodes) == 0 {
		return
	}
	var stack [bvhStack]int32
	for n := 1; n > 0; {
		n--
		at := stack[n]
		node := &b.nodes[at]
		if node.first+node.count <= from || !repairMeet(&node.box, &box) {
			continue
		}
		if node.right != 0 {
			stack[n], stack[n+1] = node.right, at+1
			n += 2
			continue
		}
		for k := max(from, node.first); k < node.first+node.count; k++ {
			if own := b.tris[k].box(); repairMeet(&own, &box) && !f(k) {
				return
			}
		}
	}
}

// repairMeet reports whether two boxes have a point in common.
func repairMeet(a, b *geom.Box) bool {
	return a.Min.X <= b.Max.X && b.Min.X <= a.Max.X &&
		a.Min.Y <= b.Max.Y && b.Min.Y <= a.Max.Y &&
		a.Min.Z <= b.Max.Z && b.Min.Z <= a.Max.Z
}
