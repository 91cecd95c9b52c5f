package fit

import "buckwright/generate/geom"

// asBuilt sums the compressions up over every tolerance.
func (b *builder) asBuilt() {
	pads := Span{}
	for i := range b.d.Items {
		b.wallBuilt(i)
		pads = pads.Plus(b.padBuilt(i))
	}
	b.lidCloses()
	b.add("force.pads", "force of all pads on the lid", "lid", "N", pads, "sum of the pads", srcTool)
}

// wallBuilt is the liner's compression on an item's walls, and how much of the
// walls it touches.
func (b *builder) wallBuilt(i int) {
	it, geo := &b.d.Items[i], b.geo.Items[i]
	w := it.Wall
	far := max(geo.Reach.Left, geo.Reach.Right, geo.Reach.Front, geo.Reach.Back)
	s := Stack{Gap: b.d.Pocket.Finished - b.g, Free: b.tf, Thick: b.tfTol, Gaps: []float64{
		b.tq, b.tp, (w.Most - w.Least) / 2, b.shrinkTol(far),
	}}
	it.Built = s.built()
	src := "gap - g = item to felt; tolerances of product, print, felt, sheet, shrinkage"
	b.addItem(i, "compression.worst", "liner compression on the walls, worst case", "share", it.Built.Worst, "1 - (gap - g +- stack)/(tf +- Tf)", src)
	b.addItem(i, "compression.rss", "liner compression on the walls, independent errors", "share", it.Built.RSS, "RSS", "once the printer is calibrated; "+src)
	b.addItem(i, "compression.drawn", "liner compression on the walls, 1 % to 99 % of 20000 drawn", "share", it.Built.Drawn, "Monte-Carlo with a fixed start, normal, 3 sigma, clipped", srcTool)
	b.addItem(i, "compression.loose", "chance that the liner does not touch a wall", "share", Fixed(it.Built.Loose), "share of the drawn below 0", srcTool)
	it.Contact = min(contactBand(b.tf*b.c, b.alpha.Sin()), it.Depth/b.alpha.Cos())
	b.addItem(i, "contact", "liner would touch an upright wall up to, from its foot", "mm", Fixed(it.Contact), "tf c / sin(draft), at most the depth", srcTool)
	b.addItem(i, "force.grip", "pull that upright walls would hold against", "N", Fixed(b.wallHold(i)), "N (mu cos - sin), N = round tf U(c)/sin(draft)", "derived; friction: "+b.lining.Source)
}

// contactBand is how far up a drafted wall a squeeze lasts.
func contactBand(squeeze, sin float64) float64 {
	if sin*1e6 < squeeze {
		return 1e6
	}
	return squeeze / sin
}

// wallHold is the pull that an item's walls would hold against, were they upright;
// the pressure fades up the wall as the draft opens the gap.
func (b *builder) wallHold(i int) float64 {
	it, geo := b.d.Items[i], b.geo.Items[i]
	area := geo.WallArea
	if area == 0 {
		area = 2 * (geo.Reach.Long() + geo.Reach.Wide()) * it.Depth
	}
	round, sin := area/it.Depth, b.alpha.Sin()
	var n float64
	if sin < 1e-6 {
		n = b.liner.Pressure(b.c) / 1000 * area
	} else {
		top := b.c - it.Contact*sin/b.tf
		n = round * b.tf * (b.liner.Energy(b.c) - b.liner.Energy(top)) / sin / 1000
	}
	return hold(n, b.lining.Friction, b.alpha)
}

// hold is the pull, N, that friction mu on a wall pressed by n resists when the
// wall leans back by the draft; 0 when the wall lets go by itself. Balance of
// forces on a wedge.
func hold(n, mu float64, draft geom.Angle) float64 {
	return max(n*(mu*draft.Cos()-draft.Sin()), 0)
}

// padBuilt is the compression of an item's pad, worst case, and its force.
func (b *builder) padBuilt(i int) Span {
	it := &b.d.Items[i]
	if it.PadArea == 0 {
		return Span{}
	}
	it.Pad = b.padStack(it).built()
	b.addItem(i, "pad.compression", "compression of the pad", "share", it.Pad.Worst, "1 - (gap +- stack)/(tn +- Tn), worst case of 2 Tq, 2 Tp, Tf, tw", srcTool)
	b.addItem(i, "pad.compression.rss", "compression of the pad, independent errors", "share", it.Pad.RSS, "RSS", srcTool)
	f := Span{
		it.PadForce,
		b.padLow.Pressure(b.pad.Working(it.Pad.Worst.Least)) / 1000 * it.PadArea,
		b.padTop.Pressure(b.pad.Working(it.Pad.Worst.Most)) / 1000 * it.PadArea,
	}
	b.addItem(i, "force.pad", "force of the pad", "N", f, "p(e) A_pad, softest liner loosest to stiffest tightest", srcTool)
	return f
}
