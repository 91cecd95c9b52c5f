package mesh

import (
	"math"

	"buckwright/generate/geom"
)

// Winding tells inside from outside by the generalised winding number: about 1
// inside, about 0 outside, also for a mesh with holes (Jacobson, Kavan,
// Sorkine-Hornung 2013). Far clusters of triangles are summed by their moments
// (Barill, Dickson, Schmidt, Levin, Jacobson 2018, "Fast winding numbers for
// soups and clouds"). It never changes and may be used from many goroutines.
type Winding struct {
	bvh   *BVH
	nodes []windNode
}

// windBeta is how many radii away a cluster must be to be summed by its
// moments; 2 is the value of Barill et al. 2018, section 4.
const windBeta = 2

// windNode holds a cluster's moments of area-weighted normals n about the
// middle: sum n, sum n x, sum n x x (x from the middle). Only their symmetric
// parts act, because derivatives of a harmonic function are symmetric.
type windNode struct {
	mid    geom.Vec
	reach2 float64 // (windBeta * radius)^2
	n      geom.Vec
	m      [6]float64  // xx yy zz xy yz zx
	q      [10]float64 // xxx yyy zzz xxy xxz yyx yyz zzx zzy xyz
}

// NewWinding sums the moments of every node of bvh, which must be NewBVH(m).
func NewWinding(m *Mesh, bvh *BVH) *Winding {
	if len(bvh.tris) != len(m.T) {
		panic("mesh: NewWinding: the tree belongs to another mesh")
	}
	w := &Winding{bvh: bvh, nodes: make([]windNode, len(bvh.nodes))}
	for i := range w.nodes {
		w.nodes[i] = windMoments(bvh, &bvh.nodes[i])
	}
	return w
}

func windMoments(b *BVH, node *bvhNode) windNode {
	tris := b.tris[node.first : node.first+node.count]
	w := windNode{mid: windMiddle(tris, node.box)}
	var r2 float64
	for i := range tris {
		t := &tris[i]
		u := [3]geom.Vec{t.a.Sub(w.mid), t.b().Sub(w.mid), t.c().Sub(w.mid)}
		for _, v := range u {
			r2 = max(r2, v.Dot(v))
		}
		w.add(t.ab.Cross(t.ac).Scale(0.5), u)
	}
	w.reach2 = windBeta * windBeta * r2
	return w
}

// windMiddle is the area-weighted middle of the triangles.
func windMiddle(tris []bvhTri, box geom.Box) geom.Vec {
	var sum geom.Vec
	var area float64
	for i := range tris {
		t := &tris[i]
		a := t.ab.Cross(t.ac).Len()
		sum = sum.Add(t.a.Add(t.ab.Add(t.ac).Scale(1.0 / 3)).Scale(a))
		area += a
	}
	if !(area > 0) {
		return box.Center()
	}
	return sum.Scale(1 / area)
}

// add puts in a triangle with area vector n and corners u about the middle.
// The integral of x x over it is area/12 (sum u u + 9 c c), c its centroid.
func (w *windNode) add(n geom.Vec, u [3]geom.Vec) {
	c := u[0].Add(u[1]).Add(u[2]).Scale(1.0 / 3)
	w.n = w.n.Add(n)
	for k, v := range [6]float64{
		n.X * c.X, n.Y * c.Y, n.Z * c.Z,
		(n.X*c.Y + n.Y*c.X) / 2, (n.Y*c.Z + n.Z*c.Y) / 2, (n.Z*c.X + n.X*c.Z) / 2,
	} {
		w.m[k] += v
	}
	var s [6]float64
	for i, v := range [4]geom.Vec{u[0], u[1], u[2], c} {
		f := 1.0 / 12
		if i == 3 {
			f = 9.0 / 12
		}
		for k, p := range [6]float64{v.X * v.X, v.Y * v.Y, v.Z * v.Z, v.X * v.Y, v.Y * v.Z, v.Z * v.X} {
			s[k] += f * p
		}
	}
	xx, yy, zz, xy, yz, zx := s[0], s[1], s[2], s[3], s[4], s[5]
	for k, v := range [10]float64{
		n.X * xx, n.Y * yy, n.Z * zz,
		(n.Y*xx + 2*n.X*xy) / 3, (n.Z*xx + 2*n.X*zx) / 3,
		(n.X*yy + 2*n.Y*xy) / 3, (n.Z*yy + 2*n.Y*yz) / 3,
		(n.X*zz + 2*n.Z*zx) / 3, (n.Y*zz + 2*n.Z*yz) / 3,
		(n.X*yz + n.Y*zx + n.Z*xy) / 3,
	} {
		w.q[k] += v
	}
}

// At is the winding number at p: inside where it is 0.5 or more.
func (w *Winding) At(p geom.Vec) float64 {
	if len(w.nodes) == 0 {
		return 0
	}
	var stack [bvhStack]int32
	var sum float64
	for n := 1; n > 0; {
		n--
		at := stack[n]
		c := &w.nodes[at]
		r := c.mid.Sub(p)
		if d2 := r.Dot(r); d2 > c.reach2 {
			sum += c.far(r, d2)
			continue
		}
		node := &w.bvh.nodes[at]
		if node.right != 0 {
			stack[n], stack[n+1] = node.right, at+1
			n += 2
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			sum += windAngle(p, &w.bvh.tris[k])
		}
	}
	return sum / (4 * math.Pi)
}

// far is the solid angle of the cluster seen over r, to the second order of the
// Taylor series of r/|r|³.
func (w *windNode) far(r geom.Vec, d2 float64) float64 {
	i2 := 1 / d2
	i3 := i2 * math.Sqrt(i2)
	i5 := i3 * i2
	x, y, z := r.X, r.Y, r.Z
	m, q := &w.m, &w.q
	sum := i3 * (w.n.X*x + w.n.Y*y + w.n.Z*z)
	mrr := m[0]*x*x + m[1]*y*y + m[2]*z*z + 2*(m[3]*x*y+m[4]*y*z+m[5]*z*x)
	sum += i3*(m[0]+m[1]+m[2]) - 3*i5*mrr
	trace := (q[0]+q[5]+q[7])*x + (q[3]+q[1]+q[8])*y + (q[4]+q[6]+q[2])*z
	qrrr := q[0]*x*x*x + q[1]*y*y*y + q[2]*z*z*z +
		3*(x*x*(q[3]*y+q[4]*z)+y*y*(q[5]*x+q[6]*z)+z*z*(q[7]*x+q[8]*y)) + 6*q[9]*x*y*z
	return sum - 4.5*i5*trace + 7.5*i5*i2*qrrr
}

// windAngle is the signed solid angle of a triangle seen from p: positive from
// the back (van Oosterom and Strackee 1983).
func windAngle(p geom.Vec, t *bvhTri) float64 {
	a := t.a.Sub(p)
	b, c := a.Add(t.ab), a.Add(t.ac)
	la, lb, lc := a.Len(), b.Len(), c.Len()
	det := a.Dot(t.ab.Cross(t.ac))
	den := la*lb*lc + a.Dot(b)*lc + b.Dot(c)*la + c.Dot(a)*lb
	return 2 * math.Atan2(det, den)
}
