package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// piece is a segment (r = 0) or an arc of at most 3/4 of a half turn about c:
// counterclockwise for r > 0, clockwise for r < 0. The region lies to its left,
// so r > 0 is convex. na and nb point out of the region at the ends: the sums
// of the outward normals of the two pieces that meet there.
type piece struct {
	a, b   geom.Vec2
	c      geom.Vec2
	r      float64
	u      geom.Vec2 // unit direction of a segment
	l      float64   // length of a segment
	na, nb geom.Vec2
}

func len2(v geom.Vec2) float64 { return math.Sqrt(v.X*v.X + v.Y*v.Y) }

// right turns v clockwise by a quarter: a direction of travel into the outward normal.
func right(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.Y, Y: -v.X} }

func segment(a, b geom.Vec2) piece {
	d := b.Sub(a)
	l := len2(d)
	return piece{a: a, b: b, u: d.Scale(1 / l), l: l}
}

func appendSegment(out []piece, a, b geom.Vec2) []piece {
	if len2(b.Sub(a)) < weld {
		return out
	}
	return append(out, segment(a, b))
}

func arcPiece(a, b, c geom.Vec2, r float64) piece { return piece{a: a, b: b, c: c, r: r} }

// closer returns the signed distance from p to the piece if it is less in size
// than best, and best otherwise.
func (e *piece) closer(p geom.Vec2, best float64) float64 {
	w := geom.Vec2{X: p.X - e.a.X, Y: p.Y - e.a.Y}
	var d float64
	if e.r == 0 {
		switch t := w.X*e.u.X + w.Y*e.u.Y; {
		case t <= 0:
			return endCloser(w, e.na, best)
		case t >= e.l:
			return endCloser(geom.Vec2{X: p.X - e.b.X, Y: p.Y - e.b.Y}, e.nb, best)
		}
		d = w.X*e.u.Y - w.Y*e.u.X
	} else {
		v := geom.Vec2{X: p.X - e.c.X, Y: p.Y - e.c.Y}
		if !e.sector(v) {
			best = endCloser(w, e.na, best)
			return endCloser(geom.Vec2{X: p.X - e.b.X, Y: p.Y - e.b.Y}, e.nb, best)
		}
		d = len2(v) - math.Abs(e.r)
		if e.r < 0 {
			d = -d
		}
	}
	if math.Abs(d) < math.Abs(best) {
		return d
	}
	return best
}

func endCloser(w, n geom.Vec2, best float64) float64 {
	q := w.X*w.X + w.Y*w.Y
	if q >= best*best {
		return best
	}
	return math.Copysign(math.Sqrt(q), w.X*n.X+w.Y*n.Y)
}

// sector reports whether direction v from the centre lies within the arc.
func (e *piece) sector(v geom.Vec2) bool {
	s, t := e.a.Sub(e.c).Cross(v), v.Cross(e.b.Sub(e.c))
	if e.r < 0 {
		s, t = -s, -t
	}
	return s >= 0 && t >= 0
}

// gap is the distance from p to the piece, unsigned.
func (e *piece) gap(p geom.Vec2) float64 { return math.Abs(e.closer(p, math.Inf(1))) }

// normals are the outward unit normals at the two ends.
func (e *piece) normals() (na, nb geom.Vec2) {
	if e.r == 0 {
		n := right(e.u)
		return n, n
	}
	return e.a.Sub(e.c).Scale(1 / e.r), e.b.Sub(e.c).Scale(1 / e.r)
}

// sweep is the angle of the arc, positive; 0 for a segment.
func (e *piece) sweep() float64 {
	if e.r == 0 {
		return 0
	}
	a, b := e.a.Sub(e.c), e.b.Sub(e.c)
	return math.Abs(math.Atan2(a.Cross(b), a.Dot(b)))
}

func (e *piece) length() float64 {
	if e.r == 0 {
		return e.l
	}
	return math.Abs(e.r) * e.sweep()
}

// mid is the point half way along, and the outward normal there.
func (e *piece) mid() (p, n geom.Vec2) {
	if e.r == 0 {
		return e.a.Lerp(e.b, 0.5), right(e.u)
	}
	v := e.a.Sub(e.c).Add(e.b.Sub(e.c)).Unit()
	if e.r < 0 {
		n = v.Scale(-1)
	} else {
		n = v
	}
	return e.c.Add(v.Scale(math.Abs(e.r))), n
}

func (e *piece) box() (lo, hi geom.Vec2) {
	lo, hi = lower(e.a, e.b), upper(e.a, e.b)
	if e.r == 0 {
		return lo, hi
	}
	for i := range 4 {
		s, c := quarter(i)
		if v := (geom.Vec2{X: c, Y: s}); e.sector(v) {
			p := e.c.Add(v.Scale(math.Abs(e.r)))
			lo, hi = lower(lo, p), upper(hi, p)
		}
	}
	return lo, hi
}

// reverse travels the other way: inside becomes outside.
func (e piece) reverse() piece {
	e.a, e.b, e.r, e.u = e.b, e.a, -e.r, e.u.Scale(-1)
	if e.r == 0 {
		e.r = 0 // no negative zero
	}
	e.na, e.nb = e.nb.Scale(-1), e.na.Scale(-1)
	return e
}

// area is twice the area between the piece and the origin, signed.
func (e *piece) area() float64 {
	s := e.a.Cross(e.b)
	if e.r != 0 {
		t := math.Copysign(e.sweep(), e.r)
		s += e.r * e.r * (t - math.Sin(t))
	}
	return s
}

// smoothLoop fills in the end normals of pieces that follow each other.
func smoothLoop(loop []piece) []piece {
	for i := range loop {
		j := (i + 1) % len(loop)
		joinEnds(&loop[i], &loop[j])
	}
	return loop
}

func joinEnds(e, f *piece) {
	_, n := e.normals()
	m, _ := f.normals()
	e.nb = n.Add(m)
	f.na = e.nb
}

// meets appends to out the points that e and f share. Where they run along each
// other the ends that lie on the other stand for the whole stretch.
func (e *piece) meets(f *piece, out []geom.Vec2) []geom.Vec2 {
	switch {
	case e.r == 0 && f.r == 0:
		out = meetLines(e, f, out)
	case e.r == 0:
		out = meetLineArc(e, f, out)
	case f.r == 0:
		out = meetLineArc(f, e, out)
	default:
		out = meetArcs(e, f, out)
	}
	for _, p := range [2]geom.Vec2{e.a, e.b} {
		if f.gap(p) < touch {
			out = append(out, p)
		}
	}
	for _, p := range [2]geom.Vec2{f.a, f.b} {
		if e.gap(p) < touch {
			out = append(out, p)
		}
	}
	return out
}

const (
	touch = 1e-9 // mm: nearer than this counts as touching
	weld  = 1e-7 // mm: ends nearer than this are one vertex, and no piece is shorter
)

func meetLines(e, f *piece, out []geom.Vec2) []geom.Vec2 {
	x := e.u.Cross(f.u)
	if math.Abs(x) < 1e-12 {
		return out
	}
	w := f.a.Sub(e.a)
	s, t := w.Cross(f.u)/x, w.Cross(e.u)/x
	if s >= 0 && s <= e.l && t >= 0 && t <= f.l {
		out = append(out, e.a.Add(e.u.Scale(s)))
	}
	return out
}

func meetLineArc(e, f *piece, out []geom.Vec2) []geom.Vec2 {
	w := f.c.Sub(e.a)
	s, h := w.Dot(e.u), w.Cross(e.u)
	q := f.r*f.r - h*h
	if q < 0 {
		return out
	}
	q = math.Sqrt(q)
	for _, t := range [2]float64{s - q, s + q} {
		p := e.a.Add(e.u.Scale(t))
		if t >= 0 && t <= e.l && f.sector(p.Sub(f.c)) {
			out = append(out, p)
		}
	}
	return out
}

func meetArcs(e, f *piece, out []geom.Vec2) []geom.Vec2 {
	w := f.c.Sub(e.c)
	d := len2(w)
	if d < touch {
		return out
	}
	x := (d*d + e.r*e.r - f.r*f.r) / (2 * d)
	q := e.r*e.r - x*x
	if q < 0 {
		return out
	}
	q = math.Sqrt(q)
	u := w.Scale(1 / d)
	for _, y := range [2]float64{-q, q} {
		v := u.Scale(x).Add(right(u).Scale(y))
		if p := e.c.Add(v); e.sector(v) && f.sector(p.Sub(f.c)) {
			out = append(out, p)
		}
	}
	return out
}
