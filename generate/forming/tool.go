package forming

import (
	"math"

	"buckwright/generate/geom"
)

// tool is what the sheet can meet: the body, and the platen it stands on. The
// platen lies beside the body's box; within the box's plan the ground is the
// lower of the platen and the box's underside, so that a pocket may go deeper.
type tool struct {
	body   Body
	box    geom.Box
	platen float64
}

func (t tool) dist(p geom.Vec) float64 {
	out := max(t.box.Min.X-p.X, p.X-t.box.Max.X, t.box.Min.Y-p.Y, p.Y-t.box.Max.Y) // beyond the box's plan
	ground := p.Z - t.platen
	if out < 0 {
		ground = min(p.Z-min(t.platen, t.box.Min.Z), max(ground, -out))
	}
	if ground < 0 {
		return ground // the body is not asked below its ground
	}
	return min(ground, t.body.Dist(p))
}

// meet finds where the way from a, outside, to b enters the tool: the share of
// the way, and whether it does. clear is the distance at b if it does not.
// The way is short beside what the tool is made of, so its end tells.
func (t tool) meet(a, b geom.Vec) (share, clear float64, hit bool) {
	at := t.dist(b)
	if at > 0 {
		return 1, at, false
	}
	if !(at <= 0) {
		return 1, 0, true // not a number: stay
	}
	lo, hi := 0.0, 1.0
	dl, dh := max(t.dist(a), 0), at
	for range 40 {
		if (hi-lo)*a.Dist(b) < 1e-4 {
			break
		}
		m := (lo + hi) / 2
		if s := lo + (hi-lo)*dl/(dl-dh); s > lo+0.02*(hi-lo) && s < hi-0.02*(hi-lo) {
			m = s // regula falsi, kept off the ends
		}
		d := t.dist(a.Lerp(b, m))
		if math.Abs(d) < 1e-5 {
			return m, 0, true
		}
		if d > 0 {
			lo, dl = m, d
		} else {
			hi, dh = m, d
		}
	}
	return lo, 0, true
}
