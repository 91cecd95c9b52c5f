package meshfile

import "buckwright/generate/geom"

// polygonMost is the most corners of a polygon that is cut with care; the time
// rises with the third power.
const polygonMost = 400

// mostTests is the most tests of a corner against an ear in one file, about a
// second: a file of nothing but the worst polygons would take hours.
const mostTests = 1 << 29

// polygon cuts a polygon into triangles. One that is convex, or whose vertices are
// not known yet, is cut into a fan about its first corner; another by cutting off
// ears, corners that stick out and have no other corner within (Meisters 1975).
func (r *reader) polygon(poly []int32) error {
	if err := r.room(len(poly)-2, 0); err != nil {
		return err
	}
	c, ok := r.flatten(poly)
	if !ok || c.fans() {
		r.fan(poly)
		return nil
	}
	for len(c.ids) > 3 {
		i := c.ear()
		n := len(c.ids)
		r.mesh.T = append(r.mesh.T, [3]int32{c.ids[(i+n-1)%n], c.ids[i], c.ids[(i+1)%n]})
		c.ids = append(c.ids[:i], c.ids[i+1:]...)
		c.p = append(c.p[:i], c.p[i+1:]...)
	}
	r.fan(c.ids)
	r.tests += c.tests
	return nil
}

func (r *reader) fan(poly []int32) {
	for i := 2; i < len(poly); i++ {
		r.mesh.T = append(r.mesh.T, [3]int32{poly[0], poly[i-1], poly[i]})
	}
}

// flatPolygon is a polygon in its plane, counterclockwise.
type flatPolygon struct {
	ids   []int32
	p     []geom.Vec2
	tests int // of a corner against an ear, so far
}

// flatten lays a polygon into the plane it is nearest to: across the sum of the
// cross products of its corners (Newell's normal).
func (r *reader) flatten(poly []int32) (flatPolygon, bool) {
	if len(poly) < 4 || len(poly) > polygonMost || r.tests > mostTests {
		return flatPolygon{}, false
	}
	for _, i := range poly {
		if int(i) >= len(r.mesh.V) {
			return flatPolygon{}, false
		}
	}
	var n geom.Vec
	o := r.mesh.V[poly[0]]
	for k, i := range poly {
		next := r.mesh.V[poly[(k+1)%len(poly)]]
		n = n.Add(r.mesh.V[i].Sub(o).Cross(next.Sub(o)))
	}
	n = n.Unit()
	axis := geom.V(1, 0, 0)
	if a := n.Abs(); a.X > a.Y {
		axis = geom.V(0, 1, 0)
	}
	x := axis.Sub(n.Scale(axis.Dot(n))).Unit()
	y := n.Cross(x)
	f := flatPolygon{ids: append([]int32(nil), poly...)}
	for _, i := range poly {
		v := r.mesh.V[i].Sub(o)
		f.p = append(f.p, geom.Vec2{X: v.Dot(x), Y: v.Dot(y)})
	}
	return f, n != geom.Vec{}
}

// turn is twice the area of the triangle at corner i, positive where it sticks out.
func (f *flatPolygon) turn(i int) float64 {
	n := len(f.p)
	a, b, c := f.p[(i+n-1)%n], f.p[i], f.p[(i+1)%n]
	return b.Sub(a).Cross(c.Sub(a))
}

// fans reports whether a fan about the first corner stays inside.
func (f *flatPolygon) fans() bool {
	for i := 2; i < len(f.p); i++ {
		if f.p[i-1].Sub(f.p[0]).Cross(f.p[i].Sub(f.p[0])) < 0 {
			return false
		}
	}
	return true
}

// ear is a corner that can be cut off, or that is there twice; if rounding leaves none, the one that
// sticks out most.
func (f *flatPolygon) ear() int {
	best, at := 0.0, 0
	for i := range f.p {
		t := f.turn(i)
		if t > 0 && f.clear(i) || f.p[i] == f.p[(i+1)%len(f.p)] {
			return i
		}
		if t > best {
			best, at = t, i
		}
	}
	return at
}

// clear reports whether no other corner lies in the triangle at corner i.
func (f *flatPolygon) clear(i int) bool {
	n := len(f.p)
	a, b, c := f.p[(i+n-1)%n], f.p[i], f.p[(i+1)%n]
	for _, p := range f.p {
		f.tests++
		if p == a || p == b || p == c {
			continue
		}
		if b.Sub(a).Cross(p.Sub(a)) >= 0 && c.Sub(b).Cross(p.Sub(b)) >= 0 && a.Sub(c).Cross(p.Sub(c)) >= 0 {
			return false
		}
	}
	return true
}
