package forming

import (
	"math"

	"buckwright/generate/geom"
)

// tool is what the sheet can meet: the body, the platen it stands on, and the
// walls of the box below the frame. The platen lies beside the body's box; within
// the box's plan the ground is the lower of the platen and the box's underside,
// so that a pocket may go deeper.
type tool struct {
	body   Body
	box    geom.Box
	platen float64
	frame  geom.Box // in plan
}

func newTool(s *Setup) tool {
	half := geom.Vec2{X: s.Area[0] / 2, Y: s.Area[1] / 2}
	frame := geom.BoxOf(s.Center.Sub(half).At(0), s.Center.Add(half).At(0))
	return tool{s.Body, s.Box, s.Platen, frame}
}

// beyond is how far a point lies outside a box's plan; negative inside.
func beyond(b geom.Box, p geom.Vec) float64 {
	return max(b.Min.X-p.X, p.X-b.Max.X, b.Min.Y-p.Y, p.Y-b.Max.Y)
}

// dist is the distance from what the sheet can meet.
func (t tool) dist(p geom.Vec) float64 {
	return min(t.below(p), -beyond(t.frame, p))
}

// below is the distance from the body and the platen.
func (t tool) below(p geom.Vec) float64 {
	out := beyond(t.box, p)
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
