package picture

import (
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// Upright is a vertical plane: it holds At and runs along Dir. On it u is
// measured along Dir from At and z is the height. It is looked at with u to the
// right.
type Upright struct{ At, Dir geom.Vec2 }

// Loops is a body's section: closed loops of (u, z) in mm, the body on their left.
type Loops [][]geom.Vec2

// Section cuts a closed mesh. The coordinates are those of the mesh's edges
// where the plane meets them, nothing is sampled.
func (p Upright) Section(m *mesh.Mesh) Loops {
	d := p.Dir.Unit()
	n := geom.Vec2{X: d.Y, Y: -d.X} // towards the eye
	onto := geom.Affine{M: [9]float64{d.X, d.Y, 0, 0, 0, 1, n.X, n.Y, 0}}
	onto.T = geom.V(-p.At.Dot(d), 0, -p.At.Dot(n))
	return m.Transform(onto).Section(0)
}

// Point is the point of the plan at u.
func (p Upright) Point(u float64) geom.Vec2 { return p.At.Add(p.Dir.Unit().Scale(u)) }

// Bounds is the least box around the loops.
func (l Loops) Bounds() Window {
	w := Window{geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, loop := range l {
		for _, v := range loop {
			w = w.Include(v)
		}
	}
	return w
}

// AtHeight is where the loops cross the height z, from left to right.
func (l Loops) AtHeight(z float64) []float64 {
	return l.crossings(func(v geom.Vec2) (float64, float64) { return v.Y - z, v.X })
}

// AtPlace is where the loops cross the upright at u, from below upwards.
func (l Loops) AtPlace(u float64) []float64 {
	return l.crossings(func(v geom.Vec2) (float64, float64) { return v.X - u, v.Y })
}

func (l Loops) crossings(split func(geom.Vec2) (off, along float64)) (out []float64) {
	for _, loop := range l {
		for i, v := range loop {
			a, x := split(v)
			b, y := split(loop[(i+1)%len(loop)])
			if (a >= 0) != (b >= 0) {
				out = append(out, x+(y-x)*a/(a-b))
			}
		}
	}
	slices.Sort(out)
	return out
}

// Nearest is the point of the loops that is closest to p; false when there is none.
func (l Loops) Nearest(p geom.Vec2) (q geom.Vec2, ok bool) {
	best := math.Inf(1)
	for _, loop := range l {
		for i, a := range loop {
			c := nearest2(p, a, loop[(i+1)%len(loop)])
			if d := c.Sub(p).Len(); d < best {
				q, best, ok = c, d, true
			}
		}
	}
	return q, ok
}

// nearest2 is the point of a segment closest to p.
func nearest2(p, a, b geom.Vec2) geom.Vec2 {
	d := b.Sub(a)
	t := p.Sub(a).Dot(d) / max(d.Dot(d), 1e-18)
	return a.Lerp(b, min(max(t, 0), 1))
}

// Largest is the loop that reaches farthest along the plane.
func (l Loops) Largest() []geom.Vec2 {
	var out []geom.Vec2
	best := math.Inf(-1)
	for _, loop := range l {
		b := Loops{loop}.Bounds()
		if w := b.Max.X - b.Min.X; w > best {
			out, best = loop, w
		}
	}
	return out
}

// Runs are the pieces of a line on which keep is positive; keep is taken as
// straight between two points.
func Runs(line []geom.Vec2, keep func(geom.Vec2) float64) (out [][]geom.Vec2) {
	var run []geom.Vec2
	for i, v := range line {
		k := keep(v)
		if i > 0 {
			if last := keep(line[i-1]); (last > 0) != (k > 0) {
				run = append(run, line[i-1].Lerp(v, last/(last-k)))
			}
		}
		if k > 0 {
			run = append(run, v)
		} else if len(run) > 0 {
			out, run = append(out, run), nil
		}
	}
	if len(run) > 0 {
		out = append(out, run)
	}
	return out
}

// Window is a rectangle of a section, in mm.
type Window struct{ Min, Max geom.Vec2 }

// Include is the least window around w and v.
func (w Window) Include(v geom.Vec2) Window {
	return Window{
		geom.Vec2{X: min(w.Min.X, v.X), Y: min(w.Min.Y, v.Y)},
		geom.Vec2{X: max(w.Max.X, v.X), Y: max(w.Max.Y, v.Y)},
	}
}

// Union is the least window around both.
func (w Window) Union(v Window) Window {
	if v.Min.X > v.Max.X {
		return w
	}
	return w.Include(v.Min).Include(v.Max)
}

// Grow is w larger by r on every side.
func (w Window) Grow(r float64) Window {
	d := geom.Vec2{X: r, Y: r}
	return Window{w.Min.Sub(d), w.Max.Add(d)}
}

func (w Window) holds(p geom.Vec2) bool {
	return p.X >= w.Min.X && p.X <= w.Max.X && p.Y >= w.Min.Y && p.Y <= w.Max.Y
}

// Size is width and height.
func (w Window) Size() geom.Vec2 { return w.Max.Sub(w.Min) }

// Around is a window with its middle at c.
func Around(c geom.Vec2, width, height float64) Window {
	h := geom.Vec2{X: width / 2, Y: height / 2}
	return Window{c.Sub(h), c.Add(h)}
}
