package forming

import "buckwright/generate/geom"

// Edges of the flat mesh, in parts of Setup.Element: the flat rim and the waste
// do not need more, what is drawn does.
const (
	coarseShare = 2.0
	fineShare   = 1.0
)

// mesh makes the flat sheet: coarse where it lies on the rim and in the waste,
// fine over pockets and along edges, and fitted to the tool's outline at the rim.
func (f *former) mesh() *sheet {
	e := f.set.Element
	s := lattice(&f.set, coarseShare*e)
	for pass := 0; pass < 2; pass++ {
		near := f.nearness(s)
		for t := 0; t < len(s.tri); t++ {
			if s.flatEdge(int32(t)) > fineShare*e*1.5 && f.works(s, near, int32(t)) {
				s.split(int32(t), func(m, a, b int32) { near = append(near, f.outline(s.flat[m])) })
			}
		}
	}
	s.cut(f.outline)
	return s
}

// outline is negative on the tool a little below the rim, where it is cut.
func (f *former) outline(p geom.Vec2) float64 {
	return f.tool.below(p.At(f.set.Rim - f.skin()))
}

func (f *former) nearness(s *sheet) []float64 {
	near := make([]float64, len(s.node))
	for i, p := range s.flat {
		near[i] = f.outline(p)
	}
	return near
}

// works reports whether element t is drawn: it hangs over a pocket, or the
// outline of the tool runs through it or close by.
func (f *former) works(s *sheet, near []float64, t int32) bool {
	on, off, close := false, false, false
	inside := false
	for _, n := range s.tri[t] {
		on, off = on || near[n] <= 0, off || near[n] > 0
		close = close || near[n] > 0 && near[n] < 2*f.set.Element
		inside = inside || f.insidePlan(s.flat[n].At(0))
	}
	return on && off || close || off && inside
}

// insidePlan reports whether a point lies in the plan of the tool.
func (f *former) insidePlan(p geom.Vec) bool {
	return beyond(f.set.Box, p) < 0
}
