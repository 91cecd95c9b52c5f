package mesh

import (
	"context"

	"buckwright/generate/geom"
)

// division is one round of a divider.
type division struct {
	*divider
	fresh  []int32           // triangles to look at
	edges  []divideEdge      // to be divided
	at     map[edgeKey]int32 // where on that list each is
	strips []strip
	mid    map[edgeKey]int32 // the vertex on each edge that is divided
}

// divideEdge is an edge to be divided.
type divideEdge struct {
	c      edgeKey
	tri    int32 // where it was found
	kind   divideKind
	spared bool     // it need not be: it goes when a strip is cut
	ok     bool     // p is known
	p      geom.Vec // where
	flat   plateau  // that ends there
}

// divideKind is why an edge is to be divided.
type divideKind uint8

const (
	divideNot divideKind = iota
	divideSag            // it is too far from the surface
	divideEnd            // a flat ends on it
)

// round divides once, looking at the fresh triangles only, and returns those that
// are fresh then.
func (d *divider) round(ctx context.Context, workers int, fresh []int32) (next []int32, err error) {
	each := func(n int, job func(i int)) {
		if err == nil {
			err = octChunks(ctx, n, workers, job)
		}
	}
	r := division{divider: d, fresh: fresh, at: map[edgeKey]int32{}, mid: map[edgeKey]int32{}}
	kinds := make([][3]divideKind, len(fresh))
	each(len(fresh), func(j int) { kinds[j] = r.measure(fresh[j]) })
	r.want(kinds)
	waves := make([]divideEdge, len(fresh))
	each(len(fresh), func(j int) { waves[j] = r.wave(fresh[j]) })
	for _, e := range waves {
		r.add(e)
	}
	r.pair()
	each(len(r.edges), func(j int) { r.place(&r.edges[j]) })
	r.note(r.edges)
	each(len(r.strips), func(j int) { r.split(&r.strips[j]) })
	r.note(r.edges)
	// The middle of a triangle is looked at where its edges are near enough.
	longest := make([]divideEdge, len(fresh))
	each(len(fresh), func(j int) { longest[j] = r.middle(fresh[j]) })
	r.note(longest)
	return r.cut(), err
}

// want lists the edges of the kinds found on fresh triangles.
func (r *division) want(kinds [][3]divideKind) {
	for j, kind := range kinds {
		c := r.out.T[r.fresh[j]]
		for k := range 3 {
			r.add(divideEdge{c: edgeOf(c[k], c[(k+1)%3]), tri: r.fresh[j], kind: kind[k]})
		}
	}
}

// add lists an edge that is to be divided, once.
func (r *division) add(e divideEdge) {
	if e.kind == divideNot {
		return
	}
	if _, known := r.at[e.c]; !known {
		r.at[e.c] = int32(len(r.edges))
		r.edges = append(r.edges, e)
	}
}

// place finds where an edge is divided.
func (r *division) place(e *divideEdge) {
	look := r.tree.look()
	switch {
	case e.spared:
	case e.kind == divideEnd:
		e.p, e.flat, e.ok = r.ends(&look, e.c[0], e.c[1], triNormal(r.out.V, r.out.T[e.tri]).Unit())
	default:
		e.p, e.ok = r.landed(&look, e.c[0], e.c[1])
	}
}

// note makes vertices at the points that were found on edges.
func (r *division) note(edges []divideEdge) {
	for i := range edges {
		e := &edges[i]
		if _, known := r.mid[e.c]; known || !e.ok {
			continue
		}
		r.mid[e.c] = r.vertex(e.p)
		var flats []plateau
		if e.kind == divideEnd {
			flats = []plateau{e.flat}
		}
		r.flats = append(r.flats, flats)
	}
}

// wave is the longest edge of triangle i, where another of its edges is to be divided
// and this must be too, lest dividing the others goes on for ever: it crosses the surface
// in its middle but is too far from it on either side, or the triangle is as good as a line.
func (r *division) wave(i int32) divideEdge {
	c := r.out.T[i]
	var length float64
	var longest edgeKey
	other := false
	for k := range 3 {
		key := edgeOf(c[k], c[(k+1)%3])
		_, known := r.at[key]
		other = other || known
		if l := r.out.V[key[0]].Dist(r.out.V[key[1]]); l > length {
			length, longest = l, key
		}
	}
	if _, known := r.at[longest]; known || !other || r.creased(longest[0], longest[1]) {
		return divideEdge{}
	}
	p, q := r.out.V[longest[0]], r.out.V[longest[1]]
	look, m := r.tree.look(), p.Lerp(q, 0.5)
	if triNormal(r.out.V, c).Len() < r.limit*length || r.sags(&look, p, m) || r.sags(&look, m, q) {
		return divideEdge{c: longest, tri: i, kind: divideSag}
	}
	return divideEdge{}
}

// middle picks the longest edge of triangle i when no edge of it is divided and
// it is too far from the surface all the same.
func (r *division) middle(i int32) (out divideEdge) {
	c := r.out.T[i]
	var longest float64
	for k := range 3 {
		a, b := c[k], c[(k+1)%3]
		if _, known := r.mid[edgeOf(a, b)]; known {
			return divideEdge{}
		}
		if l := r.out.V[a].Dist(r.out.V[b]); l > longest && !r.creased(a, b) {
			longest, out = l, divideEdge{c: edgeOf(a, b), kind: divideSag}
		}
	}
	if longest == 0 {
		return out
	}
	look := r.tree.look()
	if r.near[i] = r.flush(&look, i); !r.near[i] {
		out.p, out.ok = r.landed(&look, out.c[0], out.c[1])
	}
	return out
}

// cut divides strips, and the triangles at the vertices on their edges, and lists the
// pieces.
func (r *division) cut() (fresh []int32) {
	if len(r.mid) == 0 {
		return nil
	}
	cut := r.replace()
	ends := make([]bool, len(r.out.V))
	for e := range r.mid {
		ends[e[0]], ends[e[1]] = true, true
	}
	var room [4][3]int32
	for i, c := range r.out.T {
		if ends[c[0]] && ends[c[1]] || ends[c[1]] && ends[c[2]] || ends[c[2]] && ends[c[0]] {
			if m, n := edgeMids(r.mid, c); n > 0 {
				fresh = r.put(fresh, int32(i), appendPieces(room[:0], c, m, n, r.nearer))
				continue
			}
		}
		if cut[i] {
			fresh = append(fresh, int32(i))
		}
	}
	return fresh
}

// put puts pieces in the place of triangle i, and adds them to those that are fresh.
func (d *divider) put(fresh []int32, i int32, pieces [][3]int32) []int32 {
	d.out.T[i], d.near[i] = pieces[0], false
	fresh = append(fresh, i)
	for _, p := range pieces[1:] {
		fresh = append(fresh, int32(len(d.out.T)))
		d.out.T = append(d.out.T, p)
		d.origin = append(d.origin, d.origin[i])
		d.near = append(d.near, false)
	}
	return fresh
}
