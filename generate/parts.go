package generate

import (
	"context"
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/sdf"
	"buckwright/generate/solid"
	"buckwright/params"
)

// planned is one part before it is meshed.
type planned struct {
	name, title string
	reference   bool
	forming     bool        // scaled for the sheet's shrinkage as well
	turn        geom.Affine // from the kit's frame to the pose it prints in
	solid       sdf.Solid
}

var (
	upright = geom.Identity()
	topDown = geom.RotateX(180 * geom.Degree)
)

// plannedParts draws every part that was asked for, in the order they are used.
func plannedParts(ctx context.Context, in Input, res *Result, fam *family, o mesh.Options) ([]planned, error) {
	l := res.Layout
	wanted := func(name string) bool { return in.Parts == nil || slices.Contains(in.Parts, name) }
	var out []planned
	add := func(p planned, draw func() sdf.Solid) {
		if wanted(p.name) {
			p.solid = draw()
			out = append(out, p)
		}
	}
	add(planned{name: "buck", title: "forming buck", forming: true, turn: upright}, func() sdf.Solid { return solid.Buck(l) })
	if wanted("press-tool") {
		plug, err := roundedPlug(ctx, l, fam, o)
		if err != nil {
			return nil, err
		}
		wings := in.Kit.Press.Grip != params.GripNone
		add(planned{name: "press-tool", title: "felt press tool", turn: topDown}, func() sdf.Solid { return solid.PressTool(l, plug, wings) })
	}
	if res.Dims.Press.Nest {
		add(planned{name: "press-nest", title: "press nest", turn: upright}, func() sdf.Solid { return solid.Nest(l) })
	}
	add(planned{name: "base", title: "case base", turn: upright}, func() sdf.Solid { return solid.Base(l) })
	add(planned{name: "lid", title: "case lid", turn: topDown}, func() sdf.Solid { return solid.Lid(l) })
	add(planned{name: "insert", title: "formed insert", reference: true, turn: upright}, func() sdf.Solid { return solid.Insert(l) })
	return out, nil
}

// roundedPlug is pocket(r_plug) opened by the edge radius: eroded and grown
// back, so that its edges are round and nothing is added. The eroded body is
// meshed, because growing back needs its true distance outside.
func roundedPlug(ctx context.Context, l *solid.Layout, fam *family, o mesh.Options) (sdf.Solid, error) {
	edge := l.Dims.Press.EdgeRadius
	core := fam.at(l.Dims.Pocket.Plug - edge)
	m, err := mesh.Contour(ctx, core, o)
	if err != nil {
		return nil, err
	}
	return mesh.CleanField(m).Offset(edge), nil
}

// print turns a finished mesh into the mesh that is printed: scaled about the
// middle of the insert's plan at z = 0, turned, and stood on the bed.
func (p planned) print(m *mesh.Mesh, res *Result) Part {
	part := Part{Name: p.name, Title: p.title, Reference: p.reference, Mesh: m}
	if p.reference {
		part.Printed, part.ToKit = m, geom.Identity()
		return part
	}
	k := res.Dims.Print.Scale
	if p.forming {
		k = k.Scale(1 / (1 - res.Dims.Shrink.Nominal))
	}
	about := res.Layout.Center.At(0)
	to := geom.ScaleAbout(about, k).Then(p.turn)
	low := to.Box(m.Bounds()).Min
	turned := m.Transform(to)
	bed := bedPlane(turned)
	to = to.Then(geom.Translate(geom.V(round(-low.X), round(-low.Y), -bed)))
	part.Printed = onBed(m.Transform(to).Snap())
	part.ToKit = to.Inverse()
	return part
}

// bedPlane is the height of the flat that a turned part lies on: the mean over
// its lowest faces that look straight down.
func bedPlane(m *mesh.Mesh) float64 {
	low := m.Bounds().Min.Z
	var sum, area float64
	for i := range m.T {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		if mid := (a.Z + b.Z + c.Z) / 3; mid < low+bedReach && n.Z < -0.999*n.Len() {
			sum -= n.Z * mid
			area -= n.Z
		}
	}
	if area == 0 {
		return low
	}
	return sum / area
}

// bedReach is how far, in mm, a vertex at the rim of the bed face may be off its
// plane: less than the finest promise of a mesh.
const bedReach = 0.012

// onBed lays the vertices of the bed face on z = 0 exactly. A mesh that would
// not stay sound is returned as it was.
func onBed(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{V: slices.Clone(m.V), T: m.T}
	for i, v := range out.V {
		if math.Abs(v.Z) < bedReach {
			out.V[i].Z = 0
		}
	}
	if out.Check() != nil {
		return m
	}
	return out
}

func round(v float64) float64 { return math.Round(v) }
