package forming

// Bounds of refinement: the shortest side of the flat mesh that is still halved,
// in parts of an element's edge, and the most elements that there may be, by
// those at the start.
const (
	leastShare = 0.2
	mostTimes  = 8
)

// refine halves free elements that have become too long. A free element is
// short beside the radius that the pressure bends it to, or is no use.
func (f *former) refine() {
	s := f.sheet
	for t := int32(0); int(t) < len(s.tri) && len(s.tri) < mostTimes*f.first; t++ {
		if s.movable(t) && s.formedEdge(t) > f.longestSide(t) && s.flatEdge(t) > leastShare*f.set.Element {
			s.split(t, f.midway)
		}
	}
}

// movable reports whether some corner of an element is free and none rests.
func (s *sheet) movable(t int32) bool {
	free := false
	for _, n := range s.tri[t] {
		if s.state[n].rests {
			return false
		}
		free = free || !s.state[n].held
	}
	return free
}

// longestSide is what element t may have as formed.
func (f *former) longestSide(t int32) float64 {
	e := f.set.Element
	limit := growShare * e
	if !f.insidePlan(f.sheet.centroid(t)) {
		limit *= coarseShare
	}
	p := 0.0
	for _, n := range f.sheet.tri[t] {
		if st := f.sheet.state[n]; !st.held {
			p = max(p, st.press)
		}
	}
	if p == 0 {
		return limit
	}
	radius := f.tension(t) / p
	return min(limit, max(1.5*radius, e/2))
}

// midway settles what a new node between two others is.
func (f *former) midway(m, a, b int32) {
	s := f.sheet
	sa, sb, st := s.state[a], s.state[b], &s.state[m]
	st.press, st.when = max(sa.press, sb.press), sa.when
	if sa.when.compare(sb.when) < 0 {
		st.when = sb.when
	}
	st.seen, st.clear = s.node[m], f.tool.dist(s.node[m])
	st.frame = sa.frame && sb.frame && beyond(f.tool.frame, s.node[m]) > -1e-6*f.set.Element
	st.held = st.frame || sa.held && sb.held && st.clear <= f.skin()
	if st.clear < 0 && !st.held {
		st.held = true
	}
	if sa.webbed && sb.webbed && !st.held {
		st.held, st.hangs, st.webbed = true, true, true
	}
}
