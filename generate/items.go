package generate

import (
	"context"
	"fmt"
	"math"

	"buckwright/generate/check"
	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/sdf"
	"buckwright/generate/solid"
	"buckwright/params"
)

// item is one thing to be packed, as a solid. Its own frame has the middle of
// its plan at the origin and its lowest point at z = 0, before it is turned.
type item struct {
	kit   params.Item
	body  sdf.Solid       // as a shape; nil when the item came as a mesh
	given *mesh.MeshField // the body that came as a mesh; else nil
	mesh  *mesh.Mesh      // of the body; the product's own triangles when it came as a mesh
	box   geom.Box
	state *check.MeshFact // what was wrong with the mesh as it came; nil for a shape
}

// newItem builds the solid of one item, as closely as the quality needs it. Errors
// that the kit's author can mend are *params.Problem.
func newItem(ctx context.Context, k *params.Kit, i int, read func(string) ([]byte, error), q Quality) (*item, error) {
	it, err := shaped(ctx, k, i, read, q)
	if err != nil {
		return nil, err
	}
	if high := it.box.Size().Z; it.kit.Depth > high+sunk {
		hint := "depth is how much of it sits below the rim"
		switch {
		case it.given != nil:
			hint += "; are shape.mesh.unit and shape.mesh.up right?"
		case it.kit.Depth > slip*high:
			hint += "; are its sizes in centimetres or inches? then write the unit behind them"
		}
		return nil, k.Problem(fmt.Sprintf("items[%d].depth", i), fmt.Sprintf("%.4g mm is more than %s is high as it lies, %.4g mm", it.kit.Depth, it.kit.Name, high), hint)
	}
	return it, nil
}

const (
	sunk = 0.5 // mm that an item's top may lie below the rim: sizes are rounded
	slip = 2.0 // a depth of more heights than this is probably in another unit
)

// shaped is an item whose depth has not been checked yet.
func shaped(ctx context.Context, k *params.Kit, i int, read func(string) ([]byte, error), q Quality) (*item, error) {
	it := &item{kit: k.Items[i]}
	key := fmt.Sprintf("items[%d].shape", i)
	var err error
	s := it.kit.Shape
	switch {
	case s.Mesh != nil:
		return it, it.fromMesh(ctx, k, key+".mesh.file", read, q)
	case s.Profile != nil && s.Profile.File != "":
		if it.body, err = drawnSolid(k, s.Profile, key+".profile", read); err != nil {
			return nil, err
		}
	case s.Profile != nil:
		it.body, err = profileSolid(s.Profile, plane(s.Profile.Points), s.Profile.Bulge)
	case s.Revolve != nil:
		it.body, err = revolveSolid(s.Revolve)
	default:
		it.body = simpleSolid(s)
	}
	if err != nil {
		return nil, k.Problem(key, err.Error(), "the outline must be one closed loop that does not cross itself")
	}
	b := it.body.Bounds()
	c := b.Center()
	it.move(geom.V(-c.X, -c.Y, -b.Min.Z))
	return it, nil
}

func (it *item) move(d geom.Vec) {
	it.body = sdf.Move(it.body, geom.Translate(d))
	it.box = it.body.Bounds()
}

// simpleSolid builds the shapes that have a closed form and cannot fail.
func simpleSolid(s params.Shape) sdf.Solid {
	switch {
	case s.Box != nil:
		h := s.Box.Size
		return sdf.RoundPrism(sdf.Rect(h[0]/2, h[1]/2, s.Box.CornerRadius), 0, h[2], s.Box.EdgeRadius)
	case s.Cylinder != nil:
		c := s.Cylinder
		if c.Along == params.AxisZ || c.Along == "" {
			return sdf.RoundPrism(sdf.Disc(c.Diameter/2), 0, c.Height, c.EdgeRadius)
		}
		a := along(c.Along).Scale(c.Height / 2)
		if c.EdgeRadius > 0 {
			core := sdf.Cylinder(a.Sub(along(c.Along).Scale(c.EdgeRadius)), along(c.Along).Scale(c.EdgeRadius).Sub(a), c.Diameter/2-c.EdgeRadius)
			return sdf.Offset(core, c.EdgeRadius)
		}
		return sdf.Cylinder(a, a.Scale(-1), c.Diameter/2)
	case s.Capsule != nil:
		a := along(s.Capsule.Along).Scale((s.Capsule.Length - s.Capsule.Diameter) / 2)
		return sdf.Capsule(a, a.Scale(-1), s.Capsule.Diameter/2)
	}
	e := s.Ellipsoid.Size
	return sdf.Ellipsoid(geom.V(e[0]/2, e[1]/2, e[2]/2))
}

func along(a params.Axis) geom.Vec {
	switch a {
	case params.AxisY:
		return geom.V(0, 1, 0)
	case params.AxisZ:
		return geom.V(0, 0, 1)
	}
	return geom.V(1, 0, 0)
}

func profileSolid(p *params.Profile, points []geom.Vec2, bulge []float64) (sdf.Solid, error) {
	r, err := sdf.Polygon(points, bulge)
	if err != nil {
		return nil, err
	}
	if p.CornerRadius > 0 {
		r = sdf.RoundRegion(r, p.CornerRadius)
	}
	return sdf.RoundPrism(r, 0, p.Height, p.EdgeRadius), nil
}

func revolveSolid(p *params.Revolve) (sdf.Solid, error) {
	r, err := sdf.Polygon(plane(p.Points), nil)
	if err != nil {
		return nil, err
	}
	return sdf.Revolve(r), nil
}

func plane(pts [][2]float64) []geom.Vec2 {
	out := make([]geom.Vec2, len(pts))
	for i, p := range pts {
		out[i] = geom.Vec2{X: p[0], Y: p[1]}
	}
	return out
}

// pose is the item's place in the kit: turned, moved, its lowest point at z.
func (it *item) pose(z float64) geom.Affine {
	a := geom.Angle(it.kit.Turn) * geom.Degree
	return geom.RotateZ(a).Then(geom.Translate(geom.V(it.kit.At[0], it.kit.At[1], z)))
}

// released is the pocket this item asks for: item and notches grown by r, then
// released upwards, with the item's lowest point at z = -(depth + rise).
func (it *item) released(d fit.ItemDims, r float64, alpha geom.Angle) (sdf.Solid, error) {
	var body sdf.Solid
	var err error
	low := -d.Depth - d.SeatRise - d.FloorStep
	if it.given != nil {
		body = it.given.Release(r, alpha)
	} else if body, err = sdf.Release(sdf.Offset(it.body, r), alpha); err != nil {
		return nil, err
	}
	all := []sdf.Solid{sdf.Move(body, it.pose(low))} // a turn about the pull leaves the release as it is
	for _, n := range d.Notches {
		cut, err := sdf.Release(sdf.Offset(it.notch(n), r), alpha)
		if err != nil {
			return nil, err
		}
		all = append(all, sdf.Move(cut, it.pose(-n.Depth-d.SeatRise-d.FloorStep)))
	}
	return sdf.Union(all...), nil
}

const (
	notchEdge   = 4.0  // mm, radius of a notch's lower edge: a fingertip's
	notchCorner = 8.0  // mm, radius of a notch's corners in plan
	notchAbove  = 20.0 // mm that its body goes on above the rim: its rounded top is clear of the pocket
)

// notch is a finger's room beside the item, its floor at z = 0: an upright
// block from the item's middle out beyond its widest line.
func (it *item) notch(n fit.NotchDims) sdf.Solid {
	reach := n.Out + math.Abs(n.Dir.X)*it.box.Max.X + math.Abs(n.Dir.Y)*it.box.Max.Y
	r := min(notchCorner, n.Width/2, reach/2)
	plan := sdf.Place2(sdf.Rect(reach/2, n.Width/2, r), n.Dir.Scale(reach/2), geom.Angle(math.Atan2(n.Dir.Y, n.Dir.X)))
	return sdf.RoundPrism(plan, 0, n.Depth+notchAbove, min(notchEdge, r))
}

// place is what the parts need to know of the item.
func (it *item) place() solid.Place {
	h := it.box.Size().Scale(0.5)
	return solid.Place{
		At:   geom.Vec2{X: it.kit.At[0], Y: it.kit.At[1]},
		Turn: geom.Angle(it.kit.Turn) * geom.Degree,
		Half: geom.Vec2{X: h.X, Y: h.Y},
	}
}

// edgeRadius is the radius of a shape's lower edges; a round underside has the
// radius of its roundness, a mesh is taken as sharp.
func edgeRadius(s params.Shape) float64 {
	switch {
	case s.Box != nil:
		return s.Box.EdgeRadius
	case s.Cylinder != nil:
		if s.Cylinder.Along == params.AxisX || s.Cylinder.Along == params.AxisY {
			return s.Cylinder.Diameter / 2
		}
		return s.Cylinder.EdgeRadius
	case s.Capsule != nil:
		return s.Capsule.Diameter / 2
	case s.Ellipsoid != nil:
		e := s.Ellipsoid.Size
		lo, hi := min(e[0], e[1], e[2]), max(e[0], e[1], e[2])
		return lo * lo / (2 * hi)
	case s.Profile != nil:
		return s.Profile.EdgeRadius
	}
	return 0
}
