package outline

import (
	"math"

	"buckwright/generate/geom"
)

// A curve is a smooth path over a parameter.
type curve interface {
	at(t float64) geom.Vec2
	along(t float64) geom.Vec2 // its derivative
}

// fitTo is how far, in mm, fitted arcs may lie from a curve: half of what is
// promised, because it is looked at in some places only.
const fitTo = 0.005

// mostHalvings splits a curve into 16384 stretches; what strays then is no curve.
const mostHalvings = 14

// arcs appends arcs that follow the curve from t0 to t1 and meet each other
// without a corner.
func arcs(out []side, c curve, t0, t1 float64) []side { return halve(out, c, t0, t1, mostHalvings) }

// halve fits a pair of arcs, and splits the curve where they stray.
func halve(out []side, c curve, t0, t1 float64, depth int) []side {
	a, b := c.at(t0), c.at(t1)
	if depth == 0 || b.Sub(a).Len() < fitTo/100 && c.at((t0+t1)/2).Sub(a).Len() < fitTo/100 {
		return append(out, side{a, b, 0})
	}
	if pair, ok := biarc(a, heading(c, t0, t0, t1), b, heading(c, t1, t0, t1)); ok && follows(pair, c, t0, t1) {
		return append(out, pair...)
	}
	mid := (t0 + t1) / 2
	out = halve(out, c, t0, mid, depth-1)
	return halve(out, c, mid, t1, depth-1)
}

// heading is the unit direction of travel from t0 to t1 at one of them. Where a
// curve starts or ends at rest, it is the direction next to it.
func heading(c curve, t, t0, t1 float64) geom.Vec2 {
	chord := c.at(t1).Sub(c.at(t0))
	if d := c.along(t).Scale(t1 - t0); d.Len() > 1e-9*chord.Len() && d.Len() > 0 {
		return d.Unit()
	}
	step := (t1 - t0) * 1e-3
	if t == t1 {
		return c.at(t).Sub(c.at(t - step)).Unit()
	}
	return c.at(t + step).Sub(c.at(t)).Unit()
}

// biarc is the pair of arcs from a, heading ta, to b, heading tb, whose inner
// tangent lengths are equal; K. M. Bolton, Biarc curves, Computer-Aided Design
// 7(2), 1975. It declines where an arc would turn by more than a quarter.
func biarc(a, ta, b, tb geom.Vec2) ([]side, bool) {
	v := b.Sub(a)
	t := ta.Add(tb)
	k := 2 * (1 - ta.Dot(tb))
	var d float64
	switch vt, vv := v.Dot(t), v.Dot(v); {
	case !(vv > 0):
		return nil, false
	case k > 1e-12:
		d = (-vt + math.Sqrt(vt*vt+k*vv)) / k
	case vt > 0:
		d = vv / (2 * vt)
	}
	if !(d > 0) || math.IsInf(d, 0) {
		return nil, false
	}
	mid := a.Add(ta.Scale(d)).Lerp(b.Sub(tb.Scale(d)), 0.5)
	first, ok1 := tangentArc(a, mid, ta)
	last, ok2 := tangentArc(b, mid, tb.Scale(-1))
	if !ok1 || !ok2 {
		return nil, false
	}
	return []side{first, last.reversed()}, true
}

// tangentArc leaves a in the direction t and ends in b.
func tangentArc(a, b, t geom.Vec2) (side, bool) {
	v := b.Sub(a)
	half := math.Atan2(t.Cross(v), t.Dot(v)) // half of what the arc turns
	return side{a, b, math.Tan(half / 2)}, v.Len() > 0 && math.Abs(half) < math.Pi/4
}

// follows reports whether the curve stays by the pair of arcs.
func follows(pair []side, c curve, t0, t1 float64) bool {
	const looks = 16
	for i := 1; i < looks; i++ {
		p := c.at(t0 + (t1-t0)*float64(i)/looks)
		if !(min(pair[0].dist(p), pair[1].dist(p)) <= fitTo) {
			return false
		}
	}
	return true
}

// cubic is a Bézier curve of four points, over 0 to 1.
type cubic [4]geom.Vec2

func (c cubic) at(t float64) geom.Vec2 {
	s := 1 - t
	return c[0].Scale(s * s * s).Add(c[1].Scale(3 * s * s * t)).Add(c[2].Scale(3 * s * t * t)).Add(c[3].Scale(t * t * t))
}

func (c cubic) along(t float64) geom.Vec2 {
	s := 1 - t
	return c[1].Sub(c[0]).Scale(3 * s * s).Add(c[2].Sub(c[1]).Scale(6 * s * t)).Add(c[3].Sub(c[2]).Scale(3 * t * t))
}

// straight reports whether the control points lie on the chord, in order.
func (c cubic) straight() bool {
	v := c[3].Sub(c[0])
	l := v.Dot(v)
	a, b := c[1].Sub(c[0]), c[2].Sub(c[0])
	flat := 1e-9 * l
	return math.Abs(v.Cross(a)) <= flat && math.Abs(v.Cross(b)) <= flat &&
		v.Dot(a) >= 0 && v.Dot(b) >= 0 && v.Dot(a) <= l && v.Dot(b) <= l
}

// sides appends the cubic as a line or as arcs.
func (c cubic) sides(out []side) []side {
	if c.straight() {
		return append(out, side{c[0], c[3], 0})
	}
	return arcs(out, c, 0, 1)
}

// ellipse is c + u cos t + v sin t.
type ellipse struct{ c, u, v geom.Vec2 }

func (e ellipse) at(t float64) geom.Vec2 {
	s, k := math.Sincos(t)
	return e.c.Add(e.u.Scale(k)).Add(e.v.Scale(s))
}

func (e ellipse) along(t float64) geom.Vec2 {
	s, k := math.Sincos(t)
	return e.v.Scale(k).Sub(e.u.Scale(s))
}

// round reports whether it is a circle, to float64.
func (e ellipse) round() bool {
	uu, vv := e.u.Dot(e.u), e.v.Dot(e.v)
	return math.Abs(uu-vv) <= 1e-7*uu && math.Abs(e.u.Dot(e.v)) <= 1e-7*uu
}

// sides appends the stretch from t0 to t1: exact arcs of a circle, none over a
// quarter turn, or fitted ones.
func (e ellipse) sides(out []side, t0, t1 float64) []side {
	n := max(1, math.Ceil(math.Abs(t1-t0)/(math.Pi/2)-1e-9))
	step := (t1 - t0) / n
	for i := range int(n) {
		a, b := t0+step*float64(i), t0+step*float64(i+1)
		if !e.round() {
			out = arcs(out, e, a, b)
			continue
		}
		bulge := math.Tan(step / 4)
		if e.u.Cross(e.v) < 0 {
			bulge = -bulge
		}
		out = append(out, side{e.at(a), e.at(b), bulge})
	}
	return out
}
