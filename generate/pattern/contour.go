package pattern

import (
	"math"

	"buckwright/generate/geom"
)

const (
	contourStep = 0.5  // mm, cell of a followed outline
	fitTol      = 0.02 // mm that a line or arc may stand off the outline it stands for
)

// Contour follows the outlines of f <= 0 within a box, f a signed distance or a
// bound of one. Points lie where f is 0, at most about a cell apart; f <= 0 is
// to the left. Features smaller than a cell may be missed.
func Contour(f func(geom.Vec2) float64, lo, hi geom.Vec2, cell float64) [][]geom.Vec2 {
	c := &contour{f: f, lo: lo, cell: cell, value: map[[2]int32]float64{}, point: map[edge]geom.Vec2{}, next: map[edge]edge{}}
	n := int32(1)
	for float64(n)*cell < max(hi.X-lo.X, hi.Y-lo.Y) {
		n *= 2
	}
	c.split(0, 0, n)
	return c.loops()
}

// edge is one side of a cell: a lattice point, and the way it goes from there.
type edge struct {
	x, y   int32
	upward bool
}

type contour struct {
	f     func(geom.Vec2) float64
	lo    geom.Vec2
	cell  float64
	value map[[2]int32]float64
	point map[edge]geom.Vec2
	next  map[edge]edge // crossing -> the crossing after it
	order []edge
}

func (c *contour) at(x, y int32) geom.Vec2 {
	return c.lo.Add(pt(float64(x)*c.cell, float64(y)*c.cell))
}

func (c *contour) corner(x, y int32) float64 {
	k := [2]int32{x, y}
	v, seen := c.value[k]
	if !seen {
		v = c.f(c.at(x, y))
		c.value[k] = v
	}
	return v
}

// split visits the cells that the outline can pass through.
func (c *contour) split(x, y, n int32) {
	if n == 1 {
		c.leaf(x, y)
		return
	}
	h := n / 2
	half := float64(n) * c.cell * math.Sqrt2 / 2
	if math.Abs(c.corner(x+h, y+h)) > half {
		return
	}
	c.split(x, y, h)
	c.split(x+h, y, h)
	c.split(x, y+h, h)
	c.split(x+h, y+h, h)
}

// leaf links the crossings of one cell, the inside to the left.
func (c *contour) leaf(x, y int32) {
	in := [4]bool{c.corner(x, y) <= 0, c.corner(x+1, y) <= 0, c.corner(x+1, y+1) <= 0, c.corner(x, y+1) <= 0}
	sides := [4]edge{{x, y, false}, {x + 1, y, true}, {x, y + 1, false}, {x, y, true}}
	var from, to []edge // crossings at which the outline enters and leaves, going round
	for i := range 4 {
		switch a, b := in[i], in[(i+1)%4]; {
		case a && !b:
			from = append(from, sides[i])
		case !a && b:
			to = append(to, sides[i])
		}
	}
	// Going round counterclockwise, the outline comes in where the inside begins
	// to be left behind. Of two outlines in a cell, the corners inside are kept apart.
	for i := range from {
		j := i
		if len(from) == 2 && in[0] {
			j = 1 - i
		}
		c.next[from[i]] = to[j]
		c.order = append(c.order, from[i])
	}
}

// cross finds where f is 0 on an edge.
func (c *contour) cross(e edge) geom.Vec2 {
	if p, seen := c.point[e]; seen {
		return p
	}
	x, y := e.x+1, e.y
	if e.upward {
		x, y = e.x, e.y+1
	}
	p := zero(c.f, c.at(e.x, e.y), c.at(x, y), c.corner(e.x, e.y), c.corner(x, y))
	c.point[e] = p
	return p
}

// zero finds a point between a and b where f is 0, by the Illinois variant of
// false position (M. Dowell and P. Jarratt, BIT 11, 1971).
func zero(f func(geom.Vec2) float64, a, b geom.Vec2, fa, fb float64) geom.Vec2 {
	const close = 1e-6 // mm
	p := a
	for range 40 {
		if fa == fb {
			return p
		}
		p = a.Lerp(b, fa/(fa-fb))
		v := f(p)
		if math.Abs(v) < close {
			return p
		}
		if (v <= 0) == (fb <= 0) {
			b, fb, fa = p, v, fa/2
		} else {
			a, fa = b, fb
			b, fb = p, v
		}
	}
	return p
}

func (c *contour) loops() [][]geom.Vec2 {
	var out [][]geom.Vec2
	for _, start := range c.order {
		var loop []geom.Vec2
		e := start
		for {
			to, there := c.next[e]
			if !there {
				break
			}
			delete(c.next, e)
			p := c.cross(e)
			if len(loop) == 0 || p.Sub(loop[len(loop)-1]).Len() > 1e-4 {
				loop = append(loop, p)
			}
			e = to
		}
		if e == start && len(loop) > 2 {
			out = append(out, loop)
		}
	}
	return out
}
