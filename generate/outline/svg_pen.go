package outline

import (
	"math"

	"buckwright/generate/geom"
)

// pen draws in the units of an element and lays down sides in mm.
type pen struct {
	d    *drawing
	m    matrix
	line int

	down       []side
	start, now geom.Vec2 // in the element's units
}

func (p *pen) moveTo(to geom.Vec2) { p.start, p.now = to, to }

func (p *pen) lineTo(to geom.Vec2) {
	p.down = append(p.down, side{p.m.at(p.now), p.m.at(to), 0})
	p.now = to
}

func (p *pen) cubicTo(a, b, to geom.Vec2) {
	p.down = cubic{p.m.at(p.now), p.m.at(a), p.m.at(b), p.m.at(to)}.sides(p.down)
	p.now = to
}

func (p *pen) quadTo(a, to geom.Vec2) { // the same curve with four points
	p.cubicTo(p.now.Lerp(a, 2.0/3), to.Lerp(a, 2.0/3), to)
}

// arcTo is an elliptical arc from its ends: SVG 1.1, appendix F.6.5 and F.6.6.
func (p *pen) arcTo(rx, ry, turn float64, large, left bool, to geom.Vec2) {
	from := p.now
	rx, ry = math.Abs(rx), math.Abs(ry)
	if from == to {
		return
	}
	if rx == 0 || ry == 0 {
		p.lineTo(to)
		return
	}
	sin, cos := math.Sincos(turn * math.Pi / 180)
	half := from.Sub(to).Scale(0.5)
	x, y := cos*half.X+sin*half.Y, cos*half.Y-sin*half.X
	need := x*x/(rx*rx) + y*y/(ry*ry)
	if need > 1 {
		rx, ry = rx*math.Sqrt(need), ry*math.Sqrt(need)
	}
	k := math.Sqrt(max(0, 1/need-1))
	if large == left {
		k = -k
	}
	if need > 1 {
		k = 0
	}
	cx, cy := k*rx*y/ry, -k*ry*x/rx
	mid := from.Lerp(to, 0.5)
	e := ellipse{
		geom.Vec2{X: cos*cx - sin*cy + mid.X, Y: sin*cx + cos*cy + mid.Y},
		geom.Vec2{X: rx * cos, Y: rx * sin}, geom.Vec2{X: -ry * sin, Y: ry * cos},
	}
	t0 := math.Atan2((y-cy)/ry, (x-cx)/rx)
	t1 := math.Atan2((-y-cy)/ry, (-x-cx)/rx)
	switch {
	case left && t1 < t0:
		t1 += 2 * math.Pi
	case !left && t1 > t0:
		t1 -= 2 * math.Pi
	}
	p.ellipse(e, t0, t1)
	p.now = to
}

// ellipse lays down a stretch of an ellipse given in the element's units.
func (p *pen) ellipse(e ellipse, t0, t1 float64) {
	p.down = ellipse{p.m.at(e.c), p.m.turn(e.u), p.m.turn(e.v)}.sides(p.down, t0, t1)
}

// lift ends a path; closed joins it to its start.
func (p *pen) lift(closed bool) *Error {
	err := p.d.add(path{sides: p.down, closed: closed, line: p.line})
	p.down, p.now = nil, p.start
	return err
}

func (p *pen) polygon(text string, closed bool) *Error {
	v, ok := numbers(text)
	if !ok || len(v)%2 != 0 {
		return fail(p.line, "turn the shape into a path in the drawing program", "the points of a polygon cannot be read")
	}
	for i := 0; i+1 < len(v); i += 2 {
		at := geom.Vec2{X: v[i], Y: v[i+1]}
		if i == 0 {
			p.moveTo(at)
		} else {
			p.lineTo(at)
		}
	}
	return p.lift(closed)
}

// rect draws a rectangle, its corners rounded by rx and ry; where one of them is
// not given it is as the other (SVG 1.1, 9.2).
func (p *pen) rect(x, y, w, h, rx, ry float64, hasX, hasY bool) *Error {
	if !(w > 0 && h > 0) {
		return nil
	}
	if !hasX {
		rx = ry
	}
	if !hasY {
		ry = rx
	}
	rx, ry = min(max(rx, 0), w/2), min(max(ry, 0), h/2)
	if rx == 0 || ry == 0 {
		rx, ry = 0, 0
	}
	at := func(dx, dy float64) geom.Vec2 { return geom.Vec2{X: x + dx, Y: y + dy} }
	p.moveTo(at(rx, 0))
	for _, c := range [4][2]geom.Vec2{
		{at(w-rx, 0), at(w, ry)}, {at(w, h-ry), at(w-rx, h)}, {at(rx, h), at(0, h-ry)}, {at(0, ry), at(rx, 0)},
	} {
		if c[0] != p.now {
			p.lineTo(c[0])
		}
		p.arcTo(rx, ry, 0, false, true, c[1])
	}
	return p.lift(true)
}

func (p *pen) oval(x, y, rx, ry float64) *Error {
	if !(rx > 0 && ry > 0) {
		return nil
	}
	p.ellipse(ellipse{geom.Vec2{X: x, Y: y}, geom.Vec2{X: rx}, geom.Vec2{Y: ry}}, 0, 2*math.Pi)
	return p.lift(true)
}
