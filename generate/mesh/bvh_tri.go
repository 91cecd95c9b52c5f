package mesh

import "buckwright/generate/geom"

// bvhTri is a triangle with what its closest-point test needs.
type bvhTri struct {
	a, ab, ac        geom.Vec
	n                geom.Vec // unit normal; zero if the triangle has no area
	abab, abac, acac float64
	id               int32 // in the mesh
	sliver           bool  // too thin for its plane to mean anything
}

// bvhPart names the part of a triangle a closest point lies on.
type bvhPart uint8

const (
	bvhFace bvhPart = iota
	bvhEdgeAB
	bvhEdgeBC
	bvhEdgeCA
	bvhCornerA
	bvhCornerB
	bvhCornerC
)

// bvhThin is the ratio of height to longest edge below which a triangle is
// measured as its three edges: the face's plane is then noise.
const bvhThin = 1e-10

func newBVHTri(a, b, c geom.Vec, id int32) bvhTri {
	t := bvhTri{a: a, ab: b.Sub(a), ac: c.Sub(a), id: id}
	t.abab, t.abac, t.acac = t.ab.Dot(t.ab), t.ab.Dot(t.ac), t.ac.Dot(t.ac)
	n := t.ab.Cross(t.ac)
	t.n = n.Unit()
	bc := t.ac.Sub(t.ab)
	t.sliver = !(n.Len() > bvhThin*max(t.abab, t.acac, bc.Dot(bc)))
	return t
}

func (t *bvhTri) b() geom.Vec { return t.a.Add(t.ab) }
func (t *bvhTri) c() geom.Vec { return t.a.Add(t.ac) }

// box is the box around the triangle.
func (t *bvhTri) box() geom.Box {
	b, c := t.b(), t.c()
	return geom.Box{Min: t.a.Min(b).Min(c), Max: t.a.Max(b).Max(c)}
}

// dist2 is the squared distance from p to the triangle.
// Regions after Ericson, "Real-Time Collision Detection", 2005, 5.1.5.
func (t *bvhTri) dist2(p geom.Vec) float64 {
	if t.sliver {
		_, d2, _ := t.thin(p)
		return d2
	}
	ap := p.Sub(t.a)
	d1, d2 := t.ab.Dot(ap), t.ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return ap.Dot(ap)
	}
	d3, d4 := d1-t.abab, d2-t.abac
	if d3 >= 0 && d4 <= d3 {
		v := ap.Sub(t.ab)
		return v.Dot(v)
	}
	if d1*d4-d3*d2 <= 0 && d1 >= 0 && d3 <= 0 {
		v := ap.Sub(t.ab.Scale(d1 / (d1 - d3)))
		return v.Dot(v)
	}
	d5, d6 := d1-t.abac, d2-t.acac
	if d6 >= 0 && d5 <= d6 {
		v := ap.Sub(t.ac)
		return v.Dot(v)
	}
	if d5*d2-d1*d6 <= 0 && d2 >= 0 && d6 <= 0 {
		v := ap.Sub(t.ac.Scale(d2 / (d2 - d6)))
		return v.Dot(v)
	}
	if d3*d6-d5*d4 <= 0 && d4 >= d3 && d5 >= d6 {
		w := (d4 - d3) / ((d4 - d3) + (d5 - d6))
		v := ap.Sub(t.ab).Sub(t.ac.Sub(t.ab).Scale(w))
		return v.Dot(v)
	}
	h := t.n.Dot(ap)
	return h * h
}

// closest is the point of the triangle nearest to p, and the part it lies on.
func (t *bvhTri) closest(p geom.Vec) (geom.Vec, bvhPart) {
	if t.sliver {
		q, _, part := t.thin(p)
		return q, part
	}
	ap := p.Sub(t.a)
	d1, d2 := t.ab.Dot(ap), t.ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return t.a, bvhCornerA
	}
	d3, d4 := d1-t.abab, d2-t.abac
	if d3 >= 0 && d4 <= d3 {
		return t.b(), bvhCornerB
	}
	if d1*d4-d3*d2 <= 0 && d1 >= 0 && d3 <= 0 {
		return t.a.Add(t.ab.Scale(d1 / (d1 - d3))), bvhEdgeAB
	}
	d5, d6 := d1-t.abac, d2-t.acac
	if d6 >= 0 && d5 <= d6 {
		return t.c(), bvhCornerC
	}
	if d5*d2-d1*d6 <= 0 && d2 >= 0 && d6 <= 0 {
		return t.a.Add(t.ac.Scale(d2 / (d2 - d6))), bvhEdgeCA
	}
	if d3*d6-d5*d4 <= 0 && d4 >= d3 && d5 >= d6 {
		w := (d4 - d3) / ((d4 - d3) + (d5 - d6))
		return t.b().Add(t.ac.Sub(t.ab).Scale(w)), bvhEdgeBC
	}
	return p.Sub(t.n.Scale(t.n.Dot(ap))), bvhFace
}

// thin measures a triangle without area as its three edges.
func (t *bvhTri) thin(p geom.Vec) (q geom.Vec, dist2 float64, part bvhPart) {
	c := [3]geom.Vec{t.a, t.b(), t.c()}
	for i := range 3 {
		x, u := bvhSegment(p, c[i], c[(i+1)%3])
		v := p.Sub(x)
		if d := v.Dot(v); i == 0 || d < dist2 {
			q, dist2, part = x, d, bvhEdgeAB+bvhPart(i)
			switch u {
			case 0:
				part = bvhCornerA + bvhPart(i)
			case 1:
				part = bvhCornerA + bvhPart((i+1)%3)
			}
		}
	}
	return q, dist2, part
}

// bvhSegment is the point of segment ab nearest to p, at a + u (b - a).
func bvhSegment(p, a, b geom.Vec) (q geom.Vec, u float64) {
	d := b.Sub(a)
	l := d.Dot(d)
	if !(l > 0) {
		return a, 0
	}
	u = min(1, max(0, p.Sub(a).Dot(d)/l))
	if u == 1 {
		return b, 1
	}
	return a.Add(d.Scale(u)), u
}

// ray is the parameter at which the line o + t d meets the triangle.
// After Möller and Trumbore 1997; edges belong to both their triangles.
func (t *bvhTri) ray(o, d geom.Vec) (float64, bool) {
	pv := d.Cross(t.ac)
	det := t.ab.Dot(pv)
	if det == 0 {
		return 0, false
	}
	s := o.Sub(t.a)
	u := s.Dot(pv) / det
	if !(u >= 0 && u <= 1) {
		return 0, false
	}
	qv := s.Cross(t.ab)
	v := d.Dot(qv) / det
	if !(v >= 0 && u+v <= 1) {
		return 0, false
	}
	return t.ac.Dot(qv) / det, true
}
