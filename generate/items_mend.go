package generate

import (
	"fmt"

	"buckwright/generate/check"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// leastFill is the share of its box that a thing to pack fills at least: a wire
// frame fills more. This program's own choice.
const leastFill = 1e-4

// mostMissing is the share of a body's skin that may have to be guessed. A box
// without its lid lacks a sixth to a third; a curved sheet that stands alone
// lacks as much as there is. This program's own choice.
const mostMissing = 0.5

// speck is the size, in mm, below which a piece of a body that hangs free of it is
// dirt: no liner feels it. This program's own choice.
const speck = 0.5

// mend heals a body as it was read, and keeps what was wrong with it for the findings.
// Places are those of the file, in mm, turned upright.
func (it *item) mend(file string, m *mesh.Mesh) (*mesh.Mesh, error) {
	r := mesh.Diagnose(m)
	if r.Shells > mesh.MostShells {
		return nil, fmt.Errorf("%s: the triangles hang together in %d pieces, and %d are looked at at most; one corner is at %s", file, r.Shells, mesh.MostShells, spotted(m.V[m.T[0][0]]))
	}
	missing := 0.0
	for _, h := range r.Holes {
		missing += h.Area
	}
	if there := m.Area(); missing > mostMissing*(there+missing) {
		h := r.Holes[0]
		return nil, fmt.Errorf("%s: more of the surface is missing than there is: %.0f mm² of %.0f; the widest hole, about %.2g mm across, is at %s",
			file, missing, there+missing, h.Width, spotted(h.At))
	}
	healed, specks := mesh.Heal(m).WithoutSpecks(speck)
	if size := healed.Bounds().Size(); len(healed.T) == 0 || !(healed.Volume() > leastFill*size.X*size.Y*size.Z) {
		return nil, fmt.Errorf("%s: the triangles enclose no volume: it is a surface or a drawing, not a body", file)
	}
	it.state = meshFact(file, r)
	it.state.Specks = specks
	return healed, nil
}

// meshFact is what a rule needs to know of a report.
func meshFact(file string, r mesh.Report) *check.MeshFact {
	f := &check.MeshFact{File: file, Holes: r.Holes, Turned: len(r.Flipped) > 0 || r.Volume < 0,
		Fins: len(r.NonManifold), Repeats: len(r.Duplicate), Points: len(r.Degenerate), Inside: len(r.Internal)}
	if len(r.Crossing) > 0 {
		f.Crossing = &r.Crossing[0]
	}
	return f
}

// spotted is a place in words.
func spotted(p geom.Vec) string { return fmt.Sprintf("(%.1f, %.1f, %.1f)", p.X, p.Y, p.Z) }
