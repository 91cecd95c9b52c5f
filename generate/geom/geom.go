// Package geom holds points, boxes, balls, angles and affine maps.
// All lengths are millimetres; z is up.
package geom

import "math"

// Vec is a point or a direction in space, in mm.
type Vec struct{ X, Y, Z float64 }

// V is short for Vec{x, y, z}.
func V(x, y, z float64) Vec { return Vec{x, y, z} }

func (a Vec) Add(b Vec) Vec             { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) Sub(b Vec) Vec             { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) Scale(s float64) Vec       { return Vec{a.X * s, a.Y * s, a.Z * s} }
func (a Vec) Dot(b Vec) float64         { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) Len() float64              { return math.Sqrt(a.Dot(a)) }
func (a Vec) Dist(b Vec) float64        { return a.Sub(b).Len() }
func (a Vec) Min(b Vec) Vec             { return Vec{min(a.X, b.X), min(a.Y, b.Y), min(a.Z, b.Z)} }
func (a Vec) Max(b Vec) Vec             { return Vec{max(a.X, b.X), max(a.Y, b.Y), max(a.Z, b.Z)} }
func (a Vec) Abs() Vec                  { return Vec{math.Abs(a.X), math.Abs(a.Y), math.Abs(a.Z)} }
func (a Vec) XY() Vec2                  { return Vec2{a.X, a.Y} }
func (a Vec) Lerp(b Vec, t float64) Vec { return a.Add(b.Sub(a).Scale(t)) }

// Cross is the vector product a × b.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Unit is a scaled to length 1; the zero vector stays zero.
func (a Vec) Unit() Vec {
	l := a.Len()
	if l == 0 {
		return Vec{}
	}
	return a.Scale(1 / l)
}

// Axis returns component i of a: 0 is x, 1 is y, 2 is z.
func (a Vec) Axis(i int) float64 {
	switch i {
	case 0:
		return a.X
	case 1:
		return a.Y
	}
	return a.Z
}

// Finite reports whether no component is NaN or infinite.
func (a Vec) Finite() bool {
	s := a.X - a.X + a.Y - a.Y + a.Z - a.Z
	return s == 0
}

// Vec2 is a point or a direction in the plane, in mm.
type Vec2 struct{ X, Y float64 }

func (a Vec2) Add(b Vec2) Vec2             { return Vec2{a.X + b.X, a.Y + b.Y} }
func (a Vec2) Sub(b Vec2) Vec2             { return Vec2{a.X - b.X, a.Y - b.Y} }
func (a Vec2) Scale(s float64) Vec2        { return Vec2{a.X * s, a.Y * s} }
func (a Vec2) Dot(b Vec2) float64          { return a.X*b.X + a.Y*b.Y }
func (a Vec2) Cross(b Vec2) float64        { return a.X*b.Y - a.Y*b.X }
func (a Vec2) Len() float64                { return math.Hypot(a.X, a.Y) }
func (a Vec2) At(z float64) Vec            { return Vec{a.X, a.Y, z} }
func (a Vec2) Lerp(b Vec2, t float64) Vec2 { return a.Add(b.Sub(a).Scale(t)) }

// Unit is a scaled to length 1; the zero vector stays zero.
func (a Vec2) Unit() Vec2 {
	l := a.Len()
	if l == 0 {
		return Vec2{}
	}
	return a.Scale(1 / l)
}

// Angle is a plane angle, kept in radians: write 3*geom.Degree, never 3.
type Angle float64

// Degree converts at the surface: 3*Degree.
const Degree Angle = math.Pi / 180

func (a Angle) Degrees() float64 { return float64(a / Degree) }
func (a Angle) Sin() float64     { return math.Sin(float64(a)) }
func (a Angle) Cos() float64     { return math.Cos(float64(a)) }
func (a Angle) Tan() float64     { return math.Tan(float64(a)) }
