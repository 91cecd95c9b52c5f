// Package proof judges an output folder from outside: it reads the STL files
// and kit.json alone and measures gaps, drafts, air paths and overhangs with
// code of its own. It shares nothing with the packages that made the folder.
//
// Lengths are millimetres, angles degrees. z is up and is the pull direction.
package proof

import "math"

// deg is a degree in radians.
const deg = math.Pi / 180

// Vec is a point or a direction.
type Vec [3]float64

// Add is a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// Sub is a - b.
func (a Vec) Sub(b Vec) Vec { return Vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// Mul is a times k.
func (a Vec) Mul(k float64) Vec { return Vec{a[0] * k, a[1] * k, a[2] * k} }

// Dot is the scalar product.
func (a Vec) Dot(b Vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// Cross is the vector product.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// Len is the length.
func (a Vec) Len() float64 { return math.Sqrt(a.Dot(a)) }

// Unit is a with length 1; the zero vector stays.
func (a Vec) Unit() Vec {
	l := a.Len()
	if l == 0 {
		return a
	}
	return a.Mul(1 / l)
}

// Tri is one facet, counterclockwise seen from outside.
type Tri [3]Vec

// Normal is the unit normal, zero for a facet without area.
func (t Tri) Normal() Vec { return t[1].Sub(t[0]).Cross(t[2].Sub(t[0])).Unit() }

// Area in mm².
func (t Tri) Area() float64 { return t[1].Sub(t[0]).Cross(t[2].Sub(t[0])).Len() / 2 }

// Mid is the centroid.
func (t Tri) Mid() Vec { return t[0].Add(t[1]).Add(t[2]).Mul(1.0 / 3) }

// LeastAltitude is the shortest of the three heights.
func (t Tri) LeastAltitude() float64 {
	long := math.Max(t[1].Sub(t[0]).Len(), math.Max(t[2].Sub(t[1]).Len(), t[0].Sub(t[2]).Len()))
	if long == 0 {
		return 0
	}
	return 2 * t.Area() / long
}

// Matrix is a 4 x 4 row-major map.
type Matrix [16]float64

// Apply maps a point.
func (m Matrix) Apply(p Vec) Vec {
	var q Vec
	for i := range 3 {
		q[i] = m[4*i]*p[0] + m[4*i+1]*p[1] + m[4*i+2]*p[2] + m[4*i+3]
	}
	return q
}

// Map is every facet mapped.
func (m Matrix) Map(f []Tri) []Tri {
	out := make([]Tri, len(f))
	for i, t := range f {
		out[i] = Tri{m.Apply(t[0]), m.Apply(t[1]), m.Apply(t[2])}
	}
	return out
}

// Bounds are the least and greatest corner of facets.
func Bounds(f []Tri) (lo, hi Vec) {
	lo = Vec{math.Inf(1), math.Inf(1), math.Inf(1)}
	hi = lo.Mul(-1)
	for _, t := range f {
		for _, p := range t {
			for k := range 3 {
				lo[k], hi[k] = math.Min(lo[k], p[k]), math.Max(hi[k], p[k])
			}
		}
	}
	return lo, hi
}

// Volume inside closed facets, by the divergence theorem, mm³.
func Volume(f []Tri) float64 {
	v := 0.0
	for _, t := range f {
		v += t[0].Dot(t[1].Cross(t[2])) / 6
	}
	return v
}
