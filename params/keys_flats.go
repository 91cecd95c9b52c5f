package params

import "gopkg.in/yaml.v3"

func cutterRows(k *Kit) []row {
	c := &k.Cutter
	kinds := []StockKind{StockFelt, StockSponge, StockLabel, StockSheet}
	return []row{
		{"kind", word[Cutter]{&c.Kind, []Cutter{Knife, Laser}}, "knife", false, "knife: by hand or by a cutting machine; laser: it burns its way"},
		{"kerf", optional{to: &c.Kerf, q: length, lo: 0, hi: 3}, "", false, "width that the cut takes away; else 0 for a knife, 0.2 for a laser"},
		{"knife", list[StockKind]{to: &c.Knife, each: func(s *StockKind) value { return word[StockKind]{s, kinds} }, noun: "material", most: len(kinds), lone: true},
			"", false, "materials that are cut with a knife although there is a laser: felt, sponge, label, sheet"},
	}
}

func stockRows(k *Kit) []row {
	s := &k.Stock
	size := func(key string, to *[2]float64, def, help string) row {
		return row{key, vector{to[:], "x, y", length, 20, 20000}, def, false, help}
	}
	return []row{
		size("felt", &s.Felt, "[36 in, 18 in]", "a piece of felt, x along its roll"),
		size("sponge", &s.Sponge, "[24 in, 12 in]", "a sheet of sponge"),
		size("label", &s.Label, "[210, 297]", "a sheet of label stock"),
		size("paper", &s.Paper, "[210, 297]", "a sheet of paper for templates"),
	}
}

func labelRows(k *Kit) []row {
	l := &k.Label
	return []row{
		{"material", word[LabelMaterial]{&l.Material, []LabelMaterial{LabelPaper, LabelPolyester, LabelVinyl}}, "paper", false, "vinyl is PVC: never under a laser"},
		{"gap", number{&l.Gap, length, 0, 5}, "0.3", false, "from the label's edge to the groove, each side"},
		{"window", maybe[[2]float64]{&l.Window, func(w *[2]float64) value { return vector{w[:], "x, y", length, 2, 1000} }}, "", false, "size of a cut-out in the middle of the label"},
	}
}

// cutterValue is a cutter given by its kind alone, or as a section.
type cutterValue struct {
	kind *Cutter
	section
}

func (v cutterValue) read(r *reader, at string, n *yaml.Node) {
	if n.Kind != yaml.ScalarNode || !r.usable(at, n) {
		v.section.read(r, at, n)
		return
	}
	v.section.fill(r, at)
	v.word().read(r, at, n)
	r.place(join(at, "kind"), n)
}

func (v cutterValue) word() word[Cutter] { return word[Cutter]{v.kind, []Cutter{Knife, Laser}} }

func (v cutterValue) schema() object {
	return object{"anyOf": []object{v.word().schema(), v.section.schema()}}
}
