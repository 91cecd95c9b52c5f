// Package solid draws the parts of a kit as solids, in the kit's frame: the
// buck, the insert it forms, the press tool and its nest, the base and the lid.
//
// It guarantees that every part is drawn from the same layout, so that gaps
// between parts are the stack-up's gaps by construction, and that every part
// can be printed without support, the lid and the press tool top down. It knows
// nothing of kit files, meshes or the grid a solid is later sampled on.
package solid

import (
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Place is where an item stands: the middle of its plan, its turn, and the
// half sizes of its plan before it is turned.
type Place struct {
	At   geom.Vec2
	Turn geom.Angle
	Half geom.Vec2
}

// Layout is all that the parts have in common.
type Layout struct {
	Dims   fit.Dims
	Places []Place
	Pocket func(r float64) sdf.Solid   // the pocket family, by radius beyond the item
	Under  func(gap float64) sdf.Solid // the pockets on the sheet's underside, grown by gap
	Mouth  geom.Box                    // around the finished pockets at the rim

	Center  geom.Vec2 // middle of the insert's plan
	Half    geom.Vec2 // half sizes of the insert's plan at the rim, product side
	Deep    float64   // z of the deepest pocket underside
	Trim    float64   // z of the trim line
	Bottom  float64   // z of the buck's underside
	Floors  []Floor   // flat places of the buck's pockets
	shallow bool      // some of the pockets' surface is no wall where the mouths are rounded
	Vents   []Vent
	Pins    []Pin       // those of the vents that the kit asks for
	Screws  []geom.Vec2 // places of the screws that hold the buck, as PlanScrews found them
}

// NewLayout sets out the parts about the pockets. pocket is the family by radius
// beyond the items, under its members on the sheet's underside by their distance
// from it; both must be exact on both sides. mouth is the box around
// pocket(finished) at z = 0. PlanVents adds the vents.
func NewLayout(d fit.Dims, places []Place, pocket, under func(float64) sdf.Solid, mouth geom.Box) *Layout {
	l := &Layout{Dims: d, Places: places, Pocket: pocket, Under: under, Mouth: mouth}
	c := mouth.Center()
	l.Center = c.XY()
	half := mouth.Size().Scale(0.5)
	l.Half = geom.Vec2{X: half.X + d.Insert.Margin, Y: half.Y + d.Insert.Margin}
	l.Deep = l.survey()
	l.Trim = l.Deep - d.Base.TrimDrop
	l.Bottom = d.Buck.Under(l.Trim, l.Deep)
	return l
}

// plan is the outline of the sheet's product side at the rim, grown by g.
// Corners keep their centre, so they stay round until the radius is used up.
func (l *Layout) plan(g float64) sdf.Region {
	r := min(l.Dims.Insert.CornerRadius, l.Half.X, l.Half.Y) + g
	return sdf.Place2(sdf.Rect(l.Half.X+g, l.Half.Y+g, max(r, 0)), l.Center, 0)
}

// skirt is the solid whose side is the sheet's product side moved outwards by
// out, measured square to the wall; it goes on above the rim and ends at bottom.
func (l *Layout) skirt(out, bottom float64) sdf.Solid {
	a := l.Dims.Insert.Draft
	return sdf.Taper(l.plan(out/a.Cos()), 0, a, bottom, 10)
}

// foot is the outline, at height z, of the skirt moved by out.
func (l *Layout) foot(out, z float64) sdf.Region { return l.plan(l.flare(out, z)) }

// flare is how far the skirt moved by out has spread beyond the rim at height z.
func (l *Layout) flare(out, z float64) float64 {
	a := l.Dims.Insert.Draft
	return -z*a.Tan() + out/a.Cos()
}

// BuckFoot is the half size of the buck at its underside.
func (l *Layout) BuckFoot() geom.Vec2 {
	g := l.flare(-l.Dims.Insert.Skirt, l.Bottom)
	return l.Half.Add(geom.Vec2{X: g, Y: g})
}

// form is a block that wears the sheet: its top at z = top, its skirt moved by
// out, its pockets cut out, edges rounded.
func (l *Layout) form(top, out float64, pockets sdf.Solid, mouth, rim, bottom float64) sdf.Solid {
	d := l.Dims
	block := sdf.RoundIntersect(l.skirt(out, bottom), below(top), rim, d.Insert.Draft.Sin())
	round := sdf.RoundIntersect
	if l.shallow {
		round = sdf.RoundIntersectAny
	}
	return round(block, sdf.Complement(pockets), mouth, l.wallLean())
}

// wallLean is the sine of the lean up to which a pocket's surface counts as its wall: that
// of the draft, or of 17 degrees.
func (l *Layout) wallLean() float64 { return max(l.Dims.Pocket.Draft.Sin(), 0.3) }

// below and above are the half spaces under and over a height.
func below(z float64) sdf.Solid { return sdf.HalfSpace{N: geom.V(0, 0, 1), D: z} }
func above(z float64) sdf.Solid { return sdf.HalfSpace{N: geom.V(0, 0, -1), D: -z} }

// chamferBelow cuts the lower edge of a block with this plan at 45 degrees, c
// high and wide, so that a first layer squeezed wide still lies inside.
func chamferBelow(plan sdf.Region, z, c float64) sdf.Solid {
	return sdf.Taper(sdf.Grow(plan, -c), z, -45*geom.Degree, math.Inf(-1), math.Inf(1))
}

// chamferAbove is chamferBelow for the upper edge.
func chamferAbove(plan sdf.Region, z, c float64) sdf.Solid {
	return sdf.Taper(sdf.Grow(plan, -c), z, 45*geom.Degree, math.Inf(-1), math.Inf(1))
}

// put places a solid drawn about the origin at a place's middle and turn.
func (p Place) put(s sdf.Solid) sdf.Solid {
	return sdf.Move(s, geom.RotateZ(p.Turn).Then(geom.Translate(p.At.At(0))))
}
