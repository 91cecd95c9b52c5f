package mesh

import (
	"math"

	"buckwright/generate/geom"
)

const (
	uprightLeast = 1e-4 // mm: least height of a triangle seen from above; rounding takes a sixth of it
	uprightTries = 400  // corrections of a triangle before it is given up
)

// Upright is m with vertices moved level, by the least that helps, until no
// triangle faces down of those whose middle belongs: for a surface that is a
// height field, seen along z, but for a few micrometres at its creases. Heights
// stay, and so do flats across x or y. Vertices whose move would make the mesh
// unsound, or be more than most mm, stay where they were. m must pass Check, and
// what is returned does.
func (m *Mesh) Upright(belongs func(p geom.Vec) bool, most float64) *Mesh {
	u := newUpright(m, belongs)
	u.most = most
	for range 8 {
		if !u.run() {
			return m
		}
		out := &Mesh{u.v, m.T}
		err := out.Check()
		if err == nil {
			return out
		}
		if !u.holdAt(out, err) {
			return m
		}
	}
	return m
}

// upright is the state of one relaxation: Gauss-Seidel over the constraints
// that triangles do not turn over, seen from above, after the position based
// dynamics of Mueller, Heidelberger, Hennix, Ratcliff 2007.
type upright struct {
	m       *Mesh
	most    float64 // mm that a vertex may be moved
	v       []geom.Vec
	fan     [][]int32
	bound   []bool    // triangles that must face up
	free    [][2]bool // whether a vertex may move along x and along y
	queue   []int32
	waiting []bool
	tries   []int16
}

func newUpright(m *Mesh, belongs func(geom.Vec) bool) *upright {
	u := &upright{
		m: m, fan: thinFans(len(m.V), m.T), bound: make([]bool, len(m.T)),
		free: make([][2]bool, len(m.V)),
	}
	for i := range u.free {
		u.free[i] = [2]bool{true, true}
	}
	for i, t := range m.T {
		a, b, c := m.Corners(i)
		u.bound[i] = belongs(a.Add(b).Add(c).Scale(1.0 / 3))
		for _, v := range t {
			u.free[v][0] = u.free[v][0] && !(a.X == b.X && b.X == c.X)
			u.free[v][1] = u.free[v][1] && !(a.Y == b.Y && b.Y == c.Y)
		}
	}
	return u
}

// run relaxes the mesh anew; it is false when there was nothing to do.
func (u *upright) run() bool {
	u.v = append([]geom.Vec(nil), u.m.V...)
	u.queue, u.waiting, u.tries = nil, make([]bool, len(u.m.T)), make([]int16, len(u.m.T))
	for i := range u.m.T {
		u.wait(int32(i))
	}
	if len(u.queue) == 0 {
		return false
	}
	for at := 0; at < len(u.queue); at++ {
		i := u.queue[at]
		u.waiting[i] = false
		if u.tries[i]++; u.tries[i] < uprightTries && u.lack(i) > 0 {
			u.correct(i)
		}
	}
	for i, p := range u.v {
		if q := u.m.V[i]; p.Dist(q) > u.most {
			u.v[i] = q
		} else {
			u.v[i] = geom.Vec{X: snap(p.X), Y: snap(p.Y), Z: p.Z}
		}
	}
	return true
}

// wait queues a triangle that faces down.
func (u *upright) wait(i int32) {
	if u.bound[i] && !u.waiting[i] && u.lack(i) > 0 {
		u.waiting[i] = true
		u.queue = append(u.queue, i)
	}
}

// lack is by how much triangle i, seen from above, is too small, in mm² of twice
// its area; it is not above 0 for one that is as it should be.
func (u *upright) lack(i int32) float64 {
	t := u.m.T[i]
	a, b, c := u.v[t[0]].XY(), u.v[t[1]].XY(), u.v[t[2]].XY()
	ab, ac := b.Sub(a), c.Sub(a)
	long := math.Sqrt(max(ab.Dot(ab), ac.Dot(ac), b.Sub(c).Dot(b.Sub(c))))
	return uprightLeast*long - (ab.X*ac.Y - ab.Y*ac.X)
}

// correct moves the corners of triangle i by the least that gives it its area.
func (u *upright) correct(i int32) {
	t := u.m.T[i]
	var g [3]geom.Vec
	var sum float64
	for k, v := range t {
		p, q := u.v[t[(k+1)%3]], u.v[t[(k+2)%3]]
		if u.free[v][0] {
			g[k].X = p.Y - q.Y
		}
		if u.free[v][1] {
			g[k].Y = q.X - p.X
		}
		sum += g[k].Dot(g[k])
	}
	if sum == 0 {
		return
	}
	by := 1.001 * u.lack(i) / sum // a little more, so that it comes to an end
	for k, v := range t {
		u.v[v] = u.v[v].Add(g[k].Scale(by))
		for _, j := range u.fan[v] {
			u.wait(j)
		}
	}
}

// holdAt has the vertices stay that make the mesh out unsound; false if none is found.
func (u *upright) holdAt(out *Mesh, err error) bool {
	found := false
	hold := func(v int32) {
		if u.v[v] != u.m.V[v] {
			u.free[v] = [2]bool{}
			found = true
		}
	}
	g := newGate(out)
	for _, pair := range g.crossingPairs(math.MaxInt) {
		for _, i := range pair {
			for _, v := range out.T[i] {
				hold(v)
			}
		}
	}
	if f, ok := err.(*Fault); ok && !found {
		for v, p := range out.V {
			if p.Dist(f.At) < 10*gateNear {
				hold(int32(v))
			}
		}
	}
	return found
}
