package pattern

import (
	"math"

	"buckwright/generate/geom"
)

// leg is a stretch of a developed wall's reference line: straight, or an arc of
// a cone's development. Radius is positive where the apex lies to the left.
type leg struct {
	Length float64 // of the reference line
	Radius float64 // 0: straight
}

// corner is the leg of a cone: plan radius r at the reference line, a turn of
// tau seen from above, walls that lean by lean from upright. The cone unrolls to
// a sector of radius r/sin(lean) and angle tau sin(lean). left says that the
// wall gets narrower to the left of the line.
func corner(r, tau float64, lean geom.Angle, left bool) leg {
	l := leg{Length: r * tau}
	if s := lean.Sin(); s*tau > 1e-9 {
		l.Radius = r / s
		if !left {
			l.Radius = -l.Radius
		}
	}
	return l
}

// pose is a place on a developed line and its heading.
type pose struct {
	at  geom.Vec2
	dir geom.Vec2
}

func (p pose) left() geom.Vec2 { return pt(-p.dir.Y, p.dir.X) }

// step goes along a leg.
func (p pose) step(l leg) pose {
	if l.Radius == 0 {
		return pose{p.at.Add(p.dir.Scale(l.Length)), p.dir}
	}
	turn := geom.Angle(l.Length / l.Radius)
	c := p.at.Add(p.left().Scale(l.Radius))
	dir := turned(p.dir, turn)
	return pose{c.Sub(pose{dir: dir}.left().Scale(l.Radius)), dir}
}

func turned(v geom.Vec2, a geom.Angle) geom.Vec2 {
	s, c := a.Sin(), a.Cos()
	return pt(v.X*c-v.Y*s, v.X*s+v.Y*c)
}

// Band is a developed wall: right of its reference line by right, left by left.
// Its parallel edges are exact arcs.
func band(legs []leg, right, left float64) Path {
	at := pose{dir: pt(1, 0)}
	var p Path
	type edge struct {
		a     geom.Vec2
		bulge float64
	}
	var upper []edge
	for _, l := range legs {
		next := at.step(l)
		bulge := 0.0
		if l.Radius != 0 {
			bulge = math.Tan(l.Length / l.Radius / 4)
		}
		p.P, p.B = append(p.P, at.at.Sub(at.left().Scale(right))), append(p.B, bulge)
		upper = append(upper, edge{next.at.Add(next.left().Scale(left)), -bulge})
		at = next
	}
	p.P, p.B = append(p.P, at.at.Sub(at.left().Scale(right))), append(p.B, 0)
	for i := len(upper) - 1; i >= 0; i-- {
		p.P, p.B = append(p.P, upper[i].a), append(p.B, upper[i].bulge)
	}
	p.P, p.B = append(p.P, pt(0, left)), append(p.B, 0)
	return p.Tidy()
}
