package generate

import (
	"buckwright/generate/check"
	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// overlaps lists the pairs of items that reach into each other, as they rest.
func overlaps(items []*item) []check.Overlap {
	var out []check.Overlap
	for j, b := range items {
		for _, a := range items[:j] {
			if d := meeting(a, b); d > 0 {
				out = append(out, check.Overlap{A: a.kit.Name, B: b.kit.Name, Depth: 2 * d})
			}
		}
	}
	return out
}

// solid is the item's body in its own frame.
func (it *item) solid() sdf.Solid {
	if it.given != nil {
		return it.given
	}
	return it.body
}

// meeting is about the radius of the largest ball that lies in both items at
// once, 0 if they do no more than touch.
func meeting(a, b *item) float64 {
	pa, pb := a.pose(-a.kit.Depth), b.pose(-b.kit.Depth)
	both := sdf.Intersect(sdf.Move(a.solid(), pa), sdf.Move(b.solid(), pb))
	box := pa.Box(a.box).Intersect(pb.Box(b.box))
	if box.Empty() {
		return 0
	}
	if d := deepest(both, box, leastMeeting); d > leastMeeting {
		return d
	}
	return 0
}

const (
	leastMeeting = 0.2 // mm: what is less counts as touching
	searchFine   = 0.1 // how exactly a depth is found: as a share of it, and in mm at least
)

// deepest is the greatest depth in s within a box, found is the best so far. A
// field that never exceeds the distance bounds what a box can hold.
func deepest(s sdf.Solid, box geom.Box, found float64) float64 {
	ball := box.Ball()
	d := -s.Dist(ball.C)
	found = max(found, d)
	if !(d+ball.R > found+searchFine*max(1, found)) {
		return found
	}
	c := box.Center()
	for i := range 8 {
		part := geom.Box{Min: c, Max: c}.Include(box.Corner(i))
		found = deepest(s, part, found)
	}
	return found
}
