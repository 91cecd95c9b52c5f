package generate

import (
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/solid"
)

// formedInsert is the insert as it is predicted to come off the buck: the
// finished insert's mesh, its product side moved to the local thickness and, where the
// sheet does not reach the buck, off it by the gap. It is sound or an error.
//
// The finished insert has one thickness a pocket, which the fits are worked out
// with; this one shows what is thick and thin in it.
func (r *Result) formedInsert(finished *mesh.Mesh) (*mesh.Mesh, error) {
	face := solid.FormingFace(r.Layout)
	out := &mesh.Mesh{V: slices.Clone(finished.V), T: finished.T}
	for i, p := range finished.V {
		d := face.Dist(p)
		if d < r.Dims.Insert.Gauge*productSide {
			continue // on the tool's side
		}
		n := slope(face, p)
		by := n.Scale(r.formedThickness(p.Sub(n.Scale(d))) - d)
		if math.Abs(p.Z-r.Layout.Trim) < trimmedEdge {
			by.Z = 0 // the trimmed edge stays in its plane
		}
		out.V[i] = p.Add(by)
	}
	out = out.Snap()
	return out, out.Check()
}

const (
	productSide = 0.1  // of the gauge from the buck: farther is the product side
	trimmedEdge = 0.05 // mm from the trim line
)

// formedThickness is how far the product side is from the buck at a place on
// it: the local thickness, and the gap that stays open.
func (r *Result) formedThickness(p geom.Vec) float64 {
	return r.Formed.ThicknessAt(p)
}
