package generate

import (
	"context"
	"fmt"
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
	forming     bool                // scaled for the sheet's shrinkage as well
	face        func(geom.Vec) bool // where the surface is that must let go upwards, if any
	turn        geom.Affine         // from the kit's frame to the pose it prints in
	draw        func() (sdf.Solid, error)
	mesh        func(ctx context.Context, o mesh.Options) (*mesh.Mesh, error) // nil: what draw gives is contoured
	kept        *Part                                                         // as an earlier run made it; nil: it is to be made
}

var (
	upright = geom.Identity()
	topDown = geom.RotateX(180 * geom.Degree)
)

// plannedParts lists every part that was asked for, in the order they are used, and
// in their places those that stay from an earlier run. plug makes the press tool's
// plugs; it is called when the tool is drawn. It also sets the buck's screws.
func plannedParts(in Input, res *Result, plug func() (sdf.Solid, error)) ([]planned, error) {
	if err := res.screw(in.Kit); err != nil {
		return nil, err
	}
	l := res.Layout
	var out []planned
	add := func(p planned) {
		if in.Parts == nil || slices.Contains(in.Parts, p.name) {
			out = append(out, p)
		} else if p.kept = in.kept(p.name); p.kept != nil {
			out = append(out, p)
		}
	}
	of := func(part func(*solid.Layout) sdf.Solid) func() (sdf.Solid, error) {
		return func() (sdf.Solid, error) { return part(l), nil }
	}
	tool := func() (sdf.Solid, error) {
		plugs, err := plug()
		if err != nil {
			return nil, err
		}
		return solid.PressTool(l, plugs, in.Kit.Press.Grip != params.GripNone), nil
	}
	add(planned{name: "buck", title: "forming buck", forming: true, face: solid.FormingFaceAt(l), turn: upright, draw: of(solid.Buck)})
	add(planned{name: "press-tool", title: "felt press tool", turn: topDown, draw: tool})
	if res.Dims.Press.Nest {
		add(planned{name: "press-nest", title: "press nest", turn: upright, draw: of(solid.Nest)})
	}
	add(planned{name: "base", title: "case base", turn: upright, draw: of(solid.Base)})
	add(planned{name: "lid", title: "case lid", turn: topDown, draw: of(solid.Lid)})
	add(planned{name: "trim-guide", title: "trim guide", turn: topDown, draw: of(solid.TrimGuide)})
	add(planned{name: "insert", title: "formed insert", reference: true, turn: upright, draw: of(solid.Insert), mesh: sewnInsert(l)})
	return out, in.allPlanned(out)
}

// PartNames are all names that Input.Parts may hold.
func PartNames() []string {
	return []string{"buck", "press-tool", "press-nest", "base", "lid", "trim-guide", "insert"}
}

// NoPartError names a part that this kit does not have.
type NoPartError struct{ Name string }

func (e *NoPartError) Error() string { return fmt.Sprintf("this kit has no part %q", e.Name) }

// allPlanned checks that every part that was asked for is planned.
func (in Input) allPlanned(plan []planned) error {
	for _, want := range in.Parts {
		if !slices.ContainsFunc(plan, func(p planned) bool { return p.name == want }) {
			return &NoPartError{want}
		}
	}
	return nil
}

// sewnInsert meshes each side of the insert by itself and sews them together: the
// sheet is thinner than the cells that either side needs.
func sewnInsert(l *solid.Layout) func(context.Context, mesh.Options) (*mesh.Mesh, error) {
	return func(ctx context.Context, o mesh.Options) (*mesh.Mesh, error) {
		product, underside := solid.InsertSides(l)
		return mesh.Shell(ctx, product, underside, l.Trim, o)
	}
}

// roundedPlug is pocket(r_plug) opened by the edge radius: eroded and grown
// back, so that its edges are round and nothing is added. The eroded body is
// meshed, because growing back needs its true distance outside.
func roundedPlug(ctx context.Context, l *solid.Layout, fam family, o mesh.Options) (sdf.Solid, error) {
	edge := l.Dims.Press.EdgeRadius
	core := fam.at(l.Dims.Pocket.Plug - edge)
	m, err := mesh.Contour(ctx, core, o)
	if err != nil {
		return nil, err
	}
	return mesh.CleanField(m, o.Tol).Offset(edge), nil
}

// toPrint maps a finished part to the pose it prints in, not yet on the bed:
// scaled about the middle of the insert's plan at z = 0, and turned.
func (p planned) toPrint(res *Result) geom.Affine {
	k := res.Dims.Print.Scale
	if p.forming {
		k = k.Scale(1 / (1 - res.Dims.Shrink.Nominal))
	}
	return geom.ScaleAbout(res.Layout.Center.At(0), k).Then(p.turn)
}

// keptOrMade is the part as an earlier run left it, or made.
func (p planned) keptOrMade(ctx context.Context, tol float64, res *Result) (Part, error) {
	if p.kept == nil {
		return p.make(ctx, tol, res)
	}
	part := *p.kept
	part.Title, part.Print = p.title, res.estimate(part)
	return part, nil
}

const (
	meshTries     = 3
	closerEachTry = 0.9 // of the sag: enough that the triangles come out differently
	uprightReach  = 1.5 // sags by which a vertex may be moved to keep a face from folding over
)

// make draws and meshes the part. The pose it prints in is scaled, which rounds the
// vertices anew; triangles that were only just apart may then cross, and the part
// is meshed again a little closer.
func (p planned) make(ctx context.Context, tol float64, res *Result) (part Part, err error) {
	for range meshTries {
		var m *mesh.Mesh
		if m, err = p.contour(ctx, mesh.Options{Tol: tol}); err != nil {
			return Part{}, err
		}
		if p.face != nil {
			m = m.Upright(p.face, uprightReach*tol)
		}
		if part, err = p.print(m, res); err == nil {
			return part, nil
		}
		tol *= closerEachTry
	}
	return Part{}, err
}

func (p planned) contour(ctx context.Context, o mesh.Options) (*mesh.Mesh, error) {
	if p.mesh != nil {
		return p.mesh(ctx, o)
	}
	s, err := p.draw()
	if err != nil {
		return nil, err
	}
	return mesh.Contour(ctx, s, o)
}

// print turns a finished mesh into the mesh that is printed, stood on the bed.
// Scaling rounds the vertices anew, so the mesh is checked again.
func (p planned) print(m *mesh.Mesh, res *Result) (Part, error) {
	part := Part{Name: p.name, Title: p.title, Reference: p.reference, Mesh: m, Quality: res.Quality}
	if p.reference {
		part.Printed, part.ToKit = m, geom.Identity()
		return part, nil
	}
	to := p.toPrint(res)
	turned, reach := m.Transform(to), res.Quality.bedReach()
	low := turned.Bounds().Min
	to = to.Then(geom.Translate(geom.V(math.Round(-low.X), math.Round(-low.Y), -bedPlane(turned, reach))))
	part.ToKit = to.Inverse()
	var err error
	if part.Printed, err = onBed(m.Transform(to).Snap(), reach); err != nil {
		return part, err
	}
	part.Print = res.estimate(part)
	return part, nil
}

// bedPlane is the height of the flat that a turned part lies on: the mean over
// its lowest faces that look straight down.
func bedPlane(m *mesh.Mesh, reach float64) float64 {
	low := m.Bounds().Min.Z
	var sum, area float64
	for i := range m.T {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		if mid := (a.Z + b.Z + c.Z) / 3; mid < low+reach && n.Z < -0.999*n.Len() {
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
// plane: somewhat more than the sag allowed in a cell.
func (q Quality) bedReach() float64 {
	return 1.3 * q.tolerance().part
}

// onBed lays the vertices of the bed face on z = 0 exactly: those within reach of
// it, or of half, a quarter ... of that where the mesh would fold. If no reach leaves
// the mesh sound it stays as it is. A mesh that was not sound to begin with is an error.
func onBed(m *mesh.Mesh, reach float64) (*mesh.Mesh, error) {
	for ; reach > leastReach; reach /= 2 {
		flat := &mesh.Mesh{V: slices.Clone(m.V), T: m.T}
		for i, v := range flat.V {
			if math.Abs(v.Z) < reach {
				flat.V[i].Z = 0
			}
		}
		if flat.Check() == nil {
			return flat, nil
		}
	}
	return m, m.Check()
}

// leastReach is less than any layer of a print shows, in mm.
const leastReach = 0.002
