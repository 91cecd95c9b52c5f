package pattern

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// net is a surface of triangles.
type net struct {
	P []geom.Vec
	T [][3]int32
}

// area of the surface.
func (m *net) area() float64 {
	sum := 0.0
	for _, t := range m.T {
		sum += m.P[t[1]].Sub(m.P[t[0]]).Cross(m.P[t[2]].Sub(m.P[t[0]])).Len() / 2
	}
	return sum
}

const (
	flattenRounds = 100  // local and global steps; nearly level surfaces settle in three
	flattenStill  = 1e-3 // mm that a vertex may still move in one
)

// flatten lays a surface flat with as little strain as it finds: every triangle
// keeps its shape and only turns, as far as its neighbours let it. A developable
// surface keeps all its lengths. Source: Liu, Zhang, Xu, Gotsman and Gortler, A
// Local/Global Approach to Mesh Parameterization, Computer Graphics Forum
// 27(5), 2008.
func (m *net) flatten() []geom.Vec2 {
	u := make([]geom.Vec2, len(m.P))
	for i, p := range m.P {
		u[i] = p.XY()
	}
	if len(m.T) == 0 {
		return u
	}
	global := m.global()
	for range flattenRounds {
		next := global.solve(m.pull(u))
		moved := 0.0
		for i := range u {
			moved = max(moved, next[i].Sub(next[0]).Sub(u[i].Sub(u[0])).Len())
		}
		if u = next; moved < flattenStill {
			break
		}
	}
	return m.settle(u)
}

// local are a triangle's corners in its own plane.
func (m *net) local(t [3]int32) [3]geom.Vec2 {
	a, b, c := m.P[t[0]], m.P[t[1]], m.P[t[2]]
	e := b.Sub(a)
	l := e.Len()
	x := e.Unit()
	w := c.Sub(a)
	along := w.Dot(x)
	return [3]geom.Vec2{{}, {X: l}, {X: along, Y: w.Sub(x.Scale(along)).Len()}}
}

// cot is the weight of the side opposite corner k: half the cotangent there,
// held above nothing so that slivers and blunt corners stay harmless.
func cot(x [3]geom.Vec2, k int) float64 {
	u, v := x[(k+1)%3].Sub(x[k]), x[(k+2)%3].Sub(x[k])
	c := math.Abs(u.Cross(v))
	if c < 1e-12 {
		return 1e-3
	}
	return max(1e-3, min(u.Dot(v)/c/2, 50))
}

// pull is the right side of the global step: what each triangle, turned to fit
// u best, wants of the differences of its corners.
func (m *net) pull(u []geom.Vec2) []geom.Vec2 {
	b := make([]geom.Vec2, len(u))
	for _, t := range m.T {
		x := m.local(t)
		var dot, cross float64
		for k := range 3 {
			i, j := (k+1)%3, (k+2)%3
			w := cot(x, k)
			d, e := x[i].Sub(x[j]), u[t[i]].Sub(u[t[j]])
			dot += w * d.Dot(e)
			cross += w * d.Cross(e)
		}
		turn := geom.Angle(math.Atan2(cross, dot))
		for k := range 3 {
			i, j := (k+1)%3, (k+2)%3
			d := turned(x[i].Sub(x[j]), turn).Scale(cot(x, k))
			b[t[i]] = b[t[i]].Add(d)
			b[t[j]] = b[t[j]].Sub(d)
		}
	}
	return b
}

// settle turns and moves a flat piece so that it lies as its surface does seen
// from above: names and grain keep their direction.
func (m *net) settle(u []geom.Vec2) []geom.Vec2 {
	var mu, mp geom.Vec2
	n := 1 / float64(len(u))
	for i := range u {
		mu, mp = mu.Add(u[i].Scale(n)), mp.Add(m.P[i].XY().Scale(n))
	}
	var dot, cross float64
	for i := range u {
		a, b := u[i].Sub(mu), m.P[i].XY().Sub(mp)
		dot += a.Dot(b)
		cross += a.Cross(b)
	}
	turn := geom.Angle(math.Atan2(cross, dot))
	for i := range u {
		u[i] = turned(u[i].Sub(mu), turn).Add(mp)
	}
	return u
}

// quantile is the share of the area that Strain speaks for: the rest is a few
// slivers along the edge.
const quantile = 0.98

// strain is what laying the flat piece u into the surface asks of it.
func (m *net) strain(u []geom.Vec2, where string) Strain {
	type part struct{ area, most, least float64 }
	var parts []part
	total := 0.0
	for _, t := range m.T {
		x := m.local(t)
		hi, lo := stretches([3]geom.Vec2{u[t[0]], u[t[1]], u[t[2]]}, x)
		a := x[1].X * x[2].Y / 2
		parts = append(parts, part{a, hi - 1, lo - 1})
		total += a
	}
	at := func(key func(part) float64) float64 {
		slices.SortStableFunc(parts, func(a, b part) int {
			switch d := key(a) - key(b); {
			case d < 0:
				return -1
			case d > 0:
				return 1
			}
			return 0
		})
		sum := 0.0
		for _, p := range parts {
			if sum += p.area; sum >= quantile*total {
				return key(p)
			}
		}
		return 0
	}
	return Strain{
		Stretch: max(0, at(func(p part) float64 { return p.most })),
		Gather:  max(0, at(func(p part) float64 { return -p.least })),
		Where:   where,
	}
}

// stretches are the largest and the least factor by which lengths grow when
// triangle a is made triangle b: the singular values of the map.
func stretches(a, b [3]geom.Vec2) (most, least float64) {
	a1, a2 := a[1].Sub(a[0]), a[2].Sub(a[0])
	b1, b2 := b[1].Sub(b[0]), b[2].Sub(b[0])
	det := a1.Cross(a2)
	if math.Abs(det) < 1e-12 {
		return 1, 1
	}
	// J maps a1 to b1 and a2 to b2.
	j00 := (b1.X*a2.Y - b2.X*a1.Y) / det
	j01 := (b2.X*a1.X - b1.X*a2.X) / det
	j10 := (b1.Y*a2.Y - b2.Y*a1.Y) / det
	j11 := (b2.Y*a1.X - b1.Y*a2.X) / det
	e, f := (j00+j11)/2, (j00-j11)/2
	g, h := (j10+j01)/2, (j10-j01)/2
	q, r := math.Hypot(e, h), math.Hypot(f, g)
	return q + r, math.Abs(q - r)
}
