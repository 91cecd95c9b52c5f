package generate

import (
	"context"
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/sdf"
)

// family is the pocket family: pocket(r) for every radius r beyond the items.
//
// Closing by the gauge after releasing is one erosion, because a Minkowski sum
// with a ball and one with the release cone commute: with R the release of the
// items grown by r_buck + gauge,
//
//	B         = close(release(offset(P, r_buck)), gauge) = erode(R, gauge)
//	pocket(r) = erode(B, r_buck - r)                     = erode(R, gauge + r_buck - r)
//
// R's field is a bound inside, so R is meshed once and every member is read off
// the true distance to that mesh. Gaps between members are then exact,
// creases included.
type family struct {
	field *mesh.MeshField
	reach float64 // radius of R beyond the items
	mesh  *mesh.Mesh
}

// at is pocket(r), exact inside.
func (f *family) at(r float64) sdf.Solid { return f.field.Offset(r - f.reach) }

// headroom is how far R goes on above the rim, so that its flat top is farther
// from the rim than any erosion reaches.
const headroom = 8.0 // mm beyond the reach

// newFamily meshes R.
func newFamily(ctx context.Context, items []*item, d *fit.Dims, o mesh.Options) (*family, error) {
	reach := d.Pocket.Buck + d.Pocket.Close
	top := headroom + 2*reach
	var all []sdf.Solid
	box := geom.EmptyBox()
	for i, it := range items {
		s, err := it.released(d.Items[i], reach, d.Pocket.Draft)
		if err != nil {
			return nil, err
		}
		all = append(all, s)
		box = box.Union(it.reachBox(d.Items[i], reach, top, d.Pocket.Draft))
	}
	o.Bounds = box
	m, err := mesh.Contour(ctx, sdf.Intersect(sdf.Union(all...), sdf.HalfSpace{N: geom.V(0, 0, 1), D: top}), o)
	if err != nil {
		return nil, err
	}
	return &family{mesh.CleanField(m), reach, m}, nil
}

// reachBox holds the released item up to height top.
func (it *item) reachBox(d fit.ItemDims, r, top float64, alpha geom.Angle) geom.Box {
	b := it.box
	low := -d.Depth - d.SeatRise
	for _, n := range d.Notches {
		out := n.Out + math.Hypot(it.box.Max.X, it.box.Max.Y)
		b = b.Include(n.Dir.Scale(out).At(0)).Include(geom.V(b.Min.X, b.Min.Y, 0))
		w := n.Width / 2
		side := geom.Vec2{X: -n.Dir.Y, Y: n.Dir.X}.Scale(w)
		b = b.Include(n.Dir.Scale(out).Add(side).At(0)).Include(n.Dir.Scale(out).Sub(side).At(0))
	}
	b = it.pose(low).Box(b)
	spread := r + (top-low+r)*alpha.Tan() + 1
	b = b.Grow(spread)
	b.Min.Z, b.Max.Z = low-r-1, top+1
	return b
}

// mouth is the box around pocket(r) at height z, from R's own outline there: a
// wall that leans by the draft moves e/cos(draft) sideways when eroded by e.
func (f *family) mouth(r, z float64, draft geom.Angle) geom.Box {
	box := geom.EmptyBox()
	for _, t := range f.mesh.T {
		for i := range 3 {
			a, b := f.mesh.V[t[i]], f.mesh.V[t[(i+1)%3]]
			if (a.Z < z) == (b.Z < z) {
				continue
			}
			box = box.Include(a.Lerp(b, (z-a.Z)/(b.Z-a.Z)))
		}
	}
	in := (f.reach - r) / draft.Cos()
	box.Min.X, box.Min.Y = box.Min.X+in, box.Min.Y+in
	box.Max.X, box.Max.Y = box.Max.X-in, box.Max.Y-in
	return box
}

// leastRib is the narrowest flat rim between two pockets at z = 0: between the
// outlines of R's separate bodies there, less what erosion adds on both sides.
// It is +Inf when there is one pocket.
func (f *family) leastRib(r float64) float64 {
	loops := f.mesh.Section(0)
	least := math.Inf(1)
	for i, a := range loops {
		for _, b := range loops[:i] {
			least = min(least, loopGap(a, b))
		}
	}
	return least + 2*(f.reach-r)
}

// loopGap is the least distance between points of two outlines.
func loopGap(a, b []geom.Vec2) float64 {
	least := math.Inf(1)
	for _, p := range a {
		for k, q := range b {
			least = min(least, segmentDist(p, q, b[(k+1)%len(b)]))
		}
	}
	return least
}

func segmentDist(p, a, b geom.Vec2) float64 {
	ab := b.Sub(a)
	t := 0.0
	if l := ab.Dot(ab); l > 0 {
		t = min(1, max(0, p.Sub(a).Dot(ab)/l))
	}
	return p.Sub(a.Add(ab.Scale(t))).Len()
}
