// Package sdf builds solids from signed distance fields: negative inside,
// millimetres.
//
// Every Solid keeps three promises. Its field is 1-Lipschitz, so a ball of
// radius r about c holds values within r of Dist(c) and no more. Its zero set is
// the boundary of the solid. And where the type says so (Exact), the value is
// the true Euclidean distance on that side; elsewhere it is a bound that never
// exceeds it.
//
// Solids shorten themselves for a ball, which keeps their sign (Local) or their
// values near the surface (Near); a mesher then sees half spaces over flats.
//
// Not promised: an exact distance after a union, intersection or difference
// (each keeps it on one side only), nor features thinner than the grid they are
// later sampled on.
package sdf

import "buckwright/generate/geom"

// Solid is a closed region of space.
type Solid interface {
	// Dist is the signed distance, or a bound that never exceeds it in size.
	Dist(p geom.Vec) float64
	// Bounds is a box that holds the solid. It may be infinite.
	Bounds() geom.Box
}

// Localizer is a Solid that can shorten itself. Local returns a solid that has
// the same sign and the same zero set everywhere inside the ball, and whose
// field is still 1-Lipschitz there; outside the ball it may be anything.
// A mesher prunes with it: a deep tree becomes one plane in most cells.
type Localizer interface {
	Local(b geom.Ball) Solid
}

// Resolver is a Solid that knows how finely it must be sampled. Cell is the
// largest cell edge, in mm, at which chords between points of its surface stay
// within tol mm of it: sqrt(8 r tol) for the least radius of curvature r,
// +Inf for planes. Sharp edges between its faces do not count.
type Resolver interface {
	Cell(tol float64) float64
}

// Creaser is a Solid that knows whether faces of it may meet in a sharp edge.
// The facets of a mesh that stands for something round make none.
type Creaser interface {
	Creased() bool
}

// Exact tells on which sides a solid's field is the true distance.
type Exact interface {
	ExactOutside() bool
	ExactInside() bool
}

// Local shortens s for the ball, or returns s itself when it cannot.
func Local(s Solid, b geom.Ball) Solid {
	if l, ok := s.(Localizer); ok {
		return l.Local(b)
	}
	return s
}

// HalfSpace is the set of points p with N·p <= D, N of unit length.
type HalfSpace struct {
	N geom.Vec
	D float64
}

func (h HalfSpace) Dist(p geom.Vec) float64 { return h.N.Dot(p) - h.D }
func (h HalfSpace) Bounds() geom.Box        { return geom.Everywhere() }
func (h HalfSpace) ExactOutside() bool      { return true }
func (h HalfSpace) ExactInside() bool       { return true }

// Nothing is the empty solid, Everything is all space: what a solid becomes in
// a ball that its boundary does not reach. Their fields are finite so that sums stay finite.
type (
	Nothing    struct{}
	Everything struct{}
)

const far = 1e9 // mm

func (Nothing) Dist(geom.Vec) float64    { return far }
func (Nothing) Bounds() geom.Box         { return geom.EmptyBox() }
func (Everything) Dist(geom.Vec) float64 { return -far }
func (Everything) Bounds() geom.Box      { return geom.Everywhere() }
