package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Release of a body of revolution is one too: its outline is traced from the
// body's own and the lines at alpha that leave it upwards. Exact on both sides.
func (s revolved) Release(alpha geom.Angle) (Solid, error) {
	if alpha == 0 {
		return sweep(s, alpha)
	}
	if out, ok := s.flared(alpha); ok {
		return out, nil
	}
	return sweep(s, alpha)
}

// flared is the release up to a height that nothing reaches.
func (s revolved) flared(alpha geom.Angle) (Solid, bool) {
	const high = 1e5 // mm
	e := s.g.pieces()
	lo, hi := s.g.Bounds2()
	top := hi.Y + high
	tan := alpha.Tan()
	reach := hi.X + (top-lo.Y)*tan + 1
	cand := append([]piece{}, e...)
	for i := range e {
		cand = appendRays(cand, &e[i], alpha, top)
	}
	cand = append(cand, segment(geom.Vec2{X: reach, Y: top}, geom.Vec2{Y: top}), segment(geom.Vec2{Y: top}, geom.Vec2{Y: lo.Y - 1}))
	sum, err := sweep(s, alpha)
	if err != nil {
		return nil, false
	}
	g, ok := trace(cand, func(p geom.Vec2) float64 {
		return max(sum.Dist(geom.V(math.Abs(p.X), 0, p.Y)), p.Y-top, -p.X)
	})
	if !ok {
		return nil, false
	}
	var open []piece
	for _, f := range offAxis(g.pieces()) {
		if f.a.Y < top-1 || f.b.Y < top-1 {
			open = append(open, f)
		}
	}
	return upward{newRevolved(open).(revolved), s, alpha}, true
}

// appendRays adds the lines that rise from e at the angle alpha to the upright:
// outwards and inwards from its ends and from where it touches such a line.
func appendRays(out []piece, e *piece, alpha geom.Angle, top float64) []piece {
	sin, cos, tan := alpha.Sin(), alpha.Cos(), alpha.Tan()
	from := []geom.Vec2{e.a, e.b}
	if e.r > 0 {
		for _, x := range [2]float64{cos, -cos} {
			if n := (geom.Vec2{X: x, Y: -sin}); e.sector(n) {
				from = append(from, e.c.Add(n.Scale(e.r)))
			}
		}
	}
	for _, p := range from {
		out = append(out, segment(p, geom.Vec2{X: p.X + (top-p.Y)*tan, Y: top}))
		if rise := p.X / tan; p.X > weld {
			h := min(rise, top-p.Y)
			out = append(out, segment(geom.Vec2{X: p.X - h*tan, Y: p.Y + h}, p))
		}
	}
	return out
}

// upward is a body of revolution without a top.
type upward struct {
	revolved
	from  revolved
	alpha geom.Angle
}

// Release of a released body by a smaller angle changes nothing.
func (s upward) Release(alpha geom.Angle) (Solid, error) {
	return s.from.Release(max(alpha, s.alpha))
}

func (s upward) Bounds() geom.Box {
	b := geom.Everywhere()
	b.Min.Z = s.revolved.Bounds().Min.Z
	return b
}
