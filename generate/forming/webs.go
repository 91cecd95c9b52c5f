package forming

import (
	"cmp"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// Web is one connected place where the sheet is folded.
type Web struct {
	Area float64  // mm²
	At   geom.Vec // its middle
}

// Webs are the folded places whose elements' middles are kept, largest first.
func (f *Formed) Webs(keep func(geom.Vec) bool) []Web {
	sets := mesh.NewJoined(len(f.Node))
	var folds [][3]int32
	for i, e := range f.Element {
		if f.Fold[i] && keep(f.centre(e)) {
			folds = append(folds, e)
			sets.Join(e[0], e[1])
			sets.Join(e[0], e[2])
		}
	}
	index := map[int32]int{}
	var out []Web
	for _, e := range folds {
		i, ok := index[sets.Root(e[0])]
		if !ok {
			i = len(out)
			index[sets.Root(e[0])] = i
			out = append(out, Web{})
		}
		area := f.Node[e[1]].Sub(f.Node[e[0]]).Cross(f.Node[e[2]].Sub(f.Node[e[0]])).Len() / 2
		out[i].Area += area
		out[i].At = out[i].At.Add(f.centre(e).Scale(area))
	}
	for i, w := range out {
		out[i].At = w.At.Scale(1 / max(w.Area, 1e-12))
	}
	slices.SortStableFunc(out, func(a, b Web) int { return cmp.Compare(b.Area, a.Area) })
	return out
}

func (f *Formed) centre(e [3]int32) geom.Vec {
	return f.Node[e[0]].Add(f.Node[e[1]]).Add(f.Node[e[2]]).Scale(1.0 / 3)
}
