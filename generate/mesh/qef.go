package mesh

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// qefPlane is a tangent plane: a point of the surface and its unit normal.
type qefPlane struct{ p, n geom.Vec }

// off is the distance of v from the plane.
func (q qefPlane) off(v geom.Vec) float64 { return q.n.Dot(v.Sub(q.p)) }

// qefMass is the middle of the points.
func qefMass(planes []qefPlane) geom.Vec {
	var m geom.Vec
	for _, q := range planes {
		m = m.Add(q.p)
	}
	return m.Scale(1 / float64(len(planes)))
}

// qefSolve finds the point that lies on the planes in the least-squares sense
// and, where they leave it free, is nearest to their mass point (Ju, Losasso,
// Schaefer, Warren 2002). Directions whose eigenvalue is below drop times the
// largest are left free. A point free to slide on a line slides into the box.
func qefSolve(planes []qefPlane, box geom.Box, drop float64) (v geom.Vec, rank int) {
	m := qefMass(planes)
	var a [3][3]float64
	var b geom.Vec
	for _, q := range planes {
		n := [3]float64{q.n.X, q.n.Y, q.n.Z}
		for i := range 3 {
			for j := range 3 {
				a[i][j] += n[i] * n[j]
			}
		}
		b = b.Sub(q.n.Scale(q.off(m)))
	}
	val, vec := qefEigen(a)
	v = m
	for k := range 3 {
		if val[k] <= drop*val[0] {
			break
		}
		v = v.Add(vec[k].Scale(vec[k].Dot(b) / val[k]))
		rank++
	}
	if rank == 2 {
		v = qefSlide(v, vec[2], box)
	}
	return v, rank
}

// qefSlide moves v along d by the least that brings it into the box; it stays
// where it is when the line misses the box.
func qefSlide(v, d geom.Vec, box geom.Box) geom.Vec {
	lo, hi := math.Inf(-1), math.Inf(1)
	for a := range 3 {
		x, s := v.Axis(a), d.Axis(a)
		if math.Abs(s) < 1e-12 {
			continue
		}
		t0, t1 := (box.Min.Axis(a)-x)/s, (box.Max.Axis(a)-x)/s
		lo, hi = max(lo, min(t0, t1)), min(hi, max(t0, t1))
	}
	if !(lo <= hi) {
		return v
	}
	return v.Add(d.Scale(max(lo, min(hi, 0))))
}

// qefEigen is Jacobi's method for a symmetric matrix: eigenvalues from large to
// small, with their unit vectors.
func qefEigen(a [3][3]float64) (val [3]float64, vec [3]geom.Vec) {
	v := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for range 12 {
		off := a[0][1]*a[0][1] + a[0][2]*a[0][2] + a[1][2]*a[1][2]
		if off < 1e-30 {
			break
		}
		qefRotate(&a, &v, 0, 1)
		qefRotate(&a, &v, 0, 2)
		qefRotate(&a, &v, 1, 2)
	}
	for k := range 3 {
		val[k] = a[k][k]
		vec[k] = geom.Vec{X: v[0][k], Y: v[1][k], Z: v[2][k]}
	}
	swap := func(i, j int) {
		if val[i] < val[j] {
			val[i], val[j], vec[i], vec[j] = val[j], val[i], vec[j], vec[i]
		}
	}
	swap(0, 1)
	swap(0, 2)
	swap(1, 2)
	return val, vec
}

// qefRotate zeroes element p, q of a by a plane rotation, gathered in v.
func qefRotate(a, v *[3][3]float64, p, q int) {
	if a[p][q] == 0 {
		return
	}
	theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
	t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
	if theta < 0 {
		t = -t
	}
	c := 1 / math.Sqrt(t*t+1)
	s := t * c
	for k := range 3 {
		a[k][p], a[k][q] = c*a[k][p]-s*a[k][q], s*a[k][p]+c*a[k][q]
	}
	for k := range 3 {
		a[p][k], a[q][k] = c*a[p][k]-s*a[q][k], s*a[p][k]+c*a[q][k]
	}
	for k := range 3 {
		v[k][p], v[k][q] = c*v[k][p]-s*v[k][q], s*v[k][p]+c*v[k][q]
	}
}

// qefField is what has a distance at every point: a solid, or a tree of them.
type qefField interface{ Dist(p geom.Vec) float64 }

// qefNormal is the unit gradient of the field at p.
func qefNormal(s qefField, p geom.Vec) geom.Vec {
	if _, g, ok := qefGiven(s, p); ok {
		return g
	}
	return qefSlope(s, p)
}

// qefSlope is the unit gradient by differences.
func qefSlope(s qefField, p geom.Vec) geom.Vec {
	const d = 1e-5 // mm: rounding and curvature both stay near 1e-5
	a := s.Dist(geom.Vec{X: p.X + d, Y: p.Y + d, Z: p.Z + d})
	b := s.Dist(geom.Vec{X: p.X + d, Y: p.Y - d, Z: p.Z - d})
	c := s.Dist(geom.Vec{X: p.X - d, Y: p.Y + d, Z: p.Z - d})
	e := s.Dist(geom.Vec{X: p.X - d, Y: p.Y - d, Z: p.Z + d})
	return geom.Vec{X: a + b - c - e, Y: a - b + c - e, Z: a - b - c + e}.Unit()
}

// qefRoot finds a zero of the field between a and b, whose values fa and fb
// differ in sign: false position in the Illinois form, to 1e-10 mm or nearly.
func qefRoot(s sdf.Solid, a, b geom.Vec, fa, fb float64) geom.Vec {
	lo, hi := 0.0, 1.0
	t := 0.5
	side := 0
	for range 60 {
		t = lo + (hi-lo)*fa/(fa-fb)
		if !(t > lo && t < hi) {
			t = (lo + hi) / 2
		}
		f := s.Dist(a.Lerp(b, t))
		if math.Abs(f) < 1e-11 || hi-lo < 1e-12 {
			break
		}
		if (f < 0) == (fa < 0) {
			lo, fa = t, f
			if side == 1 {
				fb /= 2
			}
			side = 1
		} else {
			hi, fb = t, f
			if side == 2 {
				fa /= 2
			}
			side = 2
		}
	}
	return a.Lerp(b, t)
}

// qefLand moves p along the gradient onto the surface.
func qefLand(s sdf.Solid, p geom.Vec) (geom.Vec, geom.Vec) { return qefSettle(s, p, 4, 1e-9) }

// qefSettle moves p along the gradient, until it is less than near mm from the
// surface or steps are done.
func qefSettle(s qefField, p geom.Vec, steps int, near float64) (geom.Vec, geom.Vec) {
	f, n := qefGrad(s, p)
	for range steps {
		if math.Abs(f) < near {
			break
		}
		p = p.Sub(n.Scale(f))
		f, n = qefGrad(s, p)
	}
	return p, n
}

// qefGrad is the field at p and its unit gradient.
func qefGrad(s qefField, p geom.Vec) (float64, geom.Vec) {
	if f, n, ok := qefGiven(s, p); ok {
		return f, n
	}
	return s.Dist(p), qefSlope(s, p)
}

// qefGiven is the field and its gradient where the solid at p gives that.
func qefGiven(s qefField, p geom.Vec) (float64, geom.Vec, bool) {
	switch t := s.(type) {
	case *octLook:
		return sdf.Gradient(t.solid(p), p)
	case sdf.Solid:
		return sdf.Gradient(t, p)
	}
	return 0, geom.Vec{}, false
}

// qefSpread is the largest distance between two of the normals.
func qefSpread(planes []qefPlane) float64 {
	var most float64
	for i := range planes {
		for j := range i {
			most = max(most, planes[i].n.Dist(planes[j].n))
		}
	}
	return most
}

// qefVertex places the vertex of a cell: on the plane of a flat, on the crease
// or corner of sharp sheets, else on the surface near the mass point. sharp
// tells that sheets meet in it.
func qefVertex(s sdf.Solid, planes []qefPlane, box geom.Box, planar bool) (v geom.Vec, sharp bool) {
	spread := qefSpread(planes)
	if spread < 1e-7 {
		return qefFlat(planes), false
	}
	if planar {
		v, _ = qefSolve(planes, box, 1e-7)
		return v, true
	}
	m := qefMass(planes)
	if spread < 0.02 {
		v, _ = qefLand(s, m)
		return v, false
	}
	v, _ = qefSolve(planes, box, 0.02)
	v = v.Max(box.Min).Min(box.Max)
	near := make([]qefPlane, 0, len(planes))
	for _, k := range [...]float64{0.15, 0.03} {
		near = near[:0]
		for _, q := range planes {
			p, n := qefLand(s, v.Lerp(q.p, k))
			if qefOnFace(s, p, n, min(1e-3, p.Dist(v)/10)) {
				q = qefPlane{p, n}
			}
			near = append(near, q)
		}
		if qefSpread(near) < 0.4*spread {
			v, _ = qefLand(s, m)
			return v, false
		}
		v, _ = qefSolve(near, box, k*k)
	}
	return v, true
}

// qefFlat is the mass point put on the plane that all planes share. A plane
// across an axis keeps that coordinate to the last bit.
func qefFlat(planes []qefPlane) geom.Vec {
	q := planes[0]
	v := qefMass(planes)
	v = v.Sub(q.n.Scale(q.off(v)))
	const straight = 1 - 1e-12
	switch {
	case math.Abs(q.n.X) > straight:
		v.X = q.p.X
	case math.Abs(q.n.Y) > straight:
		v.Y = q.p.Y
	case math.Abs(q.n.Z) > straight:
		v.Z = q.p.Z
	}
	return v
}

// qefOnFace reports that p, on the surface, is within a face with normal n, no
// nearer than d to its rim, where the normal would mean little: on a face the
// field stays at 0 on all sides along the tangent plane, however steep it is across.
func qefOnFace(s sdf.Solid, p, n geom.Vec, d float64) bool {
	off := 0.02*d + 10*d*d // mm: some curvature is allowed
	u, v := qefTangents(n)
	for _, t := range [3]geom.Vec{u, u.Scale(-0.5).Add(v.Scale(octRoot3 / 2)), u.Scale(-0.5).Sub(v.Scale(octRoot3 / 2))} {
		if !(math.Abs(s.Dist(p.Add(t.Scale(d)))) < off) {
			return false
		}
	}
	return true
}

// qefTangents are two unit vectors square to n and to each other.
func qefTangents(n geom.Vec) (u, v geom.Vec) {
	a := n.Abs()
	switch {
	case a.X <= a.Y && a.X <= a.Z:
		u = geom.Vec{X: 1}
	case a.Y <= a.Z:
		u = geom.Vec{Y: 1}
	default:
		u = geom.Vec{Z: 1}
	}
	u = n.Cross(u).Unit()
	return u, n.Cross(u)
}
