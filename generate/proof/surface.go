package proof

import "math"

// Zone picks a part of a body's surface.
type Zone struct {
	Open  []bool // what a pull leaves free
	Skirt []bool // what faces the world sideways
}

// NewZone looks at a body along the pull d.
func NewZone(b *Body, d Vec) *Zone {
	return &Zone{Open: b.Open(d), Skirt: b.each(func(t Tri) bool {
		n := t.Normal()
		side := Vec{n[0], n[1], 0}
		return side.Len() >= 0.1 && b.Tree.Escapes(t.Mid().Add(n.Mul(1e-3)), side.Unit())
	})}
}

// Cavity keeps facets of the hollows that the pull leaves free, wholly below top.
func (z *Zone) Cavity(top float64) func(i int, t Tri) bool {
	return func(i int, t Tri) bool {
		return z.Open[i] && !z.Skirt[i] && highest(t) < top && t.LeastAltitude() > 1e-4
	}
}

// Below keeps facets that the pull leaves free, wholly below top.
func (z *Zone) Below(top float64) func(i int, t Tri) bool {
	return func(i int, t Tri) bool { return z.Open[i] && highest(t) < top && t.LeastAltitude() > 1e-4 }
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

// Holes are where a surface is pierced: vents and reliefs along the pull.
type Holes struct{ walls *Tree }

// NewHoles collects what belongs to bores below top: facets that are hidden
// from the pull, walls of holes that are open both ways, and walls with another
// wall no farther off than width.
func NewHoles(b *Body, z *Zone, d Vec, top, width float64) Holes {
	var walls []Tri
	for i, t := range b.Facets {
		n := t.Normal()
		if highest(t) > top || z.Skirt[i] && n.Dot(d) > -0.5 {
			continue
		}
		m := t.Mid().Add(n.Mul(1e-3))
		wall := math.Abs(n.Dot(d)) < 0.5
		if !z.Open[i] || wall && (narrow(b.Tree, m, n, width) || b.Tree.Escapes(m, d) && b.Tree.Escapes(m, d.Mul(-1))) {
			walls = append(walls, t)
		}
	}
	return Holes{NewTree(walls)}
}

// By tells whether p is within reach of a hole's wall.
func (h Holes) By(p Vec, reach float64) bool { return h.walls.Nearest(p, reach).Facet >= 0 }

// Edges are the places of a surface that a ball of this radius inside does not
// touch: its rounded edges.
func Edges(b *Body, pts []Point, radius float64) *Tree {
	var out []Tri
	for _, p := range pts {
		if b.Tight(p, radius) {
			out = append(out, Tri{p.At, p.At, p.At})
		}
	}
	return NewTree(out)
}
