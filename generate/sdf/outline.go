package sdf

import (
	"fmt"
	"math"

	"buckwright/generate/geom"
)

// outline is a region bounded by closed loops of segments and arcs.
type outline struct {
	e      []piece
	lo, hi geom.Vec2
	tree   tree2
	hull   bool // convex
	bend   bends
}

// Polygon is the region inside a closed outline. Side i runs from pts[i] to the
// next point; bulge[i] is the tangent of a quarter of its sweep, 0 for a straight
// side, positive for an arc to the right of its chord. A nil bulge means all
// straight. Either orientation will do. The error names the point (from 0) at
// which the outline is too short, not finite, or crosses or touches itself.
func Polygon(pts []geom.Vec2, bulge []float64) (Region, error) {
	if len(pts) < 3 {
		return nil, fmt.Errorf("outline: %d points, need 3 or more", len(pts))
	}
	if bulge != nil && len(bulge) != len(pts) {
		return nil, fmt.Errorf("outline: %d bulges for %d points", len(bulge), len(pts))
	}
	var e []piece
	var side []int
	for i, a := range pts {
		b, g := pts[(i+1)%len(pts)], 0.0
		if bulge != nil {
			g = bulge[i]
		}
		if sum := a.X + a.Y + g; !(math.Abs(sum) < far) || !(math.Abs(g) < 1e6) {
			return nil, fmt.Errorf("outline: point %d is not a finite number", i)
		}
		if !(len2(b.Sub(a)) > 1e-6) {
			return nil, fmt.Errorf("outline: points %d and %d coincide", i, (i+1)%len(pts))
		}
		for _, f := range bulged(a, b, g) {
			e, side = append(e, f), append(side, i)
		}
	}
	if err := simple(e, side); err != nil {
		return nil, err
	}
	if turnsClockwise(e) {
		for i, j := 0, len(e)-1; i <= j; i, j = i+1, j-1 {
			e[i], e[j] = e[j].reverse(), e[i].reverse()
		}
	}
	return newOutline(smoothLoop(e)), nil
}

func turnsClockwise(e []piece) bool {
	var s float64
	for i := range e {
		s += e[i].area()
	}
	return s < 0
}

// bulged is the side from a to b: one segment, or arcs of about a quarter turn or less.
func bulged(a, b geom.Vec2, g float64) []piece {
	chord := b.Sub(a)
	if math.Abs(g)*len2(chord)/2 < 1e-6 { // mm that the arc stands off its chord
		return []piece{segment(a, b)}
	}
	// Centre: from the middle of the chord, to the left by half the chord over tan(sweep/2).
	h := (1 - g*g) / (4 * g)
	c := a.Lerp(b, 0.5).Add(right(chord).Scale(-h))
	r := math.Copysign(len2(chord)*(1+g*g)/(4*math.Abs(g)), g)
	sweep := 4 * math.Atan(g)
	n := int(math.Ceil(math.Abs(sweep) / (math.Pi / 2 * 1.001)))
	out := make([]piece, 0, n)
	from := a
	for i := 1; i <= n; i++ {
		to := b
		if i < n {
			s, cs := math.Sincos(sweep * float64(i) / float64(n))
			v := a.Sub(c)
			to = c.Add(geom.Vec2{X: v.X*cs - v.Y*s, Y: v.X*s + v.Y*cs})
		}
		out = append(out, arcPiece(from, to, c, r))
		from = to
	}
	return out
}

// simple checks that a loop neither crosses nor touches itself.
func simple(e []piece, side []int) error {
	var hits []geom.Vec2
	boxes := boxesOf(e)
	for i := range e {
		for j := i + 1; j < len(e); j++ {
			if !boxes[i].meets(&boxes[j]) {
				continue
			}
			next, wrap := j == i+1, i == 0 && j == len(e)-1
			hits = e[i].meets(&e[j], hits[:0])
			for _, p := range hits {
				if next && len2(p.Sub(e[i].b)) < weld || wrap && len2(p.Sub(e[i].a)) < weld {
					continue
				}
				return fmt.Errorf("outline: sides %d and %d meet at (%.4g, %.4g); an outline must not cross or touch itself", side[i], side[j], p.X, p.Y)
			}
		}
	}
	return nil
}

// box2 is an axis-aligned box in the plane.
type box2 struct{ lo, hi geom.Vec2 }

func boxesOf(e []piece) []box2 {
	out := make([]box2, len(e))
	for i := range e {
		out[i].lo, out[i].hi = e[i].box()
	}
	return out
}

func (a *box2) meets(b *box2) bool {
	return a.lo.X <= b.hi.X+touch && b.lo.X <= a.hi.X+touch && a.lo.Y <= b.hi.Y+touch && b.lo.Y <= a.hi.Y+touch
}

// newOutline takes linked pieces, their end normals set.
func newOutline(e []piece) *outline {
	g := &outline{e: e, lo: inf2(), hi: inf2().Scale(-1), bend: flat(), tree: newTree2(e)}
	for i := range e {
		a, b := e[i].box()
		g.lo, g.hi = lower(g.lo, a), upper(g.hi, b)
	}
	g.bend = bendsOfPieces(e)
	g.hull = math.IsInf(g.bend.concave, 1) && !g.bend.valley && loops(e) == 1
	return g
}

func bendsOfPieces(e []piece) bends {
	b := flat()
	for i := range e {
		f := &e[i]
		switch {
		case f.r > 0:
			b.convex = min(b.convex, f.r)
		case f.r < 0:
			b.concave = min(b.concave, -f.r)
		}
		_, n := f.normals()
		switch turn := n.Cross(f.nb); {
		case turn > smoothTurn:
			b.ridge = true
		case turn < -smoothTurn:
			b.valley = true
		}
	}
	return b
}

// smoothTurn is the least sine of a turn that counts as a corner.
const smoothTurn = 1e-6

func loops(e []piece) int {
	n := 0
	for i := range e {
		if i == 0 || len2(e[i].a.Sub(e[i-1].b)) > 10*weld {
			n++
		}
	}
	return n
}

func (g *outline) Dist(p geom.Vec2) float64    { return g.tree.dist(g.e, p) }
func (g *outline) Bounds2() (lo, hi geom.Vec2) { return g.lo, g.hi }
func (g *outline) CellFor(tol float64) float64 { return g.bend.cell(tol) }
func (g *outline) pieces() []piece             { return g.e }
func (g *outline) convex2() bool               { return g.hull }
func (g *outline) bends2() bends               { return g.bend }
func (g *outline) near2(c geom.Vec2, r, lo, hi float64) planar {
	return nearPieces(g, c, r, lo, hi)
}

// nearPieces is near2 for a region that is all of its pieces.
func nearPieces(g planar, c geom.Vec2, r, lo, hi float64) planar {
	d, e := g.Dist(c), g.pieces()
	if s := shortened(e, d, c, r, lo, hi); s != nil {
		return s
	}
	if lo == 0 && hi == 0 && g.convex2() {
		if s := sidesIn(e, c, r); s != nil {
			return s
		}
	}
	return nearest(g, e, math.Abs(d)+2*r, c)
}

// sidesIn is the half planes of the sides that come into the disc, where all of
// these are straight; nil otherwise. Of a convex region whose boundary comes in they
// have the signs: a way out of it, within the disc, crosses one of them.
func sidesIn(e []piece, c geom.Vec2, r float64) planar {
	var in []plane2
	for i := range e {
		if e[i].gap(c) > r+touch {
			continue
		}
		if e[i].r != 0 {
			return nil
		}
		in = append(in, e[i].plane())
	}
	if len(in) == 0 {
		return nil
	}
	return sides2{h: in}
}

// nearest keeps the pieces within reach of c. With reach = |Dist(c)| + 2 r they
// include the nearest piece to every point within r of c.
func nearest(whole planar, e []piece, reach float64, c geom.Vec2) planar {
	var keep []piece
	for i := range e {
		if e[i].gap(c) <= reach+touch {
			keep = append(keep, e[i])
		}
	}
	if len(keep) == len(e) {
		return whole
	}
	return &part{keep, whole.convex2(), bendsOfPieces(keep)}
}

// part is the few pieces of an outline that matter in some disc.
type part struct {
	e    []piece
	hull bool
	bend bends
}

func (g *part) Dist(p geom.Vec2) float64 {
	best := math.Inf(1)
	for i := range g.e {
		best = g.e[i].closer(p, best)
	}
	return best
}
func (*part) Bounds2() (lo, hi geom.Vec2)   { return inf2().Scale(-1), inf2() }
func (g *part) CellFor(tol float64) float64 { return g.bend.cell(tol) }
func (g *part) pieces() []piece             { return g.e }
func (g *part) convex2() bool               { return g.hull }
func (g *part) bends2() bends               { return g.bend }
func (g *part) near2(c geom.Vec2, r, lo, hi float64) planar {
	return nearPieces(g, c, r, lo, hi)
}

// shortened is a region's near2 where it becomes all, nothing, one half plane
// or one corner; nil where it does not. d is the region's value at c.
func shortened(e []piece, d float64, c geom.Vec2, r, lo, hi float64) planar {
	switch {
	case d-r > hi:
		return none2{}
	case d+r < lo:
		return all2{}
	}
	reach := r + max(math.Abs(lo), math.Abs(hi))
	closest := math.Abs(d) + 2*r // holds the nearest piece to every point in the disc
	var in [2]*piece
	n, m := 0, 0
	var only *piece
	for i := range e {
		h := e[i].gap(c)
		if h <= closest+touch {
			only = &e[i]
			m++
		}
		if h <= reach+touch {
			if n < 2 {
				in[n] = &e[i]
			}
			n++
		}
	}
	switch {
	case m == 1 && only.r == 0:
		return only.plane()
	case n == 1 && in[0].r == 0:
		return in[0].plane()
	case n == 2 && lo == 0 && hi == 0:
		return corner(in[0], in[1])
	}
	return nil
}

func (e *piece) plane() plane2 {
	n := right(e.u)
	return plane2{n, n.Dot(e.a)}
}

// corner is the sides of two segments that follow each other; nil otherwise.
func corner(e, f *piece) planar {
	if e.r != 0 || f.r != 0 {
		return nil
	}
	if len2(f.b.Sub(e.a)) < weld && len2(e.b.Sub(f.a)) >= weld {
		e, f = f, e
	}
	if len2(e.b.Sub(f.a)) >= weld {
		return nil
	}
	return sides2{[]plane2{e.plane(), f.plane()}, e.u.Cross(f.u) < 0}
}
