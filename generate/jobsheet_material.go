package generate

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"buckwright/generate/check"
	"buckwright/generate/export"
	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/params"
)

// padRows are the pieces that are stuck under the lid.
func (r *Result) padRows() (rows [][]string) {
	d := r.Dims
	if !d.Lid.Pads || d.Lid.Full {
		return nil
	}
	for i, it := range d.Items {
		h := r.Layout.PadHalf(i)
		under := "on the lid's ceiling"
		if boss := d.Lid.Ceiling - it.PadZ; boss >= leastBoss {
			under = "on the boss, " + mm(1, boss) + " high"
		}
		rows = append(rows, []string{"pad over " + it.Name, sizes(1, 2*h.X, 2*h.Y), mm(2, d.Lid.Liner), under})
	}
	return rows
}

// leastBoss is the height, mm, under which a pad has no boss of its own.
const leastBoss = 0.3

// buySection says what to have on the bench.
func (r *Result) buySection() export.Section {
	return export.Section{ID: "buy", Title: "Buy", Block: export.Block{
		Lead:   []string{"Felt and sponge are reckoned with the cases of a batch laid out together; the cut list tells what one case alone takes. Areas include what cutting wastes and what is spoiled (batch.spoiled). Order a spare blank or two at first: the first sheet tells how long yours wants to be heated."},
		Tables: []export.Table{r.buyTable()},
	}}
}

func (r *Result) buyTable() export.Table {
	k, d := r.Kit, r.Dims
	n := k.Batch.Count
	t := export.Table{Caption: "Materials", Heads: []export.Head{
		{Text: "what"}, {Text: "for one case"}, {Text: fmt.Sprintf("for a batch of %d", n)}, {Text: "for"}, {Text: "there", Kind: export.Tick},
	}}
	add := func(what, much, all, use string) { t.Rows = append(t.Rows, []string{what, much, all, use, ""}) }
	used := func(what, of, use string) { // as the batch is reckoned: waste and what is spoiled included
		for _, row := range r.costRows() {
			if row.What == of && !row.Once {
				add(what, fixed(0, row.Quantity)+" "+row.Unit, fixed(0, row.Quantity*float64(n))+" "+row.Unit, use)
			}
		}
	}
	_, once := r.printed()
	if once.Grams > 0 {
		add(r.filament.Title+" filament, tools", "", fixed(0, once.Grams)+" g", "once for the model")
	}
	used(r.filament.Title+" filament", "filament, base and lid", "base and lid")
	blanks := int(math.Ceil(float64(n) / (1 - k.Batch.Spoiled)))
	f := d.Former
	add(mm(2, d.Insert.Gauge)+" "+r.sheet.Title+" sheet, "+mm(0, f.Area[0]+2*f.Clamp, f.Area[1]+2*f.Clamp), "1", strconv.Itoa(blanks), "inserts; some go wrong")
	used(mm(2, k.Liner.Thickness)+" "+r.liner.Title, "felt", wrapText(k.Liner.Wrap))
	used(mm(2, d.Lid.Liner)+" "+r.lidLiner.Title, "sponge", "under the lid")
	used("contact cement that holds "+check.List(r.cemented()), "cement", "liner, insert, pads; one that leaves a scrap of sheet and print sound")
	if d.Lid.Label {
		add(r.labelMaterial().Title, "1 label", some(n, "label"), "lid")
	}
	r.buyClosure(func(what string, pieces int, use string) {
		add(what, strconv.Itoa(pieces), strconv.Itoa(pieces*n), use)
	})
	add("trimming blade, "+mm(1, r.trimBlade())+" thick", "", "some", "trim guide")
	add("M4 screw, about 10 mm long, and a wide washer", "", "1", "holds the blade on the trim guide, once for the model")
	add("release agent without silicone, or fine talc", "", "a little", "forming; cement does not hold on silicone")
	if d.Buck.VentDrill {
		add("drill bit, "+mm(2, d.Buck.VentDia), "", "1 and a spare", "vents, once for the model")
	}
	if sc := d.Buck.Screw; len(r.Layout.Screws) > 0 {
		what, each := sc.Thread+" threaded inserts to melt in, and screws", " each"
		if sc.Tapped {
			what, each = sc.Thread+" screws", ""
		}
		add(what+" that reach "+r.screwReach()+" beyond the platen", "", strconv.Itoa(len(r.Layout.Screws))+each, "the buck on its platen, once for the model")
	}
	return t
}

// cemented lists what cement joins in this kit.
func (r *Result) cemented() []string {
	all := []string{"felt"}
	if r.Dims.Lid.Pads || r.Dims.Lid.Full {
		all = append(all, "sponge")
	}
	return append(all, r.sheet.Title+" sheet", r.filament.Title+" prints")
}

func (r *Result) buyClosure(add func(what string, pieces int, use string)) {
	c := r.Dims.Closure
	switch r.Kit.Closure.Kind {
	case params.ClosureBand:
		half := r.Layout.OutsideHalf()
		add("elastic band, up to 9 mm wide, "+mm(0, 2*(2*half.Y+r.caseHeight()))+" round when stretched", 1, "closure")
	case params.ClosureMagnets:
		add(fmt.Sprintf("disc magnet, %s × %s", fixed(1, c.MagnetDia), mm(1, c.MagnetH)), 2*c.Pairs, "closure")
	case params.ClosureSeal:
		add("label or tape across the joint", 1, "closure")
	}
}

// nearestItem names the item whose plan is nearest to a place.
func (r *Result) nearestItem(at geom.Vec2) string {
	best, name := math.Inf(1), ""
	for i, p := range r.Layout.Places {
		q := geom.RotateZ(-p.Turn).Apply(at.Sub(p.At).At(0))
		d := math.Hypot(max(math.Abs(q.X)-p.Half.X, 0), max(math.Abs(q.Y)-p.Half.Y, 0))
		if d < best {
			best, name = d, r.Kit.Items[i].Name
		}
	}
	return name
}

// fitsSection lists every derived size and how it came about.
func (r *Result) fitsSection() export.Section {
	s := export.Section{ID: "fits", Title: "Fits and how they came about", Block: export.Block{
		Lead:   []string{"Every size that the kit file does not give, in millimetres unless it says otherwise. Heights count from the rim of the bare sheet, upwards; clearances are each side."},
		Tables: []export.Table{r.symbolTable(), r.fitTable()},
	}}
	s.NewPage = true
	return s
}

// fitTable has a row for each derived size; its sources are numbered notes.
func (r *Result) fitTable() export.Table {
	t := export.Table{Caption: "Derived sizes", Dense: true, Heads: []export.Head{
		{Text: "size"}, {Text: "called"}, {Text: "nominal", Kind: export.Number}, {Text: "least", Kind: export.Number},
		{Text: "most", Kind: export.Number}, {Text: "formula"}, {Text: "source", Kind: export.Number},
	}}
	numbers := map[string]int{}
	for _, row := range r.Dims.Rows {
		if numbers[row.Source] == 0 {
			t.Notes = append(t.Notes, row.Source)
			numbers[row.Source] = len(t.Notes)
		}
		cells := []string{row.Title, rowName(row), rowValue(row, row.Nominal), "", ""}
		if row.Least != row.Most {
			cells[3], cells[4] = rowValue(row, row.Least), rowValue(row, row.Most)
		}
		t.Rows = append(t.Rows, append(cells, row.Formula, strconv.Itoa(numbers[row.Source])))
	}
	return t
}

// rowName is how formulas call a size, with the part or item unless that is in it.
func rowName(row fit.Row) string {
	if row.Where == "" || strings.Contains(row.ID, row.Where) {
		return row.ID
	}
	return row.ID + ", " + row.Where
}

// rowValue writes a derived value with as many digits as can be used.
func rowValue(row fit.Row, v float64) string {
	switch row.Unit {
	case "share":
		return fixed(1, v*100) + " %"
	case "mm":
		return fixed(2, v)
	case "":
		return strings.TrimSuffix(strings.TrimRight(fixed(4, v), "0"), ".")
	}
	return fixed(1, v) + " " + row.Unit
}

// symbolTable explains the letters of the formulas, with the kit's values.
func (r *Result) symbolTable() export.Table {
	k, d := r.Kit, r.Dims
	t := export.Table{Caption: "Symbols", Dense: true, Heads: []export.Head{{Text: "symbol"}, {Text: "means"}, {Text: "in this kit", Kind: export.Number}}}
	add := func(symbol, means, value string) { t.Rows = append(t.Rows, []string{symbol, means, value}) }
	add("tf", "free thickness of the liner", mm(2, k.Liner.Thickness))
	add("c", "its compression on the walls, item seated", percent(k.Liner.Compression))
	add("g", "cement film", mm(2, k.Liner.Cement))
	add("t0", "gauge of the sheet", mm(2, d.Insert.Gauge))
	add("S", "mould shrinkage of the sheet", percent(d.Shrink.Nominal))
	if d.Lid.Pads || d.Lid.Full {
		add("tn, cn", "free thickness and working compression of the lid liner", mm(2, d.Lid.Liner)+", "+percent(k.LidLiner.Compression))
	}
	add("Tp", "tolerance of one printed face, one side", mm(2, d.Print.Tp))
	add("Tq", "tolerance of one face of the product", mm(2, k.Tolerance.Product))
	add("w", "extrusion width", mm(2, d.Print.Width))
	add("p(e)", "pressure of a liner at compression e; e(p) the other way round", "")
	add("h", "how far an item stands above the rim", "")
	add("Phi", "the normal distribution", "")
	return t
}
