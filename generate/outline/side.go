package outline

import (
	"math"

	"buckwright/generate/geom"
)

// side is a line or an arc of a circle; bulge is tan(sweep / 4).
type side struct {
	from, to geom.Vec2
	bulge    float64
}

// reversed is the same side run the other way.
func (s side) reversed() side { return side{s.to, s.from, -s.bulge} }

// mapped is the side under a map that keeps circles round.
func (s side) mapped(m matrix) side {
	out := side{m.at(s.from), m.at(s.to), s.bulge}
	if m.mirrors() {
		out.bulge = -out.bulge
	}
	return out
}

// arc is the centre and radius of a side that is not straight.
func (s side) arc() (c geom.Vec2, r float64) {
	b := s.bulge
	chord := s.to.Sub(s.from)
	h := (1 - b*b) / (4 * b)
	c = s.from.Lerp(s.to, 0.5).Add(geom.Vec2{X: -chord.Y, Y: chord.X}.Scale(h))
	return c, chord.Len() * (1 + b*b) / (4 * math.Abs(b))
}

// sweep is the angle the side turns through, positive to the left.
func (s side) sweep() float64 { return 4 * math.Atan(s.bulge) }

// area is the signed area between the side and the origin.
func (s side) area() float64 {
	a := s.from.Cross(s.to) / 2
	if s.bulge == 0 {
		return a
	}
	_, r := s.arc()
	w := s.sweep()
	return a + r*r/2*(w-math.Sin(w))
}

// holds reports whether the arc passes the direction from its centre.
func (s side) holds(c, dir geom.Vec2) bool {
	from := s.from.Sub(c)
	turn := math.Atan2(from.Cross(dir), from.Dot(dir))
	w := s.sweep()
	if w < 0 {
		turn, w = -turn, -w
	}
	if turn < 0 {
		turn += 2 * math.Pi
	}
	return turn <= w
}

// extremes are points whose box is the side's.
func (s side) extremes() []geom.Vec2 {
	out := []geom.Vec2{s.from, s.to}
	if s.bulge == 0 {
		return out
	}
	c, r := s.arc()
	for _, d := range [4]geom.Vec2{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}} {
		if s.holds(c, d) {
			out = append(out, c.Add(d.Scale(r)))
		}
	}
	return out
}

// dist is the distance from a point to the side.
func (s side) dist(p geom.Vec2) float64 {
	ends := min(p.Sub(s.from).Len(), p.Sub(s.to).Len())
	chord := s.to.Sub(s.from)
	if s.bulge == 0 {
		t := p.Sub(s.from).Dot(chord) / chord.Dot(chord)
		if !(t > 0 && t < 1) {
			return ends
		}
		return math.Abs(chord.Cross(p.Sub(s.from))) / chord.Len()
	}
	c, r := s.arc()
	if d := p.Sub(c); s.holds(c, d) {
		return math.Abs(d.Len() - r)
	}
	return ends
}

// matrix is the map x' = m0 x + m2 y + m4, y' = m1 x + m3 y + m5, the order of SVG.
type matrix [6]float64

func identity() matrix { return matrix{1, 0, 0, 1, 0, 0} }

func (m matrix) at(p geom.Vec2) geom.Vec2 {
	return geom.Vec2{X: m[0]*p.X + m[2]*p.Y + m[4], Y: m[1]*p.X + m[3]*p.Y + m[5]}
}

// turn maps a direction.
func (m matrix) turn(v geom.Vec2) geom.Vec2 {
	return geom.Vec2{X: m[0]*v.X + m[2]*v.Y, Y: m[1]*v.X + m[3]*v.Y}
}

// times is first n, then m.
func (m matrix) times(n matrix) matrix {
	x, y, o := m.turn(geom.Vec2{X: n[0], Y: n[1]}), m.turn(geom.Vec2{X: n[2], Y: n[3]}), m.at(geom.Vec2{X: n[4], Y: n[5]})
	return matrix{x.X, x.Y, y.X, y.Y, o.X, o.Y}
}

func (m matrix) mirrors() bool { return m[0]*m[3]-m[1]*m[2] < 0 }

func (m matrix) finite() bool {
	for _, v := range m {
		if !(math.Abs(v) < 1e12) {
			return false
		}
	}
	return true
}
