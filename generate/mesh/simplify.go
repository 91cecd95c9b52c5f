package mesh

import (
	"cmp"
	"context"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Simplify is m with as few triangles as it takes to stay within limit mm of it.
// Edges are collapsed onto one of their ends, those that matter least first (after
// Garland and Heckbert 1997, but by the distance from the planes around an end
// rather than by its quadric), so that every vertex left is one of m's. The box
// around the mesh stays what it is.
//
// The limit is held both ways: every vertex that is dropped, and the middle of
// every edge whose ends do not tell it, lies within limit of the triangles that cover
// it; the middles of new triangles, and of their new sides, lie within limit of m.
// What is between those strays little farther: by a tenth where m is smooth, by a
// third where it is rough and not much finer than the result.
//
// The mesh may be dirty: vertices on edges that have not two triangles facing the
// same way, and vertices where fans touch, stay. A piece of the result crosses
// itself or another only if it did in m: where it would, more is kept, then the limit
// is lessened, and at last the result is m itself. It is the same on any number of processors. The only
// error is the context's.
func Simplify(ctx context.Context, m *Mesh, limit float64) (*Mesh, error) {
	next := repairNeighbours(m)
	locked := simplifyLocked(m, next)
	var known *crossing // found when there is need
	for try := range simplifyTries {
		h := newSimplifier(m, next, limit, locked)
		if err := h.run(ctx); err != nil {
			return nil, err
		}
		out, from := h.mesh()
		crossed := newGate(out).crossingPairs(math.MaxInt)
		if len(crossed) > 0 && known == nil {
			known = newCrossing(m)
		}
		if !h.lockCrossed(crossed, from, known) {
			return out.used(), nil
		}
		if try > 0 { // it is not at a few places only
			limit /= 2
		}
	}
	return m, nil
}

const (
	simplifyTries = 6    // with ever more vertices kept where triangles crossed
	simplifyReach = 2.0  // limits: a neighbour farther from the planes around is not tried
	simplifyFan   = 40   // triangles: no vertex comes to have more
	simplifyStep  = 1e-4 // of an edge's length counts as a distance, so that flats thin evenly
	simplifyBreak = 1024 // vertices tried between two looks at the context
)

// simplifier is a mesh on its way to fewer triangles.
type simplifier struct {
	p []geom.Vec // the vertices, then middles of edges
	fans
	locked []bool  // vertices
	first  []int32 // a point that each triangle covers, and
	next   []int32 // the one after each point; -1: none
	home   []int32 // of each middle of an edge, an end of it
	given  givenFans
	limit  float64
	queue  simplifyQueue

	mark    []int32 // scratch: when a vertex was last met
	stamp   int32
	normals []geom.Vec
	fresh   []bvhTri // the triangles that a collapse would leave, by their ids
	about   []int32  // points of the given mesh around what is collapsed
}

// givenFans are the triangles at each vertex of the given mesh.
type givenFans struct {
	m   *Mesh
	fan [][]int32
}

func newSimplifier(m *Mesh, next [][3]int32, limit float64, locked []bool) *simplifier {
	h := &simplifier{
		p: slices.Clone(m.V), fans: newFans(len(m.V), slices.Clone(m.T)), limit: limit, locked: locked,
		first: make([]int32, len(m.T)),
		next:  make([]int32, len(m.V)), mark: make([]int32, len(m.V)),
		queue: newSimplifyQueue(len(m.V)), given: givenFans{m, thinFans(len(m.V), m.T)},
	}
	for i := range h.first {
		h.first[i] = -1
	}
	h.sample(next)
	return h
}

// sample puts the middles of edges among the points to be covered, where the ends
// say little of what lies between them: the surface turns there so much, or the edge
// is so long, that a chord across it could miss it by about a quarter of the limit.
func (h *simplifier) sample(next [][3]int32) {
	for i, c := range h.t {
		n := h.normal(c).Unit()
		for k, half := range next[i] {
			if half < int32(3*i+k) { // none, or seen from the other side
				continue
			}
			a, b := h.p[c[k]], h.p[c[(k+1)%3]]
			if n.Cross(h.normal(h.t[half/3]).Unit()).Len()*a.Dist(b) > h.limit/4 {
				h.p = append(h.p, a.Lerp(b, 0.5))
				h.next, h.home = append(h.next, -1), append(h.home, c[k])
				h.cover(int32(i), int32(len(h.p)-1))
			}
		}
	}
}

// cover puts a point to those that triangle id covers.
func (h *simplifier) cover(id, point int32) {
	h.next[point], h.first[id] = h.first[id], point
}

// run collapses edges until none that is left to collapse is near enough.
func (h *simplifier) run(ctx context.Context) error {
	for u := range h.fan {
		h.rate(int32(u))
	}
	for n := 0; ; n++ {
		if n%simplifyBreak == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		u, any := h.queue.pop()
		if !any {
			return nil
		}
		if w, ok := h.choose(u); ok {
			h.collapse(u, w)
		}
	}
}

// rate queues u by how much it matters, or takes it off the queue. A hub of very
// many triangles waits until it has fewer.
func (h *simplifier) rate(u int32) {
	if h.locked[u] || len(h.fan[u]) == 0 || len(h.fan[u]) > thinFan {
		return
	}
	h.face(u)
	reach := simplifyReach * h.limit
	least := math.Inf(1)
	for _, id := range h.fan[u] {
		c := h.t[id]
		w := c[(gateCorner(c, u)+1)%3]
		if l := h.lift(u, w, min(least, reach)); l < least {
			least = l
		}
	}
	h.queue.put(u, least, least <= reach)
}

// face notes the normals of the triangles at u.
func (h *simplifier) face(u int32) {
	h.normals = h.normals[:0]
	for _, id := range h.fan[u] {
		h.normals = append(h.normals, h.normal(h.t[id]).Unit())
	}
}

// normal is a triangle's normal, twice its area long.
func (h *simplifier) normal(c [3]int32) geom.Vec {
	a := h.p[c[0]]
	return h.p[c[1]].Sub(a).Cross(h.p[c[2]].Sub(a))
}

// lift is how far w is from the planes noted at u, and a little for its distance.
// What is more than stop need not be exact.
func (h *simplifier) lift(u, w int32, stop float64) float64 {
	d := h.p[w].Sub(h.p[u])
	near := simplifyStep * d.Len()
	var most float64
	for i := range h.normals {
		if l := math.Abs(h.normals[i].Dot(d)); l > most {
			if most = l; most+near > stop {
				break
			}
		}
	}
	return most + near
}

// mesh is what is left, with the triangle that each of its triangles was.
func (h *simplifier) mesh() (m *Mesh, from []int32) {
	m = &Mesh{V: h.p[:len(h.fan)]}
	for i, c := range h.t {
		if !h.dead[i] {
			m.T = append(m.T, c)
			from = append(from, int32(i))
		}
	}
	return m, from
}

// lockCrossed looks for triangles among the pairs that cross where pieces of the
// given mesh did not, and locks their corners and all that they cover. from is the
// triangle that each was. It is false if there are none.
func (h *simplifier) lockCrossed(pairs [][2]int32, from []int32, known *crossing) bool {
	found := false
	for _, pair := range pairs {
		a, b := from[pair[0]], from[pair[1]]
		if known.has(a, b) {
			continue
		}
		found = true
		for _, id := range [2]int32{a, b} {
			for _, v := range h.t[id] {
				h.locked[v] = true
			}
			for q := h.first[id]; q >= 0; q = h.next[q] {
				if int(q) < len(h.locked) {
					h.locked[q] = true
				}
			}
		}
	}
	return found
}

// crossing tells which pieces of a mesh cross each other, or themselves.
type crossing struct {
	piece Joined // of triangles
	pairs map[[2]int32]bool
}

func newCrossing(m *Mesh) *crossing {
	c := &crossing{pairs: map[[2]int32]bool{}}
	c.piece, _ = repairPieces(m)
	for _, p := range newGate(m).crossingPairs(math.MaxInt) {
		c.pairs[c.key(p[0], p[1])] = true
	}
	return c
}

// has reports that the pieces of triangles a and b cross.
func (c *crossing) has(a, b int32) bool { return c.pairs[c.key(a, b)] }

func (c *crossing) key(a, b int32) [2]int32 {
	a, b = c.piece.Root(a), c.piece.Root(b)
	return [2]int32{min(a, b), max(a, b)}
}

// simplifyLocked tells the vertices that must stay: those around which the surface
// is no plain disc, and one at each end of the mesh along each axis.
func simplifyLocked(m *Mesh, next [][3]int32) []bool {
	locked := make([]bool, len(m.V))
	count := make([]int32, len(m.V))
	start := make([]int32, len(m.V)) // a triangle at each vertex
	for i, c := range m.T {
		for k, v := range c {
			count[v]++
			start[v] = int32(i)
			if next[i][k] < 0 {
				locked[v], locked[c[(k+1)%3]] = true, true
			}
		}
	}
	for v := range locked {
		if locked[v] || count[v] == 0 {
			continue
		}
		i, n := start[v], int32(0)
		for {
			n++
			if i = next[i][gateCorner(m.T[i], int32(v))] / 3; i == start[v] || n > count[v] {
				break
			}
		}
		locked[v] = n != count[v]
	}
	for axis := range 3 {
		for _, sign := range [2]float64{1, -1} {
			if v := m.last(axis, sign, func(v int) bool { return count[v] > 0 }); v >= 0 {
				locked[v] = true
			}
		}
	}
	return locked
}

// last is the vertex farthest along an axis, or against it; of several the one
// that is farthest along the others too, so that it is a corner of a flat.
func (m *Mesh) last(axis int, sign float64, among func(v int) bool) int {
	best := -1
	for v, p := range m.V {
		if among(v) && (best < 0 || cmp.Or(
			cmp.Compare(sign*p.Axis(axis), sign*m.V[best].Axis(axis)),
			cmp.Compare(p.X, m.V[best].X), cmp.Compare(p.Y, m.V[best].Y), cmp.Compare(p.Z, m.V[best].Z)) > 0) {
			best = v
		}
	}
	return best
}
