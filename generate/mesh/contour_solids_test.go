package mesh

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// The solids of the mesher's tests. They know nothing of package sdf's own
// primitives, so that the two are tested apart.

// testBall is a ball.
type testBall struct {
	c geom.Vec
	r float64
}

func (b testBall) Dist(p geom.Vec) float64 { return p.Dist(b.c) - b.r }
func (b testBall) Bounds() geom.Box        { return geom.BoxOf(b.c).Grow(b.r) }
func (b testBall) Cell(tol float64) float64 {
	return math.Sqrt(8 * b.r * tol)
}

// testRound is a box with all edges rounded to r: exact outside.
type testRound struct {
	half geom.Vec // with the rounding
	r    float64
}

func (b testRound) Dist(p geom.Vec) float64 {
	q := p.Abs().Sub(b.half).Add(geom.Vec{X: b.r, Y: b.r, Z: b.r})
	return q.Max(geom.Vec{}).Len() + min(0, max(q.X, q.Y, q.Z)) - b.r
}
func (b testRound) Bounds() geom.Box { return geom.BoxOf(b.half, b.half.Scale(-1)) }
func (b testRound) Cell(tol float64) float64 {
	return math.Sqrt(8 * b.r * tol)
}

// testTorus lies in the plane z = 0.
type testTorus struct{ major, minor float64 }

func (t testTorus) Dist(p geom.Vec) float64 {
	return math.Hypot(math.Hypot(p.X, p.Y)-t.major, p.Z) - t.minor
}
func (t testTorus) Bounds() geom.Box {
	return geom.BoxOf(geom.Vec{X: t.major, Y: t.major}, geom.Vec{X: -t.major, Y: -t.major}).Grow(t.minor)
}
func (t testTorus) Cell(tol float64) float64 {
	return math.Sqrt(8 * t.minor * tol)
}

// testRod is an endless cylinder through p along the unit vector d.
type testRod struct {
	p, d geom.Vec
	r    float64
}

func (c testRod) Dist(p geom.Vec) float64 {
	q := p.Sub(c.p)
	return q.Sub(c.d.Scale(c.d.Dot(q))).Len() - c.r
}
func (c testRod) Bounds() geom.Box { return geom.Everywhere() }
func (c testRod) Cell(tol float64) float64 {
	return math.Sqrt(8 * c.r * tol)
}

// testAll is the intersection of solids; testAny their union; testNot a complement.
type (
	testAll []sdf.Solid
	testAny []sdf.Solid
	testNot struct{ s sdf.Solid }
)

func (a testAll) Dist(p geom.Vec) float64 {
	d := math.Inf(-1)
	for _, s := range a {
		d = max(d, s.Dist(p))
	}
	return d
}
func (a testAll) Bounds() geom.Box {
	b := geom.Everywhere()
	for _, s := range a {
		b = b.Intersect(s.Bounds())
	}
	return b
}
func (a testAll) Cell(tol float64) float64 { return testCell(a, tol) }
func (a testAll) Local(b geom.Ball) sdf.Solid {
	best := a.Dist(b.C)
	var keep testAll
	for _, s := range a {
		if s.Dist(b.C) >= best-2*b.R {
			keep = append(keep, sdf.Local(s, b))
		}
	}
	if len(keep) == 1 {
		return keep[0]
	}
	return keep
}

func (a testAny) Dist(p geom.Vec) float64 {
	d := math.Inf(1)
	for _, s := range a {
		d = min(d, s.Dist(p))
	}
	return d
}
func (a testAny) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, s := range a {
		b = b.Union(s.Bounds())
	}
	return b
}
func (a testAny) Cell(tol float64) float64 { return testCell(a, tol) }
func (a testAny) Local(b geom.Ball) sdf.Solid {
	best := a.Dist(b.C)
	var keep testAny
	for _, s := range a {
		if s.Dist(b.C) <= best+2*b.R {
			keep = append(keep, sdf.Local(s, b))
		}
	}
	if len(keep) == 1 {
		return keep[0]
	}
	return keep
}

func (n testNot) Dist(p geom.Vec) float64  { return -n.s.Dist(p) }
func (n testNot) Bounds() geom.Box         { return geom.Everywhere() }
func (n testNot) Cell(tol float64) float64 { return testCell([]sdf.Solid{n.s}, tol) }
func (n testNot) Local(b geom.Ball) sdf.Solid {
	switch s := sdf.Local(n.s, b).(type) {
	case sdf.HalfSpace:
		return sdf.HalfSpace{N: s.N.Scale(-1), D: -s.D}
	default:
		return testNot{s}
	}
}

func testCell(all []sdf.Solid, tol float64) float64 {
	c := math.Inf(1)
	for _, s := range all {
		if r, ok := s.(sdf.Resolver); ok {
			c = min(c, r.Cell(tol))
		} else if _, flat := s.(sdf.HalfSpace); !flat {
			c = min(c, 1)
		}
	}
	return c
}

// testBounded gives a solid bounds.
type testBounded struct {
	sdf.Solid
	b geom.Box
}

func (t testBounded) Bounds() geom.Box            { return t.b }
func (t testBounded) Local(b geom.Ball) sdf.Solid { return sdf.Local(t.Solid, b) }
func (t testBounded) Cell(tol float64) float64    { return testCell([]sdf.Solid{t.Solid}, tol) }

// testBlock is a box of planes about the origin, turned by the map.
func testBlock(half geom.Vec, turn geom.Affine) sdf.Solid {
	var all testAll
	for a := range 3 {
		for _, s := range [2]float64{-1, 1} {
			var n geom.Vec
			switch a {
			case 0:
				n.X = s
			case 1:
				n.Y = s
			default:
				n.Z = s
			}
			n = turn.Dir(n).Unit()
			all = append(all, sdf.HalfSpace{N: n, D: half.Axis(a) + n.Dot(turn.T)})
		}
	}
	b := turn.Box(geom.BoxOf(half, half.Scale(-1)))
	return testBounded{all, b}
}
