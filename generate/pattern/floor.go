package pattern

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// The angle from the horizontal at which floor and wall meet lies between
// these: lower, the wall's foot would gather, higher, the floor's edge.
const (
	seamLow  = 35 * geom.Degree
	seamHigh = 80 * geom.Degree
)

// floorSeam is the slope at which floor and wall meet so that both are
// strained alike in the sharpest corner.
func (c *Cavity) floorSeam(st []station) geom.Angle {
	var sharp *station
	for i := range st {
		if s := &st[i]; s.radius > 0 && (sharp == nil || s.radius < sharp.radius) {
			sharp = s
		}
	}
	if sharp == nil || len(sharp.down) < 3 {
		return (seamLow + seamHigh) / 2
	}
	level := sharp.down[len(sharp.down)-1]
	worst := func(psi float64) float64 {
		at := atSlope(sharp.down, geom.Angle(psi))
		true := sharp.radius - at.In
		wall := hoop(sharp.radius-at.Down*sharp.lean.Sin(), true)
		floor := hoop(sharp.radius-level.In+level.Down-at.Down, true)
		return max(math.Abs(wall), math.Abs(floor))
	}
	return geom.Angle(least(worst, float64(seamLow), float64(seamHigh)))
}

// leastWall is the height, in mm, under which a wall strip is not worth a seam.
const leastWall = 4.0

// floorAndWall is the lining of a floor piece and a strip round it, or of a
// floor piece alone where there is no wall to speak of.
func (c *Cavity) floorAndWall(st []station, outline Path, psi geom.Angle, l Lining) ([]Flat, error) {
	foot := feet(st, psi)
	deep := make([]float64, len(foot))
	for i, f := range foot {
		deep[i] = f.Down
	}
	if median(deep) < leastWall {
		s, err := c.whole(st, outline)
		if err != nil {
			return nil, err
		}
		f, err := c.onePiece(s, l)
		f.Notes = []string{"The pocket has no upright wall: steam the felt and work it in from the middle; it gathers and stretches as told."}
		return []Flat{f}, err
	}
	floor, err := c.floor(st, foot, l)
	if err != nil {
		return nil, err
	}
	return []Flat{floor, c.wall(st, foot, l)}, nil
}

const (
	bowlShape  = 3.0              // a bend is this many times as wide as high at most
	stepHigh   = 0.7              // mm that it goes down by meanwhile
	stepTurn   = 12 * geom.Degree // that a profile steepens again by at a step
	sameLevel  = 0.3              // mm within which floors count as one
	levelShare = 0.1              // of the stations that must end on a floor for it to be one
)

// steps reports whether a profile turns down again before it is level: over a
// step to a lower floor, or down a crest.
func steps(p []rung) bool {
	least := p[0]
	for _, r := range p {
		if r.Slope < least.Slope {
			least = r
		}
		if r.Slope > least.Slope+stepTurn && r.Z < least.Z-stepHigh {
			return true
		}
	}
	return false
}

// bend is how many times as wide as high a profile runs out from 45 degrees to
// level: 2.4 for a round.
func bend(p []rung) float64 {
	at, last := atSlope(p, 45*geom.Degree), p[len(p)-1]
	return (last.In - at.In) / max(at.Z-last.Z, 0.1)
}

// floors are the heights of the level floors of a cavity: those that a good
// part of the profiles bend into sharply, on average.
func floors(st []station) []float64 {
	type end struct{ z, bend float64 }
	var ends []end
	for _, s := range st {
		if levels(s.down) && !steps(s.down) {
			ends = append(ends, end{s.down[len(s.down)-1].Z, bend(s.down)})
		}
	}
	slices.SortFunc(ends, func(a, b end) int { return cmp.Compare(a.z, b.z) })
	var out []float64
	for i := 0; i < len(ends); {
		j := i
		var bends []float64
		for ; j < len(ends) && ends[j].z < ends[i].z+sameLevel; j++ {
			bends = append(bends, ends[j].bend)
		}
		if float64(j-i) >= levelShare*float64(len(st)) && median(bends) <= bowlShape {
			out = append(out, ends[(i+j)/2].z)
		}
		i = j
	}
	return out
}

// feet are the places where the wall meets the floor: over a level floor as
// high as the slope psi lies on average, in a bowl at the height where the slope
// is psi on average. A seam at one height is smooth, where the slope of a
// surface of facets is not.
func feet(st []station, psi geom.Angle) []rung {
	all := floors(st)
	const own, none, bowl = -3, -2, -1
	sharp := sharpBends(st)
	on := make([]int, len(st)) // index into all
	unclear := make([]bool, len(st))
	heights := map[int][]float64{} // of the slope psi: over each floor, and in a bowl
	for i, s := range st {
		last := s.down[len(s.down)-1].Z
		k := slices.IndexFunc(all, func(z float64) bool { return math.Abs(z-last) < sameLevel })
		z := atSlope(s.down, psi).Z
		switch {
		case steps(s.down):
			on[i], unclear[i] = none, true
			continue
		case levels(s.down) && k >= 0:
			on[i], z = k, z-last
		case sharp[i]:
			on[i], z = own, z-last
		default:
			on[i] = bowl
		}
		heights[on[i]] = append(heights[on[i]], z)
	}
	out := make([]rung, len(st))
	for i, s := range st {
		switch on[i] {
		case none:
			out[i] = atSlope(s.down, psi)
		case bowl:
			out[i] = atHeight(s.down, median(heights[bowl]))
		default:
			out[i] = atHeight(s.down, s.down[len(s.down)-1].Z+median(heights[on[i]]))
		}
	}
	for i, s := range st {
		unclear[i] = unclear[i] || s.radius > 0 && out[i].In > s.radius || stray(st, out, i)
	}
	return overNoses(st, out, unclear)
}

const (
	strayReach = 8.0  // mm along the outline, either way
	strayLeast = 2.0  // mm that a foot may lie off those near it, at least
	strayShare = 0.35 // of their depth, likewise
)

// stray reports whether a foot lies far off those near it: its profile ran down
// the edge between two walls.
func stray(st []station, foot []rung, i int) bool {
	n := len(st)
	var near []float64
	for _, step := range []int{1, n - 1} {
		for j := (i + step) % n; j != i && st[j].at.Sub(st[i].at).Len() < strayReach; j = (j + step) % n {
			near = append(near, foot[j].Down)
		}
	}
	if len(near) == 0 {
		return false
	}
	m := median(near)
	return math.Abs(foot[i].Down-m) > max(strayLeast, strayShare*m)
}

// roundBend is the most that bend is for a profile that is as good as round.
const roundBend = 2.7

// sharpBends tells which stations have a floor of their own height, as along the
// end of a trough: they and most of their neighbours bend into it sharply.
func sharpBends(st []station) []bool {
	n := len(st)
	out := make([]bool, n)
	for i := range st {
		var near []float64
		for k := -2; k <= 2; k++ {
			b := math.Inf(1)
			if p := st[(i+k+n)%n].down; levels(p) {
				b = bend(p)
			}
			near = append(near, b)
		}
		out[i] = levels(st[i].down) && median(near) <= roundBend
	}
	return out
}

func median(v []float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return v[len(v)/2]
}

// floor is the piece inside the walls' foot.
func (c *Cavity) floor(st []station, foot []rung, l Lining) (Flat, error) {
	pts := make([]geom.Vec2, 0, len(st))
	for i, s := range st {
		p := s.at.Add(s.in.Scale(foot[i].In))
		if len(pts) == 0 || p.Sub(pts[len(pts)-1]).Len() > 0.01 {
			pts = append(pts, p)
		}
	}
	plan, area, err := unfolded(pts)
	if err != nil {
		return Flat{}, fmt.Errorf("felt of %s: %w", c.Name, err)
	}
	s, err := c.over(plan, area, c.deepest(st))
	if err != nil {
		return Flat{}, fmt.Errorf("felt of %s: %w", c.Name, err)
	}
	p, strain := s.piece("at the floor's edge")
	return Flat{
		Name: "felt-floor-" + c.Name, Title: "felt for the floor of " + c.Name, Material: l.Material, Count: 1,
		Shape: Shape{Outer: p}, Strain: &strain,
		Notes: []string{"Drawn from above, as it lies in the pocket. Lay it in first; it turns up a little at the edge and the wall strip stands on it."},
	}, nil
}

// unfolded is the region inside a closed line of points that may lap over
// itself in tight corners: what it goes round at least once.
func unfolded(pts []geom.Vec2) (sdf.Region, float64, error) {
	if g, err := sdf.Polygon(pts, nil); err == nil {
		return g, Path{P: pts}.Area(), nil
	}
	lo, hi := Path{P: pts}.Bounds()
	round := func(p geom.Vec2) float64 { return windingDist(pts, p) }
	var best Path
	for _, loop := range Contour(round, lo.Sub(pt(1, 1)), hi.Add(pt(1, 1)), contourStep) {
		if p := Fit(loop, fitTol/2); p.Area() > best.Area() {
			best = p
		}
	}
	if len(best.P) < 2 {
		return nil, 0, errors.New("the floor has no room")
	}
	g, err := best.region()
	return g, best.Area(), err
}

// windingDist is the distance to a closed line, negative where it goes round.
func windingDist(pts []geom.Vec2, p geom.Vec2) float64 {
	d, turns := math.Inf(1), 0
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		ab := b.Sub(a)
		t := 0.0
		if l := ab.Dot(ab); l > 0 {
			t = max(0, min(1, p.Sub(a).Dot(ab)/l))
		}
		d = min(d, p.Sub(a.Add(ab.Scale(t))).Len())
		switch left := ab.Cross(p.Sub(a)); {
		case a.Y <= p.Y && b.Y > p.Y && left > 0:
			turns++
		case a.Y > p.Y && b.Y <= p.Y && left < 0:
			turns--
		}
	}
	if turns > 0 {
		return -d
	}
	return d
}
