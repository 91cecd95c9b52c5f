package mesh

import (
	"context"
	"math"
	"slices"

	"buckwright/generate/sdf"
)

// Shell is the mesh of outer less inner, where inner lies within outer and both
// end on a flat at height z, in mm, that is common to them; it passes Check. Each
// is contoured by itself and the two are sewn together, so that a thin wall
// between them asks for no finer cells than its faces do. Where that is no sound
// mesh, it is done again as finely as the wall is thin, and then the difference is
// contoured as it is.
func Shell(ctx context.Context, outer, inner sdf.Solid, z float64, o Options) (*Mesh, error) {
	m, wall, err := shellOnce(ctx, outer, inner, z, o)
	if err != nil && wall > 0 {
		finer := o
		finer.Tol = max(min(o.Tol/2, wall/4), o.Tol/shellFiner)
		m, _, err = shellOnce(ctx, outer, inner, z, finer)
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err == nil {
		return m, nil
	}
	return Contour(ctx, sdf.Difference(outer, inner), o)
}

// shellFiner is how much finer a thin shell is tried at most.
const shellFiner = 64

// shellOnce also tells how thick the wall is where it is thinnest, in mm; 0 or
// less when inner does not lie within outer, or that is not known.
func shellOnce(ctx context.Context, outer, inner sdf.Solid, z float64, o Options) (m *Mesh, wall float64, err error) {
	a, err := Contour(ctx, outer, o)
	if err != nil {
		return nil, 0, err
	}
	b, err := Contour(ctx, inner, o)
	if err != nil {
		return nil, 0, err
	}
	if m, err = Sew(a, b, z, o.Tol); err == nil {
		return m, 0, nil
	}
	wall = math.Inf(1)
	for _, p := range b.V {
		if math.Abs(p.Z-z) > o.Tol {
			p, _ = qefLand(inner, p)
			wall = min(wall, -outer.Dist(p))
		}
	}
	return nil, wall, err
}

// Sew joins two closed meshes that end on a flat at height z, in mm, into the
// shell between them: the surface of outer, that of inner turned round, and of
// the flat what lies between their outlines. Vertices nearer to the flat than
// reach are laid on it. An error when the result does not pass Check, as when
// inner does not lie within outer.
func Sew(outer, inner *Mesh, z, reach float64) (*Mesh, error) {
	m := outer.opened(z, reach).With(inner.opened(z, reach).turned())
	fill, err := fillFlat(m.V, repairLoops(m))
	if err != nil {
		return nil, err
	}
	m.T = append(m.T, fill...)
	return m, m.Check()
}

// opened is the mesh without the triangles of the flat at height z; vertices
// nearer to it than reach are laid on it.
func (m *Mesh) opened(z, reach float64) *Mesh {
	z = snap(z)
	out := &Mesh{V: slices.Clone(m.V)}
	for i, v := range out.V {
		if math.Abs(v.Z-z) < reach {
			out.V[i].Z = z
		}
	}
	for _, t := range m.T {
		if a, b, c := out.V[t[0]].Z, out.V[t[1]].Z, out.V[t[2]].Z; a != z || b != z || c != z {
			out.T = append(out.T, t)
		}
	}
	return out.used()
}

// used is the mesh without the vertices that no triangle has.
func (m *Mesh) used() *Mesh {
	id := octFill(nil, len(m.V))
	out := &Mesh{T: slices.Clone(m.T)}
	for i := range out.T {
		for k, v := range out.T[i] {
			if id[v] == octNone {
				id[v] = int32(len(out.V))
				out.V = append(out.V, m.V[v])
			}
			out.T[i][k] = id[v]
		}
	}
	return out
}

// turned is the mesh with its triangles facing the other way.
func (m *Mesh) turned() *Mesh {
	out := &Mesh{V: m.V, T: slices.Clone(m.T)}
	for i, t := range out.T {
		out.T[i] = [3]int32{t[0], t[2], t[1]}
	}
	return out
}
