package proof

import (
	"math"
	"math/rand/v2"
)

// Piece is a body that a pocket is cut for, an item or a finger notch, grown and
// released upwards: all that is within Grow of a prism on the outline Plan that
// begins at the height Foot and, above it, leans out. A box with rounded edges
// has the box within its edges' middles for its prism, a lying capsule its axis.
type Piece struct {
	Name string
	Plan Rounded
	Foot float64
	Grow float64
}

// Grown is the piece and all that is within by of it.
func (c Piece) Grown(by float64) Piece {
	c.Grow += by
	return c
}

// Lowered is the piece further down.
func (c Piece) Lowered(by float64) Piece {
	c.Foot -= by
	return c
}

// RoundedPiece is a box with rounded edges, standing on the height z.
func RoundedPiece(name string, x, y Span, corner, edge, z float64) Piece {
	at := Vec{(x[0] + x[1]) / 2, (y[0] + y[1]) / 2, 0}
	plan := Rounded{at, (x[1] - x[0]) / 2, (y[1] - y[0]) / 2, corner}
	return Piece{name, plan.Grown(-edge), z + edge, edge}
}

// Span is from where to where.
type Span [2]float64

// Shrunk is the piece, released with a draft in degrees, with floor and wall
// deeper within by deep and the edge between them rounded by edge. Below a cone
// that leans by the draft a foot by d higher is by d tan(draft) wider.
func (c Piece) Shrunk(draft, deep, edge float64) Piece {
	sin, cos := math.Sincos(draft * deg)
	d := deep + edge - c.Grow
	return Piece{c.Name, c.Plan.Grown(-d * (1 - sin) / cos), c.Foot + d, edge}
}

// Place is how far a place is from a surface, negative inside, and the unit
// direction in which that grows.
type Place struct {
	Dist   float64
	Normal Vec
	Piece  int // whose surface is meant, or Crease
}

// off is how far p is outside of the piece released, of the sine and cosine of
// the draft. In the plane of the distance u in the plan and the height that is
// a wedge: a floor, and from its end a line that leans out.
func (c Piece) off(p Vec, sin, cos float64) Place {
	u, z := c.Plan.Dist(p), p[2]-c.Foot
	wall := u*cos - z*sin
	switch {
	case u <= 0 && -z > wall:
		return Place{Dist: -z - c.Grow, Normal: Vec{0, 0, -1}}
	case u > 0 && u*sin+z*cos < 0: // its foot
		r := math.Hypot(u, z)
		return Place{Dist: r - c.Grow, Normal: c.Plan.Away(p).Mul(u).Add(Vec{0, 0, z}).Mul(1 / r)}
	}
	return Place{Dist: wall - c.Grow, Normal: c.Plan.Away(p).Mul(cos).Add(Vec{0, 0, -sin})}
}

// Pocket is one member of a pocket family by its drawing: pieces,
// each grown and released, their creases filleted by rolling a ball over the
// outside of the largest member, all eroded back to this one. Since all pieces are
// convex that comes to this: each piece's own surface where it stands free, and
// where two meet the surface of a ball of radius Fillet, whose middle runs along
// the line in which the two cut each other in the largest member. No three pieces
// may meet.
type Pocket struct {
	Pieces  []Piece // as they are in this member
	Largest []Piece // and in the largest, Fillet outside of it
	Draft   float64 // degrees
	Fillet  float64
}

// Crease is the piece of a place on a fillet between two.
const Crease = -1

// Dist is the distance from the pocket's surface, negative in the pocket. It is
// true outside, and inside down to Grow less than the pieces' prisms.
func (k Pocket) Dist(p Vec) float64 { return k.At(p).Dist }

// At is where p is from the pocket's surface.
func (k Pocket) At(p Vec) Place {
	first, second := Place{Dist: math.Inf(1)}, Place{Dist: math.Inf(1)}
	for i, c := range k.Pieces {
		at := k.outside(c, p)
		at.Piece = i
		switch {
		case at.Dist < first.Dist:
			first, second = at, first
		case at.Dist < second.Dist:
			second = at
		}
	}
	if first.Dist+second.Dist > 2*k.Fillet {
		return first
	}
	free := func(a, b Place) bool {
		foot := p.Add(a.Normal.Mul(k.Fillet - a.Dist))
		return k.outside(k.Largest[b.Piece], foot).Dist >= 0
	}
	switch { // where both are free the farther is the surface: p lies within both
	case free(second, first):
		return second
	case free(first, second):
		return first
	}
	back := k.seam(k.Largest[first.Piece], k.Largest[second.Piece], p).Sub(p)
	return Place{k.Fillet - back.Len(), back.Unit(), Crease}
}

func (k Pocket) outside(c Piece, p Vec) Place {
	sin, cos := math.Sincos(k.Draft * deg)
	return c.off(p, sin, cos)
}

// seam is the place nearest to p where two pieces cut each other: Newton's
// method on the two distances, each time from p along both normals.
func (k Pocket) seam(one, other Piece, p Vec) Vec {
	q := p
	for range 12 {
		a, b, back := k.outside(one, q), k.outside(other, q), q.Sub(p)
		ra, rb := a.Normal.Dot(back)-a.Dist, b.Normal.Dot(back)-b.Dist
		c := a.Normal.Dot(b.Normal)
		det := 1 - c*c
		if !(det > 1e-9) { // the two touch and do not cut
			break
		}
		next := p.Add(a.Normal.Mul((ra - c*rb) / det)).Add(b.Normal.Mul((rb - c*ra) / det))
		moved := next.Sub(q).Len()
		if q = next; moved < 1e-8 {
			break
		}
	}
	return q
}

// onto brings a place near the surface onto it and tells whether it came there.
func (k Pocket) onto(p Vec) (Vec, Place, bool) {
	const near = 1e-5
	for range 8 {
		at := k.At(p)
		if math.Abs(at.Dist) < near {
			return p, at, true
		}
		p = p.Sub(at.Normal.Mul(at.Dist))
	}
	return p, Place{}, false
}

// Features are floors, edges and walls of the pieces and the creases between
// them, below top, n places on each at most. It looks until nothing is found any
// more that is missing.
func (k Pocket) Features(n int, top float64) []Feature {
	rnd := rand.New(rand.NewPCG(47, 53))
	known := map[string]int{}
	var out []Feature
	for _, c := range k.Pieces {
		for idle := 0; idle < n; idle++ {
			p, at, there := k.onto(c.start(rnd, top))
			if !there || p[2] > top {
				continue
			}
			name := k.feature(at)
			i, is := known[name]
			if !is {
				i = len(out)
				known[name], out = i, append(out, Feature{Name: name})
			}
			if f := &out[i]; len(f.Spots) < n {
				f.Spots = append(f.Spots, p)
				idle = 0
			}
		}
	}
	return out
}

// start is a place near a piece's walls or floor.
func (c Piece) start(rnd *rand.Rand, top float64) Vec {
	if rnd.IntN(3) == 0 {
		half := Vec{c.Plan.HX + c.Grow, c.Plan.HY + c.Grow, 0}
		x, y := 2*rnd.Float64()-1, 2*rnd.Float64()-1
		return Vec{c.Plan.At[0] + x*half[0], c.Plan.At[1] + y*half[1], c.Foot - c.Grow}
	}
	low := c.Foot - c.Grow
	return c.Plan.Spot(rnd, c.Grow, low+rnd.Float64()*(top-low))
}

// feature names what a place on the surface belongs to.
func (k Pocket) feature(at Place) string {
	const close = 1e-6
	switch wall := -math.Sin(k.Draft * deg); {
	case at.Piece == Crease:
		return "crease"
	case at.Normal == Vec{0, 0, -1}:
		return k.Pieces[at.Piece].Name + "'s floor"
	case Off(at.Normal[2], wall) < close:
		return k.Pieces[at.Piece].Name + "'s wall"
	}
	return k.Pieces[at.Piece].Name + "'s edge"
}
