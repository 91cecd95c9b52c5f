package sdf

import "buckwright/generate/geom"

// ValueLocalizer is a Solid that can shorten itself without changing a value.
// LocalValue returns a solid with the same Dist everywhere inside the ball, also
// far from the surface; outside the ball it may be anything. An offset needs it,
// because its own surface lies where the solid's field is not zero.
type ValueLocalizer interface {
	LocalValue(b geom.Ball) Solid
}
