package sdf

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// trace finds the outline of the set where f <= 0 among candidate pieces that
// together cover it: they are cut wherever they meet, the parts with f < 0 on the
// left and f > 0 on the right are kept and joined into loops. ok is false if
// they do not close.
func trace(cand []piece, f func(geom.Vec2) float64) (g planar, ok bool) {
	var keep []piece
	for _, e := range cutAll(cand) {
		p, n := e.mid()
		const step = 1e-6
		in, out := f(p.Sub(n.Scale(step))), f(p.Add(n.Scale(step)))
		if in < -step/2 && out > step/2 && !repeats(keep, e) {
			keep = append(keep, e)
		}
	}
	keep = trimmed(keep)
	if len(keep) == 0 {
		return none2{}, true
	}
	// A bit of outline shorter than the probe's step may be missing: then a
	// wider gap is closed.
	for _, gap := range [2]float64{20 * weld, 200 * weld} {
		if loops, ok := link(keep, gap); ok {
			return newOutline(loops), true
		}
	}
	return nil, false
}

// trimmed drops short pieces with a loose end. Where two candidates cross at
// a small angle, a bit of each beyond the crossing is still within the probe's step.
func trimmed(e []piece) []piece {
	const short = 1e-2 // mm: a longer loose piece is a fault, not a bit
	for {
		var out []piece
		for i := range e {
			if e[i].length() > short || held(e, i) {
				out = append(out, e[i])
			}
		}
		if len(out) == len(e) {
			return e
		}
		e = out
	}
}

// held reports whether other pieces end where piece i starts and start where it ends.
func held(e []piece, i int) bool {
	before, after := false, false
	for j := range e {
		if j != i {
			before = before || same(e[j].b, e[i].a)
			after = after || same(e[j].a, e[i].b)
		}
	}
	return before && after
}

func repeats(keep []piece, e piece) bool {
	for i := range keep {
		if same(keep[i].a, e.a) && same(keep[i].b, e.b) {
			p, _ := e.mid()
			if q, _ := keep[i].mid(); same(p, q) {
				return true
			}
		}
	}
	return false
}

func same(a, b geom.Vec2) bool { return adjoin(a, b, 20*weld) }

func adjoin(a, b geom.Vec2, gap float64) bool {
	return math.Abs(a.X-b.X) < gap && math.Abs(a.Y-b.Y) < gap
}

func cutAll(e []piece) []piece {
	var out []piece
	var at []geom.Vec2
	boxes := boxesOf(e)
	for i := range e {
		at = at[:0]
		for j := range e {
			if i != j && boxes[i].meets(&boxes[j]) {
				at = e[i].meets(&e[j], at)
			}
		}
		out = e[i].cut(at, out)
	}
	return out
}

// cut appends the parts of e between the given points on it.
func (e *piece) cut(at []geom.Vec2, out []piece) []piece {
	along := func(p geom.Vec2) float64 {
		if e.r == 0 {
			return p.Sub(e.a).Dot(e.u)
		}
		a, v := e.a.Sub(e.c), p.Sub(e.c)
		return math.Copysign(1, e.r) * math.Atan2(a.Cross(v), a.Dot(v)) * math.Abs(e.r)
	}
	at = slices.Clone(at)
	slices.SortFunc(at, func(p, q geom.Vec2) int { return cmp.Compare(along(p), along(q)) })
	from, s, end := e.a, 0.0, e.length()
	for _, p := range at {
		if t := along(p); t-s > weld && end-t > weld {
			out = append(out, e.between(from, p))
			from, s = p, t
		}
	}
	return append(out, e.between(from, e.b))
}

func (e *piece) between(a, b geom.Vec2) piece {
	if e.r == 0 {
		return segment(a, b)
	}
	return arcPiece(a, b, e.c, e.r)
}

// link orders pieces into closed loops and sets their end normals. Where two
// loops touch, each follows the boundary of its own corner.
func link(e []piece, gap float64) ([]piece, bool) {
	used := make([]bool, len(e))
	var out []piece
	for i := range e {
		if used[i] {
			continue
		}
		start, k := len(out), i
		for {
			used[k] = true
			out = append(out, e[k])
			if adjoin(e[k].b, e[i].a, gap) && !hasBetter(e, used, k, i, gap) {
				break
			}
			if k = follow(e, used, k, gap); k < 0 {
				return nil, false
			}
		}
		smoothLoop(out[start:])
	}
	return out, true
}

func hasBetter(e []piece, used []bool, k, first int, gap float64) bool {
	j := follow(e, used, k, gap)
	return j >= 0 && clockwise(&e[k], &e[j]) < clockwise(&e[k], &e[first])
}

// follow finds the unused piece that starts where k ends and bounds the same
// corner of the region: the first one met turning clockwise from the way back.
func follow(e []piece, used []bool, k int, gap float64) int {
	best, found := math.Inf(1), -1
	for j := range e {
		if !used[j] && adjoin(e[k].b, e[j].a, gap) {
			if t := clockwise(&e[k], &e[j]); t < best {
				best, found = t, j
			}
		}
	}
	return found
}

// clockwise is the angle from the way back along e to the way out along f.
func clockwise(e, f *piece) float64 {
	_, ne := e.normals()
	nf, _ := f.normals()
	t := math.Atan2(ne.Cross(nf), ne.Dot(nf)) // left turn positive, -pi to pi
	return math.Pi - t
}

// level is the region where Dist <= k, its outline traced; ok is false if the
// trace does not close.
func level(g planar, k float64) (planar, bool) {
	e := g.pieces()
	var cand []piece
	for i := range e {
		cand = appendShifted(cand, &e[i], k)
		cand = appendCorner(cand, &e[i], k)
	}
	return trace(cand, func(p geom.Vec2) float64 { return g.Dist(p) - k })
}

// appendShifted adds the curve at distance k outside piece e.
func appendShifted(out []piece, e *piece, k float64) []piece {
	na, nb := e.normals()
	a, b := e.a.Add(na.Scale(k)), e.b.Add(nb.Scale(k))
	switch r := e.r + k; {
	case e.r == 0:
		return append(out, segment(a, b))
	case math.Signbit(r) == math.Signbit(e.r) && math.Abs(r)*e.sweep() > weld:
		return append(out, arcPiece(a, b, e.c, r))
	}
	return out
}

// appendCorner adds the arc at distance k about the end of e, if the corner
// there turns away from that side.
func appendCorner(out []piece, e *piece, k float64) []piece {
	_, n := e.normals()
	m := e.nb.Sub(n) // the next piece's normal
	turn := math.Atan2(n.Cross(m), n.Dot(m))
	if turn*k <= 0 || math.Abs(turn*k) < weld {
		return out
	}
	at := func(t float64) geom.Vec2 {
		s, c := math.Sincos(t)
		return e.b.Add(geom.Vec2{X: n.X*c - n.Y*s, Y: n.X*s + n.Y*c}.Scale(k))
	}
	parts := math.Ceil(math.Abs(turn) / (math.Pi / 2 * 1.001))
	from := at(0)
	for i := 1.0; i <= parts; i++ {
		to := at(turn * i / parts)
		out = append(out, arcPiece(from, to, e.b, k))
		from = to
	}
	return out
}
