package generate

import (
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/params"
)

// lining is the surface that felt covers, mm²: of the finished pockets below the
// rim, and the holes that their mouths make in it.
type lining struct{ pockets, mouths float64 }

// lining measures the pockets on their outer body R, moved inwards to the middle
// of the felt.
func (f family) lining(d *fit.Dims) (l lining) {
	for _, c := range f {
		in := c.reach - d.Pocket.Finished/2
		l.pockets += areaBelow(shrunk(c.mesh, in), 0)
		side := in / d.Pocket.Draft.Cos()
		for _, loop := range c.mesh.Section(0) {
			area, round := loopSize(loop)
			l.mouths += area - round*side + math.Pi*side*side
		}
	}
	return l
}

// shrunk moves every vertex of a rounded body inwards along its mean normal.
func shrunk(m *mesh.Mesh, by float64) *mesh.Mesh {
	normals := make([]geom.Vec, len(m.V))
	for i, t := range m.T {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		for _, v := range t {
			normals[v] = normals[v].Add(n)
		}
	}
	out := &mesh.Mesh{V: make([]geom.Vec, len(m.V)), T: m.T}
	for i, v := range m.V {
		out.V[i] = v.Sub(normals[i].Unit().Scale(by))
	}
	return out
}

// areaBelow is the area of a mesh below height z.
func areaBelow(m *mesh.Mesh, z float64) (area float64) {
	for i := range m.T {
		a, b, c := m.Corners(i)
		area += b.Sub(a).Cross(c.Sub(a)).Len() / 2 * shareBelow(a.Z, b.Z, c.Z, z)
	}
	return area
}

// loopSize is the area inside an outline and its length.
func loopSize(loop []geom.Vec2) (area, round float64) {
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		area += p.Cross(q) / 2
		round += q.Sub(p).Len()
	}
	return math.Abs(area), round
}

// feltArea is the felt of one insert, mm², without what cutting wastes: pockets,
// and the rim and the skirt if they are covered.
func (r *Result) feltArea() float64 {
	l := r.Layout
	area := r.lining.pockets
	corner := min(r.Dims.Insert.CornerRadius, l.Half.X, l.Half.Y)
	if w := r.Kit.Liner.Wrap; w != params.WrapPockets {
		area += 4*l.Half.X*l.Half.Y - (4-math.Pi)*corner*corner - r.lining.mouths
	}
	if r.Kit.Liner.Wrap == params.WrapSkirt {
		tan := r.Dims.Insert.Draft.Tan()
		round := 4*(l.Half.X+l.Half.Y) - (8-2*math.Pi)*corner - 2*math.Pi*l.Trim*tan/2 // halfway down
		area += round * -l.Trim / r.Dims.Insert.Draft.Cos()
	}
	return area
}

// spongeArea is the sponge under one lid, mm².
func (r *Result) spongeArea() (area float64) {
	switch r.Kit.LidLiner.Pads {
	case params.PadsNone:
		return 0
	case params.PadsFull:
		in := r.Dims.Lid.Wall
		half := r.Layout.OutsideHalf()
		return 4 * (half.X - in) * (half.Y - in)
	}
	for i := range r.Dims.Items {
		h := r.Layout.PadHalf(i)
		area += 4 * h.X * h.Y
	}
	return area
}

// sheetArea is one blank, mm².
func (r *Result) sheetArea() float64 {
	f := r.Dims.Former
	return (f.Area[0] + 2*f.Clamp) * (f.Area[1] + 2*f.Clamp)
}
