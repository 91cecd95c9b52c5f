package pattern

import (
	"math"

	"buckwright/generate/geom"
)

// Cavity is a pocket as felt sees it: the middle surface of the felt in place,
// whose lengths a flat piece keeps.
type Cavity struct {
	Name    string
	Field   func(geom.Vec) float64 // signed distance to that surface, negative in the pocket
	Outline []geom.Vec2            // of the surface at height Top, counterclockwise
	Top     float64                // where the walls begin to bend out into the mouth
	Bend    float64                // radius of that bend
	Draft   geom.Angle             // least lean of the walls
}

// station is a place on the outline at which the wall is developed.
type station struct {
	at      geom.Vec2
	dir, in geom.Vec2
	leg     leg        // developed, from the station before
	turn    geom.Angle // developed, at the joint before this station
	radius  float64    // of the outline here; 0: straight
	lean    geom.Angle
	down    []rung
}

const (
	stationGap   = 4.0              // mm from one station to the next
	stationTurn  = 6 * geom.Degree  // or this much of an arc
	wholeCorner  = 20 * geom.Degree // arcs that turn at least this much count as corners
	leanSample   = 0.05             // mm
	mostDownPlan = 1e3
)

// stations develops the walls of a cavity: its outline in lines and arcs, each
// with the wall's profile below.
func (c *Cavity) stations(outline Path) []station {
	var out []station
	n := len(outline.P)
	for i := range n {
		count := c.sideStations(outline, i)
		for k := 0; k <= count; k++ {
			t := float64(k) / float64(count)
			s := stationOn(outline, i, t)
			if k > 0 {
				s.leg = leg{Length: outline.sideLength(i) / float64(count)}
			}
			out = append(out, s)
		}
	}
	for i := range out {
		s := &out[i]
		s.lean = c.lean(s.at, s.in)
	}
	for i := range out {
		s, before := &out[i], out[(i+len(out)-1)%len(out)]
		sin := (s.lean.Sin() + before.lean.Sin()) / 2
		if s.leg.Length == 0 {
			turn := math.Atan2(before.dir.Cross(s.dir), before.dir.Dot(s.dir))
			s.turn = geom.Angle(-turn * sin)
		} else if s.radius != 0 && sin > 1e-9 {
			s.leg.Radius = -s.radius / sin // walls that open upwards curve away from the pocket
		}
	}
	return out
}

// sideStations is into how many steps side i is cut.
func (c *Cavity) sideStations(p Path, i int) int {
	n := math.Ceil(p.sideLength(i) / stationGap)
	if a, ok := p.Arc(i); ok {
		n = max(n, math.Ceil(math.Abs(a.Sweep)/float64(stationTurn)))
	}
	return int(max(n, 1))
}

// stationOn is the place a share t along side i; in looks into the pocket.
func stationOn(p Path, i int, t float64) station {
	a, b := p.side(i)
	s := station{at: a.Lerp(b, t), dir: b.Sub(a).Unit()}
	if c, ok := p.Arc(i); ok {
		s.at = c.At(t)
		v := s.at.Sub(c.Center).Unit()
		s.dir = pt(-v.Y, v.X)
		s.radius = c.R
		if c.Sweep < 0 {
			s.dir, s.radius = s.dir.Scale(-1), -c.R
		}
	}
	s.in = pt(-s.dir.Y, s.dir.X)
	return s
}

// lean is how far the wall leans from upright where it meets the outline.
func (c *Cavity) lean(at, in geom.Vec2) geom.Angle {
	p := at.At(c.Top)
	v := c.Field(p)
	side := v - c.Field(at.Add(in.Scale(leanSample)).At(c.Top))
	up := v - c.Field(p.Add(geom.V(0, 0, leanSample)))
	return geom.Angle(math.Atan2(max(up, 0), max(side, 0)))
}

// rim is how far, along the surface, felt goes on above the outline when it
// ends at the angle phi of the mouth's bend, 0 at the rim's flat and a right
// angle less the lean at the wall.
func (c *Cavity) above(lean, phi geom.Angle) float64 {
	bend := max(0, math.Pi/2-float64(lean)-float64(phi))
	// The bend begins Bend sin(lean) above the outline's height.
	return c.Bend*lean.Sin()/lean.Cos() + c.Bend*bend
}

// out is how far outwards in plan that end lies from the outline.
func (c *Cavity) out(lean, phi geom.Angle) float64 {
	return c.Bend * (1/lean.Cos() - phi.Sin())
}

// hoop is what a wall's edge must do at a corner: the wall continues at its
// lean, the surface goes elsewhere. flat is the plan radius that the developed
// wall has, true the one of the surface.
func hoop(flat, true float64) float64 {
	if !(flat > 0) {
		return 0
	}
	return true/flat - 1
}
