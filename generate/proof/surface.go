package proof

import "math"

// Zone picks a part of a body's surface.
type Zone struct {
	Open   []bool // what a pull leaves free
	Skirt  []bool // what faces the world sideways
	body   *Body
	lo, hi Vec
}

// NewZone looks at a body along the pull d.
func NewZone(b *Body, d Vec) *Zone {
	z := &Zone{Open: b.Open(d), Skirt: make([]bool, len(b.Facets)), body: b}
	z.lo, z.hi = Bounds(b.Facets)
	for i, t := range b.Facets {
		n := t.Normal()
		side := Vec{n[0], n[1], 0}
		if side.Len() < 0.1 {
			continue
		}
		z.Skirt[i] = b.Tree.Escapes(t.Mid().Add(n.Mul(1e-3)), side.Unit())
	}
	return z
}

// Cavity keeps facets of the hollows that the pull leaves free, wholly below top.
func (z *Zone) Cavity(top float64) func(i int, t Tri) bool {
	return func(i int, t Tri) bool {
		return z.Open[i] && !z.Skirt[i] && highest(t) < top && t.LeastAltitude() > 1e-4
	}
}

// Outer keeps walls that face the world, between two heights.
func (z *Zone) Outer(bottom, top float64) func(i int, t Tri) bool {
	return func(i int, t Tri) bool {
		return z.Skirt[i] && math.Abs(t.Normal()[2]) < 0.5 && highest(t) <= top && lowest(t) >= bottom && t.LeastAltitude() > 1e-4
	}
}

func highest(t Tri) float64 { return math.Max(t[0][2], math.Max(t[1][2], t[2][2])) }
func lowest(t Tri) float64  { return math.Min(t[0][2], math.Min(t[1][2], t[2][2])) }

// Clipped drops places above a height: facets are long, places are not.
func Clipped(all []Point, bottom, top float64) []Point {
	var out []Point
	for _, p := range all {
		if p.At[2] >= bottom && p.At[2] <= top {
			out = append(out, p)
		}
	}
	return out
}

// Holes are places where a surface is pierced: small holes whose walls an axis
// parallel to the pull runs through.
type Holes struct{ walls *Tree }

// NewHoles collects what belongs to bores: facets that are not open to the
// pull, and walls of holes that are open both ways.
func NewHoles(b *Body, z *Zone, d Vec, top float64) Holes {
	var walls []Tri
	for i, t := range b.Facets {
		if highest(t) > top || z.Skirt[i] {
			continue
		}
		n := t.Normal()
		m := t.Mid().Add(n.Mul(1e-3))
		through := math.Abs(n.Dot(d)) < 0.02 && b.Tree.Escapes(m, d) && b.Tree.Escapes(m, d.Mul(-1))
		if !z.Open[i] || through {
			walls = append(walls, t)
		}
	}
	return Holes{NewTree(walls)}
}

// By tells whether p is within reach of a hole's wall.
func (h Holes) By(p Vec, reach float64) bool { return h.walls.Nearest(p, reach).Facet >= 0 }
