package params

// kitRows are all keys of a kit file, in the order in which they are explained.
func kitRows(k *Kit) []row {
	return []row{
		{"kit", nameText(&k.Name), "", true, "name of the kit; files and folders are called after it"},
		{"items", itemList(&k.Items), "", true, "what is packed: the product and what goes with it"},
		{"tolerance", section{rows: []row{
			{"product", number{&k.Tolerance.Product, length, 0, 5}, "0.2", false, "how far a face of the product may be off, one side"},
		}}, "", false, "tolerance of the product itself"},
		{"liner", section{rows: linerRows(k), check: linerCheck(k)}, "", false, "felt in the pockets"},
		{"lid_liner", section{rows: lidLinerRows(k), check: lidLinerCheck(k)}, "", false, "sponge under the lid"},
		{"closure", section{rows: closureRows(k)}, "", false, "what holds the lid"},
		{"sheet", section{rows: sheetKeyRows(k)}, "", false, "the sheet that is formed"},
		{"former", named{&k.Former.Name, "former", section{rows: formerKeyRows(k), check: formerCheck(k)}}, "", false, "the vacuum former: a row of its table, or its own numbers"},
		{"printer", named{&k.Printer.Name, "printer", section{rows: printerKeyRows(k), check: printerCheck(k)}}, "", false, "the printer: a row of its table, or its own numbers"},
		{"insert", section{rows: insertRows(k)}, "", false, "the formed part around the pockets"},
		{"pocket", section{rows: pocketRows(k)}, "", false, "the cavities"},
		{"buck", section{rows: buckRows(k)}, "", false, "the forming tool"},
		{"press", section{rows: []row{
			{"nest", word[Nest]{&k.Press.Nest, []Nest{NestAuto, NestYes, NestNo}}, "auto", false, "print a bed for pressing; auto: when felt wraps the skirt"},
			{"grip", word[Grip]{&k.Press.Grip, []Grip{GripWings, GripNone}}, "wings", false, "what the press tool is held by"},
		}}, "", false, "the felt press tool"},
		{"shell", section{rows: shellRows(k)}, "", false, "base and lid"},
		{"batch", section{rows: batchRows(k)}, "", false, "how many are made, and what things cost"},
		{"cutter", cutterValue{&k.Cutter.Kind, section{rows: cutterRows(k)}}, "", false, "what cuts felt, sponge and label: knife or laser, or with its kerf"},
		{"stock", section{rows: stockRows(k)}, "", false, "sizes of the sheets that flats are cut from"},
		{"label", section{rows: labelRows(k)}, "", false, "label in the groove of the lid"},
		{"limits", limits{&k.Limits}, "", false, "limits of your own: rule: number; `buckwright check --list` names the rules"},
		{"materials", overrides{k}, "", false, "values that replace those of the tables: table: {row: {key: value}}"},
	}
}

func linerRows(k *Kit) []row {
	l := &k.Liner
	return []row{
		{"material", rowName(&l.Material), "wool-felt-f10", false, "row of the liner table"},
		{"thickness", number{&l.Thickness, length, 0.3, 25}, "2", false, "as bought, before pressing"},
		{"compression", number{&l.Compression, share, 0, 0.5}, "15 %", false, "of the free thickness, on the walls, with the item seated"},
		{"wrap", word[Wrap]{&l.Wrap, []Wrap{WrapPockets, WrapRim, WrapSkirt}}, "skirt", false, "how far the felt goes: the pockets, the rim too, down the skirt too"},
		{"tolerance", optional{to: &l.Tolerance, q: length, lo: 0, hi: 5}, "", false, "how far the thickness may be off, one side; else the table's share"},
		{"cement", number{&l.Cement, length, 0, 2}, "0.1", false, "thickness of the cement film"},
		{"press", optional{to: &l.Press, q: pressure, lo: 1, hi: 1000}, "", false, "pressure the cement wants; else 50 kPa"},
		{"test", maybe[WeightTest]{&l.Test, weightTest}, "", false, "one measurement of the liner, which replaces the table's stiffness"},
	}
}

func lidLinerRows(k *Kit) []row {
	l := &k.LidLiner
	return []row{
		{"material", rowName(&l.Material), "neoprene-sponge-2c1", false, "row of the liner table"},
		{"thickness", number{&l.Thickness, length, 0.5, 50}, "4", false, "as bought"},
		{"compression", number{&l.Compression, share, 0.01, 0.6}, "25 %", false, "of the free thickness, with the lid closed"},
		{"pads", word[Pads]{&l.Pads, []Pads{PadsAuto, PadsFull, PadsNone}}, "auto", false, "auto: a pad over each item; full: one piece; none"},
		{"test", maybe[WeightTest]{&l.Test, weightTest}, "", false, "one measurement of the sponge, which replaces the table's stiffness"},
	}
}

func weightTest(t *WeightTest) value {
	return section{rows: []row{
		{"mass", number{&t.Mass, mass, 1, 100e3}, "", true, "the weight that was laid on"},
		{"area", number{&t.Area, area, 10, 1e6}, "", true, "the area it stood on"},
		{"thickness", number{&t.Thickness, length, 0.1, 50}, "", true, "the thickness read under it"},
	}}
}

func closureRows(k *Kit) []row {
	return []row{
		{"kind", word[Closure]{&k.Closure.Kind, []Closure{ClosureCatch, ClosureBand, ClosureMagnets, ClosureSeal, ClosureNone}},
			"catch", false, "catch: printed bead and groove; band: groove for an elastic; magnets; seal: a label across the joint; none"},
		{"holds", optional{to: &k.Closure.Holds, q: force, lo: 0, hi: 2000}, "", false, "force it holds; else worked out from the kind"},
	}
}

func sheetKeyRows(k *Kit) []row {
	return []row{
		{"material", rowName(&k.Sheet.Material), "abs", false, "row of the sheet table"},
		{"gauge", number{&k.Sheet.Gauge, length, 0.1, 8}, "1.0", false, "thickness as bought"},
		{"shrink", maybe[Span]{&k.Sheet.Shrink, func(s *Span) value { return span{s, share, 0, 0.08} }}, "", false, "mould shrinkage, or [least, most]; else the table's"},
	}
}

func formerKeyRows(k *Kit) []row {
	f := &k.Former
	return []row{
		{"name", rowName(&f.Name), "", false, "row of the former table; keys beside it replace the row's values"},
		{"area", vector{f.Area[:], "x, y", length, 40, 3000}, "[9 in, 12 in]", false, "free sheet inside the clamp"},
		{"clamp", number{&f.Clamp, length, 0, 100}, "12", false, "width gripped along every edge"},
		{"depth", number{&f.Depth, length, 5, 1000}, "80", false, "tallest tool that goes in"},
		{"vacuum", number{&f.Vacuum, pressure, 5, 101.325}, "80 kPa", false, "below the atmosphere"},
		{"platen", section{rows: []row{
			{"pitch", number{&f.Platen.Pitch, length, 2, 200}, "10", false, "between its holes"},
			{"hole", number{&f.Platen.Hole, length, 0.3, 50}, "2", false, "diameter of its holes"},
			{"border", number{&f.Platen.Border, length, 0, 300}, "15", false, "from the edge of the area to the first hole"},
		}}, "", false, "the perforated table under the tool"},
		{"tank", number{&f.Tank, volume, 0, 1000}, "0", false, "vacuum tank; 0: pump only"},
		{"pump", number{&f.Pump, flow, 0, 10000}, "0", false, "free air of the pump; 0: not known"},
		{"heater", number{&f.Heater, temperature, 150, 900}, "400", false, "surface of the heater"},
		{"two_sided", yesNo{&f.TwoSided}, "no", false, "heats the sheet from both sides"},
	}
}

func printerKeyRows(k *Kit) []row {
	p := &k.Printer
	return []row{
		{"name", rowName(&p.Name), "", false, "row of the printer table; keys beside it replace the row's values"},
		{"file", fileText(&p.File, ".yaml", ".yml"), "", false, "printer file that `buckwright calibrate` wrote, from the kit's folder; keys beside it replace its values"},
		{"bed", vector{p.Bed[:], "x, y, z", length, 50, 2000}, "[280, 280, 250]", false, "what it can fill"},
		{"nozzle", number{&p.Nozzle, length, 0.1, 2}, "0.4", false, "bore of the nozzle"},
		{"layer", number{&p.Layer, length, 0.04, 1.5}, "0.3", false, "layer height"},
		{"infill", number{&p.Infill, share, 0, 1}, "15 %", false, "share of the inside that is filled"},
		{"material", rowName(&p.Material), "abs", false, "row of the print material table"},
		{"tolerance", optional{to: &p.Tolerance, q: length, lo: 0.01, hi: 2}, "", false, "how far one face may be off; else a quarter of ISO 286 grade IT13"},
		{"width", optional{to: &p.Width, q: length, lo: 0.1, hi: 4}, "", false, "extrusion width; else 1.125 x nozzle"},
		{"offset", number{&p.Offset, length, -1, 1}, "0", false, "measured: outer faces come out this much fat"},
		{"hole_offset", number{&p.Hole, length, -1, 1}, "0", false, "measured: holes come out this much large"},
		{"foot", number{&p.Foot, length, 0, 2}, "0.3", false, "chamfer that takes off the elephant's foot"},
		{"scale", same{vector{p.Scale[:], "x, y, z", ratio, 0.95, 1.05}}, "1", false, "measured: printed length / drawn length"},
		{"least_hole", number{&p.LeastHole, length, 0.2, 10}, "0.8", false, "smallest upright hole that it prints open"},
		{"skin", whole{&p.Skin, 0, 100}, "4", false, "full layers that close tops and bottoms"},
		{"speed", section{rows: speedRows(k)}, "", false, "speeds, for the time that a print takes"},
		{"acceleration", number{&p.Acceleration, acceleration, 50, 50000}, "1000", false, "of the head while it prints"},
	}
}

func insertRows(k *Kit) []row {
	i := &k.Insert
	return []row{
		{"margin", number{&i.Margin, length, 3, 200}, "14", false, "from a mouth or notch to the insert's outside"},
		{"draft", number{&i.Draft, angle, 0, 30}, "5", false, "taper of the outer wall"},
		{"corner_radius", number{&i.CornerRadius, length, 0, 300}, "16", false, "of the outer wall, in plan"},
		{"rim_radius", number{&i.RimRadius, length, 0, 50}, "2", false, "from the rim into the outer wall"},
	}
}

func pocketRows(k *Kit) []row {
	p := &k.Pocket
	return []row{
		{"draft", number{&p.Draft, angle, 0, 30}, "3", false, "taper of the pocket walls"},
		{"mouth_radius", number{&p.MouthRadius, length, 0, 50}, "2", false, "from the rim into a pocket"},
		{"spacing", number{&p.Spacing, length, 0, 200}, "12", false, "least flat rib between pockets at the rim"},
	}
}

func buckRows(k *Kit) []row {
	v := &k.Buck.Vent
	return []row{
		{"floor", number{&k.Buck.Floor, length, 1, 100}, "6", false, "least material under a pocket"},
		{"run", number{&k.Buck.Run, ratio, 1, 200}, "20", false, "sheets formed one after another before the buck cools down"},
		{"vent", section{rows: []row{
			{"diameter", optional{&v.Diameter, length, 0.2, 5, "auto"}, "auto", false, "of the hole through the land; auto: by the mark it leaves"},
			{"land", number{&v.Land, length, 0.5, 50}, "4", false, "length of the narrow part"},
			{"bore", number{&v.Bore, length, 0.5, 30}, "4", false, "diameter of the wide part behind"},
			{"pitch", number{&v.Pitch, length, 3, 500}, "25", false, "farthest from one vent to the next"},
			{"pin", list[[2]float64]{to: &v.Pin, each: place, noun: "place", most: 500}, "", false, "places that must have a vent: [[x, y], ...]"},
			{"forbid", list[[3]float64]{to: &v.Forbid, each: circle, noun: "circle", most: 500}, "", false, "circles without a vent: [[x, y, radius], ...]"},
		}, check: ventCheck(k)}, "", false, "holes that let the air out"},
		{"screws", maybe[Screws]{&k.Buck.Screws, screwKeys}, "", false, "bosses in the underside for screws through the platen; none unless given"},
	}
}

func screwKeys(s *Screws) value {
	return section{rows: []row{
		{"thread", word[Thread]{&s.Thread, []Thread{M3, M4, M5, M6}}, "M4", false, "size of the screws"},
		{"hold", word[Hold]{&s.Hold, []Hold{HoldInsert, HoldTapped}}, "insert", false, "insert: brass inserts set with heat; tapped: a thread cut into the print"},
		{"at", list[[2]float64]{to: &s.At, each: place, noun: "place", least: 2, most: 12}, "", false, "places: [[x, y], ...]; else four near the corners"},
		{"hole", optional{to: &s.Hole, q: length, lo: 1, hi: 20}, "", false, "hole that the insert's maker asks for; else the usual"},
		{"length", optional{to: &s.Length, q: length, lo: 2, hi: 30}, "", false, "length of the insert; else the usual"},
	}}
}

func place(p *[2]float64) value  { return vector{p[:], "x, y", length, -2000, 2000} }
func circle(p *[3]float64) value { return vector{p[:], "x, y, radius", length, -2000, 2000} }

func shellRows(k *Kit) []row {
	s := &k.Shell
	return []row{
		{"wall", number{&s.Wall, length, 0.4, 30}, "2.4", false, "rounded to whole extrusions"},
		{"floor", number{&s.Floor, length, 0.4, 30}, "2.4", false, "thickness of floor and top"},
		{"neck", number{&s.Neck, length, 2, 200}, "12", false, "height over which the lid slips"},
		{"slip", section{rows: []row{
			{"least", number{&s.Slip.Least, length, 0, 3}, "0.1", false, "least clearance a side"},
			{"stack", word[Stack]{&s.Slip.Stack, []Stack{StackRSS, StackWorst}}, "rss", false, "how tolerances add up: rss for a calibrated printer, or worst"},
		}}, "", false, "fit of the lid on the neck"},
		{"label", word[Label]{&s.Label, []Label{LabelGroove, LabelNone}}, "groove", false, "outline for a label on the lid"},
	}
}
