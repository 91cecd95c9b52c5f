package generate

import (
	"fmt"
	"slices"
	"strings"

	"buckwright/generate/check"
	"buckwright/generate/export"
	"buckwright/params"
)

// jobSheet writes down what was derived as the page that a maker works from.
// Chapters that have nothing to say are left out.
func (r *Result) jobSheet(version string, shelf pictures) export.JobSheet {
	s := export.JobSheet{
		Kit:  r.Kit.Name,
		Lead: "Print this page and work down it: what to print, cut and buy, how to form, line and assemble, and what to measure on the first case.",
		Made: []export.Fact{
			{Name: "made by", Value: "buckwright " + version},
			{Name: "inputs, SHA-256", Value: r.Inputs},
			{Name: "meshes", Value: string(r.Quality)},
		},
		Blanks:   []string{"date", "made by", "sheet, batch", "felt, batch", "cement"},
		About:    r.aboutSection(),
		Findings: r.Findings,
		Frame:    r.frameText(),
	}
	for _, section := range []export.Section{
		r.printSection(shelf), r.cutSection(), r.buySection(), r.costSection(), r.formSection(shelf),
		r.assembleSection(shelf), r.inspectSection(), r.fitsSection(),
	} {
		if section.Title != "" {
			s.Sections = append(s.Sections, section)
		}
	}
	return s
}

// frameText says where x and y of findings begin, if that is not the middle of the
// insert, from which the tables of this page measure. A finding's places are those of
// the kit file, where they are mended.
func (r *Result) frameText() string {
	m := r.Layout.Center
	placed := slices.ContainsFunc(r.Findings, func(f check.Finding) bool { return strings.Contains(f.Where, ", at x ") })
	if !placed || fixed(0, m.X) == "0" && fixed(0, m.Y) == "0" {
		return ""
	}
	return fmt.Sprintf("x and y in findings are the kit file's, as in items[].at: there the middle of the insert lies at %s, %s. Everywhere else on this page they count from the middle.", fixed(1, m.X), fixed(1, m.Y))
}

// aboutSection says what the kit is.
func (r *Result) aboutSection() export.Section {
	k, d := r.Kit, r.Dims
	half := r.Layout.OutsideHalf()
	return export.Section{ID: "about", Title: "What this kit is", Block: export.Block{
		Facts: []export.Fact{
			{Name: "case, closed", Value: mm(0, 2*half.X, 2*half.Y, r.caseHeight())},
			{Name: "sheet", Value: mm(2, d.Insert.Gauge) + " " + r.sheet.Title},
			{Name: "liner", Value: mm(2, k.Liner.Thickness) + " " + r.liner.Title + ", " + wrapText(k.Liner.Wrap)},
			{Name: "under the lid", Value: r.liningText()},
			{Name: "held by", Value: closureText(k.Closure.Kind)},
			{Name: "printed in", Value: r.filament.Title},
		},
		Tables: []export.Table{r.itemTable()},
	}}
}

// caseHeight is the closed case from the base's underside to the lid's top.
func (r *Result) caseHeight() float64 {
	d := r.Dims
	return d.Lid.Ceiling + d.Lid.Top - (r.Layout.Trim - d.Base.LedgeDrop - d.Base.Floor)
}

func (r *Result) itemTable() export.Table {
	t := export.Table{Caption: "What is packed", Heads: []export.Head{
		{Text: "item"}, {Text: "size, mm", Kind: export.Number}, {Text: "mass, g", Kind: export.Number},
		{Text: "below the rim, mm", Kind: export.Number}, {Text: "above the rim, mm", Kind: export.Number}, {Text: "finger notches"},
	}}
	for i, it := range r.Kit.Items {
		half := r.Layout.Places[i].Half
		t.Rows = append(t.Rows, []string{
			it.Name, sizes(1, 2*half.X, 2*half.Y, r.Dims.Items[i].Height), fixed(0, it.Mass),
			fixed(1, it.Depth), fixed(1, r.Dims.Items[i].Height-it.Depth), notchText(it.Notch),
		})
	}
	return t
}

func notchText(all []params.Notch) string {
	if len(all) == 0 {
		return "none"
	}
	var sides []string
	for _, n := range all {
		sides = append(sides, string(n.Side))
	}
	return check.List(sides)
}

func wrapText(w params.Wrap) string {
	switch w {
	case params.WrapRim:
		return "in the pockets and on the rim"
	case params.WrapSkirt:
		return "in the pockets, on the rim and down the skirt"
	}
	return "in the pockets"
}

func (r *Result) liningText() string {
	k := r.Kit.LidLiner
	switch k.Pads {
	case params.PadsNone:
		return "nothing"
	case params.PadsFull:
		return fmt.Sprintf("%s %s over the whole ceiling", mm(2, k.Thickness), r.lidLiner.Title)
	}
	return fmt.Sprintf("a pad of %s %s over each item", mm(2, k.Thickness), r.lidLiner.Title)
}

func closureText(c params.Closure) string {
	switch c {
	case params.ClosureCatch:
		return "catches printed into lid and base"
	case params.ClosureBand:
		return "an elastic band in the grooves"
	case params.ClosureMagnets:
		return "magnets beside the neck"
	case params.ClosureSeal:
		return "a label across the joint"
	}
	return "nothing but the fit of the lid"
}
