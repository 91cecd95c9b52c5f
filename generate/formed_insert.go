package generate

import (
	"fmt"
	"math"
	"slices"

	"buckwright/generate/mesh"
	"buckwright/generate/solid"
)

// formedInsert is the insert as it is predicted to come off the buck: the
// finished insert's mesh, its product side moved to the local thickness, both
// sides off the buck where the sheet does not reach it. In a narrow place that
// stays open that would have the sheet cross itself: there it is moved less.
//
// The finished insert has one thickness of wall and of floor a pocket, which the fits
// are worked out with; this one shows what is thick and thin in it.
func (r *Result) formedInsert(finished *mesh.Mesh) (*mesh.Mesh, error) {
	face := solid.FormingFace(r.Layout)
	to := slices.Clone(finished.V)
	for i, p := range finished.V {
		d := face.Dist(p)
		n := slope(face, p)
		off, thickness := r.Formed.Off(p.Sub(n.Scale(d)))
		if d > r.Dims.Insert.Gauge*productSide {
			off += thickness - d
		}
		by := n.Scale(off)
		if math.Abs(p.Z-r.Layout.Trim) < trimmedEdge {
			by.Z = 0 // the trimmed edge stays in its plane
		}
		to[i] = p.Add(by)
	}
	return finished.Moved(to)
}

const (
	productSide = 0.1  // of the gauge from the buck: farther is the product side
	trimmedEdge = 0.05 // mm from the trim line
)

// formedName is the part's name.
const formedName = "formed-insert"

// withFormed is the part, and behind the insert the formed insert.
func (r *Result) withFormed(p Part) ([]Part, error) {
	if p.Name != "insert" || r.Formed == nil {
		return []Part{p}, nil
	}
	m, err := r.formedInsert(p.Mesh)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", formedName, err)
	}
	formed := p
	formed.Name, formed.Title, formed.Mesh, formed.Printed = formedName, "insert as it is predicted to form", m, m
	return []Part{p, formed}, nil
}
