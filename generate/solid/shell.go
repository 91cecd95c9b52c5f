package solid

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

const (
	entry     = 0.8  // mm, chamfer that leads the lid over the neck, at most
	bevel     = 1.5  // mm, chamfer on the case's outer edges, at most: it prints without support either way up
	airWidth  = 3.0  // mm, groove that lets air out as the lid comes down
	airDepth  = 0.8  // mm, at most
	supportIn = 2.0  // mm that a support stays inside the floor it carries
	labelWide = 1.2  // mm, groove of the label's outline
	labelDeep = 0.6  // mm, at most
	dishDeep  = 0.8  // mm, thumb scallop, at most
	padCorner = 3.0  // mm, corner radius of a pad and its boss
	dishR     = 45.0 // mm, its radius: 17 mm across, a thumb's breadth

	// What is taken from a wall leaves most of it. Common practice, no source.
	edgeShare  = 0.5 // of a wall that a lead-in takes at its edge
	cutShare   = 0.4 // of a wall that a groove or dish may be deep
	bevelLeave = 0.9 // of the thinner of wall and floor that is left across a chamfered corner
)

// bevelOn is the chamfer on the outer edge of a wall and a floor.
func bevelOn(wall, floor float64) float64 {
	return max(0, min(bevel, wall+floor-bevelLeave*math.Sqrt2*min(wall, floor)))
}

func (l *Layout) baseBevel() float64 {
	d := l.Dims
	return bevelOn(d.Base.NeckWall+d.Lid.Slip+d.Lid.Wall, d.Base.Floor)
}

func (l *Layout) lidBevel() float64 { return bevelOn(l.Dims.Lid.Wall, l.Dims.Lid.Top) }

// shells are the plans of base and lid, from the inside out.
type shells struct {
	cavity, neck, lidInside, outside sdf.Region
	shoulder, floor, bottom, top     float64
}

func (l *Layout) shells() shells {
	d := l.Dims
	in := l.cavityGrowth()
	neck := in + d.Base.NeckWall
	lid := neck + d.Lid.Slip
	floor := l.Trim - d.Base.LedgeDrop
	return shells{
		cavity: l.plan(in), neck: l.plan(neck), lidInside: l.plan(lid), outside: l.plan(lid + d.Lid.Wall),
		shoulder: d.Base.NeckTop - d.Base.Neck,
		floor:    floor, bottom: floor - d.Base.Floor,
		top: d.Lid.Ceiling + d.Lid.Top,
	}
}

// OutsideHalf is the half size of the case in plan.
func (l *Layout) OutsideHalf() geom.Vec2 {
	d := l.Dims
	g := l.cavityGrowth() + d.Base.NeckWall + d.Lid.Slip + d.Lid.Wall
	return l.Half.Add(geom.Vec2{X: g, Y: g})
}

// Base is the lower shell: a floor with a support under each pocket, the
// shoulder the lid lands on and the neck it slips over.
func Base(l *Layout) sdf.Solid {
	s := l.shells()
	outer := sdf.Intersect(sdf.Prism(s.outside, s.bottom, s.shoulder), chamferBelow(s.outside, s.bottom, l.baseBevel()))
	neck := sdf.Intersect(sdf.Prism(s.neck, s.bottom+1, l.Dims.Base.NeckTop), chamferAbove(s.neck, l.Dims.Base.NeckTop, min(entry, edgeShare*l.Dims.Base.NeckWall)))
	body := sdf.Union(append([]sdf.Solid{outer, neck}, l.baseClosure(s)...)...)
	cut := append(l.airWays(s), sdf.Prism(s.cavity, s.floor, l.Dims.Base.NeckTop+10))
	cut = append(cut, l.baseClosureCuts(s)...)
	shell := sdf.Difference(body, cut...)
	return sdf.Union(append([]sdf.Solid{shell}, l.supports(s)...)...)
}

// Support is the plan of a block that carries a pocket: its middle, half sizes
// and corner radius, and the height that it carries at.
type Support struct {
	At     geom.Vec2
	Half   geom.Vec2
	Corner float64
	Top    float64
}

// Supports are the blocks of the base, one under each flat place that is large
// enough. They carry the pockets from below, and with them the product.
func (l *Layout) Supports() (out []Support) {
	for _, f := range l.Floors {
		size, c := f.Box.Size(), f.Box.Center()
		hx, hy := supportHalf(size.X), supportHalf(size.Y)
		if hx < 2 || hy < 2 {
			continue
		}
		out = append(out, Support{c.XY(), geom.Vec2{X: hx, Y: hy}, min(f.corner()+1, hx, hy), f.Box.Max.Z})
	}
	return out
}

// supports are the blocks as solids: the top of each is the pocket's underside
// less a glue gap.
func (l *Layout) supports(s shells) []sdf.Solid {
	hollow := l.Under(l.Dims.Base.GlueGap)
	var out []sdf.Solid
	for _, b := range l.Supports() {
		plan := sdf.Place2(sdf.Rect(b.Half.X, b.Half.Y, b.Corner), b.At, 0)
		block := sdf.Prism(plan, s.floor-0.5, b.Top+1)
		out = append(out, sdf.Difference(block, hollow))
	}
	return out
}

// supportHalf is half the width of a support under a floor: well inside a wide
// one, half as wide as the narrow flat that a round pocket has.
func supportHalf(floor float64) float64 {
	half := floor/2 + surveyStep/2
	return max(half-supportIn, half/2)
}

// airWays are grooves down the neck and across the shoulder, so that the lid is
// not a piston.
func (l *Layout) airWays(s shells) []sdf.Solid {
	out := l.OutsideHalf()
	neck := out.X - l.Dims.Lid.Wall - l.Dims.Lid.Slip
	y, deep := l.Half.Y*0.45, min(airDepth, cutShare*l.Dims.Base.NeckWall)
	var cut []sdf.Solid
	for _, sx := range [2]float64{-1, 1} {
		for _, sy := range [2]float64{-1, 1} {
			at := geom.V(l.Center.X+sx*neck, l.Center.Y+sy*y, 0)
			cut = append(cut, box(at, deep, airWidth/2, s.shoulder-deep, l.Dims.Base.NeckTop+1))
			mid := geom.V(l.Center.X+sx*(neck+4), l.Center.Y+sy*y, 0)
			cut = append(cut, box(mid, 4+deep, airWidth/2, s.shoulder-deep, s.shoulder+1))
		}
	}
	return cut
}

// box is a block about a middle line, between two heights.
func box(at geom.Vec, hx, hy, z0, z1 float64) sdf.Solid {
	return sdf.Box(geom.V(at.X-hx, at.Y-hy, z0), geom.V(at.X+hx, at.Y+hy, z1))
}

// Lid slips over the neck, lands on the shoulder flush with the base, and
// carries a boss over each item for its pad.
func Lid(l *Layout) sdf.Solid {
	s := l.shells()
	d := l.Dims
	outer := sdf.Intersect(sdf.Prism(s.outside, s.shoulder, s.top), chamferAbove(s.outside, s.top, l.lidBevel()))
	outer = sdf.Union(append([]sdf.Solid{outer}, l.lidClosure(s)...)...)
	// The lead-in is widest at the lid's lower edge.
	high := min(entry, edgeShare*d.Lid.Wall)
	lead := sdf.Taper(s.lidInside, s.shoulder+high, 45*geom.Degree, s.shoulder-1, s.shoulder+high)
	cut := []sdf.Solid{sdf.Prism(s.lidInside, s.shoulder-1, d.Lid.Ceiling), lead}
	cut = append(cut, l.thumbs(s)...)
	cut = append(cut, l.lidClosureCuts(s)...)
	if d.Lid.Label {
		cut = append(cut, l.labelGroove(s))
	}
	shell := sdf.Difference(outer, cut...)
	return sdf.Union(append([]sdf.Solid{shell}, l.bosses()...)...)
}

// PadHalf is the half size in plan of an item's pad: the item's own plan,
// scaled to the pad's area.
func (l *Layout) PadHalf(i int) geom.Vec2 {
	p, it := l.Places[i], l.Dims.Items[i]
	k := math.Sqrt(it.PadArea / (4 * p.Half.X * p.Half.Y))
	h := p.Half.Scale(min(k, 1))
	// What the round corners take off is added to the sides.
	r := min(padCorner, h.X, h.Y)
	grow := math.Sqrt(1 + (4-math.Pi)*r*r/(4*h.X*h.Y))
	return h.Scale(grow)
}

func (l *Layout) bosses() []sdf.Solid {
	if !l.Dims.Lid.Pads || l.Dims.Lid.Full {
		return nil
	}
	var out []sdf.Solid
	for i, it := range l.Dims.Items {
		if l.Dims.Lid.Ceiling-it.PadZ < 0.3 {
			continue
		}
		h := l.PadHalf(i)
		plan := sdf.Rect(h.X, h.Y, PadCorner(h))
		out = append(out, l.Places[i].put(sdf.Prism(plan, it.PadZ, l.Dims.Lid.Ceiling+0.5)))
	}
	return out
}

// labelGroove outlines the label on the lid's top. A recess would be a bridge
// as wide as the label when the lid prints top down; a groove is 1.2 mm.
func (l *Layout) labelGroove(s shells) sdf.Solid {
	half, r := l.LabelPlan()
	low := s.top - min(labelDeep, cutShare*l.Dims.Lid.Top)
	ring := func(g float64) sdf.Region { return sdf.Place2(sdf.Rect(half.X+g, half.Y+g, r+g), l.Center, 0) }
	return sdf.Difference(
		sdf.Prism(ring(labelWide), low, s.top+1),
		sdf.Prism(ring(0), low-1, s.top+2),
	)
}

// thumbs are shallow dishes in the lid's long sides to push it up by, between
// the corners and the middle, where a catch may be.
func (l *Layout) thumbs(s shells) []sdf.Solid {
	out := l.OutsideHalf()
	var cut []sdf.Solid
	deep := min(dishDeep, cutShare*l.Dims.Lid.Wall)
	z := (s.shoulder + min(s.top-l.lidBevel(), s.shoulder+16)) / 2
	for _, sx := range [2]float64{-1, 1} {
		for _, sy := range [2]float64{-1, 1} {
			at := geom.V(l.Center.X+sx*out.X*0.55, l.Center.Y+sy*(out.Y+dishR-deep), z)
			cut = append(cut, sdf.Ball(at, dishR))
		}
	}
	return cut
}
