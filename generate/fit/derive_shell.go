package fit

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/params"
)

// Fixed choices of the shells, mm; design of this tool where no source is named.
const (
	trimDrop   = 1.5  // from the deepest underside down to the trim line
	trimTol    = 0.5  // of a trim by hand along a fence; common practice, no source
	ledgeUnder = 0.5  // from the lowest trimmed edge down to the ledge
	glueGap    = 0.15 // between a support and a pocket's underside
	neckOver   = 1.0  // from the felt on the rim up to the neck's top
	neckClear  = 0.5  // least from the neck's top to the ceiling
	bareClear  = 1.0  // over an item without a pad
	buckUnder  = 4.0  // least buck below the trim line, channels not counted

	channelWidth = 4.0 // of a vent channel
	channelWall  = 1.0 // height of its upright wall

	skirtSqueeze = 0.10 // share, compression of the felt between skirt and base
	feltOnPrint  = 0.22 // friction of felt on a print; felt on dry steel, two makers' tables
	rattles      = 0.5  // a gap each side that rattles: "loose .4-.5", print-service tolerance guide
)

// plan takes the insert's plan at the rim, or estimates it: the box around the
// mouths and notches, and the margin.
func (b *builder) plan() {
	b.d.Insert.Plan = b.geo.Plan
	if !(b.geo.Plan[0] > 0 && b.geo.Plan[1] > 0) {
		b.d.Insert.Plan = b.estimatePlan()
	}
	p := b.d.Insert.Plan
	if (p[0] < p[1]) != (b.d.Former.Area[0] < b.d.Former.Area[1]) {
		b.d.Former.Area[0], b.d.Former.Area[1] = b.d.Former.Area[1], b.d.Former.Area[0]
	}
}

func (b *builder) estimatePlan() [2]float64 {
	box := geom.EmptyBox()
	for i, it := range b.d.Items {
		r := b.geo.Items[i].Reach
		for _, n := range it.Notches {
			r.Front += n.Out * max(-n.Dir.Y, 0)
			r.Back += n.Out * max(n.Dir.Y, 0)
			r.Left += n.Out * max(-n.Dir.X, 0)
			r.Right += n.Out * max(n.Dir.X, 0)
		}
		turn := geom.RotateZ(geom.Angle(b.k.Items[i].Turn) * geom.Degree)
		open := b.d.Pocket.Finished + it.Depth*b.alpha.Tan() + b.d.Insert.Margin
		at := geom.V(b.k.Items[i].At[0], b.k.Items[i].At[1], 0)
		for _, c := range [4]geom.Vec{{X: -r.Left, Y: -r.Front}, {X: r.Right, Y: -r.Front}, {X: r.Right, Y: r.Back}, {X: -r.Left, Y: r.Back}} {
			p := turn.Apply(c).Add(at)
			box = box.Include(p.Sub(geom.V(open, open, 0))).Include(p.Add(geom.V(open, open, 0)))
		}
	}
	s := box.Size()
	return [2]float64{s.X, s.Y}
}

// printing sets what the printer does: widths, walls, tolerances, scale.
func (b *builder) printing() {
	p := b.k.Printer
	w := BeadWidth(b.k)
	tp, formula, src := b.faceTolerance()
	b.tp = tp
	b.add("tp", "printed face tolerance, one side", "", "mm", Fixed(tp), formula, src)
	b.d.Print = PrintDims{
		Width: w, Layer: p.Layer, Nozzle: p.Nozzle, Tp: b.tp, LeastHole: p.LeastHole,
		Bed: geom.V(p.Bed[0], p.Bed[1], p.Bed[2]), Offset: p.Offset, Hole: p.Hole,
		Scale: geom.V(undo(p.Scale[0]), undo(p.Scale[1]), undo(p.Scale[2])),
	}
	b.d.Base.Foot = p.Foot
	short := b.filament.ShrinkScale
	b.add("print.short", "a print of this filament comes out short by, where its scale is not measured", "", "share",
		Span{short.Mid(), short.Least, short.Most}, "1 - k", b.filament.Source)
	for i, axis := range [3]string{"x", "y", "z"} {
		b.add("print.scale."+axis, "printed parts are drawn larger by, along "+axis, "", "", Fixed(b.d.Print.Scale.Axis(i)), "1/k", srcKit)
	}
}

// BeadWidth is the width of one extruded line, mm: the kit's, or what slicing
// programs take for a nozzle; common practice, no source.
func BeadWidth(k *params.Kit) float64 {
	if k.Printer.Width != nil {
		return *k.Printer.Width
	}
	return 1.125 * k.Printer.Nozzle
}

// undo is the factor that takes a measured scale back; 0 is not measured.
func undo(scale float64) float64 {
	if scale == 0 {
		return 1
	}
	return 1 / scale
}

// faceTolerance is what one printed face errs by, one side, and how that is known.
func (b *builder) faceTolerance() (tp float64, formula, source string) {
	if t := b.k.Printer.Tolerance; t != nil {
		return *t, "Tp", srcKit
	}
	size := max(b.d.Insert.Plan[0], b.d.Insert.Plan[1])
	it, ok := ITGrade(13, size)
	if !ok {
		b.problem(b.placed("printer.tolerance", "items"), "are the sizes and places of the items right? if so, give what your printer does", "the insert is %.0f mm long, and ISO 286-1, which gives the tolerance otherwise, stops at 500", size)
	}
	return it / 4, "IT13 / 4 on the insert's longer side", "ISO 286-1:1988 table 1; that a printer holds IT13 is from memory, confirm"
}

// BeadSpacing is the distance between the middles of neighbouring extrusions of a
// width w and layer height, mm: their round sides overlap by what they leave open.
// Common practice of slicing programs.
func BeadSpacing(w, layer float64) float64 { return w - layer*(1-math.Pi/4) }

// PrintWall is the thickness of a wall of n extrusions of a width w and layer height, mm.
func PrintWall(n int, w, layer float64) float64 {
	return w + float64(n-1)*BeadSpacing(w, layer)
}

// wholeWall rounds a wall to whole extrusions, at least one.
func wholeWall(wall, w, layer float64) (int, float64) {
	n := max(1, 1+int(math.Round((wall-w)/BeadSpacing(w, layer))))
	return n, PrintWall(n, w, layer)
}

// bottom sets the trim line and the underside of the buck.
func (b *builder) bottom() {
	deep := math.Inf(1)
	for i := range b.d.Items {
		it := &b.d.Items[i]
		deep = min(deep, it.Under)
		b.addItem(i, "under", "deepest underside of the pocket", "mm", Fixed(it.Under), "-(depth + seat_rise + floor.step + r_buck of its pocket)", srcTool)
	}
	trim := deep - trimDrop
	b.d.Insert.Trim = trim
	b.d.Buck.Bottom = b.d.Buck.Under(trim, deep)
	b.d.Base.TrimDrop, b.d.Base.LedgeDrop, b.d.Base.GlueGap = trimDrop, ledgeUnder+trimTol, glueGap
	b.add("trim", "trim line", "insert", "mm", PlusMinus(trim, trimTol), "-(deepest underside + 1.5)", srcTool)
	b.trimGuide()
	b.add("ledge", "ledge that catches the trimmed edge", "base", "mm", Fixed(trim-b.d.Base.LedgeDrop), "trim - 0.5 - trim tolerance", srcTool)
	b.add("glue.gap", "between a support and the pocket's underside", "base", "mm", Fixed(glueGap), "0.15", srcTool)
	b.add("buck.height", "height of the buck, from the rim", "buck", "mm", Fixed(-b.d.Buck.Bottom-b.d.Insert.Gauge),
		"the more of trim + 4 and deepest + floor, and the channel", srcTool)
}

// Under is the z of the buck's underside, for a trim line and a deepest pocket at
// these heights: the channels lie in what is left below both.
func (d BuckDims) Under(trim, deep float64) float64 {
	channel := d.ChannelH + d.Channel/2
	return min(trim-buckUnder-channel, deep-d.Floor-channel)
}

// skirt sets the thickness of rim and skirt.
func (b *builder) skirt() {
	in := &b.d.Insert
	rim := gauged(in.Gauge)
	t := b.drapedSkirt()
	rimF, skirtF := "t0: the sheet chills on the plateau", "t0 free/sqrt(free² + height²), mean over the sides"
	if f := b.geo.Formed; f != nil {
		rim, t, rimF, skirtF = gauged(f.Rim), gauged(f.Skirt), "simulated, mean by area", "simulated, mean by area"
	}
	in.Rim, in.Skirt, in.SkirtSpan = rim.Nominal, t.Nominal, t
	b.add("t_rim", "thickness of the rim", "insert", "mm", rim, rimF, srcGauge)
	b.add("t_skirt", "thickness of the skirt", "insert", "mm", t, skirtF, "volume balance of a plane strip, "+srcTool)
}

// drapedSkirt is the mean skirt of a drape over the buck, each side as long as
// it is; the extremes are those of the two directions.
func (b *builder) drapedSkirt() Span {
	in := b.d.Insert
	var ratio [2]float64
	for i, area := range b.d.Former.Area {
		if area <= in.Plan[i] {
			a := b.d.Former.Area
			b.problem(b.placed("former.area", "items"), SmallFormer(b.k)+", use a smaller insert.margin, or turn or move an item",
				"the insert is %.0f x %.0f mm, and the free sheet of the former %.0f x %.0f", in.Plan[0], in.Plan[1], a[0], a[1])
			return Span{}
		}
		ratio[i] = Drape(area/2, in.Plan[i]/2, -b.d.Buck.Bottom-in.Gauge)
	}
	mean := (ratio[0]*in.Plan[1] + ratio[1]*in.Plan[0]) / (in.Plan[0] + in.Plan[1])
	return Span{
		in.Gauge * mean,
		in.Gauge * min(ratio[0], ratio[1]) * (1 - GaugeSpread),
		in.Gauge * max(ratio[0], ratio[1]) * (1 + GaugeSpread),
	}
}

// SmallFormer is the first thing to do about a former that is too small. A kit that
// does not say which former it is for is asked to name it.
func SmallFormer(k *params.Kit) string {
	if k.Given("former.area") || k.Former.Name != "" {
		return "take a larger former"
	}
	return "name your former"
}

// vents sets holes and channels.
func (b *builder) vents() {
	d := &b.d.Buck
	p, mu, t := b.d.Former.Vacuum, b.sheet.Mu.Least, b.d.Insert.WallThin
	least := b.d.Print.LeastHole
	formula, src := "largest whose dimple stays 0.1, at most 1.5; drilled when the printer cannot print it", srcTool
	if b.k.Buck.Vent.Diameter != nil {
		d.VentDia = *b.k.Buck.Vent.Diameter
		formula, src = "as given", srcKit
	} else {
		d.VentDia = largestVent(t, p, mu)
	}
	d.VentDrill = d.VentDia < least
	d.VentDrawn = d.VentDia - b.d.Print.Hole
	d.Dimple = Dimple(d.VentDia, t, p, mu)
	burst := d.VentDia / 2 // a hemisphere: the highest mark before the sheet bursts
	marks := Span{
		min(d.Dimple, burst), min(Dimple(d.VentDia, t, p, b.sheet.Mu.Most), burst),
		min(Dimple(d.VentDia, t*(1-GaugeSpread), p, mu), burst),
	}
	d.ChannelGap = channelGap(b.d.Former.Pitch, b.d.Former.Hole, d.Channel)
	b.add("vent.diameter", "diameter of a vent", "buck", "mm", Fixed(d.VentDia), formula, src)
	b.add("vent.dimple", "mark that a vent leaves", "buck", "mm", marks, "k d/2, P = p d/(2 mu t), k = (2 - sqrt(4 - P²))/P; d/2 when it bursts", "membrane cap, derived; its pole is Hill's bulge test, 1950; mu is an order of magnitude")
	b.add("channel.gap", "spacing of the vent channels", "buck", "mm", Fixed(d.ChannelGap), "p (q - 1)/q, q = ceil(p/(4 + d - 2))", srcTool)
	if d.Bore < d.VentDia {
		b.problem("buck.vent.bore", "a bore is wider than its vent", "%g mm is narrower than the vent, %.2f", d.Bore, d.VentDia)
	}
}

// stack adds tolerances up the way the kit asks for.
func (b *builder) stack(t ...float64) (float64, string) {
	if b.k.Shell.Slip.Stack == params.StackWorst {
		return Worst(t...), "worst case"
	}
	return RSS(t...), "RSS"
}

// base sets the base: its walls, the neck, the gap round the insert.
func (b *builder) base() {
	k, d := b.k.Shell, &b.d.Base
	n, wall := wholeWall(k.Wall, b.d.Print.Width, b.d.Print.Layer)
	d.NeckWall, b.d.Lid.Wall = wall, wall
	d.Floor, d.Neck, d.NeckTop = k.Floor, k.Neck, b.rimFelt()+neckOver
	d.SkirtFelt = b.k.Liner.Wrap == params.WrapSkirt
	b.add("wall", "neck and lid wall", "base, lid", "mm", Fixed(wall), "w + (n - 1)(w - layer (1 - pi/4))", srcCP)
	b.add("wall.count", "extrusions in a wall", "base, lid", "", Fixed(float64(n)), "nearest whole n", srcTool)
	b.add("neck.top", "top of the neck above the rim", "base", "mm", Fixed(d.NeckTop), "felt on the rim + 1", srcTool)
	b.neck()
	if d.SkirtFelt {
		b.feltSkirt()
	} else {
		b.bareSkirt()
	}
}

// neck keeps the shoulder above the ledge: a neck that was not typed is
// shortened, one that was is a problem.
func (b *builder) neck() {
	d := &b.d.Base
	most := d.NeckTop - (b.d.Insert.Trim - d.LedgeDrop)
	if d.Neck > most {
		if b.k.Given("shell.neck") {
			b.problem("shell.neck", "a deeper pocket or a shorter neck", "%g mm is longer than the base is deep, %.1f", d.Neck, most)
		}
		d.Neck = math.Floor(most)
	}
	b.add("shoulder", "shoulder that the lid lands on", "base", "mm", Fixed(d.NeckTop-d.Neck), "neck.top - neck", srcTool)
}

// formedTol is what a formed size errs by, one side, on the whole size in mm.
// Source: shop guide: +-0.76 up to 305 mm, then 0.001 mm a mm more.
func formedTol(size float64) float64 { return 0.76 + 0.001*max(size-305, 0) }

// bareSkirt is the clearance of the sheet in the base.
func (b *builder) bareSkirt() {
	size := max(b.d.Insert.Plan[0], b.d.Insert.Plan[1]) - 2*b.d.Insert.Trim*b.d.Insert.Draft.Tan()
	tol := []float64{b.tp, b.tp, formedTol(size) / 2, b.shrinkTol(size / 2)}
	stack, how := b.stack(tol...)
	least := b.k.Shell.Slip.Least
	gap := least + stack
	b.d.Base.InsertGap = gap + b.d.Print.Offset
	b.add("insert.gap", "clearance of the insert in the base, each side", "base", "mm", PlusMinus(gap, stack),
		"least + "+how+" of 2 Tp, formed tolerance, shrink spread", srcTool+"; formed +-0.76 mm to 305 mm: shop guide")
}

// feltSkirt is the gap that the felt on the skirt fills, and what it takes to
// push the insert in. The base's wall is upright and the skirt drafted, so the
// felt is tightest at the trim line and the work of compressing it, summed up
// the wall, gives the force on it: N = perimeter tf U(e)/tan(draft).
func (b *builder) feltSkirt() {
	gap := b.tf*(1-skirtSqueeze) + b.g
	b.d.Base.InsertGap = gap + b.d.Print.Offset
	b.add("insert.gap", "gap between skirt and base, filled with felt, each side", "base", "mm", Fixed(gap), "tf (1 - c_skirt) + g, c_skirt = 10 %", srcTool)
	size := max(b.d.Insert.Plan[0], b.d.Insert.Plan[1])/2 - b.d.Insert.Trim*b.d.Insert.Draft.Tan()
	s := b.d.Insert.SkirtSpan
	built := Stack{Gap: gap - b.g, Free: b.tf, Thick: b.tfTol, Gaps: []float64{
		b.tp, b.tp, (s.Most - s.Least) / 2, b.shrinkTol(size),
	}}
	rss := built.RSS()
	b.add("insert.compression", "compression of the felt between skirt and base", "base", "share", built.Worst(), "1 - (gap - g +- stack)/tf, worst case of 2 Tp, Tf, t_skirt, shrink", srcTool)
	b.add("insert.compression.rss", "the same, independent errors", "base", "share", rss, "RSS", srcTool)
	b.add("force.insert", "force that pushes the insert into the base", "base", "N",
		Span{b.pushIn(rss.Nominal), b.pushIn(rss.Least), b.pushIn(rss.Most)},
		"mu perimeter tf U(e)/tan(draft), over the RSS of e", "derived; friction of felt .22: two makers' tables for steel")
}

// pushIn is the friction of the felt round the skirt at a compression e at the
// trim line; it fades to nothing upwards, at the latest at the rim.
func (b *builder) pushIn(e float64) float64 {
	height, tan := -b.d.Insert.Trim, b.d.Insert.Draft.Tan()
	round := b.perimeter(height*tan) * feltOnPrint / 1000
	if height*tan < 1e-6 {
		return round * height * b.liner.Pressure(b.liner.Working(e))
	}
	e = b.liner.Working(e)
	top := e - height*tan/b.tf
	return round * b.tf * (b.liner.Energy(e) - b.liner.Energy(top)) / tan
}
