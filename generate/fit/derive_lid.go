package fit

import (
	"math"

	"buckwright/params"
)

// The catch, mm; design of this tool where no source is named.
const (
	catchReach  = 0.5  // that a bead reaches behind its edge
	catchLeast  = 0.1  // that it must still reach in the worst case
	tongueWidth = 12.0 // of a spring tongue
	tongueShort = 8.0  // its least length
	tongueRoot  = 2.0  // of lid wall above it
	tongues     = 4
	grooveShare = 0.6 // most of a tongue's thickness that the bead's groove may take
	acrossLayer = 0.5 // share of its strain that a filament bears across its layers; common practice, no source
)

// The other closures; common practice, no source. The kit's closure.holds replaces
// the forces.
const (
	bandHolds   = 15.0 // N
	sealHolds   = 15.0 // N
	magnetHolds = 5.0  // N a pair of discs, some tenths of a millimetre apart
	magnetDia   = 6.0  // mm; discs of 6 x 3 are sold everywhere
	magnetH     = 3.0  // mm
	magnetGlue  = 0.1  // mm of glue round a disc and under it, so that it does not stand proud
)

// lid sets the slip fit, the ceiling and the pads.
func (b *builder) lid() {
	d := &b.d.Lid
	b.slip()
	d.Top, d.Label = b.k.Shell.Floor, b.k.Shell.Label == params.LabelGroove
	d.Pads, d.Full = b.k.LidLiner.Pads == params.PadsAuto, b.k.LidLiner.Pads == params.PadsFull
	d.Liner = b.tn
	d.Ceiling = b.ceiling()
	b.add("lid.ceiling", "ceiling of the lid above the rim", "lid", "mm", Fixed(d.Ceiling),
		"most of h + tn (1 - cn) over the items, felt on the rim + tn, neck + 0.5", srcTool)
}

// slip is the fit of the lid on the neck.
func (b *builder) slip() {
	least := b.k.Shell.Slip.Least
	stack, how := b.stack(b.tp, b.tp)
	fit := least + stack
	b.d.Lid.Slip = fit + 2*b.d.Print.Offset
	b.add("slip.side", "clearance of lid on neck, each side", "lid", "mm", PlusMinus(fit, stack), "least + "+how+" of Tp, Tp", srcTool)
	b.add("slip.drawn", "the same as drawn for this printer", "lid", "mm", Fixed(b.d.Lid.Slip), "slip.side + 2 offset", srcTool)
	b.add("slip.worst", "the same over the worst case", "lid", "mm", PlusMinus(fit, Worst(b.tp, b.tp)), "slip.side +- 2 Tp", srcTool)
	either := func(p float64) float64 { return 1 - (1-p)*(1-p) }
	jam := either(gapChance(fit, 0, b.tp))
	rattle := either(1 - gapChance(fit, rattles, b.tp))
	b.add("slip.jam", "chance that the lid jams", "lid", "share", Fixed(jam), "1 - (1 - Phi(-slip/s))², s = sqrt(2) Tp/3", "normal distribution, Tp three standard deviations")
	b.add("slip.rattle", "chance that the lid rattles: more than 0.5 mm each side", "lid", "share", Fixed(rattle), "1 - Phi((0.5 - slip)/s)², likewise", "loose .4-.5 mm: print-service tolerance guide")
	if b.d.Lid.Slip <= 0 || fit-stack < 0 {
		b.problem("shell.slip.least", "0.1 is usual", "%g leaves no clearance", least)
	}
}

// closure sets what holds the lid.
func (b *builder) closure() {
	d := &b.d.Closure
	d.Kind = string(b.k.Closure.Kind)
	for _, it := range b.d.Items {
		d.Pads += it.PadForce
	}
	holds, formula, src := Span{}, "no closure", srcTool
	switch b.k.Closure.Kind {
	case params.ClosureCatch:
		holds, formula, src = b.catch(), "n P (mu + tan 45)/(1 - mu tan 45), P = w t³ E y/(4 L³)", "cantilever snap fit, Bonenberger 2000; from memory, confirm"
	case params.ClosureBand:
		holds, formula, src = Fixed(bandHolds), "an elastic band", srcCP
	case params.ClosureMagnets:
		holds, formula, src = b.magnets(), "5 N a pair of discs of 6 x 3, nearly touching", srcCP
	case params.ClosureSeal:
		holds, formula, src = Fixed(sealHolds), "a label across the joint", srcCP
	}
	if h := b.k.Closure.Holds; h != nil {
		holds, formula, src = Fixed(*h), "as given", srcKit
	}
	d.Holds = holds.Nominal
	b.add("closure.holds", "force that the closure holds", "lid", "N", holds, formula, src)
}

// magnets sizes the bores for two pairs of discs, four if two hold too little.
func (b *builder) magnets() Span {
	d := &b.d.Closure
	d.Pairs = 2
	if r, ok := b.d.Row("force.pads"); ok && 2*magnetHolds < r.Most {
		d.Pairs = 4
	}
	d.MagnetDia, d.MagnetH = magnetDia, magnetH
	d.MagnetBore, d.MagnetDeep = magnetDia+2*magnetGlue-b.k.Printer.Hole, magnetH+magnetGlue
	b.add("magnet.bore", "bores for discs of 6 x 3 mm, as drawn for this printer", "base and lid", "mm", Fixed(d.MagnetBore), "disc + 2 x 0.1 of glue - measured hole offset", srcCP)
	b.add("magnet.depth", "depth of these bores from the joint", "base and lid", "mm", Fixed(d.MagnetDeep), "disc + 0.1 of glue", srcCP)
	b.add("magnet.discs", "discs, one half of them in the lid, unlike poles facing", "base and lid", "", Fixed(float64(2*d.Pairs)), "two pairs, four when the stiffest pads press harder", srcTool)
	return Fixed(float64(d.Pairs) * magnetHolds)
}

// catch sizes the spring tongues: the shortest that bends over the bead within
// the filament's strain, the bead's reach cut when none is long enough, or when its
// groove would take too much of the tongue.
func (b *builder) catch() Span {
	d := &b.d.Closure
	longest := b.d.Lid.Ceiling - (b.d.Base.NeckTop - b.d.Base.Neck) - tongueRoot
	stack, _ := b.stack(b.tp, b.tp)
	t := Tongue{
		Width: tongueWidth, Thick: b.d.Lid.Wall, Modulus: b.filament.Modulus,
		Friction: b.filament.Friction, Ramp: 1,
	}
	gap := b.d.Lid.Slip - 2*b.d.Print.Offset
	y := min(catchReach, grooveShare*t.Thick-gap)
	if y-stack < catchLeast {
		b.problem(b.placed("closure.kind", "shell.wall", "printer.tolerance"), "a thicker shell.wall, a closer printer, or another closure",
			"a wall of %.2f leaves too little of a tongue behind the groove of a bead that holds", t.Thick)
		return Span{}
	}
	safe := acrossLayer * b.filament.SafeStrain
	for t.Length = tongueShort; t.Length < longest && t.Strain(y+stack) > safe; t.Length += 0.5 {
	}
	t.Length = min(t.Length, longest)
	if t.Length > 0 && t.Strain(y+stack) > safe {
		y = safe/t.Strain(1) - stack
	}
	if !(t.Length > 0 && y-stack >= catchLeast) {
		b.problem(b.placed("closure.kind", "shell.wall", "shell.neck", "printer.tolerance", "items"), "a thinner shell.wall, a longer shell.neck, a closer printer, or another closure",
			"a tongue %.1f long and %.2f thick cannot bend over a bead that still holds", max(t.Length, 0), t.Thick)
		return Span{}
	}
	d.Tongues, d.TongueW, d.TongueL = tongues, t.Width, t.Length
	d.Catch, d.Bead = y, y+gap
	d.Strain = Span{t.Strain(y), t.Strain(y - stack), t.Strain(y + stack)}
	b.add("catch.bead", "height of the bead on the neck", "base", "mm", Fixed(d.Bead), "slip + reach behind the edge", srcTool)
	b.add("catch.reach", "reach of the bead behind its edge", "base", "mm", PlusMinus(y, stack), "0.5, or what the filament and 0.6 of the tongue bear", srcTool)
	b.add("catch.strain", "strain of a tongue as the lid goes on", "lid", "share", d.Strain, "1.5 t y / L²", "cantilever beam, Roark; from memory, confirm")
	b.add("catch.safe", "strain that the filament bears often across its layers", "lid", "share", Fixed(safe), "half the filament's", "half: "+srcCP+"; "+b.filament.Source)
	force := func(y float64) float64 { return tongues * t.Along(y) }
	if math.IsInf(force(y), 1) {
		b.problem("printer.material", "another filament, or another closure", "its friction locks a 45 degree catch")
	}
	return Span{force(y), force(y - stack), force(y + stack)}
}
