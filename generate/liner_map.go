package generate

import (
	"buckwright/generate/fit"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/solid"
)

// linerStep is the size, mm, of the pieces of an item's surface that its
// liner is mapped on.
const linerStep = 3.0

// linerMaps is what the liner does to each item, in the kit's order.
func (r *Result) linerMaps(items []*item) []*forming.LinerMap {
	gap, wall := r.productGap()
	out := make([]*forming.LinerMap, len(items))
	for i, it := range items {
		d := r.Dims.Items[i]
		resting := it.mesh.Transform(it.pose(-it.kit.Depth))
		out[i] = forming.Lining{
			Samples: forming.SampleBelow(resting, 0, linerStep), Gap: gap, Wall: wall,
			Law: r.Dims.Liner, Free: r.Kit.Liner.Thickness, Cement: r.Kit.Liner.Cement,
			Friction: r.liner.Friction, Most: r.liner.Most,
			Depth: it.kit.Depth, Weight: fit.Weight(d.Mass), Pad: d.PadForce,
		}.Map()
	}
	return out
}

// productGap is the distance from a point in a pocket to the product side of
// the finished insert, that of the buck less the sheet's thickness as
// predicted, and the direction it is measured in. Where the sheet stays off the
// buck is left to the findings on unfilled places.
func (r *Result) productGap() (gap func(geom.Vec) float64, wall func(geom.Vec) geom.Vec) {
	face := solid.FormingFace(r.Layout)
	wall = func(p geom.Vec) geom.Vec { return slope(face, p) }
	gap = func(p geom.Vec) float64 {
		d := face.Dist(p)
		return d - r.Formed.ThicknessAt(p.Sub(wall(p).Scale(d)))
	}
	return gap, wall
}
