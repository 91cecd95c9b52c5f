package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Grow is the region of the points within d of g (d > 0), or the points of g at
// least -d from its edge (d < 0). It is exact on both sides, unless its outline
// cannot be traced (only for a Region made elsewhere): then outside for d > 0,
// inside for d < 0, and a bound on the other side.
func Grow(g Region, d float64) Region {
	if d == 0 {
		return g
	}
	if t, ok := g.(interface{ grow(float64) (Region, bool) }); ok {
		if out, ok := t.grow(d); ok {
			return out
		}
	}
	if t, ok := g.(planar); ok && len(t.pieces()) > 0 {
		if out, ok := level(t, d); ok {
			return out
		}
	}
	return shifted{asPlanar(g), d}
}

func (g plane2) grow(d float64) (Region, bool) { return plane2{g.n, g.d + d}, true }
func (g all2) grow(float64) (Region, bool)     { return g, true }
func (g none2) grow(float64) (Region, bool)    { return g, true }

// RoundRegion gives every corner the radius r, convex and concave, and leaves
// the rest where it is. Necks and gaps narrower than 2 r go.
func RoundRegion(g Region, r float64) Region {
	if r <= 0 {
		return g
	}
	return Grow(Grow(opened(g, r), r), -r)
}

// opened gives every convex corner at least the radius r.
func opened(g Region, r float64) Region {
	if t, ok := g.(planar); ok {
		if b := t.bends2(); !b.ridge && b.convex >= r {
			return g
		}
	}
	return Grow(Grow(g, -r), r)
}

// Union2 is the points in any of the regions, exact on both sides.
func Union2(gs ...Region) Region {
	return combine(gs, func(p geom.Vec2) float64 {
		d := math.Inf(1)
		for _, g := range gs {
			d = min(d, g.Dist(p))
		}
		return d
	}, 0)
}

// Difference2 is the points of g in none of the cutters, exact on both sides.
func Difference2(g Region, cutters ...Region) Region {
	all := append([]Region{g}, cutters...)
	return combine(all, func(p geom.Vec2) float64 {
		d := g.Dist(p)
		for _, c := range cutters {
			d = max(d, -c.Dist(p))
		}
		return d
	}, 1)
}

// combine traces the set f <= 0 along the outlines of the regions, those from
// index inverted on with their sides swapped (0: none swapped).
func combine(gs []Region, f func(geom.Vec2) float64, inverted int) Region {
	var cand []piece
	for i, g := range gs {
		t, ok := g.(planar)
		if !ok {
			return field2{f}
		}
		for _, e := range t.pieces() {
			if inverted > 0 && i >= inverted {
				e = e.reverse()
			}
			cand = append(cand, e)
		}
	}
	if out, ok := trace(cand, f); ok {
		return out
	}
	return field2{f}
}

// Place2 turns g about the origin, counterclockwise, and then moves it by at.
func Place2(g Region, at geom.Vec2, turn geom.Angle) Region {
	m := geom.RotateZ(turn) // exact for quarter turns
	w := placed{asPlanar(g), at, m.M[0], m.M[3]}
	switch t := g.(type) {
	case rect:
		if w.sin*w.cos == 0 {
			half := w.turn(t.half)
			half = geom.Vec2{X: math.Abs(half.X), Y: math.Abs(half.Y)}
			return rect{w.out(t.at), half, t.r}
		}
	case disc:
		return disc{w.out(t.at), t.r}
	case *outline:
		e := make([]piece, len(t.e))
		for i := range e {
			e[i] = w.piece(t.e[i])
		}
		return newOutline(e)
	}
	return w
}

// placed is a region turned and moved.
type placed struct {
	g        planar
	at       geom.Vec2
	cos, sin float64
}

func (w placed) turn(v geom.Vec2) geom.Vec2 {
	return geom.Vec2{X: w.cos*v.X - w.sin*v.Y, Y: w.sin*v.X + w.cos*v.Y}
}
func (w placed) out(p geom.Vec2) geom.Vec2 { return w.turn(p).Add(w.at) }
func (w placed) in(p geom.Vec2) geom.Vec2 {
	x, y := p.X-w.at.X, p.Y-w.at.Y
	return geom.Vec2{X: w.cos*x + w.sin*y, Y: w.cos*y - w.sin*x}
}

func (w placed) piece(e piece) piece {
	e.a, e.b, e.c = w.out(e.a), w.out(e.b), w.out(e.c)
	e.u, e.na, e.nb = w.turn(e.u), w.turn(e.na), w.turn(e.nb)
	return e
}

func (w placed) Dist(p geom.Vec2) float64    { return w.g.Dist(w.in(p)) }
func (w placed) CellFor(tol float64) float64 { return w.g.CellFor(tol) }
func (w placed) convex2() bool               { return w.g.convex2() }
func (w placed) bends2() bends               { return w.g.bends2() }

func (w placed) Bounds2() (lo, hi geom.Vec2) {
	lo, hi = inf2(), inf2().Scale(-1)
	for _, e := range w.pieces() {
		a, b := e.box()
		lo, hi = lower(lo, a), upper(hi, b)
	}
	if lo.X <= hi.X {
		return lo, hi
	}
	a, b := w.g.Bounds2() // of a region without pieces, the box turned
	if math.IsInf(a.X-b.X+a.Y-b.Y, 0) {
		return inf2().Scale(-1), inf2()
	}
	for _, p := range [4]geom.Vec2{a, b, {X: a.X, Y: b.Y}, {X: b.X, Y: a.Y}} {
		lo, hi = lower(lo, w.out(p)), upper(hi, w.out(p))
	}
	return lo, hi
}

func lower(a, b geom.Vec2) geom.Vec2 { return geom.Vec2{X: min(a.X, b.X), Y: min(a.Y, b.Y)} }
func upper(a, b geom.Vec2) geom.Vec2 { return geom.Vec2{X: max(a.X, b.X), Y: max(a.Y, b.Y)} }

func (w placed) pieces() []piece {
	e := w.g.pieces()
	out := make([]piece, len(e))
	for i := range e {
		out[i] = w.piece(e[i])
	}
	return out
}

func (w placed) near2(c geom.Vec2, r, lo, hi float64) planar {
	return w.wrap(w.g.near2(w.in(c), r, lo, hi))
}

func (w placed) wrap(g planar) planar {
	switch t := g.(type) {
	case all2, none2:
		return t
	case plane2:
		n := w.turn(t.n)
		return plane2{n, t.d + n.Dot(w.at)}
	case sides2:
		out := sides2{reflex: t.reflex}
		for _, h := range t.h {
			out.h = append(out.h, w.wrap(h).(plane2))
		}
		return out
	}
	return placed{g, w.at, w.cos, w.sin}
}

func (w placed) grow(d float64) (Region, bool) {
	return w.wrap(asPlanar(Grow(w.g, d))), true
}

// shifted is a region grown by moving its field's zero: exact outside for
// d > 0 and inside for d < 0.
type shifted struct {
	g planar
	d float64
}

func (s shifted) Dist(p geom.Vec2) float64 { return s.g.Dist(p) - s.d }
func (s shifted) Bounds2() (lo, hi geom.Vec2) {
	lo, hi = s.g.Bounds2()
	d := geom.Vec2{X: s.d, Y: s.d}
	return lo.Sub(d), hi.Add(d)
}
func (s shifted) CellFor(tol float64) float64 { return s.bends2().cell(tol) }
func (s shifted) pieces() []piece             { return nil }
func (s shifted) convex2() bool               { return s.g.convex2() }
func (s shifted) bends2() bends               { return s.g.bends2().grow(s.d) }
func (s shifted) near2(c geom.Vec2, r, lo, hi float64) planar {
	g := s.g.near2(c, r, lo+s.d, hi+s.d)
	if t, ok := g.(interface{ grow(float64) (Region, bool) }); ok {
		out, _ := t.grow(s.d)
		return out.(planar)
	}
	return shifted{g, s.d}
}

// exact2 tells on which sides a region's field is the true distance.
func exact2(g Region) (outside, inside bool) {
	switch t := g.(type) {
	case shifted:
		o, i := exact2(t.g)
		return o && t.d > 0, i && t.d < 0
	case placed:
		return exact2(t.g)
	case field2, sides2:
		return false, false
	case foreign2:
		return true, true
	}
	return true, true
}

// foreign2 lets a Region made elsewhere stand where a planar one is needed.
type foreign2 struct{ Region }

func asPlanar(g Region) planar {
	if t, ok := g.(planar); ok {
		return t
	}
	return foreign2{g}
}

func (foreign2) pieces() []piece { return nil }
func (foreign2) convex2() bool   { return false }
func (g foreign2) bends2() bends {
	const tol = 1e-2
	c := g.CellFor(tol)
	r := c * c / (8 * tol)
	return bends{r, r, true, true}
}
func (g foreign2) near2(c geom.Vec2, r, lo, hi float64) planar {
	return settled2(g, g.Dist(c), r, lo, hi)
}

// field2 is a region known only by a field that bounds the distance.
type field2 struct{ f func(geom.Vec2) float64 }

func (g field2) Dist(p geom.Vec2) float64  { return g.f(p) }
func (field2) Bounds2() (lo, hi geom.Vec2) { return inf2().Scale(-1), inf2() }
func (field2) CellFor(tol float64) float64 { return bends{}.cell(tol) }
func (field2) pieces() []piece             { return nil }
func (field2) convex2() bool               { return false }
func (field2) bends2() bends               { return bends{0, 0, true, true} }
func (g field2) near2(c geom.Vec2, r, lo, hi float64) planar {
	return settled2(g, g.f(c), r, lo, hi)
}
