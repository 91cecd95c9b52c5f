package generate

import (
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/params"
)

// measure reads off the items what the stack-up needs to know of them.
func measure(k *params.Kit, items []*item) fit.Geometry {
	var g fit.Geometry
	plan := geom.EmptyBox()
	for _, it := range items {
		g.Items = append(g.Items, it.measure())
		plan = plan.Union(it.planBox(k))
	}
	size := plan.Size()
	g.Plan = [2]float64{size.X + 2*k.Insert.Margin, size.Y + 2*k.Insert.Margin}
	return g
}

const (
	restSlope = 0.94 // cosine of 20 degrees: flatter than this an underside rests on the liner
	wallSlope = 0.7  // cosine of 45 degrees: steeper than this a face is a side
)

func (it *item) measure() fit.ItemGeometry {
	size := it.box.Size()
	g := fit.ItemGeometry{
		Height: size.Z, MaxUnderDepth: it.kit.Depth,
		Reach: fit.Reach{Front: size.Y / 2, Back: size.Y / 2, Left: size.X / 2, Right: size.X / 2},
	}
	for i := range it.mesh.T {
		a, b, c := it.mesh.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a)).Scale(0.5)
		area := n.Len()
		if area == 0 {
			continue
		}
		up := n.Z / area
		g.PlanArea += math.Abs(n.Z) / 2
		if up < -restSlope {
			g.FloorArea -= n.Z
		}
		if math.Abs(up) < wallSlope {
			g.WallArea += area * shareBelow(a.Z, b.Z, c.Z, it.kit.Depth)
		}
	}
	return g
}

// shareBelow is the share of a triangle's area that lies under height z.
func shareBelow(a, b, c, z float64) float64 {
	lo, hi := min(a, b, c), max(a, b, c)
	mid := a + b + c - lo - hi
	switch {
	case hi <= z:
		return 1
	case lo >= z:
		return 0
	case z >= mid:
		return 1 - (hi-z)*(hi-z)/((hi-lo)*(hi-mid))
	}
	return (z - lo) * (z - lo) / ((hi - lo) * (mid - lo))
}

// planBox is about the mouth the item will need: its plan, its notches, the
// liner and what the draft opens.
func (it *item) planBox(k *params.Kit) geom.Box {
	b := it.box
	for _, n := range it.kit.Notch {
		switch n.Side {
		case params.Front:
			b.Min.Y = min(b.Min.Y, it.box.Min.Y-n.Out)
		case params.Back:
			b.Max.Y = max(b.Max.Y, it.box.Max.Y+n.Out)
		case params.Left:
			b.Min.X = min(b.Min.X, it.box.Min.X-n.Out)
		case params.Right:
			b.Max.X = max(b.Max.X, it.box.Max.X+n.Out)
		}
	}
	draft := geom.Angle(k.Pocket.Draft) * geom.Degree
	return it.pose(0).Box(b).Grow(k.Liner.Thickness + it.kit.Depth*draft.Tan())
}

// plumb is the sine of the lean, a degree, below which a facet counts as upright:
// those of a mesh lean as much by its error. This program's own choice.
const plumb = 0.02

// undercut is the area of an item's surface below the rim that looks up: the pocket
// goes straight up from a wider place below it, and the liner does not touch there.
func undercut(m *mesh.Mesh) (area float64) {
	for i := range m.T {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a)).Scale(0.5)
		if l := n.Len(); l > 0 && n.Z/l > plumb {
			area += l * shareBelow(a.Z, b.Z, c.Z, 0)
		}
	}
	return area
}
