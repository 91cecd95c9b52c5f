package forming

import (
	"math"

	"buckwright/generate/geom"
)

// Pan is a pocket as the handbooks' geometric element takes it: a flat floor under
// a sharp mouth, round about an upright axis or a long trough.
//
// The sheet in the pocket is an evenly thick cap of a sphere, or of a cylinder over a
// trough, that lies against the wall where it meets it and leaves there what touches.
// Sources: Sheryshev, Soviet Plastics 1969; Rosenzweig, Narkis and Tadmor, Polym. Eng.
// Sci. 19:946, 1979; Throne, Technology of Thermoforming, 1996, ch. 4, all from memory,
// confirm. It is an estimate: a membrane under pressure is thickest at its edge and
// thinnest at its pole, so that it leaves more on the upper wall and less below than an even cap
// does. Over a trough the cap is even for every elastic law and the form exact.
type Pan struct {
	Half  float64    // mm, radius or half width of the mouth
	Draft geom.Angle // of the wall from the upright, 0 or more
	Depth float64    // mm
	Long  bool       // a trough
}

// Wall is the thickness on the wall at a depth, as a share of the gauge. It is NaN
// where the cap has met the floor before, for which there is no closed form.
func (p Pan) Wall(depth float64) float64 {
	if !(depth >= 0 && depth <= p.last()) {
		return math.NaN()
	}
	return p.onWall(depth)
}

// Floor is the thickness in the floor's middle, as a share of the gauge: that of
// the cap as it meets the floor.
func (p Pan) Floor() float64 {
	if last := p.last(); last >= 0 {
		return p.onWall(last)
	}
	half := 2 * math.Atan(p.Depth/p.Half) // of the cap's angle
	if p.Long {
		return math.Sin(half) / half
	}
	return (1 + math.Cos(half)) / 2
}

// last is the depth at which the cap still lies against the wall as it meets the
// floor; negative: it meets the floor first.
func (p Pan) last() float64 {
	sag := math.Tan(float64(p.slope()) / 2) // of the cap, by its half width
	return (p.Depth - p.Half*sag) / (1 - sag*p.Draft.Tan())
}

func (p Pan) slope() geom.Angle { return 90*geom.Degree - p.Draft }

// onWall is the closed form for a cone or a wedge, which a cylinder or a slot is the limit of.
func (p Pan) onWall(depth float64) float64 {
	b := float64(p.slope())
	start, power := (1+math.Cos(b))/2, 1/math.Cos(b)-1
	if p.Long {
		start, power = math.Sin(b)/b, math.Tan(b)/b-1
	}
	if p.Draft < 1e-6 {
		rate := 1.0
		if p.Long {
			rate = 2 / math.Pi
		}
		return start * math.Exp(-rate*depth/p.Half)
	}
	return start * math.Pow(1-depth*p.Draft.Tan()/p.Half, power)
}
