package mesh

import (
	"context"
	"fmt"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// refiner makes a first mesh, measures it against the solid and splits the cells
// that serve it badly, until the mesh is near enough.
type refiner struct {
	*octree
	limit   float64 // mm, distance allowed between mesh and surface
	most    int     // cells, after which the solid is given up
	workers int

	traced   *octSkeleton // by the rounds so far
	round    int
	resolved int // times
}

const (
	refineRounds   = 8    // cells are split so often at most
	refineTraced   = 4    // the round in which triangles are divided, whatever is left: that may do
	refineStrict   = 3    // rounds in which the limit is kept to the letter
	refineMost     = 5e6  // cells, some 3 GB
	refineResolves = 6    // times that cells are split where triangles cross in the end
	refineShare    = 4    // of the tree that cells split more than one level deep may add
	refineSlack    = 1.25 // by which it may be passed later, up to the tolerance: a few places only creep on along a crease
)

// fineError says that a solid takes too many cells, and where one of the last was:
// there, most often, a wall thins out to nothing.
type fineError struct{ at geom.Vec }

func (e fineError) Error() string {
	return fmt.Sprintf("mesh: details at %.2f, %.2f, %.2f are too fine to follow, as where a wall thins out to nothing", e.at.X, e.at.Y, e.at.Z)
}

// run returns the first mesh that is near enough, or that of the finest tree. Run
// again, it goes on from the tree as it is.
func (r *refiner) run(ctx context.Context) (*splitter, error) {
	if r.traced == nil {
		r.traced = newOctSkeleton(r.octree)
	}
	known := 0 // the loops there were at the last survey
	for ; ; r.round++ {
		s, err := r.first(ctx, r.traced)
		if err != nil {
			return nil, err
		}
		bad, err := r.survey(ctx, s, known)
		if err == nil && len(bad) == 0 && known > 0 {
			bad, err = r.survey(ctx, s, 0)
		}
		if err == nil && r.soft && (len(bad) == 0 || r.round == refineTraced || r.round >= refineRounds) {
			bad, err = r.divided(ctx, s)
		}
		if err != nil {
			return nil, err
		}
		if len(bad) == 0 || r.round >= refineRounds {
			return s, nil
		}
		known = len(r.traced.loops)
		levels := r.deep(len(bad))
		for _, leaf := range bad {
			r.halve(leaf, levels)
		}
		r.balance()
		if len(r.nodes) > r.most {
			return nil, fineError{r.ball(r.nodes[bad[0]].min, r.nodes[bad[0]].size).C}
		}
	}
}

// resolve splits the cells at points where triangles cross in what came of the
// last run. It is false when none can be split, or it has been done too often.
func (r *refiner) resolve(at []geom.Vec) bool {
	seen := map[int32]bool{}
	var all []int32
	for _, p := range at {
		leaf := r.find(r.cell(p))
		if leaf >= 0 && r.nodes[leaf].kind == octActive && r.nodes[leaf].size > 1 && !seen[leaf] {
			seen[leaf] = true
			all = append(all, leaf)
		}
	}
	for _, leaf := range all {
		r.split(leaf)
	}
	r.balance()
	r.round = min(r.round+1, refineRounds)
	r.resolved++
	return len(all) > 0 && r.resolved <= refineResolves
}

// first is the mesh of the tree as it is.
func (r *refiner) first(ctx context.Context, k *octSkeleton) (*splitter, error) {
	if err := contourTrace(ctx, k, r.workers); err != nil {
		return nil, err
	}
	if len(k.loops) == 0 {
		return nil, errContourEmpty
	}
	r.down = r.index()
	s := &splitter{octSkeleton: k, quantum: splitQuantum}
	if err := s.place(ctx, r.workers); err != nil {
		return nil, err
	}
	if err := s.triangles(); err != nil {
		return nil, err
	}
	s.unclamp()
	return s, nil
}

// divided divides the triangles of a first mesh, and lists the leaves to split
// where that does not do.
func (r *refiner) divided(ctx context.Context, s *splitter) ([]int32, error) {
	if err := s.divide(ctx, r.workers, r.limit); err != nil {
		return nil, err
	}
	return r.survey(ctx, s, 0)
}

// deep is how many levels deep n cells are split in this round: a few that are
// still bad need to be much finer, but many would make too large a tree.
func (r *refiner) deep(n int) int {
	levels := 1 + r.round/2
	for levels > 1 && n<<(2*levels) > len(r.nodes)/refineShare {
		levels--
	}
	return levels
}

// halve splits a leaf, and what of it is active then, levels deep.
func (r *refiner) halve(leaf int32, levels int) {
	if levels == 0 || r.nodes[leaf].kind == octActive && r.nodes[leaf].size == 1 {
		return
	}
	if r.nodes[leaf].kind == octActive {
		r.split(leaf)
	}
	if r.nodes[leaf].kind == octSplit {
		first := r.nodes[leaf].child
		for k := range int32(8) {
			r.halve(first+k, levels-1)
		}
	}
}

// unclamp moves the vertices of creases that just miss their cells onto the
// crease, and puts back those that would make triangles cross.
func (s *splitter) unclamp() {
	moved := make([]bool, len(s.out.V))
	for v := range s.loop {
		if l := s.loopOf(int32(v)); l.want != l.p {
			moved[v] = true
			s.out.V[v] = l.want
		}
	}
	for {
		for s.unmeet(moved, func(v int32) geom.Vec { return s.loopOf(v).p }) {
		}
		var tris []int32
		for i, t := range s.out.T {
			if moved[t[0]] || moved[t[1]] || moved[t[2]] {
				tris = append(tris, int32(i))
			}
		}
		if len(tris) == 0 {
			return
		}
		g := newGate(s.out)
		bad := g.tangled(tris)
		if len(bad) == 0 {
			return
		}
		for _, i := range bad {
			for _, v := range s.out.T[i] {
				if moved[v] {
					moved[v] = false
					s.out.V[v] = s.loopOf(v).p
				}
			}
		}
	}
}

// unmeet puts the moved vertices that come too near to another vertex back to
// where they were, and tells whether there were any.
func (s *splitter) unmeet(moved []bool, was func(v int32) geom.Vec) bool {
	at := refineCells{cell: map[[3]int32][]int32{}}
	for i, m := range moved {
		if m {
			at.add(s.out.V[i], int32(i))
		}
	}
	found := false
	for j, p := range s.out.V {
		for _, i := range at.around(p) {
			if int(i) != j && moved[i] && s.out.V[i].Dist(p) < 2*gateNear {
				moved[i] = false
				s.out.V[i] = was(i)
				found = true
			}
		}
	}
	return found
}

// refineCells files vertices under the small cells that they are in or near to.
type refineCells struct {
	cell map[[3]int32][]int32
	some [1 << 10]uint64 // a bit for each hash of a cell that is not empty
}

const refineCell = 8 * gateNear // mm, edge of a cell: few vertices are near to two

func refineKey(p geom.Vec) [3]int32 {
	return [3]int32{int32(math.Floor(p.X / refineCell)), int32(math.Floor(p.Y / refineCell)), int32(math.Floor(p.Z / refineCell))}
}

func refineHash(k [3]int32) uint32 {
	return (uint32(k[0])*73856093 ^ uint32(k[1])*19349663 ^ uint32(k[2])*83492791) >> 8 & 0xffff
}

func (c *refineCells) add(p geom.Vec, i int32) {
	d := geom.Vec{X: 2 * gateNear, Y: 2 * gateNear, Z: 2 * gateNear}
	lo, hi := refineKey(p.Sub(d)), refineKey(p.Add(d))
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				k := [3]int32{x, y, z}
				c.cell[k] = append(c.cell[k], i)
				h := refineHash(k)
				c.some[h/64] |= 1 << (h % 64)
			}
		}
	}
}

// around lists the vertices within 2 gateNear of p, and a few others.
func (c *refineCells) around(p geom.Vec) []int32 {
	k := refineKey(p)
	if h := refineHash(k); c.some[h/64]>>(h%64)&1 == 0 {
		return nil
	}
	return c.cell[k]
}

// coarsest adds the largest leaves at triangle i that have not been seen.
func (r *refiner) coarsest(s *splitter, i int32, seen map[int32]bool, out []int32) []int32 {
	t := s.piece(int(i))
	var most int32
	for _, v := range t {
		if l := s.loopOf(v); l != nil {
			most = max(most, r.nodes[l.leaf].size)
		}
	}
	for _, v := range t {
		l := s.loopOf(v)
		if l != nil && r.nodes[l.leaf].size == most && most > 1 && !seen[l.leaf] {
			seen[l.leaf] = true
			out = append(out, l.leaf)
		}
	}
	return out
}

// survey lists the leaves to split: the largest at each triangle that is too far
// from the surface. It looks at triangles with a loop from number known on.
func (r *refiner) survey(ctx context.Context, s *splitter, known int) ([]int32, error) {
	far := make([]bool, len(s.out.T))
	err := octChunks(ctx, len(s.out.T), r.workers, func(i int) { far[i] = s.fresh(i, known) && r.far(s, i) })
	if err != nil {
		return nil, err
	}
	seen := map[int32]bool{}
	var bad []int32
	for v := range s.loop { // creases and corners that could not be reached
		l := s.loopOf(int32(v))
		if (s.moved == nil || !s.moved[v]) && s.out.V[v].Dist(l.want) > r.tol/2 && r.nodes[l.leaf].size > 1 && !seen[l.leaf] {
			seen[l.leaf] = true
			bad = append(bad, l.leaf)
		}
	}
	for i := range s.out.T {
		if far[i] {
			bad = r.coarsest(s, int32(i), seen, bad)
		}
	}
	return bad, nil
}

// fresh reports that triangle i has a corner in a loop from number known on.
func (s *splitter) fresh(i, known int) bool {
	for _, v := range s.piece(i) {
		if int(v) < len(s.loop) && int(s.loop[v]) >= known {
			return true
		}
	}
	return known == 0
}

// piece is triangle i, or what it was a piece of before it was divided.
func (s *splitter) piece(i int) [3]int32 {
	if s.origin != nil {
		return s.origin[i]
	}
	return s.out.T[i]
}

// divides reports that triangle i can be left to be divided: there is no crease
// in the cells of its corners.
func (r *refiner) divides(s *splitter, i int) bool { return r.soft && s.smooth(s.out.T[i]) }

// far samples triangle i and tells whether it leaves the surface.
func (r *refiner) far(s *splitter, i int) bool {
	switch {
	case s.near != nil && s.near[i], r.onPlane(s, s.piece(i)), s.origin == nil && r.divides(s, i):
		return false
	}
	a, b, c := s.out.Corners(i)
	look := r.look()
	limit := r.limit
	if s.origin != nil || r.round >= refineStrict {
		limit *= refineSlack
	}
	return look.error(a, b, c, limit) > limit
}

// onPlane reports that all corners lie in cells that hold one and the same plane.
func (r *refiner) onPlane(s *splitter, t [3]int32) bool {
	var first sdf.HalfSpace
	for k, v := range t {
		l := s.loopOf(v)
		if l == nil {
			return false
		}
		h, flat := s.octSkeleton.solid(l.leaf).(sdf.HalfSpace)
		if !flat || k > 0 && h != first {
			return false
		}
		first = h
	}
	return true
}
