package picture

import (
	"image/color"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// draw paints one mesh into the canvas, nearest facets over farther ones.
func (c *canvas) draw(m *mesh.Mesh, paint color.RGBA) {
	n := normals(m)
	smooth := cornerNormals(m, n, c.v.Crease)
	for i := range m.T {
		p, q, r := m.Corners(i)
		f := facet{corner: [3]geom.Vec{p, q, r}, normal: n[i], shade: smooth[i], paint: paint, id: int32(len(c.facing))}
		c.facing = append(c.facing, n[i])
		c.fill(&f)
	}
}

type facet struct {
	corner, shade [3]geom.Vec
	normal        geom.Vec
	paint         color.RGBA
	id            int32
}

// fill visits the samples whose middle lies in the facet, edges included: two
// facets that share an edge may both claim a sample, and the nearer or the
// first keeps it.
func (c *canvas) fill(f *facet) {
	a, b, d := c.project(f.corner[0]), c.project(f.corner[1]), c.project(f.corner[2])
	area := (b.X-a.X)*(d.Y-a.Y) - (b.Y-a.Y)*(d.X-a.X)
	if math.Abs(area) < 1e-6 { // edge on: nothing but rounding would be seen
		return
	}
	x0, x1 := clamp(min(a.X, b.X, d.X), c.w), clamp(max(a.X, b.X, d.X), c.w)
	y0, y1 := clamp(min(a.Y, b.Y, d.Y), c.h), clamp(max(a.Y, b.Y, d.Y), c.h)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			px, py := float64(x)+0.5, float64(y)+0.5
			u := ((b.X-px)*(d.Y-py) - (b.Y-py)*(d.X-px)) / area
			v := ((d.X-px)*(a.Y-py) - (d.Y-py)*(a.X-px)) / area
			if w := 1 - u - v; u >= 0 && v >= 0 && w >= 0 {
				c.put(f, y*c.w+x, [3]float64{u, v, w}, float32(u*a.Z+v*b.Z+w*d.Z))
			}
		}
	}
}

// clamp is the sample that holds v, inside 0 to n-1.
func clamp(v float64, n int) int { return int(min(max(math.Floor(v), 0), float64(n-1))) }

// put paints one sample if nothing nearer is there and the cut leaves it.
func (c *canvas) put(f *facet, at int, share [3]float64, depth float32) {
	if depth <= c.depth[at] {
		return
	}
	mix := func(v [3]geom.Vec) geom.Vec {
		return v[0].Scale(share[0]).Add(v[1].Scale(share[1])).Add(v[2].Scale(share[2]))
	}
	if cut := c.v.Cut; cut != nil && cut.N.Dot(mix(f.corner)) > cut.D {
		return
	}
	c.depth[at], c.id[at] = depth, f.id
	switch {
	case f.normal.Dot(c.back) >= 0:
		c.colour[at] = c.lit(f.paint, mix(f.shade).Unit())
	case c.v.Cut != nil: // the inside, seen through the cut
		c.id[at] = solid
		c.colour[at] = dim(f.paint, 0.55)
	default:
		c.colour[at] = color.RGBA{230, 0, 120, 255}
	}
}

const solid = -2 // id of every sample in a cut

// lit shades by a light over the eye's left shoulder, a weaker one from its
// right, and light from all around.
func (c *canvas) lit(paint color.RGBA, n geom.Vec) color.RGBA {
	key := c.back.Add(c.up.Scale(0.9)).Sub(c.right.Scale(0.7)).Unit()
	side := c.back.Scale(0.4).Add(c.right).Unit()
	return dim(paint, 0.40+0.58*max(0, n.Dot(key))+0.18*max(0, n.Dot(side)))
}

func dim(p color.RGBA, k float64) color.RGBA {
	f := func(v uint8) uint8 { return uint8(min(255, k*float64(v)+0.5)) }
	return color.RGBA{f(p.R), f(p.G), f(p.B), 255}
}

// outline darkens the samples along silhouettes and creases of 20 degrees and
// more, so that edges show where the light does not tell them.
func (c *canvas) outline() {
	crease := (20 * geom.Degree).Cos()
	jump := float32(6 / c.scale) // mm of depth over one sample
	edge := make([]bool, len(c.id))
	for y := range c.h - 1 {
		for x := range c.w - 1 {
			i := y*c.w + x
			for _, j := range [2]int{i + 1, i + c.w} {
				if c.parted(i, j, crease, jump) {
					edge[i], edge[j] = true, true
				}
			}
		}
	}
	for i, e := range edge {
		if e {
			c.colour[i] = dim(c.colour[i], 0.45)
		}
	}
}

// parted reports whether an edge runs between two neighbouring samples.
func (c *canvas) parted(i, j int, crease float64, jump float32) bool {
	a, b := c.id[i], c.id[j]
	switch {
	case a == b:
		return false
	case a < 0 || b < 0:
		return true
	}
	if c.facing[a].Dot(c.facing[b]) < crease {
		return true
	}
	// On a steep face the depth changes fast; only a jump beyond that parts.
	steep := 1 / max(0.05, min(c.facing[a].Dot(c.back), c.facing[b].Dot(c.back)))
	d := c.depth[i] - c.depth[j]
	return d > jump*float32(steep) || -d > jump*float32(steep)
}

func normals(m *mesh.Mesh) []geom.Vec {
	n := make([]geom.Vec, len(m.T))
	for i := range m.T {
		a, b, d := m.Corners(i)
		n[i] = b.Sub(a).Cross(d.Sub(a)).Unit()
	}
	return n
}

// cornerNormals gives each corner of each triangle the mean normal of the
// triangles around its vertex that turn from it by less than crease, weighted
// by their angle there.
func cornerNormals(m *mesh.Mesh, n []geom.Vec, crease geom.Angle) [][3]geom.Vec {
	out := make([][3]geom.Vec, len(m.T))
	if crease <= 0 {
		for i := range out {
			out[i] = [3]geom.Vec{n[i], n[i], n[i]}
		}
		return out
	}
	type use struct {
		tri    int32
		weight float64
	}
	around := make([][]use, len(m.V))
	for i, t := range m.T {
		for k := range 3 {
			p, q, r := m.V[t[k]], m.V[t[(k+1)%3]], m.V[t[(k+2)%3]]
			angle := math.Acos(max(-1, min(1, q.Sub(p).Unit().Dot(r.Sub(p).Unit()))))
			around[t[k]] = append(around[t[k]], use{int32(i), angle})
		}
	}
	least := crease.Cos()
	for i, t := range m.T {
		for k := range 3 {
			var sum geom.Vec
			for _, u := range around[t[k]] {
				if n[u.tri].Dot(n[i]) >= least {
					sum = sum.Add(n[u.tri].Scale(u.weight))
				}
			}
			out[i][k] = sum.Unit()
		}
	}
	return out
}
