package generate

import (
	"fmt"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"

	"buckwright/generate/check"
	"buckwright/generate/export"
	"buckwright/generate/pattern"
	"buckwright/params"
)

// cutSection says what to cut, and with what.
func (r *Result) cutSection() export.Section {
	s := export.Section{ID: "cut", Title: "Cut", Block: export.Block{Cautions: r.cutCautions()}}
	if len(r.Flats) == 0 {
		return export.Section{}
	}
	s.Lead = []string{"Every piece is in flats as DXF for a cutter, SVG, and PDF to print at 100 %: measure its 100 mm bar before cutting. Arrows show the grain. Where a cutter burns a kerf away, the lines allow for it."}
	s.Tables = append(s.Tables, r.cutTable())
	if t := r.stockTable(); len(t.Rows) > 0 {
		s.Tables = append(s.Tables, t)
	}
	return s
}

// cutTable lists the flats; what is to be known of one is a numbered note.
func (r *Result) cutTable() export.Table {
	t := export.Table{Caption: "Pieces for one case", Heads: []export.Head{
		{Text: "piece"}, {Text: "how many", Kind: export.Number}, {Text: "of"}, {Text: "size, mm", Kind: export.Number},
		{Text: "with"}, {Text: "file in flats"}, {Text: "note", Kind: export.Number}, {Text: "cut", Kind: export.Tick},
	}}
	known := map[string]int{}
	note := func(s string) string {
		if known[s] == 0 {
			t.Notes = append(t.Notes, s)
			known[s] = len(t.Notes)
		}
		return strconv.Itoa(known[s])
	}
	for i := range r.Flats {
		f := &r.Flats[i]
		size := sizeOf(f)
		var notes []string
		for _, s := range flatNotes(f) {
			notes = append(notes, note(s))
		}
		t.Rows = append(t.Rows, []string{
			f.Title, strconv.Itoa(f.Count), materialText(f.Material), sizes(1, size[0], size[1]),
			cutterText(f), flatFile(f), strings.Join(notes, ", "), "",
		})
	}
	return t
}

func materialText(m pattern.Material) string {
	if m.Thickness == 0 {
		return m.Title
	}
	return mm(2, m.Thickness) + " " + m.Title
}

func cutterText(f *pattern.Flat) string {
	switch {
	case f.Template:
		return "a template, followed by hand"
	case f.Material.Chlorinated:
		return f.Cutter + ", never a laser"
	case f.Kerf > 0:
		return f.Cutter + ", kerf " + mm(2, f.Kerf)
	}
	return f.Cutter
}

func flatFile(f *pattern.Flat) string {
	if f.Refused != "" {
		return "none"
	}
	return f.Name
}

// leastStrain is the least strain that is noted; less is not felt in the hand.
const leastStrain = 0.0005

// flatNotes are what the maker should know of a flat, the worst first.
func flatNotes(f *pattern.Flat) (out []string) {
	if f.Refused != "" {
		out = append(out, "No file is written: "+f.Refused)
	}
	if s := f.Strain; s != nil && s.Most() >= leastStrain {
		var how []string
		if s.Stretch >= leastStrain {
			how = append(how, "stretched by up to "+percent(s.Stretch))
		}
		if s.Gather >= leastStrain {
			how = append(how, "gathered by up to "+percent(s.Gather))
		}
		out = append(out, "Laid in, it is "+check.List(how)+": "+s.Where+".")
	}
	return append(out, f.Notes...)
}

// stockTable lists the pieces of stock with what is laid on them.
func (r *Result) stockTable() export.Table {
	t := export.Table{Caption: "Laid on stock", Heads: []export.Head{
		{Text: "file in flats"}, {Text: "stock"}, {Text: "size, mm", Kind: export.Number}, {Text: "this corner is enough", Kind: export.Number}, {Text: "used", Kind: export.Number}, {Text: "pieces"},
	}}
	for _, n := range r.Nests {
		var pieces []string
		for _, l := range n.Flats {
			pieces = append(pieces, l.Flat.Name)
		}
		t.Rows = append(t.Rows, []string{
			path.Base(n.Name), materialText(n.Flats[0].Flat.Material), sizes(0, n.Stock.X, n.Stock.Y), sizes(0, math.Ceil(n.Take.X), math.Ceil(n.Take.Y)), percent(n.Used), strings.Join(pieces, ", "),
		})
	}
	return t
}

// cutCautions names what must not go under a laser.
func (r *Result) cutCautions() []export.Caution {
	out := []export.Caution{{
		Text:  "Knives cut away from the hand and against a steel rule, on a mat; a cut-resistant glove on the hand that holds. Cut edges of sheet are sharp.",
		Defer: "the maker of the knife, saw or cutter",
	}}
	if bad := r.chlorinated(); len(bad) > 0 {
		out = append(out, export.Caution{
			Text: fmt.Sprintf("Never under a laser: %s. Burnt, it gives hydrogen chloride, which is poisonous and eats the machine. Treat any foam or leatherette that you cannot name in the same way. Cut these with a knife.",
				check.List(bad)),
			Defer: "the material's safety data sheet and the laser's maker",
		})
	}
	if kinds := r.lasered(); len(kinds) > 0 {
		out = append(out, export.Caution{
			Text:  fmt.Sprintf("Under a laser, as here the %s, anything can catch fire or smoulder on unseen: never leave it alone while it runs, keep its bed clean and an extinguisher in reach, look again a quarter of an hour later. Lid shut, or eyewear for its wavelength; extraction on and led outdoors or filtered, for the smoke harms the lungs.", check.List(kinds)),
			Defer: "the laser's maker, the material's safety data sheet and your local fire code",
		})
		if slices.Contains(kinds, r.sheetMaterial().Kind) && r.foulUnderLaser() {
			out = append(out, export.Caution{
				Text:  r.sheet.Title + " under a laser melts and chars rather than cuts, and its smoke is poisonous (of ABS hydrogen cyanide and styrene): many makers of lasers forbid it. The blank has straight sides: score it with a knife and snap it, and say so in the kit, cutter: {kind: laser, knife: [sheet]}.",
				Defer: "the laser's maker and the sheet's safety data sheet",
			})
		}
	}
	return out
}

// foulUnderLaser tells the sheets that stand on many lasers' lists of what not to cut;
// common practice, no source.
func (r *Result) foulUnderLaser() bool {
	return slices.Contains([]string{"abs", "hips", "pc"}, r.Kit.Sheet.Material)
}

// lasered lists the kinds of material that a laser cuts in this kit.
func (r *Result) lasered() (kinds []string) {
	for _, f := range r.Flats {
		if f.Cutter == pattern.Laser && f.Refused == "" && !slices.Contains(kinds, f.Material.Kind) {
			kinds = append(kinds, f.Material.Kind)
		}
	}
	return kinds
}

// chlorinated lists the kit's materials that a laser turns to hydrogen chloride.
func (r *Result) chlorinated() (bad []string) {
	if r.sheet.Chlorinated {
		bad = append(bad, r.sheet.Title)
	}
	if r.liner.Chlorinated {
		bad = append(bad, r.liner.Title)
	}
	if r.lidLiner.Chlorinated && r.Kit.LidLiner.Pads != params.PadsNone {
		bad = append(bad, r.lidLiner.Title)
	}
	if m := r.labelMaterial(); m.Chlorinated && r.Dims.Lid.Label {
		bad = append(bad, m.Title)
	}
	return bad
}
