package generate

import (
	"math"
	"slices"

	"buckwright/generate/mesh"
	"buckwright/generate/solid"
)

// formedInsert is the insert as it is predicted to come off the buck: the
// finished insert's mesh, its product side moved to the local thickness, both
// sides off the buck where the sheet does not reach it. A narrow place that
// stays open can make that cross itself; then it is drawn as if the sheet
// reached everywhere, and nil if that crosses itself too.
//
// The finished insert has one thickness of wall and of floor a pocket, which the fits
// are worked out with; this one shows what is thick and thin in it.
func (r *Result) formedInsert(finished *mesh.Mesh) *mesh.Mesh {
	for _, open := range [2]float64{1, 0} {
		if m := r.thickened(finished, open); m.Check() == nil {
			return m
		}
	}
	return nil
}

// thickened moves the finished insert's sides; open is the share of the gaps
// that is kept.
func (r *Result) thickened(finished *mesh.Mesh, open float64) *mesh.Mesh {
	face := solid.FormingFace(r.Layout)
	out := &mesh.Mesh{V: slices.Clone(finished.V), T: finished.T}
	for i, p := range finished.V {
		d := face.Dist(p)
		n := slope(face, p)
		gap, thickness := r.Formed.Off(p.Sub(n.Scale(d)))
		off := gap * open
		if d > r.Dims.Insert.Gauge*productSide {
			off += thickness - d
		}
		by := n.Scale(off)
		if math.Abs(p.Z-r.Layout.Trim) < trimmedEdge {
			by.Z = 0 // the trimmed edge stays in its plane
		}
		out.V[i] = p.Add(by)
	}
	return out.Snap()
}

const (
	productSide = 0.1  // of the gauge from the buck: farther is the product side
	trimmedEdge = 0.05 // mm from the trim line
)

// formedName is the part's name.
const formedName = "formed-insert"

// withFormed is the part, and behind the insert the formed insert.
func (r *Result) withFormed(p Part) []Part {
	if p.Name != "insert" || r.Formed == nil {
		return []Part{p}
	}
	m := r.formedInsert(p.Mesh)
	if m == nil {
		return []Part{p}
	}
	formed := p
	formed.Name, formed.Title, formed.Mesh, formed.Printed = formedName, "insert as it is predicted to form", m, m
	return []Part{p, formed}
}
