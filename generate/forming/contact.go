package forming

import "buckwright/generate/geom"

// touch carries a region's places over to the sheet, the pressure being p. Nodes
// whose way enters the tool are held where it does. It returns how many.
func (f *former) touch(r *region, p float64, when moment) int {
	hits := 0
	tangled := r.tangled()
	for i, n := range r.node[:r.free] {
		st, from := &r.state[n], r.sheet.node[n]
		st.press, st.when = p, when
		share, hit := f.approach(r, i, n, p > 0)
		to := from.Lerp(r.x[i], share)
		if over := to.Z - f.set.Rim; over > 0 && over < f.skin() {
			to.Z = f.set.Rim // a settled sheet has none; one that is nearly settled may
		}
		switch {
		case tangled[i]:
			f.fall(r, n, r.pushing[i].Unit())
			hits++
			continue
		case !(to.Z <= f.set.Rim): // nothing lifts a sheet: the mesh can follow it no further
			st.held, st.hangs = true, true
			hits++
			continue
		case hit:
			st.held = true
			hits++
		}
		r.sheet.node[n] = to
	}
	return hits
}

// approach says how much of its way node n, the i-th of r, can go, and whether it
// enters the tool then. Under vacuum it may not go back: the vacuum only rises.
func (f *former) approach(r *region, i int, n int32, vacuum bool) (share float64, hit bool) {
	st, from, to := &r.state[n], r.sheet.node[n], r.x[i]
	if vacuum {
		push := r.pushing[i].Unit()
		to = to.Sub(push.Scale(min(0, to.Sub(from).Dot(push))))
		r.x[i] = to
	}
	if to.Dist(st.seen) < st.clear {
		return 1, false
	}
	share, clear, hit := f.tool.meet(from, to)
	st.seen, st.clear = from.Lerp(to, share), clear
	return share, hit
}

// tangled marks the free nodes of elements that turned over in the last step:
// the mesh can follow the sheet no further there.
func (r *region) tangled() []bool {
	bad := make([]bool, len(r.x))
	for i := range r.elem {
		el := &r.elem[i]
		a := r.x[el.v[0]]
		now := r.x[el.v[1]].Sub(a).Cross(r.x[el.v[2]].Sub(a))
		was := r.normal(el.t).Scale(2)
		if !(now.Dot(was) > 0.05*was.Dot(was)) {
			for _, v := range el.v {
				bad[v] = true
			}
		}
	}
	return bad[:r.free]
}

// closeShare is how many times longer than the radius that the pressure bends
// the sheet to a side may be. A node amid longer sides is no longer held in place
// by the sheet: p times the side outweighs the tension, and the mesh would tangle.
const closeShare = 2.5

// slackShare is the share of the region's mean tension that an element has at
// least: a sheet that has only begun to bulge has slack ones, which bend to no radius.
const slackShare = 0.1

// closeUp brings nodes onto the tool where what is left of the gap is finer than
// the elements can follow: the pressure would bend the sheet there to a radius
// well below a side.
func (f *former) closeUp(r *region, p float64) int {
	hits, mean := 0, 0.0
	tension := make([]float64, len(r.elem))
	for i := range r.elem {
		tension[i] = f.tension(r.elem[i].t)
		mean += tension[i] / float64(len(r.elem))
	}
	for i := range r.elem {
		el := &r.elem[i]
		if !(p*r.formedEdge(el.t) > closeShare*max(tension[i], slackShare*mean)) {
			continue
		}
		for _, v := range el.v {
			if n := r.node[v]; !r.state[n].held {
				f.fall(r, n, r.pushing[v].Unit())
				hits++
			}
		}
	}
	return hits
}

// fall holds node n where its way along d meets the tool, or where it is if that
// is far.
func (f *former) fall(r *region, n int32, d geom.Vec) {
	st, at := &r.state[n], r.sheet.node[n]
	st.held = true
	for range 60 {
		gap := f.tool.dist(at)
		if !(gap > 1e-4) || at.Dist(r.sheet.node[n]) > 2*f.set.Element {
			break
		}
		at = at.Add(d.Scale(gap))
	}
	if at.Z <= f.set.Rim && f.tool.dist(at) <= f.skin() {
		r.sheet.node[n] = at
	} else {
		st.hangs = true
	}
}

// tension is that of an element per length of the flat sheet, N/m.
func (f *former) tension(t int32) float64 {
	a, b := f.sheet.stretches(t)
	a, b = max(a, 1e-6), max(b, 1e-6)
	_, wa, wb := f.set.Law.relaxed(a, b)
	return f.set.Gauge * (wa/a + wb/b) / 2
}
