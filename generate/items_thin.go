package generate

import (
	"context"

	"buckwright/generate/mesh"
)

// thinFrom is how many triangles a product's mesh must have to be thinned. A pocket
// is traced as finely as the product is drawn: at quality draft one of 100 000
// triangles took 28 s of processor time, one of 10 000 took 12 s, one of 1 000 took 10 s
// (testdata/bench). Below this number there is little to gain, and the file's own
// triangles are used as they are.
const thinFrom = 30_000

// thinned is a body as read and mended, less the triangles that make no difference.
func thinned(ctx context.Context, m *mesh.Mesh, q Quality) (*mesh.Mesh, error) {
	if len(m.T) < thinFrom {
		return m, nil
	}
	return mesh.Simplify(ctx, m, q.slack())
}

// slack is how far, in mm, a product's mesh may be moved to be thinned: a fifth of
// the sag allowed in a part's cell. With that and the sag of the pocket it stays
// within the promises of normal and fine.
func (q Quality) slack() float64 {
	return q.tolerance().part / 5
}
