// Package forming predicts how a heated sheet takes the shape of a buck: the
// thickness it is left with, where it arrives last, where it does not arrive,
// and how long heating and the evacuation of the air take.
//
// The sheet is an incompressible hyperelastic membrane, clamped at the frame,
// isothermal while it forms. Lengths are mm, pressures kPa, temperatures °C,
// times s; the frame is the kit's: z up, z = 0 the product side of the rim.
package forming

import (
	"buckwright/generate/geom"
)

// Body is the tool that the sheet meets: its signed distance, mm, negative
// inside. It may be a bound of the distance, never more than it.
type Body interface {
	Dist(geom.Vec) float64
}

// Setup is one shot.
type Setup struct {
	Body     Body
	Box      geom.Box   // around the body
	Area     [2]float64 // free sheet inside the clamp
	Center   geom.Vec2  // middle of the frame
	Turn     geom.Angle // of the element mesh about the frame's middle; for tests
	Gauge    float64    // thickness before forming
	Law      Law
	Friction float64 // of sheet on tool; only Sticks, which holds it where it touches, is formed
	Vacuum   float64 // below the atmosphere, at the end
	Rim      float64 // z of the tool's top, where the sheet first lies
	Platen   float64 // z that the frame comes down to
	Element  float64 // edge of an element, 0: 2.5
	Place    func(geom.Vec) Place
}

// Sticks is the friction of a sheet that chills where it touches and stays.
const Sticks = -1.0

// Place is what part of the tool a point of the formed sheet lies on.
type Place struct {
	Zone   Zone
	Pocket int // index of the pocket, for Wall, Floor and Corner
}

// Zone is one kind of place.
type Zone int

// The zones. Flange is the waste between the tool's foot and the clamp.
const (
	Rim Zone = iota
	Wall
	Floor
	Corner // where a wall meets the floor
	Skirt
	Flange
)

// InPocket reports whether the zone is part of a pocket.
func (z Zone) InPocket() bool { return z == Wall || z == Floor || z == Corner }

// Formed is the sheet at the end of a shot. Slices by node have one entry a
// node, slices by element one an element.
type Formed struct {
	Flat      []geom.Vec2 // nodes before forming
	Node      []geom.Vec  // nodes after forming, on the side of the sheet that meets the tool
	Element   [][3]int32  // counter-clockwise seen from above
	Thickness []float64   // by element, mm
	Touch     []float64   // by node: order of contact, 0 first to 1 last; +Inf: never
	Gap       []float64   // by node: distance from the tool at full vacuum; 0 in contact
	Fold      []bool      // by element: pressed together, or two layers that stick to each other: a web
	Draw      float64     // areal draw ratio inside the frame: formed area / flat area
	Stats     []Stat      // by place, in order of pocket and zone
	Open      []Open      // places not filled at full vacuum, largest first; webs are not among them

	find *finder
}

// Stat is the thickness at one place.
type Stat struct {
	Place
	Area        float64 // mm², formed
	Mean, Least float64 // mm; the mean is by formed area
	At          geom.Vec
}

// Open is a connected place where the sheet does not touch at full vacuum.
type Open struct {
	Place
	At     geom.Vec // where the gap is largest
	Gap    float64  // largest distance from the tool
	Area   float64  // mm²
	Radius float64  // radius of curvature that the free sheet is left with there
}

// Stat finds the thickness at a place.
func (f *Formed) Stat(p Place) (Stat, bool) {
	for _, s := range f.Stats {
		if s.Place == p {
			return s, true
		}
	}
	return Stat{}, false
}
