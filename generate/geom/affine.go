package geom

// Affine is a map x -> M x + T, the upper three rows of a 4 x 4 row-major matrix.
type Affine struct {
	M [9]float64 // row-major
	T Vec
}

// Identity leaves every point where it is.
func Identity() Affine { return Affine{M: [9]float64{1, 0, 0, 0, 1, 0, 0, 0, 1}} }

// Translate moves by d.
func Translate(d Vec) Affine { a := Identity(); a.T = d; return a }

// ScaleAbout multiplies distances from c by s, per axis.
func ScaleAbout(c, s Vec) Affine {
	a := Affine{M: [9]float64{s.X, 0, 0, 0, s.Y, 0, 0, 0, s.Z}}
	a.T = c.Sub(a.Dir(c))
	return a
}

// RotateX turns about the x axis, counterclockwise seen from +x.
// Quarter turns are exact.
func RotateX(t Angle) Affine {
	s, c := sincos(t)
	return Affine{M: [9]float64{1, 0, 0, 0, c, -s, 0, s, c}}
}

// RotateY turns about the y axis, counterclockwise seen from +y.
func RotateY(t Angle) Affine {
	s, c := sincos(t)
	return Affine{M: [9]float64{c, 0, s, 0, 1, 0, -s, 0, c}}
}

// RotateZ turns about the z axis, counterclockwise seen from +z.
func RotateZ(t Angle) Affine {
	s, c := sincos(t)
	return Affine{M: [9]float64{c, -s, 0, s, c, 0, 0, 0, 1}}
}

func sincos(t Angle) (sin, cos float64) {
	sin, cos = t.Sin(), t.Cos()
	snap := func(v float64) float64 {
		for _, e := range [3]float64{-1, 0, 1} {
			if d := v - e; d < 1e-15 && d > -1e-15 {
				return e
			}
		}
		return v
	}
	return snap(sin), snap(cos)
}

// Dir maps a direction: the linear part only.
func (a Affine) Dir(v Vec) Vec {
	m := &a.M
	return Vec{
		m[0]*v.X + m[1]*v.Y + m[2]*v.Z,
		m[3]*v.X + m[4]*v.Y + m[5]*v.Z,
		m[6]*v.X + m[7]*v.Y + m[8]*v.Z,
	}
}

// Apply maps a point.
func (a Affine) Apply(p Vec) Vec { return a.Dir(p).Add(a.T) }

// Then is the map that applies a first and b after it.
func (a Affine) Then(b Affine) Affine {
	var m [9]float64
	for r := range 3 {
		for c := range 3 {
			for k := range 3 {
				m[3*r+c] += b.M[3*r+k] * a.M[3*k+c]
			}
		}
	}
	return Affine{m, b.Apply(a.T)}
}

// Det is the factor by which the map multiplies volumes; negative if it mirrors.
func (a Affine) Det() float64 {
	m := &a.M
	return m[0]*(m[4]*m[8]-m[5]*m[7]) - m[1]*(m[3]*m[8]-m[5]*m[6]) + m[2]*(m[3]*m[7]-m[4]*m[6])
}

// Inverse undoes the map. It is undefined when Det is 0.
func (a Affine) Inverse() Affine {
	m, d := &a.M, 1/a.Det()
	inv := Affine{M: [9]float64{
		(m[4]*m[8] - m[5]*m[7]) * d, (m[2]*m[7] - m[1]*m[8]) * d, (m[1]*m[5] - m[2]*m[4]) * d,
		(m[5]*m[6] - m[3]*m[8]) * d, (m[0]*m[8] - m[2]*m[6]) * d, (m[2]*m[3] - m[0]*m[5]) * d,
		(m[3]*m[7] - m[4]*m[6]) * d, (m[1]*m[6] - m[0]*m[7]) * d, (m[0]*m[4] - m[1]*m[3]) * d,
	}}
	inv.T = inv.Dir(a.T).Scale(-1)
	return inv
}

// Rows is the 4 x 4 row-major matrix of the map.
func (a Affine) Rows() [16]float64 {
	m := &a.M
	return [16]float64{
		m[0], m[1], m[2], a.T.X,
		m[3], m[4], m[5], a.T.Y,
		m[6], m[7], m[8], a.T.Z,
		0, 0, 0, 1,
	}
}

// AffineOfRows is the map whose Rows are m; its last row is not looked at.
func AffineOfRows(m [16]float64) Affine {
	return Affine{
		M: [9]float64{m[0], m[1], m[2], m[4], m[5], m[6], m[8], m[9], m[10]},
		T: Vec{m[3], m[7], m[11]},
	}
}

// Box is the box around the image of b.
func (a Affine) Box(b Box) Box {
	out := EmptyBox()
	for i := range 8 {
		out = out.Include(a.Apply(b.Corner(i)))
	}
	return out
}
