package pattern

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Path is a closed outline. Side i runs from P[i] to the next point; B[i] is the
// tangent of a quarter of its sweep: 0 for a straight side, positive for an arc
// that turns left. A nil B means all straight. DXF calls the same number bulge.
type Path struct {
	P []geom.Vec2
	B []float64
}

// Shape is a region: an outline and what is cut out of it.
type Shape struct {
	Outer Path
	Holes []Path
}

func pt(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }

// bulge of side i.
func (p Path) bulge(i int) float64 {
	if p.B == nil {
		return 0
	}
	return p.B[i]
}

// side gives the ends of side i.
func (p Path) side(i int) (a, b geom.Vec2) { return p.P[i], p.P[(i+1)%len(p.P)] }

// Arc is the circle of a side that is one.
type Arc struct {
	Center geom.Vec2
	R      float64
	Sweep  float64 // radians, positive counterclockwise
	Start  float64 // angle of its first point
}

// Arc gives the circle of side i; false for a straight one.
func (p Path) Arc(i int) (Arc, bool) {
	a, b := p.side(i)
	g := p.bulge(i)
	if g == 0 {
		return Arc{}, false
	}
	chord := b.Sub(a)
	left := pt(-chord.Y, chord.X)
	c := a.Lerp(b, 0.5).Add(left.Scale((1 - g*g) / (4 * g)))
	v := a.Sub(c)
	return Arc{c, v.Len(), 4 * math.Atan(g), math.Atan2(v.Y, v.X)}, true
}

// At is the point a share t of the sweep along the arc.
func (a Arc) At(t float64) geom.Vec2 {
	s, c := math.Sincos(a.Start + a.Sweep*t)
	return a.Center.Add(pt(c, s).Scale(a.R))
}

// Area is positive for a counterclockwise path.
func (p Path) Area() float64 {
	sum := 0.0
	for i := range p.P {
		a, b := p.side(i)
		sum += a.Cross(b) / 2
		if c, ok := p.Arc(i); ok {
			sum += c.R * c.R * (c.Sweep - math.Sin(c.Sweep)) / 2
		}
	}
	return sum
}

// Length is the length all round.
func (p Path) Length() float64 {
	sum := 0.0
	for i := range p.P {
		sum += p.sideLength(i)
	}
	return sum
}

func (p Path) sideLength(i int) float64 {
	if c, ok := p.Arc(i); ok {
		return c.R * math.Abs(c.Sweep)
	}
	a, b := p.side(i)
	return b.Sub(a).Len()
}

// Bounds is the box around the path, its arcs included.
func (p Path) Bounds() (lo, hi geom.Vec2) {
	lo, hi = pt(math.Inf(1), math.Inf(1)), pt(math.Inf(-1), math.Inf(-1))
	take := func(q geom.Vec2) {
		lo = pt(min(lo.X, q.X), min(lo.Y, q.Y))
		hi = pt(max(hi.X, q.X), max(hi.Y, q.Y))
	}
	for i, q := range p.P {
		take(q)
		if c, ok := p.Arc(i); ok {
			for _, t := range c.quarters() {
				take(c.At(t))
			}
		}
	}
	return lo, hi
}

// quarters are the shares of the sweep at which an arc looks along an axis.
func (a Arc) quarters() []float64 {
	var out []float64
	lo, hi := a.Start, a.Start+a.Sweep
	if lo > hi {
		lo, hi = hi, lo
	}
	for k := math.Ceil(lo / (math.Pi / 2)); k*math.Pi/2 <= hi; k++ {
		out = append(out, (k*math.Pi/2-a.Start)/a.Sweep)
	}
	return out
}

// Reverse runs the other way round.
func (p Path) Reverse() Path {
	n := len(p.P)
	out := Path{P: slices.Clone(p.P)}
	slices.Reverse(out.P)
	if p.B == nil {
		return out
	}
	out.B = make([]float64, n)
	for i := range n {
		// Side i of the reverse is side n-2-i of the path, the last one stays last.
		out.B[i] = -p.B[(2*n-2-i)%n]
	}
	return out
}

// Turned is the path running counterclockwise (ccw) or clockwise.
func (p Path) Turned(ccw bool) Path {
	if (p.Area() > 0) == ccw {
		return p
	}
	return p.Reverse()
}

// Move turns the path about the origin and then moves it.
func (p Path) Move(turn geom.Angle, by geom.Vec2) Path {
	s, c := turn.Sin(), turn.Cos()
	out := Path{P: make([]geom.Vec2, len(p.P)), B: p.B}
	for i, q := range p.P {
		out.P[i] = pt(q.X*c-q.Y*s+by.X, q.X*s+q.Y*c+by.Y)
	}
	return out
}

// Flatten replaces arcs by chords that stay within tol of them.
func (p Path) Flatten(tol float64) []geom.Vec2 {
	var out []geom.Vec2
	for i, a := range p.P {
		out = append(out, a)
		c, ok := p.Arc(i)
		if !ok {
			continue
		}
		step := 2 * math.Acos(max(0, 1-tol/c.R))
		n := math.Ceil(math.Abs(c.Sweep) / step)
		for k := 1.0; k < n; k++ {
			out = append(out, c.At(k/n))
		}
	}
	return out
}

// Straight is the path through the points.
func Straight(pts ...geom.Vec2) Path { return Path{P: pts} }

// Rect is a rectangle of half sides about c, counterclockwise, its corners
// rounded by r.
func Rect(c geom.Vec2, hx, hy, r float64) Path {
	r = max(0, min(r, hx, hy))
	if r == 0 {
		return Straight(c.Add(pt(-hx, -hy)), c.Add(pt(hx, -hy)), c.Add(pt(hx, hy)), c.Add(pt(-hx, hy)))
	}
	q := math.Tan(math.Pi / 8)
	var out Path
	add := func(x, y, b float64) { out.P, out.B = append(out.P, c.Add(pt(x, y))), append(out.B, b) }
	add(r-hx, -hy, 0)
	add(hx-r, -hy, q)
	add(hx, r-hy, 0)
	add(hx, hy-r, q)
	add(hx-r, hy, 0)
	add(r-hx, hy, q)
	add(-hx, hy-r, 0)
	add(-hx, r-hy, q)
	return out.Tidy()
}

// Circle is a whole circle, in two halves.
func Circle(c geom.Vec2, r float64) Path {
	return Path{P: []geom.Vec2{c.Add(pt(r, 0)), c.Add(pt(-r, 0))}, B: []float64{1, 1}}
}

// leastSide is the length, in mm, under which a side is dropped: far below
// what a cutter follows.
const leastSide = 1e-4

// Tidy drops sides of no length and joins neighbours that are one line or arc.
func (p Path) Tidy() Path {
	var out Path
	n := len(p.P)
	for i, a := range p.P {
		if p.P[(i+1)%n].Sub(a).Len() < leastSide {
			continue
		}
		out.P, out.B = append(out.P, a), append(out.B, p.bulge(i))
	}
	for joined := true; joined && len(out.P) > 2; {
		joined = false
		for i := range out.P {
			if q, ok := out.join(i); ok {
				out, joined = q, true
				break
			}
		}
	}
	return out
}

// join makes one of sides i and i+1 if they lie on one line or one circle.
func (p Path) join(i int) (Path, bool) {
	n := len(p.P)
	j := (i + 1) % n
	a, b := p.side(i)
	_, c := p.side(j)
	ca, arc := p.Arc(i)
	cb, arc2 := p.Arc(j)
	bulge := 0.0
	switch {
	case arc != arc2:
		return p, false
	case arc:
		sweep := ca.Sweep + cb.Sweep
		if ca.Center.Sub(cb.Center).Len() > 1e-5 || math.Abs(ca.R-cb.R) > 1e-5 || ca.Sweep*cb.Sweep < 0 || math.Abs(sweep) > math.Pi*1.0001 {
			return p, false
		}
		bulge = math.Tan(sweep / 4)
	default:
		u, v := b.Sub(a), c.Sub(b)
		if math.Abs(u.Unit().Cross(v.Unit())) > 1e-9 || u.Dot(v) < 0 {
			return p, false
		}
	}
	out := Path{P: slices.Clone(p.P), B: slices.Clone(p.B)}
	out.B[i] = bulge
	out.P, out.B = slices.Delete(out.P, j, j+1), slices.Delete(out.B, j, j+1)
	return out, true
}
