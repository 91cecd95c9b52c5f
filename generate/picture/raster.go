package picture

import (
	"image/color"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// samples is how finely each pixel is divided, per direction.
const samples = 2

// canvas is a view before its samples are averaged. A sample keeps the triangle
// that is nearest to the eye; it is coloured in the end.
type canvas struct {
	v               View
	w, h            int      // samples
	right, up, back geom.Vec // the eye's axes; back points towards it
	scale           float64  // samples a mm
	cx, cy          float64  // middle of the frame along right and up
	depth           []float32
	id              []int32 // triangle; nothing; or the cut of a body, cut(i)
	tri             []facet // triangles of all bodies
	bodies          []*Body
	scales          [][]color.RGBA // of the bodies
}

const nothing = -1

// capped is the id of a sample in the cut of body i.
func capped(i int) int32 { return int32(-2 - i) }

// facet is one triangle on the canvas.
type facet struct {
	at     [3]geom.Vec // samples, downwards in y; z is the depth
	normal geom.Vec
	shade  [3]geom.Vec // normals at the corners
	value  [3]float64
	body   int32
}

func newCanvas(v View) *canvas {
	c := &canvas{v: v, w: v.Width * samples, h: v.Height * samples}
	c.right, c.up, c.back = v.axes()
	n := c.w * c.h
	c.depth, c.id = make([]float32, n), make([]int32, n)
	far := float32(math.Inf(-1))
	for i := range c.depth {
		c.depth[i], c.id[i] = far, nothing
	}
	return c
}

// fit scales what is to be seen into the picture, with a margin of 3 %.
func (c *canvas) fit(x, y span) {
	c.cx, c.cy = (x.lo+x.hi)/2, (y.lo+y.hi)/2
	c.scale = margin * min(float64(c.w)/max(x.hi-x.lo, 1e-9), float64(c.h)/max(y.hi-y.lo, 1e-9))
}

const margin = 0.94

// reach is how far everything spreads along the eye's axes: the frame's corners,
// or the bodies themselves.
func (v View) reach(bodies []Body) (x, y span) {
	right, up, _ := v.axes()
	x, y = span{math.Inf(1), math.Inf(-1)}, span{math.Inf(1), math.Inf(-1)}
	see := func(p geom.Vec) {
		x.add(p.Dot(right))
		y.add(p.Dot(up))
	}
	if v.Frame != (geom.Box{}) {
		for i := range 8 {
			see(v.Frame.Corner(i))
		}
		return x, y
	}
	for _, b := range bodies {
		for _, p := range b.Mesh.V {
			if b.Cut == nil || b.Cut.N.Dot(p) <= b.Cut.D+1e-6 {
				see(p)
			}
		}
	}
	return x, y
}

// axes are the eye's: to its right, up, and from the middle towards it.
func (v View) axes() (right, up, back geom.Vec) {
	back = v.From.Unit()
	right = geom.V(0, 0, 1).Cross(back).Unit()
	if right == (geom.Vec{}) { // straight from above or below
		right = geom.V(1, 0, 0)
	}
	return right, back.Cross(right), back
}

type span struct{ lo, hi float64 }

func (s *span) add(v float64) { s.lo, s.hi = min(s.lo, v), max(s.hi, v) }

// project gives sample coordinates, downwards in y, and the depth in mm.
func (c *canvas) project(p geom.Vec) geom.Vec {
	return geom.V(
		float64(c.w)/2+c.scale*(p.Dot(c.right)-c.cx),
		float64(c.h)/2-c.scale*(p.Dot(c.up)-c.cy),
		p.Dot(c.back))
}

// draw adds one body, nearest facets over farther ones.
func (c *canvas) draw(b *Body) {
	body := len(c.bodies)
	c.bodies = append(c.bodies, b)
	c.scales = append(c.scales, bands(b.Steps))
	m := b.Mesh
	at, off := make([]geom.Vec, len(m.V)), make([]float64, len(m.V))
	for i, v := range m.V {
		at[i] = c.project(v)
		if b.Cut != nil {
			off[i] = b.Cut.N.Dot(v) - b.Cut.D
		}
	}
	n := normals(m)
	seen := make([]bool, len(m.T))
	for i := range seen {
		seen[i] = !b.Closed || b.Cut != nil || n[i].Dot(c.back) >= 0
	}
	smooth := cornerNormals(m, n, c.v.Crease, seen)
	c.tri = slices.Grow(c.tri, len(m.T))
	for i, t := range m.T {
		if !seen[i] {
			continue
		}
		f := facet{normal: n[i], shade: smooth[i], body: int32(body)}
		var beyond [3]float64
		for k, v := range t {
			f.at[k], beyond[k] = at[v], off[v]
			if b.Value != nil {
				f.value[k] = b.Steps.Share(b.Value[v])
			}
		}
		c.tri = append(c.tri, f)
		c.fill(&f, beyond, int32(len(c.tri)-1))
	}
}

// fill visits the samples whose middle lies in the facet, edges included: two
// facets that share an edge may both claim a sample, and the nearer or the
// first keeps it. beyond is how far each corner lies past the cut.
func (c *canvas) fill(f *facet, beyond [3]float64, id int32) {
	a, b, d := f.at[0], f.at[1], f.at[2]
	area := (b.X-a.X)*(d.Y-a.Y) - (b.Y-a.Y)*(d.X-a.X)
	open := c.bodies[f.body].Cut != nil
	if math.Abs(area) < 1e-6 || open && min(beyond[0], beyond[1], beyond[2]) > 0 {
		return // edge on, or cut away
	}
	if open && f.normal.Dot(c.back) < 0 && !c.bodies[f.body].Thin {
		id = capped(int(f.body))
	}
	y0, y1 := first(min(a.Y, b.Y, d.Y)), last(max(a.Y, b.Y, d.Y), c.h)
	if y0 > y1 || first(min(a.X, b.X, d.X)) > last(max(a.X, b.X, d.X), c.w) {
		return // between two samples
	}
	depth, past := slope(f.at, [3]float64{a.Z, b.Z, d.Z}, area), slope(f.at, beyond, area)
	parted := open && max(beyond[0], beyond[1], beyond[2]) > 0
	for y := y0; y <= y1; y++ {
		py := float64(y) + 0.5
		lo, hi := across(f.at, py)
		z, p := depth.row(py), past.row(py)
		at := y * c.w
		for x, end := first(lo), last(hi, c.w); x <= end; x++ {
			px := float64(x) + 0.5
			if parted && p+past.x*px > 0 {
				continue
			}
			if d := float32(z + depth.x*px); d > c.depth[at+x] {
				c.depth[at+x], c.id[at+x] = d, id
			}
		}
	}
}

// first and last are the samples whose middles are next inside a stretch.
func first(v float64) int       { return int(max(math.Ceil(v-0.5), 0)) }
func last(v float64, n int) int { return int(min(max(math.Floor(v-0.5), -1), float64(n-1))) }

// across is where the level y cuts a triangle. Each edge is cut from its upper
// end, so that neighbours agree on the edge they share.
func across(t [3]geom.Vec, y float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range 3 {
		p, q := t[i], t[(i+1)%3]
		if p.Y > q.Y || p.Y == q.Y && p.X > q.X {
			p, q = q, p
		}
		if p.Y <= y && y <= q.Y && p.Y < q.Y {
			x := p.X + (q.X-p.X)*((y-p.Y)/(q.Y-p.Y))
			lo, hi = min(lo, x), max(hi, x)
		}
	}
	return lo, hi
}

// plane2 is a value that changes evenly over the canvas.
type plane2 struct{ at, x, y float64 }

func (s plane2) row(y float64) float64 { return s.at + s.y*y }

// slope is the plane through three corners; area is twice that of the triangle.
func slope(t [3]geom.Vec, v [3]float64, area float64) plane2 {
	b, d := t[1].Sub(t[0]), t[2].Sub(t[0])
	vb, vd := v[1]-v[0], v[2]-v[0]
	x, y := (vb*d.Y-vd*b.Y)/area, (vd*b.X-vb*d.X)/area
	return plane2{v[0] - x*t[0].X - y*t[0].Y, x, y}
}
