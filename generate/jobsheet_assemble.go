package generate

import (
	"fmt"
	"slices"

	"buckwright/generate/export"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/params"
)

// assembleSection goes from the formed sheet to the closed case.
func (r *Result) assembleSection(shelf pictures) export.Section {
	steps := []export.Step{r.trimStep(), r.dryStep(), r.washStep()}
	if r.Dims.Press.Nest {
		steps = append(steps, r.feltStep(shelf), r.glueStep())
	} else { // the base's supports carry the pockets while the felt is pressed
		steps = append(steps, r.glueStep(), r.feltStep(shelf))
	}
	for _, s := range []export.Step{r.padStep(), r.closureStep(), r.labelStep(), r.tryStep()} {
		if s.Title != "" {
			steps = append(steps, s)
		}
	}
	return export.Section{ID: "assemble", Title: "Line and assemble", Block: export.Block{
		Figures: slices.Concat(shelf.figures("exploded", ""),
			wide(shelf.figures("section-", "-along-packed")), wide(shelf.figures("section-", "-along-tools"))),
		Steps: steps,
	}}
}

func (r *Result) trimStep() export.Step {
	in, seat := r.Dims.Insert, r.Dims.Trim.Seat
	return export.Step{Title: "Trim the insert",
		Do: []string{
			"Without the trim guide, scribe the line first, while the flange is still on: stand the trim band, cut out of flats, on the flange round the skirt and scribe along its upper edge.",
			fmt.Sprintf("Cut the flange off with snips along the foot of the skirt, where it bends out flat: the line to trim to lies %s above the flange. Keep the offcuts to try the cement on. Stand the insert on its rim on a flat table, underside up.", mm(1, r.Layout.Trim-r.Layout.Bottom-in.Gauge)),
			fmt.Sprintf("With the trim guide: stand it beside the insert, its face against the skirt, number up, and lay the blade flat on its land, its point standing out by the sheet and no more: it then cuts %s above the table. Hold it there with an M4 screw and a wide washer in the hole of the land, and clamp the guide's lower deck to the table; or hold both down by hand, the knife's handle over the deck. Turn the insert past the blade in several light passes, fingers away from it.", mm(1, -in.Trim)),
			"Without the guide, cut along the scribed line with snips and take the last of it down with a file or abrasive paper on a block.",
			"Take the burr off. Check the height at the four corners and in the middle of each side.",
		},
		Block: export.Block{
			Facts: []export.Fact{
				{Name: "trim height", Value: mm(1, -in.Trim) + " ± " + fixed(1, in.TrimTol)},
				{Name: "blade for the trim guide", Value: mm(1, r.trimBlade()) + " thick; it lies on " + mm(2, seat)},
				{Name: "length × width at the cut", Value: mm(1, r.trimmed(0), r.trimmed(1))},
			},
			Cautions: []export.Caution{{
				Text:  "Cut away from the hand that holds, wear a cut-resistant glove on it: the guide holds the blade, not the hand. Trimmed edges are sharp until they are deburred. A router or saw needs its guard, and eye protection.",
				Defer: "the maker of the knife or machine",
			}},
		},
	}
}

// trimBlade is the thickness, mm, of the blade that the trim guide is made for.
func (r *Result) trimBlade() float64 { return 2 * (-r.Dims.Insert.Trim - r.Dims.Trim.Seat) }

// trimmed is the insert's length (0) or width (1) at its cut edge, product side.
func (r *Result) trimmed(axis int) float64 {
	l := r.Layout
	half := l.Half.X
	if axis == 1 {
		half = l.Half.Y
	}
	return 2 * (half - l.Trim*r.Dims.Insert.Draft.Tan())
}

func (r *Result) dryStep() export.Step {
	d := r.Dims
	lid := "Close the lid over the empty case: it goes down onto the shoulder by itself or with one finger."
	if r.Kit.Closure.Kind == params.ClosureCatch {
		lid = "Close the lid over the empty case: it slides down freely and the catches click as it lands on the shoulder."
	}
	return export.Step{Title: "Try it dry",
		Do: []string{
			fmt.Sprintf("Set the insert into the base without felt or cement. It must go down until its pockets stand on the supports; its rim then lies %s under the neck's edge.", mm(2, d.Base.NeckTop+d.Base.GlueGap)),
			"Put the items into the bare pockets: each has room all round for the felt and does not stick in the mouth.",
			"Set the press tool on: its plugs go in without scraping the walls.",
			lid,
		},
		Block: export.Block{Facts: []export.Fact{
			{Name: "room round an item, felt not in", Value: mm(2, d.Pocket.Finished)},
			{Name: "insert in base, each side", Value: mm(2, r.row("insert.gap"))},
			{Name: "lid on neck, each side", Value: mm(2, r.row("slip.side"))},
		}},
	}
}

// washStep makes the insert and the cement ready for each other.
func (r *Result) washStep() export.Step {
	return export.Step{Title: "Wash the insert, try the cement", Do: []string{
		"Wash the insert on both sides with lukewarm water and a little washing-up liquid, rinse, let it dry: the release agent or talc from the buck is on its underside and skirt, and cement does not hold on it.",
		fmt.Sprintf("Try the cement a day before on the thinnest offcut of the formed %s and on a scrap of the %s print: its solvent can soften, craze or warp a thin sheet. Another cement if it does, or if it peels off.", r.sheet.Title, r.filament.Title),
	}, Block: export.Block{Cautions: []export.Caution{solventCaution(true)}}}
}

// row is a derived value by its ID; 0 when this kit has none such.
func (r *Result) row(id string) float64 {
	row, _ := r.Dims.Row(id)
	return row.Nominal
}

// solventCaution stands at every step that opens a tin of cement, whole at the
// first.
func solventCaution(first bool) export.Caution {
	const last = "the cement's safety data sheet, sections 2 and 8, and your local fire code"
	if !first {
		return export.Caution{Text: "Cement again: no heater, spark or flame near, ventilate, gloves on, let the solvent flash off.", Defer: last}
	}
	return export.Caution{
		Text:  "Contact cement is highly flammable and its vapour creeps along the floor to a flame or heater far away: never near the forming heater, no spark, no flame. Ventilate, wear gloves, close the tin. Let all solvent flash off before the tool is closed over it.",
		Defer: last,
	}
}

func (r *Result) feltStep(shelf pictures) export.Step {
	d, k := r.Dims, r.Kit
	press := "With the insert in the base, set the press tool on"
	if d.Press.Nest {
		press = "Put the insert on the press nest, set the press tool on"
	}
	seam := "; seams at the mouth"
	if k.Liner.Wrap == params.WrapPockets {
		seam = " up to where the mouth begins to round; a little stands over there until it is trimmed"
	}
	s := export.Step{Title: "Lay the felt " + wrapText(k.Liner.Wrap),
		Do: []string{
			"Lay every piece of felt in dry and mark which is which.",
			"Brush cement thinly on felt and sheet, " + mm(1, k.Liner.Cement) + " together; wait until both feel dry, as long as the cement's sheet says.",
			"Lay the floors first, from the middle outwards, then the walls" + seam + ". What touches, holds.",
		},
		Block: export.Block{Cautions: []export.Caution{solventCaution(false)}},
	}
	switch k.Liner.Wrap {
	case params.WrapSkirt:
		s.Do = append(s.Do, "Lay the rim, then fold the felt down the skirt and trim it flush with the cut edge.")
	case params.WrapRim:
		s.Do = append(s.Do, "Lay the rim; what stands over its edge is trimmed off flush.")
	}
	s.Do = append(s.Do,
		press+" and press until its stops are down; hold it as long as the cement's sheet says.",
		"Lift the press tool straight off. Press folds down with a blunt bone or spoon.",
	)
	if k.Liner.Wrap == params.WrapPockets {
		s.Do = append(s.Do, "Trim the walls' upper edge with a sharp blade, drawn along the felt and not into the sheet.")
	}
	s.Figures = shelf.figures("liner", "")
	s.Facts = []export.Fact{
		{Name: "pressure on the felt", Value: fixed(0, d.Press.Pressure) + " kPa"},
		{Name: "wait before closing, min (cement's sheet)", Value: toFill},
		{Name: "press time, min (cement's sheet)", Value: toFill},
	}
	for _, it := range d.Items {
		s.Facts = append(s.Facts, export.Fact{Name: "force on the plug of " + it.Name, Value: newtons(it.PlugForce.Nominal)})
		if it.PlugForce.Most > handMost {
			s.Cautions = append(s.Cautions, export.Caution{
				Text:  fmt.Sprintf("Felt at the thick end of its tolerance takes up to %s on the plug of %s, more than hands give: clamp the tool between boards, slowly and evenly, fingers clear.", newtons(it.PlugForce.Most), it.Name),
				Defer: "the maker of the clamp or press",
			})
		}
	}
	return s
}

// handMost is the force, N, above which a plug is not pressed by hand alone;
// common practice, no source.
const handMost = 300.0

func (r *Result) glueStep() export.Step {
	d := r.Dims
	pads := r.padTable()
	s := export.Step{Title: "Glue the insert into the base",
		Do: []string{
			fmt.Sprintf("Spread cement thinly on the %s of the base and on the undersides of the pockets that stand on them; wait as the cement's sheet says.", some(len(pads.Rows), "glue pad")),
			"Lower the insert level. What touches, holds: look from both sides first.",
			fmt.Sprintf("Press on the rim, not on the floors, until it lies %s under the neck's edge all round.", mm(1, d.Base.NeckTop)),
			"Load it with a few hundred grams as long as the cement's sheet says.",
		},
		Block: export.Block{Cautions: []export.Caution{solventCaution(false)}, Facts: []export.Fact{
			{Name: "room for cement on a pad", Value: mm(2, d.Base.GlueGap)},
			{Name: "rim below the neck's edge", Value: mm(1, d.Base.NeckTop)},
		}, Tables: []export.Table{pads}},
	}
	if d.Base.SkirtFelt {
		row, _ := d.Row("force.insert")
		s.Facts = append(s.Facts, export.Fact{Name: "push on the rim to get it in", Value: newtons(row.Nominal)})
	}
	return s
}

// padTable lists the glue pads on the base's floor.
func (r *Result) padTable() export.Table {
	t := export.Table{Caption: "Glue pads of the base, mm", Heads: []export.Head{
		{Text: "under the pocket of"}, {Text: "length × width", Kind: export.Number},
		{Text: "middle at x, y from the middle of the base", Kind: export.Number}, {Text: "cemented", Kind: export.Tick},
	}}
	for _, b := range r.gluePads() {
		size, mid := b.Size(), b.Center()
		t.Rows = append(t.Rows, []string{r.nearestItem(mid.XY()), sizes(0, size.X, size.Y), r.fromMiddle(mid), ""})
	}
	return t
}

// gluePads are the raised places of the base's floor as they are seen: supports
// that run into each other are one. Boxes of the plan.
func (r *Result) gluePads() (out []geom.Box) {
	for _, s := range r.Layout.Supports() {
		pad := geom.Box{Min: s.At.Sub(s.Half).At(0), Max: s.At.Add(s.Half).At(0)}
		for i := 0; i < len(out); i++ {
			if !out[i].Intersect(pad).Empty() { // one that grew may meet those it passed
				pad, out, i = pad.Union(out[i]), slices.Delete(out, i, i+1), -1
			}
		}
		out = append(out, pad)
	}
	return out
}

// spongeTrial comes before any sponge is cemented; common practice, no source.
const spongeTrial = "Beforehand, leave a scrap of the sponge on the product for some days: rubber can mark finishes and tarnish silver and brass."

func (r *Result) padStep() export.Step {
	if rows := r.padRows(); rows != nil {
		return export.Step{Title: "Line the lid", Do: []string{
			spongeTrial,
			"Cut the pads and cement each under the lid, in the middle over its item.",
		}, Block: export.Block{Cautions: []export.Caution{solventCaution(false)}, Tables: []export.Table{{
			Caption: "Pads", Heads: []export.Head{{Text: "pad"}, {Text: "length × width, mm", Kind: export.Number}, {Text: "thick, mm", Kind: export.Number}, {Text: "where"}},
			Rows: rows,
		}}}}
	}
	if !r.Dims.Lid.Full {
		return export.Step{}
	}
	return export.Step{Title: "Line the lid", Do: []string{
		spongeTrial,
		fmt.Sprintf("Cement the %s sponge over the whole ceiling, clear of the neck's path.", mm(2, r.Dims.Lid.Liner)),
	}, Block: export.Block{Cautions: []export.Caution{solventCaution(false)}}}
}

func (r *Result) closureStep() export.Step {
	switch c := r.Dims.Closure; r.Kit.Closure.Kind {
	case params.ClosureCatch:
		return export.Step{Title: "Try the catches", Do: []string{
			fmt.Sprintf("Close and open the lid ten times: all %d catches click, none whitens at its root.", c.Tongues),
			"To open, push up at the thumb dishes, one end first.",
		}}
	case params.ClosureBand:
		return export.Step{Title: "Fit the band", Do: []string{"Lay the band into the grooves of lid and base; it runs once round the middle."}}
	case params.ClosureMagnets:
		return export.Step{Title: "Set the magnets", Do: []string{
			"Mark one pole of every magnet: base and lid must attract. Try before any cement is on.",
			fmt.Sprintf("Cement the %d magnets into their bores at the joint, half of them in the lid, none standing proud; let it set with the case open.", 2*c.Pairs),
		}, Block: export.Block{Cautions: []export.Caution{
			{Text: "Loose magnets are dangerous if swallowed and snap together on skin; keep them from children, pacemakers and the product's own sensors.", Defer: "the maker of the magnets"},
			solventCaution(false),
		}}}
	case params.ClosureSeal:
		return export.Step{Title: "Seal", Do: []string{"Lay the label across the joint when the case is packed."}}
	}
	return export.Step{}
}

func (r *Result) labelStep() export.Step {
	if !r.Dims.Lid.Label {
		return export.Step{}
	}
	return export.Step{Title: "Label", Do: []string{"Wipe the lid, lay the label inside the groove, rub it down from the middle."}}
}

// howOut is how an item is taken hold of.
func howOut(it params.Item) string {
	if len(it.Notch) == 0 {
		return " by what stands above the rim"
	}
	return " by its notches"
}

// linerOf is what the liner does to an item; nil when it was not mapped.
func (r *Result) linerOf(item int) *forming.LinerMap {
	if item < len(r.Liners) {
		return r.Liners[item]
	}
	return nil
}

func (r *Result) tryStep() export.Step {
	do := []string{"Wait until all solvent is gone: a day in the open, or what the cement's sheet says."}
	var facts []export.Fact
	for i, it := range r.Dims.Items {
		do = append(do, "Press "+it.Name+" home with a flat hand; it rests on the felt and comes out again"+howOut(r.Kit.Items[i])+".")
		if m := r.linerOf(i); m != nil {
			facts = append(facts,
				export.Fact{Name: it.Name + ": push until it is home", Value: newtons(max(m.Push, 0))},
				export.Fact{Name: it.Name + ": pull until it is out", Value: newtons(m.Pull)})
		}
	}
	do = append(do,
		"Close the lid, turn the case over, shake it: nothing moves or rattles and the lid stays.",
		"Leave it closed over night, open it, and look for marks of felt and sponge on the product.",
		"Fill in the rest of the inspection card.",
	)
	return export.Step{Title: "Try the case", Do: do, Block: export.Block{Facts: facts, Cautions: []export.Caution{{
		Text:  "The liner keeps scuffs and rattles away; it does not protect from drops: that is the outer carton's work. Nothing here is made for food, medical use or children. Wool draws moths and some skins do not bear it.",
		Defer: "your own trial with the packed case",
	}}}}
}
