package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Region is a closed region of the plane. Dist is the exact signed distance in
// mm, negative inside; CellFor is Resolver's Cell for its outline.
type Region interface {
	Dist(p geom.Vec2) float64
	Bounds2() (min, max geom.Vec2)
	CellFor(tol float64) float64
}

// planar is a Region made of segments and arcs: what the constructors here give.
type planar interface {
	Region
	// pieces is the closed boundary, the region to the left.
	pieces() []piece
	// near2 agrees with the region in the disc about c wherever lo <= Dist <= hi,
	// and lies on the same side of that band elsewhere.
	near2(c geom.Vec2, r, lo, hi float64) planar
	convex2() bool
	bends2() bends
}

// Rect is the rectangle of the given half sides about the origin, its corners
// rounded by r. The radius is held to the shorter half side.
func Rect(halfX, halfY, r float64) Region {
	return rect{half: geom.Vec2{X: halfX, Y: halfY}, r: max(0, min(r, halfX, halfY))}
}

type rect struct {
	at, half geom.Vec2
	r        float64
}

func (g rect) Dist(p geom.Vec2) float64 {
	x := math.Abs(p.X-g.at.X) - g.half.X + g.r
	y := math.Abs(p.Y-g.at.Y) - g.half.Y + g.r
	if x <= 0 || y <= 0 {
		return max(x, y) - g.r
	}
	return math.Sqrt(x*x+y*y) - g.r
}

func (g rect) Bounds2() (lo, hi geom.Vec2) { return g.at.Sub(g.half), g.at.Add(g.half) }
func (g rect) CellFor(tol float64) float64 { return g.bends2().cell(tol) }
func (g rect) convex2() bool               { return true }
func (g rect) grow(d float64) (Region, bool) {
	if min(g.half.X, g.half.Y)+d < 0 {
		return none2{}, true
	}
	return rect{g.at, geom.Vec2{X: g.half.X + d, Y: g.half.Y + d}, max(0, g.r+d)}, true
}

func (g rect) bends2() bends {
	b := flat()
	if g.r > 0 {
		b.convex = g.r
	} else {
		b.ridge = true
	}
	return b
}

func (g rect) pieces() []piece { return g.appendPieces(nil) }

// appendPieces adds its pieces, eight at most, to out, which is empty.
func (g rect) appendPieces(out []piece) []piece {
	x, y, r := g.half.X, g.half.Y, g.r
	pts := [8]geom.Vec2{{X: x, Y: r - y}, {X: x, Y: y - r}, {X: x - r, Y: y}, {X: r - x, Y: y},
		{X: -x, Y: y - r}, {X: -x, Y: r - y}, {X: r - x, Y: -y}, {X: x - r, Y: -y}}
	for i, a := range pts {
		b := pts[(i+1)%8]
		a, b = a.Add(g.at), b.Add(g.at)
		if i%2 == 0 {
			out = appendSegment(out, a, b)
		} else if r > 0 {
			c := geom.Vec2{X: g.at.X + math.Copysign(x-r, pts[i].X), Y: g.at.Y + math.Copysign(y-r, pts[i].Y)}
			out = append(out, arcPiece(a, b, c, r))
		}
	}
	return smoothLoop(out)
}

func (g rect) near2(c geom.Vec2, r, lo, hi float64) planar {
	d := g.Dist(c)
	if t := settled2(g, d, r, lo, hi); t != planar(g) {
		return t
	}
	if side, ok := g.side(c, r); ok {
		return side
	}
	var room [8]piece
	if s := shortened(g.appendPieces(room[:0]), d, c, r, lo, hi); s != nil {
		return s
	}
	return g
}

// side is the half plane that g is in the disc, where one side alone is the
// nearest to all of the disc and no corner's turn comes.
func (g rect) side(c geom.Vec2, r float64) (plane2, bool) {
	w := c.Sub(g.at)
	x, y := math.Abs(w.X)-g.half.X+g.r, math.Abs(w.Y)-g.half.Y+g.r
	switch {
	case x > y+2*r && y < -r && math.Abs(w.X) > r:
		n := geom.Vec2{X: math.Copysign(1, w.X)}
		return plane2{n, n.X*g.at.X + g.half.X}, true
	case y > x+2*r && x < -r && math.Abs(w.Y) > r:
		n := geom.Vec2{Y: math.Copysign(1, w.Y)}
		return plane2{n, n.Y*g.at.Y + g.half.Y}, true
	}
	return plane2{}, false
}

// Disc is the disc of radius r about the origin.
func Disc(r float64) Region { return disc{r: r} }

type disc struct {
	at geom.Vec2
	r  float64
}

func (g disc) Dist(p geom.Vec2) float64 {
	x, y := p.X-g.at.X, p.Y-g.at.Y
	return math.Sqrt(x*x+y*y) - g.r
}

func (g disc) Bounds2() (lo, hi geom.Vec2) {
	d := geom.Vec2{X: g.r, Y: g.r}
	return g.at.Sub(d), g.at.Add(d)
}
func (g disc) CellFor(tol float64) float64 { return g.bends2().cell(tol) }
func (g disc) convex2() bool               { return true }
func (g disc) bends2() bends               { return bends{convex: g.r, concave: math.Inf(1)} }
func (g disc) grow(d float64) (Region, bool) {
	if g.r+d < 0 {
		return none2{}, true
	}
	return disc{g.at, g.r + d}, true
}

func (g disc) pieces() []piece {
	var out []piece
	for i := range 4 {
		s, c := quarter(i)
		a := geom.Vec2{X: g.at.X + g.r*c, Y: g.at.Y + g.r*s}
		s, c = quarter(i + 1)
		out = append(out, arcPiece(a, geom.Vec2{X: g.at.X + g.r*c, Y: g.at.Y + g.r*s}, g.at, g.r))
	}
	return smoothLoop(out)
}

func quarter(i int) (sin, cos float64) {
	sin = [4]float64{0, 1, 0, -1}[i&3]
	return sin, [4]float64{1, 0, -1, 0}[i&3]
}

func (g disc) near2(c geom.Vec2, r, lo, hi float64) planar {
	return settled2(g, g.Dist(c), r, lo, hi)
}

// settled2 replaces g by all or nothing if its value d at the centre of a disc
// of radius r shows that no value from lo to hi occurs in it.
func settled2(g planar, d, r, lo, hi float64) planar {
	switch {
	case d-r > hi:
		return none2{}
	case d+r < lo:
		return all2{}
	}
	return g
}

// all2 is the whole plane, none2 the empty region.
type (
	all2  struct{}
	none2 struct{}
)

func inf2() geom.Vec2 { return geom.Vec2{X: math.Inf(1), Y: math.Inf(1)} }

func (all2) Dist(geom.Vec2) float64                               { return -far }
func (all2) Bounds2() (lo, hi geom.Vec2)                          { return inf2().Scale(-1), inf2() }
func (all2) CellFor(float64) float64                              { return math.Inf(1) }
func (all2) pieces() []piece                                      { return nil }
func (g all2) near2(geom.Vec2, float64, float64, float64) planar  { return g }
func (all2) convex2() bool                                        { return true }
func (all2) bends2() bends                                        { return flat() }
func (none2) Dist(geom.Vec2) float64                              { return far }
func (none2) Bounds2() (lo, hi geom.Vec2)                         { return inf2(), inf2().Scale(-1) }
func (none2) CellFor(float64) float64                             { return math.Inf(1) }
func (none2) pieces() []piece                                     { return nil }
func (g none2) near2(geom.Vec2, float64, float64, float64) planar { return g }
func (none2) convex2() bool                                       { return true }
func (none2) bends2() bends                                       { return flat() }

// plane2 is the half plane n·p <= d, n of unit length.
type plane2 struct {
	n geom.Vec2
	d float64
}

func (g plane2) Dist(p geom.Vec2) float64  { return g.n.Dot(p) - g.d }
func (plane2) Bounds2() (lo, hi geom.Vec2) { return inf2().Scale(-1), inf2() }
func (plane2) CellFor(float64) float64     { return math.Inf(1) }
func (plane2) pieces() []piece             { return nil }
func (plane2) convex2() bool               { return true }
func (plane2) bends2() bends               { return flat() }
func (g plane2) near2(c geom.Vec2, r, lo, hi float64) planar {
	return settled2(g, g.Dist(c), r, lo, hi)
}

// sides2 is half planes: all of them or (reflex) any. Only its sign and zero set
// are those of the region whose sides they are.
type sides2 struct {
	h      []plane2
	reflex bool
}

func (g sides2) Dist(p geom.Vec2) float64 {
	d := g.h[0].Dist(p)
	for _, h := range g.h[1:] {
		if e := h.Dist(p); e > d != g.reflex {
			d = e
		}
	}
	return d
}
func (sides2) Bounds2() (lo, hi geom.Vec2) { return inf2().Scale(-1), inf2() }
func (sides2) CellFor(float64) float64     { return math.Inf(1) }
func (sides2) pieces() []piece             { return nil }
func (g sides2) convex2() bool             { return !g.reflex }
func (g sides2) bends2() bends {
	b := flat()
	b.ridge, b.valley = !g.reflex, g.reflex
	return b
}
func (g sides2) near2(c geom.Vec2, r, lo, hi float64) planar {
	whole, empty := planar(all2{}), planar(none2{})
	if g.reflex {
		whole, empty = empty, whole
	}
	left := sides2{reflex: g.reflex}
	for _, h := range g.h {
		switch t := h.near2(c, r, lo, hi); t {
		case empty:
			return empty
		case whole:
		default:
			left.h = append(left.h, t.(plane2))
		}
	}
	switch len(left.h) {
	case 0:
		return whole
	case 1:
		return left.h[0]
	}
	return left
}
