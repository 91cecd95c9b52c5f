package generate

import (
	"context"
	"fmt"
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/sdf"
	"buckwright/generate/solid"
	"buckwright/params"
)

// form predicts the shot on the buck as it is laid out, and returns what tells
// its places apart. homes are the mouths of the pockets.
func (r *Result) form(ctx context.Context, homes outlines) (place func(geom.Vec) forming.Place, err error) {
	s := r.shot(homes)
	r.Formed, err = forming.Form(ctx, s)
	return s.Place, err
}

// clampClears reports a buck that is wider at its foot than the clamp is open:
// no sheet can be brought down over it.
func (r *Result) clampClears() error {
	foot, area := r.Layout.BuckFoot(), r.Dims.Former.Area
	if 2*foot.X < area[0] && 2*foot.Y < area[1] {
		return nil
	}
	return r.Kit.Problem("former.area",
		fmt.Sprintf("the buck is %.1f x %.1f mm at its foot, and the free sheet of the former %.1f x %.1f", 2*foot.X, 2*foot.Y, area[0], area[1]),
		fit.SmallFormer(r.Kit)+", use a smaller insert.margin or insert.draft, or turn or move an item")
}

// shot is the kit's sheet in its former over the buck as it is laid out.
func (r *Result) shot(homes outlines) forming.Setup {
	k, l := r.Kit, r.Layout
	z := zones{
		face: solid.FormingFace(l), homes: homes, rim: -r.Dims.Insert.Rim, platen: l.Bottom, trim: l.Trim,
		center: l.Center, foot: l.BuckFoot(),
	}
	return forming.Setup{
		Body: sdf.Union(z.face, sdf.HalfSpace{N: geom.V(0, 0, 1), D: z.platen}), // with the platen
		Box:  z.face.Bounds(),
		Area: r.Dims.Former.Area, Center: l.Center, // as it lies to the kit
		Gauge:  k.Sheet.Gauge,
		Law:    hotLaw(r.sheet),
		Vacuum: k.Former.Vacuum, Friction: forming.Sticks,
		Rim: z.rim, Platen: z.platen, Place: z.place,
	}
}

// hotLaw is the elastic law of a hot sheet: as it was measured, or else neo-Hookean
// with the geometric mean of a modulus that is known to an order of magnitude.
func hotLaw(s params.Sheet) forming.Law {
	if l := s.Law; l != nil {
		return forming.Law{Kind: forming.LawKind(l.Kind), Mu: l.Moduli, Alpha: l.Exponents}
	}
	return forming.Law{Kind: forming.NeoHookean, Mu: []float64{math.Sqrt(s.Mu.Least * s.Mu.Most)}}
}

// zones tells the places of a buck apart.
type zones struct {
	face        sdf.Solid
	homes       outlines
	rim, platen float64
	trim        float64 // z of the trim line: what is below it is cut off
	center      geom.Vec2
	foot        geom.Vec2 // half sizes of the buck at its underside
}

const (
	rimBand   = 0.3  // mm below the top that is rim still
	cornerRun = 3.0  // mm from a wall or floor that is corner; about a fingertip's radius
	cornerGap = 0.85 // of cornerRun: a ball with less room than that touches a second face
	wallLean  = 0.5  // cosine of 60 degrees from level: steeper is wall
	floorLean = 0.94 // cosine of 20 degrees: flatter is floor
)

// place is what part of the buck a point on it belongs to.
func (z zones) place(p geom.Vec) forming.Place {
	pocket := z.homes.at(p.XY())
	switch {
	case p.Z > z.rim-rimBand:
		return forming.Place{Zone: forming.Rim}
	case pocket >= 0:
		return forming.Place{Zone: z.inside(p), Pocket: pocket}
	case p.Z < max(z.platen+rimBand, z.trim):
		return forming.Place{Zone: forming.Flange}
	}
	q := p.XY().Sub(z.center)
	if math.Abs(q.X) > z.foot.X+rimBand || math.Abs(q.Y) > z.foot.Y+rimBand {
		return forming.Place{Zone: forming.Flange}
	}
	return forming.Place{Zone: forming.Skirt}
}

// inside tells wall, floor and the corner between them apart: by the slope, and
// by whether a ball that touches here also reaches something else.
func (z zones) inside(p geom.Vec) forming.Zone {
	n := slope(z.face, p)
	if z.face.Dist(p.Add(n.Scale(cornerRun))) < cornerGap*cornerRun {
		return forming.Corner
	}
	switch {
	case n.Z > floorLean:
		return forming.Floor
	case n.Z > wallLean:
		return forming.Corner
	}
	return forming.Wall
}

// slope is the outward normal of a solid near its surface, by differences over
// the corners of a tetrahedron.
func slope(s sdf.Solid, p geom.Vec) geom.Vec {
	const h = 0.05
	var g geom.Vec
	for _, c := range [4]geom.Vec{{X: 1, Y: 1, Z: 1}, {X: 1, Y: -1, Z: -1}, {X: -1, Y: 1, Z: -1}, {X: -1, Y: -1, Z: 1}} {
		g = g.Add(c.Scale(s.Dist(p.Add(c.Scale(h)))))
	}
	if l := g.Len(); l > 0 {
		return g.Scale(1 / l)
	}
	return geom.V(0, 0, 1)
}

// leastFormed is the least thickness, in mm, that the insert is drawn with. A thinner
// sheet tears, which a finding reports. This program's own choice.
const leastFormed = 0.05

// thickness is what fit needs of a formed sheet with n pockets.
func thickness(f *forming.Formed, n int, gauge float64) *fit.FormedGeometry {
	out := &fit.FormedGeometry{Pockets: make([]fit.FormedPocket, n)}
	mean := func(p forming.Place, otherwise float64) float64 {
		if s, ok := f.Stat(p); ok && s.Area > 0 {
			return max(s.Mean, leastFormed)
		}
		return otherwise
	}
	out.Rim = mean(forming.Place{Zone: forming.Rim}, gauge)
	out.Skirt = mean(forming.Place{Zone: forming.Skirt}, out.Rim)
	for i := range out.Pockets {
		corner := mean(forming.Place{Zone: forming.Corner, Pocket: i}, out.Rim)
		floor := mean(forming.Place{Zone: forming.Floor, Pocket: i}, corner)
		out.Pockets[i] = fit.FormedPocket{
			Wall: mean(forming.Place{Zone: forming.Wall, Pocket: i}, corner), Floor: floor, Corner: corner,
		}
	}
	return out
}

// never is when the sheet arrives at a place that it does not reach: after the last, 1.
const never = 2.0

// arrivals are the places in the pockets, with when the sheet gets there.
func arrivals(f *forming.Formed, place func(geom.Vec) forming.Place) []solid.Arrival {
	var out []solid.Arrival
	for i, p := range f.Node {
		if place(p).Zone.InPocket() {
			out = append(out, solid.Arrival{At: p, When: min(f.Touch[i], never)})
		}
	}
	return out
}
