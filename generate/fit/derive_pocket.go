package fit

import (
	"fmt"
	"math"

	"buckwright/params"
)

// UsualPress is the pressure, kPa, that a contact cement wants when the kit
// does not say; common practice, no source.
const UsualPress = 50.0

// GaugeSpread is the share by which a supplier's gauge varies, one side; shop guide.
const GaugeSpread = 0.10

const (
	handForce = 200.0 // N that a hand gives a plug; common practice, no source
	padFactor = 3.0   // a pad presses this many times the item's weight; design of this tool
)

// The press tool, mm; design of this tool.
const (
	plugEdge   = 1.2 // radius of a plug's edge: it does not cut the felt
	plateThick = 4.0
	reliefDia  = 2.5 // of the air reliefs
	nestGap    = 0.2 // between nest and insert
)

// liners sets the laws of felt and sponge, with the kit's own weight tests.
func (b *builder) liners() {
	lin, pad := b.k.Liner, b.k.LidLiner
	b.liner, _, _ = linerLaws(b.lining)
	b.sound("liner.material", b.liner)
	b.tfTol = b.lining.ThicknessTol * b.tf
	if lin.Tolerance != nil {
		b.tfTol = *lin.Tolerance
	}
	src := b.lining.Source
	if lin.Test != nil {
		src = "weight test in the kit"
		b.liner = b.test("liner.test", b.liner, *lin.Test, b.tf)
	}
	b.d.Liner = b.liner
	b.add("liner.law", "the liner's constant", "", "kPa", Fixed(b.liner.P), b.liner.formula(), src)
	b.add("liner.thickness", "free thickness of the liner", "", "mm", PlusMinus(b.tf, b.tfTol), "tf +- Tf", b.lining.Source)
	if !(b.c > 0 && b.c < b.liner.Limit()) {
		b.problem("liner.compression", "10 % to 30 % is usual", "%g compresses the liner to nothing", b.c)
	}
	if pad.Pads == params.PadsNone {
		return
	}
	b.tn, b.cn, b.tnTol = pad.Thickness, pad.Compression, b.padding.ThicknessTol*pad.Thickness
	b.pad, b.padLow, b.padTop = linerLaws(b.padding)
	b.sound("lid_liner.material", b.padLow)
	src = b.padding.Source
	if pad.Test != nil {
		src = "weight test in the kit"
		b.pad = b.test("lid_liner.test", b.pad, *pad.Test, b.tn)
		b.padLow, b.padTop = b.pad, b.pad
	}
	b.d.Pads = b.pad
	b.add("lid_liner.law", "the lid liner's constant", "", "kPa", Span{b.pad.P, b.padLow.P, b.padTop.P}, b.pad.formula(), src)
	if !(b.cn > 0 && b.cn < b.pad.Limit()) {
		b.problem("lid_liner.compression", "25 % is usual", "%g compresses the lid liner to nothing", b.cn)
	}
}

func (b *builder) sound(key string, l Law) {
	if !l.sound() {
		b.problem(key, "give felt its p0, sponge its stress25 and a density below that of its rubber", "the row has no usable law of compression")
	}
}

func (b *builder) test(key string, l Law, w params.WeightTest, free float64) Law {
	fitted, ok := l.tested(w, free)
	if !ok {
		b.problem(key, "load the liner until it is visibly thinner", "%g mm under the weight of a %g mm liner says nothing about it", w.Thickness, free)
	}
	return fitted
}

func (l Law) formula() string {
	switch {
	case l.Felt:
		return "p = P0 ((1 - e)^-3 - 1)"
	case l.Open:
		return "p = p25 e / 0.25"
	}
	return "p = p25 s(e)/s(0.25), s = e/(1 - e - R)"
}

// pocketRadii sets the members of the pocket family that need no forming.
func (b *builder) pocketRadii() {
	r := b.tf*(1-b.c) + b.g
	b.d.Pocket.Finished = r
	b.add("r_pocket", "finished pocket surface beyond the item", "insert", "mm", Fixed(r), "tf (1 - c) + g", srcTool)
	if !(r > 0) {
		b.problem(b.placed("liner.thickness", "items"), "a thicker liner, or less compression", "the pocket would be %g mm smaller than its item", -r)
	}
}

// rest finds how each item comes to rest on the liner under it, and the pad
// over it.
func (b *builder) rest() {
	for i := range b.d.Items {
		it, g := &b.d.Items[i], b.geo.Items[i]
		if !(it.Height > 0 && g.PlanArea > 0) {
			panic("fit: item " + it.Name + " has no height or no plan")
		}
		b.padOf(i)
		floor := g.FloorArea
		if floor == 0 {
			floor = g.PlanArea
		}
		p := (Weight(it.Mass) + it.PadForce) / floor * 1000
		it.FloorCompression = b.liner.Compression(p)
		it.SeatRise = b.tf * (b.c - it.FloorCompression)
		b.addItem(i, "c_floor", "liner compression under the item", "share", Fixed(it.FloorCompression), "p(c_floor) A_floor = m g + F_pad", srcTool)
		b.addItem(i, "seat_rise", "the pocket is cut for the item placed lower by", "mm", Fixed(it.SeatRise), "tf (c - c_floor)", srcTool)
	}
}

// padOf sizes the pad over an item, or the part of a full lining that it meets.
func (b *builder) padOf(i int) {
	it := &b.d.Items[i]
	h := it.Height - it.Depth
	switch b.k.LidLiner.Pads {
	case params.PadsNone:
		return
	case params.PadsFull: // the ceiling is settled by the tallest item
		it.PadZ, it.PadArea = b.ceiling(), it.PlugArea
		it.PadForce = b.pad.Pressure(1-(it.PadZ-h)/b.tn) / 1000 * it.PadArea
		return
	}
	it.PadZ = h + b.tn*(1-b.cn)
	it.PadForce = padFactor * Weight(it.Mass)
	it.PadArea = it.PadForce / b.pad.Pressure(b.cn) * 1000
	b.addItem(i, "pad.z", "underside of the pad's boss above the rim", "mm", Fixed(it.PadZ), "h + tn (1 - cn), h = height - depth", srcTool)
	b.addItem(i, "pad.area", "area of the pad", "mm²", Fixed(it.PadArea), "F_pad / p(cn), F_pad = 3 m g", srcTool)
	if it.PadArea > it.PlugArea {
		b.problem(b.typed("lid_liner.material", fmt.Sprintf("items[%d].mass", i)), "a stiffer lid_liner.material or more lid_liner.compression; is the mass in grams, and are the sizes in millimetres?",
			"%s needs a pad of %.0f mm² and has a plan of %.0f", it.Name, it.PadArea, it.PlugArea)
	}
}

// ceiling is the lowest ceiling above the rim that the items, the felt on the
// rim and the neck allow.
func (b *builder) ceiling() float64 {
	z := b.rimFelt() + max(b.tn, neckOver+neckClear)
	over := b.tn * (1 - b.cn)
	if b.k.LidLiner.Pads == params.PadsNone {
		over = bareClear
	}
	for _, it := range b.d.Items {
		z = max(z, it.Height-it.Depth+over)
	}
	return z
}

// padStack is the gap over an item that its pad fills. The item stands on the
// floor's liner, the floor's sheet and a support of the base; the boss hangs
// from the lid, which stands on the base's shoulder. What varies: two faces of
// the product, two printed ones, the liner and the sheet, in this order.
func (b *builder) padStack(it *ItemDims) Stack {
	w := it.Wall
	return Stack{Gap: it.PadZ - (it.Height - it.Depth), Free: b.tn, Thick: b.tnTol, Gaps: []float64{
		b.tq, b.tq, b.tp, b.tp, b.tfTol * (1 - it.FloorCompression), (w.Most - w.Least) / 2,
	}}
}

// walls sets the formed thickness of the pockets: by areal draw ratio, until a
// simulation has found it for each pocket.
func (b *builder) walls() {
	start := b.drawnWall()
	in := &b.d.Insert
	in.WallSpan, in.WallThin = start, start.Least/(1-GaugeSpread)
	formula, src := "t0 / areal draw ratio", srcDraw
	if b.geo.Formed != nil {
		in.WallSpan, in.WallThin = b.formedWall()
		formula, src = "simulated, mean over the pockets", srcFormed
	}
	in.Wall = in.WallSpan.Nominal
	b.d.Pocket.Buck = b.d.Pocket.Finished + in.Wall
	b.add("tw", "formed thickness of pocket walls", "insert", "mm", in.WallSpan, formula, src)
	b.add("tw.drawn", "the same by areal draw ratio", "insert", "mm", start, "t0 / areal draw ratio", srcDraw)
	b.add("r_buck", "buck pocket surface beyond the item", "buck", "mm", Fixed(b.d.Pocket.Buck), "r_pocket + tw", srcTool)
	for i := range b.d.Items {
		b.itemWall(i)
	}
}

// drawnWall is the wall by areal draw ratio. The pocket's size depends on it, so it is
// iterated; it settles at once.
func (b *builder) drawnWall() Span {
	t := Fixed(b.d.Insert.Gauge)
	for range 20 {
		b.d.Pocket.Buck = b.d.Pocket.Finished + t.Nominal
		t = b.pocketWall(b.d.Insert.Gauge)
	}
	return t
}

// formedWall is the wall over all items and the thinnest floor corner, as simulated.
func (b *builder) formedWall() (Span, float64) {
	w := Span{0, math.Inf(1), 0}
	thin := math.Inf(1)
	for i := range b.d.Items {
		f := b.formed(i)
		one := gauged(f.Wall)
		w.Nominal += f.Wall / float64(len(b.d.Items))
		w.Least, w.Most = min(w.Least, one.Least), max(w.Most, one.Most)
		thin = min(thin, f.Corner)
	}
	return w, thin
}

// gauged is a thickness with the supplier's spread of the gauge.
func gauged(t float64) Span { return Span{t, t * (1 - GaugeSpread), t * (1 + GaugeSpread)} }

// itemWall sets the wall of one item's pocket and how deep that comes.
func (b *builder) itemWall(i int) {
	it, low := &b.d.Items[i], b.geo.Items[i].MaxUnderDepth
	if low == 0 {
		low = it.Depth
	}
	it.Wall = b.d.Insert.WallSpan
	if f := b.formed(i); f != nil {
		it.Wall, it.FloorStep = gauged(f.Wall), f.Floor-f.Wall
		b.addItem(i, "tw", "formed thickness of its pocket's walls", "mm", it.Wall, "simulated, mean by area", srcFormed)
		b.addItem(i, "t_floor", "formed thickness of its pocket's floor", "mm", gauged(f.Floor), "simulated, mean by area", srcFormed)
	}
	it.Buck = b.d.Pocket.Finished + it.Wall.Nominal
	it.Under = -(low + it.SeatRise + it.FloorStep + it.Buck)
	b.addItem(i, "floor.step", "the sheet's underside is cut for the item placed lower still by", "mm", Fixed(it.FloorStep), "t_floor - tw", srcTool)
	b.addItem(i, "r_buck", "buck pocket surface beyond the item", "mm", Fixed(it.Buck), "r_pocket + tw of its pocket", srcTool)
}

// pocketWall is the mean thickness over a tray around each item, and the extremes
// of the trays' means with the supplier's spread of the gauge.
func (b *builder) pocketWall(t0 float64) Span {
	formed, mouths := 0.0, 0.0 // mm², of the surface and of the sheet it is drawn from
	least, most := math.Inf(1), 0.0
	r := b.d.Pocket.Buck
	for i, it := range b.d.Items {
		depth := it.Depth + it.SeatRise + r
		open := 2 * (r + depth*b.alpha.Tan())
		l, w := b.geo.Items[i].Reach.Long()+open, b.geo.Items[i].Reach.Wide()+open
		ratio := DrawTray(l, w, depth, b.alpha)
		formed, mouths = formed+ratio*(l*w), mouths+l*w
		least, most = min(least, ratio), max(most, ratio)
	}
	return Span{t0 * mouths / formed, t0 * (1 - GaugeSpread) / most, t0 * (1 + GaugeSpread) / least}
}

// press sets the plugs: the felt under them is compressed as the cement wants,
// or as a hand can.
func (b *builder) press() {
	want := UsualPress
	if b.k.Liner.Press != nil {
		want = *b.k.Liner.Press
	}
	largest := 0.0
	for _, it := range b.d.Items {
		largest = max(largest, it.PlugArea)
	}
	p := min(want, handForce/largest*1000)
	b.plug = b.liner.Compression(p)
	r := b.tf * (b.plug - b.c)
	b.d.Pocket.Plug = r
	d := &b.d.Press
	d.Pressure, d.Squeeze = p, b.plug
	d.EdgeRadius, d.Plate, d.Relief, d.NestGap = plugEdge, plateThick, reliefDia, nestGap
	d.Nest = b.k.Press.Nest == params.NestYes || b.k.Press.Nest == params.NestAuto && b.k.Liner.Wrap == params.WrapSkirt
	d.RimFelt = b.rimFelt()
	if d.RimFelt > 0 {
		d.Stop = b.tf*(1-b.plug) + b.g
	}
	b.add("press.pressure", "the plugs press the felt with", "press-tool", "kPa", Fixed(p), "min(cement, 200 N / largest plug's plan)", "50 kPa and 200 N: "+srcCP)
	b.add("press.compression", "compression of the felt under the plugs", "press-tool", "share", Fixed(b.plug), "cp = e(p_press)", srcTool)
	b.add("r_plug", "plug surface beyond the item", "press-tool", "mm", Fixed(r), "tf (cp - c)", srcTool)
	b.add("press.stop", "underside of the stops above the rim", "press-tool", "mm", Fixed(d.Stop), "tf (1 - cp) + g on felt, 0 on a bare rim", srcTool)
	b.add("press.mouth", "a plug's wall goes straight on where the sheet's mouth opens: at the rim it stands off by as much more", "press-tool", "mm",
		Fixed(b.d.Pocket.MouthRadius+b.d.Insert.Rim), "mouth_radius + t_rim", srcTool)
	b.add("nest.gap", "clearance of the nest under the insert", "press-nest", "mm", Fixed(d.NestGap), "0.2", srcTool)
	b.plugForces()
}

// plugForces finds what each plug takes to close onto its stops, as drawn and
// over the stack-up of felt, prints and sheet.
func (b *builder) plugForces() {
	total := Span{}
	for i := range b.d.Items {
		it := &b.d.Items[i]
		e := Stack{
			Gap: b.tf * (1 - b.plug), Free: b.tf, Thick: b.tfTol,
			Gaps: []float64{b.tp, b.tp, (it.Wall.Most - it.Wall.Least) / 2},
		}.RSS()
		at := func(e float64) float64 { return b.liner.Pressure(b.liner.Working(e)) / 1000 * it.PlugArea }
		it.PlugForce = Span{at(b.plug), at(e.Least), at(e.Most)}
		total = total.Plus(it.PlugForce)
		b.addItem(i, "force.plug", "force that closes the plug onto its stops", "N", it.PlugForce, "p(cp) A_plan; least and most over the RSS of Tf, 2 Tp, tw", srcTool)
	}
	b.add("force.press", "force on all plugs together", "press-tool", "N", total, "sum of the plugs", srcTool)
}

// rimFelt is the felt on the rim.
func (b *builder) rimFelt() float64 {
	if b.k.Liner.Wrap == params.WrapPockets {
		return 0
	}
	return b.tf
}
