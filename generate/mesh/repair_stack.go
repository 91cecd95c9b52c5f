package mesh

import (
	"cmp"
	"slices"

	"buckwright/generate/geom"
)

// repairShell is a closed piece of a mesh.
type repairShell struct {
	mesh *Mesh
	box  geom.Box
	bvh  *BVH
	wind *Winding
}

func newRepairShell(m *Mesh) *repairShell {
	b := NewBVH(m)
	return &repairShell{m, m.Bounds(), b, NewWinding(m, b)}
}

// repairStack puts closed shells together from the outside in. A shell inside no
// other is turned to face out; one that faces out inside others is left out, and
// its box is among the lost.
func repairStack(m *Mesh) (out *Mesh, lost []geom.Box) {
	var pieces []*Mesh
	at := make([]int32, len(m.V))
	for _, tris := range repairShells(m) {
		pieces = append(pieces, m.part(tris, at))
	}
	slices.SortStableFunc(pieces, func(a, b *Mesh) int {
		return -cmp.Compare(a.Bounds().Size().Len(), b.Bounds().Size().Len())
	})
	out = &Mesh{}
	var kept []*repairShell
	for _, p := range pieces {
		faceOut, inside := p.Volume() >= 0, repairInside(p, kept)
		switch {
		case inside && faceOut:
			lost = append(lost, p.Bounds())
			continue
		case !inside && !faceOut:
			for k, t := range p.T {
				p.T[k] = [3]int32{t[0], t[2], t[1]}
			}
		}
		if len(pieces) > 1 {
			kept = append(kept, newRepairShell(p))
		}
		out.join(p)
	}
	return out, lost
}

// WithoutSpecks is the mesh less the shells whose box is smaller than least mm
// from corner to corner, and how many these are. The largest shell stays.
func (m *Mesh) WithoutSpecks(least float64) (*Mesh, int) {
	shells := repairShells(m)
	at := make([]int32, len(m.V))
	most, keep := -1.0, 0
	sizes := make([]float64, len(shells))
	for k, tris := range shells {
		sizes[k] = m.part(tris, at).Bounds().Size().Len()
		if sizes[k] > most {
			most, keep = sizes[k], k
		}
	}
	speck := make([]bool, len(m.T))
	dropped := 0
	for k, tris := range shells {
		if k == keep || !(sizes[k] < least) {
			continue
		}
		dropped++
		for _, i := range tris {
			speck[i] = true
		}
	}
	if dropped == 0 {
		return m, 0
	}
	return m.without(func(i int) bool { return speck[i] }).Weld(0), dropped
}

// repairInside reports whether all of p lies inside the solid of the shells.
func repairInside(p *Mesh, shells []*repairShell) bool {
	box := p.Bounds()
	var near []*repairShell
	for _, s := range shells {
		if !s.box.Intersect(box).Empty() {
			near = append(near, s)
		}
	}
	if len(near) == 0 {
		return false
	}
	for _, v := range p.V {
		var w float64
		for _, s := range near {
			w += s.wind.At(v)
		}
		if w < 0.5 {
			return false
		}
	}
	tree := NewBVH(p)
	for _, s := range near {
		if s.bvh.meets(tree) {
			return false
		}
	}
	return true
}

// meets reports whether a triangle of one tree passes through one of the other.
func (b *BVH) meets(o *BVH) bool {
	hit := false
	for k := range o.tris {
		t := &o.tris[k]
		b.overlap(t.box(), 0, func(i int32) bool {
			hit = t.crosses(&b.tris[i])
			return !hit
		})
		if hit {
			return true
		}
	}
	return false
}

// join adds the triangles of o.
func (m *Mesh) join(o *Mesh) {
	base := int32(len(m.V))
	m.V = append(m.V, o.V...)
	for _, t := range o.T {
		m.T = append(m.T, [3]int32{t[0] + base, t[1] + base, t[2] + base})
	}
}
