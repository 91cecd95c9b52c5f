package mesh

import "buckwright/generate/geom"

// Moved is m with its vertices moved to the places to, mm, one a vertex and in the same
// order. Where that would have triangles cross, collapse or come as near as Check forbids,
// the vertices are moved less: half as far each time, and at last not at all. m must be
// sound; an error is the *Fault that is left when it is not.
func (m *Mesh) Moved(to []geom.Vec) (*Mesh, error) {
	w := moved{m: m, to: to, share: make([]float64, len(m.V))}
	for v := range w.share {
		w.share[v] = 1
	}
	for {
		out := w.mesh()
		err := out.Check()
		if err == nil || !w.shorten(out, err) {
			return out, err
		}
	}
}

// moved is a mesh whose vertices are on their way.
type moved struct {
	m     *Mesh
	to    []geom.Vec
	share []float64 // of its way that a vertex is moved, 0 to 1
}

func (w *moved) mesh() *Mesh {
	out := &Mesh{V: make([]geom.Vec, len(w.m.V)), T: w.m.T}
	for i, p := range w.m.V {
		switch share := w.share[i]; share {
		case 0:
			out.V[i] = p
		case 1:
			out.V[i] = w.to[i]
		default:
			out.V[i] = p.Add(w.to[i].Sub(p).Scale(share))
		}
	}
	return out.Snap()
}

// shorten halves the ways of the vertices that make the mesh out unsound; false if none
// of them is moved.
func (w *moved) shorten(out *Mesh, err error) bool {
	const least = 1.0 / 64 // of a way: less is none
	short := make([]bool, len(w.share))
	all := make([]int32, len(out.T))
	for i := range all {
		all[i] = int32(i)
	}
	for _, i := range newGate(out).tangled(all) {
		for _, v := range out.T[i] {
			short[v] = true
		}
	}
	if f, ok := err.(*Fault); ok {
		for v, p := range out.V {
			short[v] = short[v] || p.Dist(f.At) < 10*gateNear
		}
	}
	found := false
	for v := range short {
		if !short[v] || w.share[v] == 0 {
			continue
		}
		found = true
		if w.share[v] /= 2; w.share[v] < least {
			w.share[v] = 0
		}
	}
	return found
}
