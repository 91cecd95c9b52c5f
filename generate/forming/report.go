package forming

import (
	"math"
	"slices"
)

// formed reads the result off the sheet.
func (f *former) formed() *Formed {
	s := f.sheet
	out := &Formed{Flat: s.flat, Node: s.node, Element: s.tri}
	out.Thickness = make([]float64, len(s.tri))
	out.Fold = make([]bool, len(s.tri))
	var flat, area float64
	for t := range s.tri {
		a := s.normal(int32(t)).Len()
		flat, area = flat+s.ref[t].area, area+a
		out.Thickness[t] = f.set.Gauge * s.ref[t].area / max(a, 1e-9*s.ref[t].area)
		out.Fold[t] = s.folded(int32(t)) || s.webbed(int32(t))
	}
	out.Draw = area / flat
	out.Gap = f.gaps()
	out.Touch = s.order()
	out.Stats = f.stats(out)
	out.Open = f.open(out)
	out.find = out.newFinder()
	return out
}

// foldShare is how much narrower than its natural width an element must be to
// count as folded: a few percent are within the error of one element.
const foldShare = 0.95

// folded reports whether an element is pressed together: across its pull it is
// narrower than the width 1/sqrt(stretch) at which tension across ends, or it is
// short both ways.
func (s *sheet) folded(t int32) bool {
	a, b := s.stretches(t)
	return b < foldShare*min(1, 1/math.Sqrt(a))
}

// webbed reports whether an element lies on another layer of the sheet.
func (s *sheet) webbed(t int32) bool {
	v := s.tri[t]
	return s.state[v[0]].webbed && s.state[v[1]].webbed && s.state[v[2]].webbed
}

// gaps are the distances of the nodes that are not in contact.
func (f *former) gaps() []float64 {
	gap := make([]float64, len(f.sheet.node))
	for n, st := range f.sheet.state {
		if (!st.held || st.hangs) && !st.frame {
			if d := f.tool.dist(f.sheet.node[n]); d > f.skin() {
				gap[n] = d
			}
		}
	}
	return gap
}

// order numbers the moments of contact from 0 to 1.
func (s *sheet) order() []float64 {
	var met []moment
	for _, st := range s.state {
		if st.held {
			met = append(met, st.when)
		}
	}
	slices.SortFunc(met, moment.compare)
	met = slices.Compact(met)
	touch := make([]float64, len(s.state))
	for n, st := range s.state {
		touch[n] = math.Inf(1)
		if st.held && !st.hangs {
			i, _ := slices.BinarySearchFunc(met, st.when, moment.compare)
			touch[n] = float64(i) / float64(max(1, len(met)-1))
		}
	}
	return touch
}

// stats gathers thickness by place.
func (f *former) stats(out *Formed) []Stat {
	if f.set.Place == nil {
		return nil
	}
	var stats []Stat
	index := map[Place]int{}
	for t := range f.sheet.tri {
		at := f.sheet.centroid(int32(t))
		p := f.set.Place(at)
		i, ok := index[p]
		if !ok {
			i = len(stats)
			index[p] = i
			stats = append(stats, Stat{Place: p, Least: math.Inf(1)})
		}
		st, h := &stats[i], out.Thickness[t]
		a := f.sheet.normal(int32(t)).Len()
		st.Area += a
		st.Mean += a * h
		if h < st.Least {
			st.Least, st.At = h, at
		}
	}
	for i := range stats {
		stats[i].Mean /= max(stats[i].Area, math.SmallestNonzeroFloat64)
	}
	slices.SortFunc(stats, func(a, b Stat) int {
		if a.Pocket != b.Pocket {
			return a.Pocket - b.Pocket
		}
		return int(a.Zone - b.Zone)
	})
	return stats
}
