package fit

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/params"
)

// Geometry is what only the solids know. Everything in it but the items'
// Height and PlanArea may be left zero: fit then estimates.
type Geometry struct {
	Items  []ItemGeometry  // in the kit's order
	Plan   [2]float64      // mm, the insert's plan at the rim
	Formed *FormedGeometry // nil until the forming has been simulated
}

// ItemGeometry is one item, at rest and before it is turned.
type ItemGeometry struct {
	Height        float64 // mm
	PlanArea      float64 // mm²
	WallArea      float64 // mm², of its sides below the rim; 0: from its reach
	FloorArea     float64 // mm², that rests on the liner; 0: PlanArea
	MaxUnderDepth float64 // mm, its lowest point below the rim; 0: its depth
	Reach         Reach
	Pocket        int // index of its pocket in FormedGeometry
}

// Reach is how far an item reaches from the middle of its plan, mm.
type Reach struct{ Front, Back, Left, Right float64 }

// Long and Wide are the sizes of the plan along x and y.
func (r Reach) Long() float64 { return r.Left + r.Right }
func (r Reach) Wide() float64 { return r.Front + r.Back }

// FormedGeometry is the mean thickness that a simulation of the forming found, mm.
type FormedGeometry struct {
	Pockets    []FormedPocket
	Rim, Skirt float64
}

// FormedPocket is the mean thickness of one connected pocket, mm. Corner is
// where its walls meet its floor, the thinnest place.
type FormedPocket struct{ Wall, Floor, Corner float64 }

// formed is the simulated pocket of item i, nil before there is one.
func (b *builder) formed(i int) *FormedPocket {
	if b.geo.Formed == nil {
		return nil
	}
	return &b.geo.Formed.Pockets[b.geo.Items[i].Pocket]
}

// builder carries one derivation through its stages; each stage reads what
// earlier ones wrote.
type builder struct {
	k        *params.Kit
	geo      Geometry
	d        *Dims
	problems params.Problems

	sheet           params.Sheet
	lining, padding params.Liner // the rows of the liner and of the lid liner
	filament        params.PrintMaterial

	// What follows is named as in the formulas; mm, and compressions as shares.
	liner               Law
	pad, padLow, padTop Law        // of the lid liner: as expected, softest, stiffest
	tf, tfTol           float64    // free thickness of the liner, its tolerance one side
	c, g                float64    // its compression on the walls, the cement film under it
	tn, tnTol, cn       float64    // of the lid liner: thickness, tolerance, compression
	tq, tp              float64    // tolerance, one side, of a face of the product and of a print
	alpha               geom.Angle // draft of the pockets
	plug                float64    // compression of the felt under the plugs
}

// Derive works out every size of a kit that its file does not give. The tables
// are those that Kit.Resolve made. The error is params.Problems: all that the
// first failing stage found.
func Derive(k *params.Kit, t *params.Tables, geo Geometry) (*Dims, error) {
	b := &builder{k: k, geo: geo, d: &Dims{}}
	for _, stage := range [...]func(){
		func() { b.materials(t) }, b.given, b.liners, b.shrink,
		b.pocketRadii, b.rest, b.walls, b.plan, b.printing, b.bottom, b.skirt,
		b.press, b.vents, b.screws, b.base, b.lid, b.asBuilt, b.closure,
	} {
		stage()
		if len(b.problems) > 0 {
			return nil, b.problems
		}
	}
	return b.d, nil
}

// materials finds the rows that the kit names.
func (b *builder) materials(t *params.Tables) {
	check := func(key string, err error) {
		if err != nil {
			b.problem(key, "buckwright materials lists the rows", "%v", err)
		}
	}
	var err error
	b.sheet, err = t.Sheet(b.k.Sheet.Material)
	check("sheet.material", err)
	b.lining, err = t.Liner(b.k.Liner.Material)
	check("liner.material", err)
	if b.k.LidLiner.Pads != params.PadsNone {
		b.padding, err = t.Liner(b.k.LidLiner.Material)
		check("lid_liner.material", err)
	}
	b.filament, err = t.PrintMaterial(b.k.Printer.Material)
	check("printer.material", err)
	if len(b.geo.Items) != len(b.k.Items) {
		panic("fit: Geometry and the kit differ in their number of items")
	}
}

// given copies what the kit file says into the sizes.
func (b *builder) given() {
	k, d := b.k, b.d
	b.c, b.g, b.tf, b.tq = k.Liner.Compression, k.Liner.Cement, k.Liner.Thickness, k.Tolerance.Product
	b.alpha = geom.Angle(k.Pocket.Draft) * geom.Degree
	d.Pocket = PocketDims{
		Draft: b.alpha, MouthRadius: k.Pocket.MouthRadius, Close: k.Sheet.Gauge, Spacing: k.Pocket.Spacing,
	}
	d.Insert = InsertDims{
		Margin: k.Insert.Margin, Draft: geom.Angle(k.Insert.Draft) * geom.Degree,
		CornerRadius: k.Insert.CornerRadius, RimRadius: k.Insert.RimRadius,
		Gauge: k.Sheet.Gauge, TrimTol: trimTol,
	}
	d.Former = FormerDims{
		Area: k.Former.Area, Clamp: k.Former.Clamp, Depth: k.Former.Depth, Vacuum: k.Former.Vacuum,
		Pitch: k.Former.Platen.Pitch, Hole: k.Former.Platen.Hole, Border: k.Former.Platen.Border,
	}
	d.Buck = BuckDims{
		Floor: k.Buck.Floor, Land: k.Buck.Vent.Land, Bore: k.Buck.Vent.Bore, Pitch: k.Buck.Vent.Pitch,
		Channel: channelWidth, ChannelH: channelWall,
	}
	for _, p := range k.Buck.Vent.Pin {
		d.Buck.Pin = append(d.Buck.Pin, geom.Vec2{X: p[0], Y: p[1]})
	}
	for _, c := range k.Buck.Vent.Forbid {
		d.Buck.Forbid = append(d.Buck.Forbid, Circle{geom.Vec2{X: c[0], Y: c[1]}, c[2]})
	}
	for i, it := range k.Items {
		d.Items = append(d.Items, ItemDims{
			Name: it.Name, Depth: it.Depth, Mass: it.Mass,
			Height: b.geo.Items[i].Height, PlugArea: b.geo.Items[i].PlanArea, Notches: b.notches(i),
		})
	}
}

// The widths of fingers. Source: MIL-STD-1472F, 1999: a bare finger needs 32;
// ANSUR II, Natick TR-15/007; the reach beyond the item is common practice.
const (
	notchWidth = 30.0
	notchOut   = 12.0
	notchShort = 3.0 // mm that a notch ends above the item's lowest point
)

// notches sets the finger notches of one item out.
func (b *builder) notches(i int) []NotchDims {
	it := b.k.Items[i]
	var out []NotchDims
	for _, n := range it.Notch {
		one := NotchDims{Dir: sideDir(n.Side), Width: n.Width, Out: n.Out, Depth: it.Depth - notchShort}
		if one.Width == 0 {
			one.Width = notchWidth
		}
		if one.Out == 0 {
			one.Out = notchOut
		}
		if n.Depth != nil {
			one.Depth = *n.Depth
		} else if one.Depth <= 0 {
			one.Depth = it.Depth / 2
		}
		out = append(out, one)
	}
	return out
}

// sideDir is the direction of a side before the item is turned.
func sideDir(s params.Side) geom.Vec2 {
	switch s {
	case params.Front:
		return geom.Vec2{Y: -1}
	case params.Back:
		return geom.Vec2{Y: 1}
	case params.Left:
		return geom.Vec2{X: -1}
	}
	return geom.Vec2{X: 1}
}

// shrink is the mould shrinkage of the sheet.
func (b *builder) shrink() {
	s, src := b.sheet.Shrink, b.sheet.Source
	if b.k.Sheet.Shrink != nil {
		s, src = *b.k.Sheet.Shrink, srcKit
	}
	b.d.Shrink = Span{s.Mid(), s.Least, s.Most}
	b.add("shrink", "mould shrinkage of the sheet", "insert", "share", b.d.Shrink, "S", src)
	b.add("shrink.scale", "forming surfaces are multiplied by", "buck", "", Span{
		MouldScale(s.Mid()), MouldScale(s.Least), MouldScale(s.Most),
	}, "1/(1 - S)", "a part shrinks to (1 - S) of its mould, by definition of S")
}

// MouldScale is the size of a mould over that of its part, for a shrinkage as a share.
func MouldScale(shrink float64) float64 { return 1 / (1 - shrink) }

// shrinkTol is the spread, one side, that shrinkage puts on a length measured
// from the middle that stays in place.
func (b *builder) shrinkTol(length float64) float64 {
	s := b.d.Shrink
	return length * (s.Most - s.Least) / 2 / (1 - s.Nominal)
}

// perimeter of the insert's plan at the rim, grown by out.
func (b *builder) perimeter(out float64) float64 {
	in := b.d.Insert
	r := min(in.CornerRadius, in.Plan[0]/2, in.Plan[1]/2) + out
	return 2*(in.Plan[0]+in.Plan[1]+4*out) - (8-2*math.Pi)*r
}
