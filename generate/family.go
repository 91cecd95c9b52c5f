package generate

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

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
// R is cut for the sheet's underside. Where a floor comes out thinner than the walls the
// members on the product side stand lower by as much, so that the item rests at its depth.
//
// R's field is a bound inside, so R is meshed once and every member is read off
// the true distance to that mesh. Gaps between members are then exact,
// creases included.
type family []cavity

// cavity is one pocket of the family: items whose pockets run into each other.
type cavity struct {
	items []int           // indices
	mesh  *mesh.Mesh      // R
	under *mesh.MeshField // of R, for the sheet's underside
	field *mesh.MeshField // of R moved up by the step, for the sheet's product side
	step  float64         // what the sheet is thicker on the floor than on the walls
	reach float64         // radius of R beyond the items
	buck  float64         // radius of the sheet's underside beyond the items
}

// at is pocket(r) on the sheet's product side, exact inside.
func (f family) at(r float64) sdf.Solid {
	return f.union(func(c cavity) sdf.Solid { return c.field.Offset(r - c.reach) })
}

// below is the pockets' surface on the sheet's underside, grown by gap. Each
// pocket is as thick as it was formed, on its walls and on its floor.
func (f family) below(gap float64) sdf.Solid {
	return f.union(func(c cavity) sdf.Solid { return c.under.Offset(c.buck + gap - c.reach) })
}

// union joins a member of each cavity. Cavities lie apart, so that the least
// of their distances is the distance, inside too.
func (f family) union(member func(cavity) sdf.Solid) sdf.Solid {
	all := make([]sdf.Solid, len(f))
	for i, c := range f {
		all[i] = member(c)
	}
	return sdf.Union(all...)
}

// headroom is how far R goes on above the rim, so that its flat top is farther
// from the rim than any erosion reaches.
const headroom = 8.0 // mm beyond the reach

// newFamily meshes R for each group of items, given by their indices.
func newFamily(ctx context.Context, items []*item, groups [][]int, d *fit.Dims, o mesh.Options) (family, error) {
	f := make(family, len(groups))
	errs := make([]error, len(groups))
	sideBySide(len(groups), func(i int) { f[i], errs[i] = newCavity(ctx, items, groups[i], d, o) })
	return f, errors.Join(errs...)
}

func newCavity(ctx context.Context, items []*item, group []int, d *fit.Dims, o mesh.Options) (cavity, error) {
	buck := d.Items[group[0]].Buck
	c := cavity{items: group, buck: buck, reach: buck + d.Pocket.Close, step: d.Items[group[0]].FloorStep}
	top := headroom + 2*c.reach
	var all []sdf.Solid
	o.Bounds = geom.EmptyBox()
	for _, i := range group {
		s, err := items[i].released(d.Items[i], c.reach, d.Pocket.Draft)
		if err != nil {
			return c, err
		}
		all = append(all, s)
		o.Bounds = o.Bounds.Union(items[i].reachBox(d.Items[i], c.reach, top, d.Pocket.Draft))
	}
	m, err := mesh.Contour(ctx, sdf.Intersect(sdf.Union(all...), sdf.HalfSpace{N: geom.V(0, 0, 1), D: top}), o)
	if err != nil {
		return c, err
	}
	c.mesh, c.under = m, mesh.CleanField(m, o.Tol)
	c.field = c.under
	if c.step != 0 {
		c.field = mesh.CleanField(m.Transform(geom.Translate(geom.V(0, 0, c.step))), o.Tol)
	}
	return c, nil
}

// together is all items in one group, for a family whose pockets are not known yet.
func together(items []*item) [][]int {
	all := make([]int, len(items))
	for i := range all {
		all[i] = i
	}
	return [][]int{all}
}

// groups finds which items share a pocket: those whose R have one outline at
// the rim, or outlines less than apart from each other. Groups and the items in
// them are in the kit's order; the outlines are those of the groups.
func (f family) groups(items []*item, d *fit.Dims, apart float64) ([][]int, outlines) {
	var loops [][]geom.Vec2
	for _, c := range f {
		loops = append(loops, c.mesh.Section(0)...)
	}
	pocket := make([]int, len(items)) // lowest item that it shares a pocket with
	home := make([]int, len(items))   // its outline
	for i, it := range items {
		pocket[i], home[i] = i, around(loops, it.foot(d.Items[i]))
		for j := range i {
			if home[i] == home[j] || loopGap(loops[home[i]], loops[home[j]]) < apart {
				join(pocket, i, j)
			}
		}
	}
	var out [][]int
	var homes outlines
	for i := range items {
		if pocket[i] != i {
			continue
		}
		var group []int
		for j := i; j < len(items); j++ {
			if pocket[j] == i {
				group = append(group, j)
				homes.loops, homes.pocket = append(homes.loops, loops[home[j]]), append(homes.pocket, len(out))
			}
		}
		out = append(out, group)
	}
	return out, homes
}

// join gives the groups of i and j the lower of their marks.
func join(mark []int, i, j int) {
	lo, hi := min(mark[i], mark[j]), max(mark[i], mark[j])
	for k := range mark {
		if mark[k] == hi {
			mark[k] = lo
		}
	}
}

// foot is the plan of the item's lowest point: its pocket's outline at the rim
// goes around it.
func (it *item) foot(d fit.ItemDims) geom.Vec2 {
	low := slices.MinFunc(it.mesh.V, func(a, b geom.Vec) int { return cmp.Compare(a.Z, b.Z) })
	return it.pose(-d.Depth).Apply(low).XY()
}

// around is the index of the smallest outline that goes round p, an item's foot. There
// always is one, because R widens upwards from the foot.
func around(loops [][]geom.Vec2, p geom.Vec2) int {
	best, least := 0, math.Inf(1)
	for i, l := range loops {
		if a := loopArea(l); a > 0 && a < least && inLoop(l, p) {
			best, least = i, a
		}
	}
	return best
}

func loopArea(l []geom.Vec2) (area float64) {
	for i, p := range l {
		q := l[(i+1)%len(l)]
		area += (p.X*q.Y - q.X*p.Y) / 2
	}
	return area
}

// inLoop counts the sides that a ray from p to the right crosses.
func inLoop(l []geom.Vec2, p geom.Vec2) bool {
	in := false
	for i, a := range l {
		b := l[(i+1)%len(l)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// reachBox holds the released item up to height top.
func (it *item) reachBox(d fit.ItemDims, r, top float64, alpha geom.Angle) geom.Box {
	b := it.box
	low := -d.Depth - d.SeatRise - d.FloorStep
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
func (f family) mouth(r, z float64, draft geom.Angle) geom.Box {
	box := geom.EmptyBox()
	for _, c := range f {
		own := geom.EmptyBox()
		for _, l := range c.mesh.Section(z - c.step) {
			for _, p := range l {
				own = own.Include(p.At(z))
			}
		}
		in := (c.reach - r) / draft.Cos()
		own.Min, own.Max = own.Min.Add(geom.V(in, in, 0)), own.Max.Sub(geom.V(in, in, 0))
		box = box.Union(own)
	}
	return box
}

// leastRib is the narrowest flat rim between two pockets at z = 0: between the
// outlines of R's separate bodies there, less what erosion adds on both sides.
// It is +Inf when there is one pocket.
func (f family) leastRib(r float64) float64 {
	least := math.Inf(1)
	var loops [][]geom.Vec2
	var in []float64
	for _, c := range f {
		for _, l := range c.mesh.Section(0) {
			for i, other := range loops {
				least = min(least, loopGap(l, other)+in[i]+c.reach-r)
			}
			loops, in = append(loops, l), append(in, c.reach-r)
		}
	}
	return least
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

// outlines are the mouths of the pockets, each with the index of its pocket.
type outlines struct {
	loops  [][]geom.Vec2
	pocket []int
}

// at is the pocket under a place of the plan, -1 for none.
func (o outlines) at(p geom.Vec2) int {
	best, least := -1, math.Inf(1)
	for i, l := range o.loops {
		if a := loopArea(l); a < least && inLoop(l, p) {
			best, least = o.pocket[i], a
		}
	}
	return best
}
