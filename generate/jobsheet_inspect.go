package generate

import (
	"fmt"
	"math"

	"buckwright/generate/export"
	"buckwright/generate/fit"
	"buckwright/params"
)

// card collects the lines of the inspection card.
type card struct{ rows [][]string }

// size is one length to measure. Least and most that are not finite stay open.
func (c *card) size(what, with string, v fit.Span, why string) {
	c.line(what, with, open(v.Least, 2), fixed(2, v.Nominal), open(v.Most, 2), why)
}

func (c *card) line(what, with, least, nominal, most, why string) {
	c.rows = append(c.rows, []string{what, with, least, nominal, most, "", "", why})
}

// open writes a limit; one that is not finite is none.
func open(v float64, digits int) string {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return ""
	}
	return fixed(digits, v)
}

// inspectSection is the card for the first article.
func (r *Result) inspectSection() export.Section {
	s := export.Section{ID: "inspect", Title: "Inspection card, first article", Block: export.Block{
		Lead: []string{"In millimetres unless the line says otherwise. A reading outside its limits goes back into the kit file (the last column says what the limits are from), not under a file."},
		Tables: []export.Table{
			r.cardTable("Before making", r.bought),
			r.cardTable("Prints, as they come off the bed", r.prints),
			r.cardTable("Insert, a day after forming", r.formed),
			r.cardTable("Case, lined and closed", r.closed),
		},
	}}
	s.NewPage = true
	return s
}

func (r *Result) cardTable(caption string, fill func(*card)) export.Table {
	c := &card{}
	fill(c)
	return export.Table{Caption: caption, Rows: c.rows, Heads: []export.Head{
		{Text: "measure"}, {Text: "with"}, {Text: "least", Kind: export.Number}, {Text: "nominal", Kind: export.Number}, {Text: "most", Kind: export.Number},
		{Text: "reading", Kind: export.Blank}, {Text: "good", Kind: export.Tick}, {Text: "limits from"},
	}}
}

const (
	calliper = "calliper"
	gauge    = "thickness gauge, light touch"
	depth    = "depth gauge"
	balance  = "spring balance"
)

// bought is what to measure before anything is made of it.
func (r *Result) bought(c *card) {
	k, d := r.Kit, r.Dims
	tq := k.Tolerance.Product
	for i, it := range d.Items {
		half := r.Layout.Places[i].Half
		if math.Abs(half.X-half.Y) < 0.005 {
			c.size(it.Name+": across, both ways", calliper, fit.PlusMinus(2*half.X, 2*tq), "tolerance.product, two faces")
		} else {
			c.size(it.Name+": length (x)", calliper, fit.PlusMinus(2*half.X, 2*tq), "tolerance.product, two faces")
			c.size(it.Name+": width (y)", calliper, fit.PlusMinus(2*half.Y, 2*tq), "tolerance.product, two faces")
		}
		c.size(it.Name+": height (z)", calliper, fit.PlusMinus(it.Height, 2*tq), "tolerance.product, two faces")
	}
	if row, ok := d.Row("liner.thickness"); ok {
		c.size("liner: free thickness", gauge, fit.Span{Nominal: row.Nominal, Least: row.Least, Most: row.Most}, "liner.tolerance")
	}
	if d.Lid.Pads || d.Lid.Full {
		c.size("lid liner: free thickness", gauge, fit.PlusMinus(d.Lid.Liner, d.Lid.Liner*r.lidLiner.ThicknessTol), "row of the liner table")
	}
	c.size("sheet: gauge", "micrometer", fit.PlusMinus(d.Insert.Gauge, d.Insert.Gauge*fit.GaugeSpread), "supplier's ±10 %")
}

// prints is what to measure on the printed parts.
func (r *Result) prints(c *card) {
	d := r.Dims
	two := 2 * d.Print.Tp
	for _, p := range r.Parts {
		if p.Name != "buck" && p.Name != "base" && p.Name != "lid" { // the others' outsides fit nothing
			continue
		}
		size := d.Print.Reads(p.Printed.Bounds().Size())
		c.size(p.Title+": length over all", calliper, fit.PlusMinus(size.X, two), "two faces; printer.scale")
		c.size(p.Title+": width over all", calliper, fit.PlusMinus(size.Y, two), "two faces; printer.scale")
	}
	if row, ok := d.Row("trim.seat"); ok {
		c.size("trim guide: height of its land", calliper, fit.Span{Nominal: row.Nominal, Least: row.Least, Most: row.Most}, "trim.seat")
	}
	out, off := r.Layout.OutsideHalf(), d.Print.Offset
	for axis, name := range [2]string{"length", "width"} {
		half := [2]float64{out.X, out.Y}[axis] - d.Lid.Wall
		c.size("base: "+name+" of the neck, outside", calliper, fit.PlusMinus(2*(half-d.Lid.Slip+off), two), "two faces")
		c.size("lid: "+name+" inside, above the lead-in", calliper, fit.PlusMinus(2*(half-off), two), "two faces")
	}
	if slip, ok := d.Row("slip.side"); ok {
		c.size("lid inside less neck outside, half of it", "from the readings", fit.Span{Nominal: slip.Nominal, Least: slip.Least, Most: slip.Most}, "shell.slip")
	}
	c.size("base: wall of the neck", calliper, fit.PlusMinus(d.Base.NeckWall+2*off, two), "two faces")
	n := len(r.Layout.Vents)
	c.line("buck: vents open", "light from behind", fmt.Sprint(n), fmt.Sprint(n), fmt.Sprint(n), "every vent")
}

// formed is what to measure on the trimmed insert.
func (r *Result) formed(c *card) {
	d := r.Dims
	least, most, why := r.insertRoom()
	for axis, name := range [2]string{"length", "width"} {
		v := r.trimmed(axis)
		c.size("insert: "+name+" at the cut edge", calliper, fit.Span{Nominal: v, Least: v - 2*least, Most: v + 2*most}, why)
	}
	c.size("insert: trimmed height, rim down", "height gauge or rule", fit.PlusMinus(-d.Insert.Trim, d.Insert.TrimTol), "ledge of the base")
	for _, it := range d.Items {
		floor := -it.Under - r.floorThickness(it)
		c.size("pocket of "+it.Name+": depth from the bare rim", depth, fit.PlusMinus(floor, r.pocketSpread(it)), "two faces, spread of the wall")
	}
	if row, ok := d.Row("t_rim"); ok {
		c.size("insert: thickness of the rim", calliper, fit.Span{Nominal: row.Nominal, Least: row.Least, Most: row.Most}, "t_rim")
	}
	c.size("insert: thickness of the skirt at the cut", calliper, d.Insert.SkirtSpan, "t_skirt")
	for i, it := range d.Items {
		c.size("pocket of "+it.Name+": mean of its walls (cut the first insert open)", gauge, it.Wall, "tw")
		if thin, ok := r.thinnestIn(i); ok {
			c.line("pocket of "+it.Name+": thinnest, at "+r.fromMiddle(thin.At), gauge, "", fixed(2, thin.Least), "", "prediction; the place is x, y from the insert's middle")
		}
	}
}

// pocketSpread is how far a pocket's floor may be off, mm: two printed faces and
// the spread of the sheet.
func (r *Result) pocketSpread(it fit.ItemDims) float64 {
	return 2*r.Dims.Print.Tp + (it.Wall.Most-it.Wall.Least)/2
}

// floorThickness is of the sheet under an item.
func (r *Result) floorThickness(it fit.ItemDims) float64 {
	if row, ok := r.Dims.Row("t_floor." + it.Name); ok {
		return row.Nominal
	}
	return it.Wall.Nominal
}

// insertRoom is how much smaller and larger, each side, the insert may be for
// the fit in the base to work.
func (r *Result) insertRoom() (smaller, larger float64, why string) {
	gap, _ := r.Dims.Row("insert.gap")
	if r.Dims.Base.SkirtFelt {
		tf, g := r.Kit.Liner.Thickness, r.Kit.Liner.Cement
		return tf + g - gap.Nominal, gap.Nominal - g - tf*(1-r.liner.Most), "felt down the skirt: from touching to its most"
	}
	return gap.Most - gap.Nominal, gap.Nominal - gap.Least, "insert.gap"
}

// seated is how far an item's top stands above the rim, where the liner is
// predicted to hold it. Its pad's gap may grow to its free thickness and shrink
// to its most. A prediction beyond that is what a case that is made so will read: then
// the limit is the prediction's own, and the reason says what the pad bears.
func (r *Result) seated(item int) (v fit.Span, why string) {
	d, it := r.Dims, r.Dims.Items[item]
	v = fit.Span{Nominal: it.Height - it.Depth, Least: math.Inf(-1), Most: math.Inf(1)}
	if m := r.linerOf(item); m != nil {
		v.Nominal += m.Rest
	}
	if !d.Lid.Pads && !d.Lid.Full {
		return v, "liner map"
	}
	squeeze := func(top float64) float64 { return 1 - (it.PadZ-top)/d.Lid.Liner }
	v.Least, v.Most, why = it.PadZ-d.Lid.Liner, it.PadZ-d.Lid.Liner*(1-r.lidLiner.Most), "its pad: from touching to its most; nominal: liner map"
	switch spread := r.pocketSpread(it); {
	case v.Nominal > v.Most:
		v.Most = v.Nominal + spread
		why = fmt.Sprintf("liner map, and the pocket's spread: it rests high, its pad squeezed by %s, and bears %s", percent(squeeze(v.Nominal)), percent(r.lidLiner.Most))
	case v.Nominal < v.Least:
		v.Least = v.Nominal - spread
		why = fmt.Sprintf("liner map, and the pocket's spread: it rests low and its pad stays %s off", mm(2, it.PadZ-d.Lid.Liner-v.Nominal))
	}
	return v, why
}

// closed is what to measure on the finished case.
func (r *Result) closed(c *card) {
	k, d := r.Kit, r.Dims
	for i, it := range d.Items {
		v, why := r.seated(i)
		held := ""
		if it.PadForce > 0 {
			held = fmt.Sprintf(" and held down with %s, as its pad does", newtons(it.PadForce))
		}
		c.size(it.Name+": top above the bare rim's level, pushed home"+held, depth, v, why)
		if m := r.linerOf(i); m != nil {
			c.line(it.Name+": pull until it is out, N", balance, "", fixed(1, m.Pull), "", "liner map; the felt's law is from memory, confirm by a weight test")
		}
	}
	if row, ok := d.Row("closure.holds"); ok && k.Closure.Kind != params.ClosureNone {
		c.line("lid: pull to open it, N", balance, open(row.Least, 0), fixed(0, row.Nominal), open(row.Most, 0), "closure.holds")
	}
	c.size("case: height, closed", calliper, fit.PlusMinus(r.caseHeight(), 4*d.Print.Tp), "four faces")
	c.line("lid lies on the shoulder all round", "eye, paper strip", "", "no gap", "", "pads and catch")
}
