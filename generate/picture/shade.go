package picture

import (
	"image"
	"image/color"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// backside is what a triangle seen from behind is painted in.
var backside = color.RGBA{230, 0, 120, 255}

// resolve colours the samples and averages those of each pixel.
func (c *canvas) resolve(img *image.RGBA, to image.Point) {
	edge := c.edges()
	l := c.lights()
	for y := range c.v.Height {
		row := img.Pix[img.PixOffset(to.X, to.Y+y):]
		for x := range c.v.Width {
			r, g, b := c.pixel(x, y, edge, l)
			row[4*x], row[4*x+1], row[4*x+2], row[4*x+3] = r, g, b, 255
		}
	}
}

// pixel averages the samples of a pixel. Samples of one triangle are coloured once.
func (c *canvas) pixel(x, y int, edge []bool, l lights) (r, g, b uint8) {
	var sum [3]int
	was, colour := int32(math.MinInt32), color.RGBA{}
	for i := range samples * samples {
		at := (y*samples+i/samples)*c.w + x*samples + i%samples
		if id := c.id[at]; id != was {
			was, colour = id, c.colour(id, x, y, l)
		}
		p := colour
		if edge[at] {
			p = dim(p, 0.45)
		}
		sum[0], sum[1], sum[2] = sum[0]+int(p.R), sum[1]+int(p.G), sum[2]+int(p.B)
	}
	const n = samples * samples
	return uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n)
}

// colour is what a triangle looks like in the middle of a pixel.
func (c *canvas) colour(id int32, x, y int, l lights) color.RGBA {
	switch {
	case id == nothing:
		return paper
	case id < nothing:
		return dim(c.bodies[-2-id].Paint, 0.55)
	}
	f := &c.tri[id]
	body := c.bodies[f.body]
	share := f.shares((float64(x)+0.5)*samples, (float64(y)+0.5)*samples)
	n := f.shade[0].Scale(share[0]).Add(f.shade[1].Scale(share[1])).Add(f.shade[2].Scale(share[2])).Unit()
	behind := f.normal.Dot(c.back) < 0
	if behind && !body.Thin {
		return backside
	}
	if behind {
		n = n.Scale(-1)
	}
	if body.Value != nil {
		v := share[0]*f.value[0] + share[1]*f.value[1] + share[2]*f.value[2]
		return dim(band(v, c.scales[f.body], x, y), 0.8+0.2*min(1, l.on(n)))
	}
	return dim(body.Paint, l.on(n))
}

// band is the colour of a value, a share of the scale, at a pixel; hatched where
// there is no value or one below the scale.
func band(v float64, scale []color.RGBA, x, y int) color.RGBA {
	if !(v > -1e-6) || math.IsInf(v, 0) {
		if (x+y)%8 < 2 {
			return color.RGBA{70, 70, 70, 255}
		}
		return paper
	}
	return scale[int(min(max(v, 0), 0.999999)*float64(len(scale)))]
}

// shares are the barycentric coordinates of a sample, held in the triangle.
func (f *facet) shares(x, y float64) [3]float64 {
	a, b, d := f.at[0], f.at[1], f.at[2]
	area := (b.X-a.X)*(d.Y-a.Y) - (b.Y-a.Y)*(d.X-a.X)
	u := max(0, ((b.X-x)*(d.Y-y)-(b.Y-y)*(d.X-x))/area)
	v := max(0, ((d.X-x)*(a.Y-y)-(d.Y-y)*(a.X-x))/area)
	w := max(0, ((a.X-x)*(b.Y-y)-(a.Y-y)*(b.X-x))/area)
	s := 1 / max(u+v+w, 1e-12)
	return [3]float64{u * s, v * s, w * s}
}

// lights are where light comes from.
type lights struct{ key, side geom.Vec }

// lights are one over the eye's left shoulder and a weaker one from its right.
func (c *canvas) lights() lights {
	return lights{
		key:  c.back.Add(c.up.Scale(0.9)).Sub(c.right.Scale(0.7)).Unit(),
		side: c.back.Scale(0.4).Add(c.right).Unit(),
	}
}

// on is the light on a face, with light from all around.
func (l lights) on(n geom.Vec) float64 {
	return 0.42 + 0.55*max(0, n.Dot(l.key)) + 0.17*max(0, n.Dot(l.side))
}

func dim(p color.RGBA, k float64) color.RGBA {
	f := func(v uint8) uint8 { return uint8(min(255, k*float64(v)+0.5)) }
	return color.RGBA{f(p.R), f(p.G), f(p.B), 255}
}

// edges are the samples along silhouettes and creases of 38 degrees and more,
// so that edges show where the light does not tell them.
func (c *canvas) edges() []bool {
	crease := (38 * geom.Degree).Cos()
	jump := float32(6 / c.scale) // mm of depth over one sample
	edge := make([]bool, len(c.id))
	for y := range c.h - 1 {
		for x := range c.w - 1 {
			i := y*c.w + x
			for _, j := range [2]int{i + 1, i + c.w} {
				if c.id[i] != c.id[j] && c.parted(i, j, crease, jump) {
					edge[i], edge[j] = true, true
				}
			}
		}
	}
	return edge
}

// parted reports whether an edge runs between two samples of different triangles.
func (c *canvas) parted(i, j int, crease float64, jump float32) bool {
	a, b := c.id[i], c.id[j]
	if a < 0 || b < 0 {
		return true
	}
	f, g := &c.tri[a], &c.tri[b]
	if f.normal.Dot(g.normal) < crease && !(f.body == g.body && c.bodies[f.body].Unlined) {
		return true
	}
	// On a steep face the depth changes fast; only a jump beyond that parts.
	steep := 1 / max(0.05, min(math.Abs(f.normal.Dot(c.back)), math.Abs(g.normal.Dot(c.back))))
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
// by their angle there. Only the triangles that are seen get them.
func cornerNormals(m *mesh.Mesh, n []geom.Vec, crease geom.Angle, seen []bool) [][3]geom.Vec {
	out := make([][3]geom.Vec, len(m.T))
	if crease <= 0 {
		for i := range out {
			out[i] = [3]geom.Vec{n[i], n[i], n[i]}
		}
		return out
	}
	around, start := corners(m)
	angle := angles(m)
	least := crease.Cos()
	for i, t := range m.T {
		if !seen[i] {
			continue
		}
		for k, v := range t {
			var sum geom.Vec
			for _, c := range around[start[v]:start[v+1]] {
				if other := n[c/3]; other.Dot(n[i]) >= least {
					sum = sum.Add(other.Scale(angle[c]))
				}
			}
			out[i][k] = sum.Unit()
		}
	}
	return out
}

// corners lists the corners (three times the triangle and 0 to 2) at each
// vertex v: around[start[v]:start[v+1]].
func corners(m *mesh.Mesh) (around, start []int32) {
	start = make([]int32, len(m.V)+1)
	for _, t := range m.T {
		for _, v := range t {
			start[v+1]++
		}
	}
	for v := range m.V {
		start[v+1] += start[v]
	}
	next := append([]int32{}, start...)
	around = make([]int32, 3*len(m.T))
	for i, t := range m.T {
		for k, v := range t {
			around[next[v]] = int32(3*i + k)
			next[v]++
		}
	}
	return around, start
}

// angles are those of every triangle's corners.
func angles(m *mesh.Mesh) []float64 {
	out := make([]float64, 3*len(m.T))
	for i, t := range m.T {
		for k := range 3 {
			p, q, r := m.V[t[k]], m.V[t[(k+1)%3]], m.V[t[(k+2)%3]]
			out[3*i+k] = math.Acos(max(-1, min(1, q.Sub(p).Unit().Dot(r.Sub(p).Unit()))))
		}
	}
	return out
}
