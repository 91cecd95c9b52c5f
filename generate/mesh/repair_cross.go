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
		t := &b.tris[k]
		skip := func(o int32) bool { return int(o) <= k || repairShared(m.T[t.id], m.T[b.tris[o].id]) > 0 }
		hit := b.crosses(t, skip) >= 0
		if !hit {
			hit = repairCrossesFan(b, m, k)
		}
		if hit {
			if out = append(out, m.middle(int(t.id))); len(out) >= most {
				break
			}
		}
	}
	return out
}

// repairShared counts the corners that two triangles have in common.
func repairShared(s, t [3]int32) (n int) {
	for _, v := range s {
		if v == t[0] || v == t[1] || v == t[2] {
			n++
		}
	}
	return n
}

// repairCrossesFan reports whether the triangle at k passes through a later one
// with which it shares one corner: then the side opposite the corner does.
func repairCrossesFan(b *BVH, m *Mesh, k int) bool {
	t := &b.tris[k]
	found := false
	b.overlap(t.box(), func(o int32) bool {
		u := &b.tris[o]
		s, r := m.T[t.id], m.T[u.id]
		if int(o) > k && repairShared(s, r) == 1 {
			for i := range 3 {
				for j := range 3 {
					if s[i] == r[j] {
						found = found || u.pierced(t.corner(i+1), t.corner(i+2)) ||
							t.pierced(u.corner(j+1), u.corner(j+2))
					}
				}
			}
		}
		return !found
	})
	return found
}

// crosses is the place of a triangle that t passes through, or -1. It leaves out
// those that skip picks.
func (b *BVH) crosses(t *bvhTri, skip func(o int32) bool) int32 {
	found := int32(-1)
	b.overlap(t.box(), func(o int32) bool {
		if skip(o) {
			return true
		}
		u := &b.tris[o]
		for i := range 3 {
			if u.pierced(t.corner(i), t.corner(i+1)) || t.pierced(u.corner(i), u.corner(i+1)) {
				found = o
				return false
			}
		}
		return true
	})
	return found
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

// overlap calls f with the place of each triangle whose box meets the given one,
// until f returns false.
func (b *BVH) overlap(box geom.Box, f func(k int32) bool) {
	if len(b.nodes) == 0 {
		return
	}
	var stack [bvhStack]int32
	for n := 1; n > 0; {
		n--
		at := stack[n]
		node := &b.nodes[at]
		if node.box.Intersect(box).Empty() {
			continue
		}
		if node.right != 0 {
			stack[n], stack[n+1] = node.right, at+1
			n += 2
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			if !b.tris[k].box().Intersect(box).Empty() && !f(k) {
				return
			}
		}
	}
}
