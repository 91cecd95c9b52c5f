package proof

import (
	"math"
	"math/rand/v2"
)

// Rounded is a rectangle in the plan with rounded corners.
type Rounded struct {
	At        Vec     // its middle
	HX, HY, R float64 // half sizes, corner radius
}

// Dist is the signed distance in the plan, negative inside. Inside it is true
// down to where the corners' rounding ends, R deep.
func (r Rounded) Dist(p Vec) float64 {
	u, v := math.Abs(p[0]-r.At[0])-r.HX+r.R, math.Abs(p[1]-r.At[1])-r.HY+r.R
	return math.Hypot(math.Max(u, 0), math.Max(v, 0)) + math.Min(math.Max(u, v), 0) - r.R
}

// Away is the unit direction in which the distance grows.
func (r Rounded) Away(p Vec) Vec {
	x, y := p[0]-r.At[0], p[1]-r.At[1]
	u, v := math.Abs(x)-r.HX+r.R, math.Abs(y)-r.HY+r.R
	switch {
	case u > 0 && v > 0:
	case u > v:
		u, v = 1, 0
	default:
		u, v = 0, 1
	}
	return Vec{math.Copysign(u, x), math.Copysign(v, y), 0}.Unit()
}

// Grown is the rectangle and everything within by of it.
func (r Rounded) Grown(by float64) Rounded {
	return Rounded{r.At, r.HX + by, r.HY + by, r.R + by}
}

// Spot is a place at the distance u from the outline and the height z, even
// along the outline grown by u. u must be more than -R.
func (r Rounded) Spot(rnd *rand.Rand, u, z float64) Vec {
	a, b, s := r.HX-r.R, r.HY-r.R, r.R+u
	turn := math.Pi / 2 * s
	var x, y float64
	switch t := rnd.Float64() * (a + b + turn); {
	case t < a:
		x, y = t, b+s
	case t < a+b:
		x, y = a+s, t-a
	default:
		sin, cos := math.Sincos((t - a - b) / s)
		x, y = a+s*cos, b+s*sin
	}
	if rnd.IntN(2) == 0 {
		x = -x
	}
	if rnd.IntN(2) == 0 {
		y = -y
	}
	return Vec{r.At[0] + x, r.At[1] + y, z}
}

// Corner is a corner of a section and so an edge of its body.
type Corner struct {
	Name string
	U, Z float64
}

// Section is what one sees of a body of even section all round, cut square to
// its outline in the plan: a closed polygon, counterclockwise, of the distance U
// in the plan from the outline and the height Z. Corners far inside (U below
// -R) only close the polygon.
type Section struct {
	Plan    Rounded
	Corners []Corner
}

// Dist is the signed distance to the body: since U is a distance in the plan,
// the nearest place lies in the same section.
func (s Section) Dist(p Vec) float64 {
	u, z := s.Plan.Dist(p), p[2]
	least, inside := math.Inf(1), false
	for i, a := range s.Corners {
		b := s.after(i)
		du, dz := b.U-a.U, b.Z-a.Z
		t := ((u-a.U)*du + (z-a.Z)*dz) / (du*du + dz*dz)
		t = math.Max(0, math.Min(1, t))
		least = math.Min(least, math.Hypot(u-a.U-t*du, z-a.Z-t*dz))
		if (a.Z > z) != (b.Z > z) && u < a.U+du*(z-a.Z)/dz {
			inside = !inside
		}
	}
	if inside {
		return -least
	}
	return least
}

func (s Section) after(i int) Corner { return s.Corners[(i+1)%len(s.Corners)] }

// drawn tells whether the outline's grown curve exists at a corner.
func (s Section) drawn(c Corner) bool { return c.U > -s.Plan.R }

// Moved is the section with one corner elsewhere.
func (s Section) Moved(i int, du, dz float64) Section {
	all := append([]Corner(nil), s.Corners...)
	all[i].U += du
	all[i].Z += dz
	s.Corners = all
	return s
}

// Feature is an edge or a face of a drawing, with places on it.
type Feature struct {
	Name  string
	Spots []Vec
}

// Features are all edges and faces of the body, n places on each. A face that
// goes on inwards is drawn as far as the outline can be shrunk.
func (s Section) Features(n int) []Feature {
	rnd := rand.New(rand.NewPCG(29, 37))
	var out []Feature
	for i, a := range s.Corners {
		b := s.after(i)
		if !s.drawn(a) && !s.drawn(b) {
			continue
		}
		face := Feature{Name: a.Name + " to " + b.Name}
		edge := Feature{Name: a.Name}
		for range n {
			t := rnd.Float64()
			u := math.Max(a.U+t*(b.U-a.U), -s.Plan.R+1)
			if far := math.Min(a.U, b.U); far < -s.Plan.R {
				u = -s.Plan.R + 1 + t*(math.Max(a.U, b.U)+s.Plan.R-1)
			}
			face.Spots = append(face.Spots, s.Plan.Spot(rnd, u, a.Z+t*(b.Z-a.Z)))
			edge.Spots = append(edge.Spots, s.Plan.Spot(rnd, a.U, a.Z))
		}
		out = append(out, face)
		if s.drawn(a) {
			out = append(out, edge)
		}
	}
	return out
}
