package params

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// rowKind ties the name of a table to its rows.
type rowKind struct {
	kind    string // key under `materials`, argument of `buckwright materials`
	title   string // of one row, in a message
	example string
	scratch func() section // reads into a row that is thrown away
	row     func(t *Tables, name string) (fields section, source *string, err error)
	add     func(t *Tables, name string) section // appends a row
}

func rowKinds() []rowKind {
	return []rowKind{
		kindOfRow("sheet", "sheet", "abs", func(t *Tables) *[]Sheet { return &t.Sheets }, (*Tables).Sheet,
			sheetRows, func(s *Sheet) (*string, *string) { return &s.Name, &s.Source }),
		kindOfRow("liner", "liner", "wool-felt-f10", func(t *Tables) *[]Liner { return &t.Liners }, (*Tables).Liner,
			linerRowRows, func(l *Liner) (*string, *string) { return &l.Name, &l.Source }),
		kindOfRow("former", "former", "desk-9x12", func(t *Tables) *[]Former { return &t.Formers }, (*Tables).Former,
			formerRows, func(f *Former) (*string, *string) { return &f.Name, &f.Source }),
		kindOfRow("printer", "printer", "bed-280", func(t *Tables) *[]Printer { return &t.Printers }, (*Tables).Printer,
			printerRows, func(p *Printer) (*string, *string) { return &p.Name, &p.Source }),
		kindOfRow("print", "print material", "abs", func(t *Tables) *[]PrintMaterial { return &t.PrintMaterials }, (*Tables).PrintMaterial,
			printMaterialRows, func(m *PrintMaterial) (*string, *string) { return &m.Name, &m.Source }),
	}
}

func kindOf(kind string) (rowKind, bool) {
	kinds := rowKinds()
	i := slices.IndexFunc(kinds, func(k rowKind) bool { return k.kind == kind })
	if i < 0 {
		return rowKind{}, false
	}
	return kinds[i], true
}

func tableTitle(kind string) string {
	k, _ := kindOf(kind)
	return k.title
}

func kindOfRow[T any](kind, title, example string, all func(*Tables) *[]T, find func(*Tables, string) (T, error),
	rows func(*T) []row, meta func(*T) (name, source *string)) rowKind {
	return rowKind{
		kind: kind, title: title, example: example,
		scratch: func() section { return section{rows: loose(rows(new(T)))} },
		row: func(t *Tables, name string) (section, *string, error) {
			if _, err := find(t, name); err != nil {
				return section{}, nil, err
			}
			list := *all(t)
			i := slices.IndexFunc(list, func(x T) bool { n, _ := meta(&x); return *n == name })
			_, source := meta(&list[i])
			return section{rows: loose(rows(&list[i]))}, source, nil
		},
		add: func(t *Tables, name string) section {
			list := all(t)
			*list = append(*list, *new(T))
			last := &(*list)[len(*list)-1]
			n, source := meta(last)
			*n = name
			return section{rows: append(rows(last), row{"source", prose(source), "", true, "where the values are from"})}
		},
	}
}

// loose makes every key optional and without a default: what is not given
// stays as the table has it.
func loose(rows []row) []row {
	for i := range rows {
		rows[i].need, rows[i].def = false, ""
		if s, ok := rows[i].to.(section); ok {
			loose(s.rows)
		}
	}
	return rows
}

// Kinds lists the tables: sheet, liner, former, printer, print.
func Kinds() []string {
	var kinds []string
	for _, k := range rowKinds() {
		kinds = append(kinds, k.kind)
	}
	return kinds
}

// Read appends the rows of one table file, `name: {key: value}`, to the table
// of that kind. The error is Problems, or says that there is no such kind.
func (t *Tables) Read(kind, file string, src []byte) error {
	k, ok := kindOf(kind)
	if !ok {
		return NoRow("table", kind, Kinds())
	}
	r := newReader(file, src)
	root, ok := r.document(src)
	if !ok {
		return r.err()
	}
	if root.Kind != yaml.MappingNode {
		r.notSection([]string{k.example}, "", k.kind, root)
		return r.err()
	}
	r.eachKey("", root, func(name string, key, val *yaml.Node) {
		if c := rowNameFault(name); c.what != "" {
			r.problem(key, name, c.what, c.hint)
			return
		}
		k.add(t, name).read(r, name, val)
	})
	return r.err()
}

func sheetRows(s *Sheet) []row {
	temp := func(key string, to *float64, help string) row {
		return row{key, number{to, temperature, -150, 400}, "", true, help}
	}
	return []row{
		{"title", prose(&s.Title), "", true, "its usual name"},
		{"density", number{&s.Density, density, 100, 5000}, "", true, "of the sheet"},
		{"cp", span{&s.Cp, heatCapacity, 200, 6000}, "", true, "specific heat: cold, and the mean up to forming"},
		{"k", span{&s.K, conductivity, 0.01, 5}, "", true, "heat conduction"},
		temp("set", &s.Set, "below it the part may leave the mould"),
		temp("low", &s.Low, "lower processing limit"),
		temp("orient", &s.Orient, "orienting temperature"),
		temp("core", &s.Core, "normal forming temperature of the core"),
		temp("up", &s.Up, "upper limit"),
		{"mould", span{&s.Mould, temperature, -20, 250}, "", true, "temperature of the mould"},
		temp("tg", &s.Tg, "glass transition"),
		{"shrink", span{&s.Shrink, share, 0, 0.08}, "", true, "mould shrinkage"},
		{"shrink_male", maybe[Span]{&s.ShrinkMale, func(v *Span) value { return span{v, share, 0, 0.08} }}, "", false, "mould shrinkage over a male tool"},
		{"shrink_female", maybe[Span]{&s.ShrinkFemale, func(v *Span) value { return span{v, share, 0, 0.08} }}, "", false, "mould shrinkage in a female tool"},
		{"melting", number{&s.Melting, enthalpy, 0, 400}, "0", false, "heat of melting"},
		{"melts", maybe[Span]{&s.Melts, func(v *Span) value { return span{v, temperature, -50, 400} }}, "", false, "where it melts, if it does"},
		{"mu", span{&s.Mu, pressure, 1, 1e5}, "", true, "shear modulus of the hot sheet"},
		{"law", maybe[Law]{&s.Law, elasticLaw}, "", false, "elastic law of the hot sheet, where it was measured; else neo-Hookean out of mu"},
		{"gauges", span{&s.Gauges, length, 0.05, 20}, "", true, "thicknesses sold"},
		{"crystalline", yesNo{&s.Crystalline}, "no", false, "whether it crystallises"},
		{"chlorinated", yesNo{&s.Chlorinated}, "no", false, "whether it gives hydrogen chloride when burnt"},
		{"clear", yesNo{&s.Clear}, "no", false, "whether it is sold clear"},
		{"radius_factor", number{&s.RadiusFactor, ratio, 0.5, 5}, "1", false, "least inside radius / gauge"},
		{"male_draft", number{&s.MaleDraft, angle, 0, 15}, "3", false, "least draft of a male wall"},
		{"female_draft", number{&s.FemaleDraft, angle, 0, 15}, "1", false, "least draft in a female cavity"},
		{"vacuum", number{&s.LeastVacuum, pressure, 0, 101.325}, "0", false, "vacuum the maker of the sheet asks for"},
		{"dry_first", yesNo{&s.DryFirst}, "no", false, "whether it must be dried before forming"},
		{"note", prose(&s.Note), "", false, "what else to know"},
	}
}

func elasticLaw(l *Law) value {
	modulus := func(v *float64) value { return number{v, pressure, -1e5, 1e5} }
	exponent := func(v *float64) value { return number{v, ratio, -20, 20} }
	return section{rows: []row{
		{"kind", word[LawKind]{&l.Kind, []LawKind{NeoHookean, MooneyRivlin, Ogden}}, "", true, "which law"},
		{"moduli", list[float64]{to: &l.Moduli, each: modulus, noun: "modulus", least: 1, most: 6}, "", true, "its constants"},
		{"exponents", list[float64]{to: &l.Exponents, each: exponent, noun: "exponent", most: 6}, "", false, "Ogden's, one for each modulus"},
	}, check: l.check}
}

// check counts the constants, and asks that they resist a small stretch.
func (l *Law) check(r *reader, at string) {
	n, exponents, stiff := 1, 0, 0.0
	switch l.Kind {
	case MooneyRivlin:
		n = 2
	case Ogden:
		n, exponents = len(l.Moduli), len(l.Moduli)
	}
	if len(l.Moduli) != n || len(l.Exponents) != exponents {
		r.problemAt(r.where[at], at, fmt.Sprintf("%d moduli and %d exponents are given for %s", len(l.Moduli), len(l.Exponents), l.Kind),
			"neo-hookean takes one modulus, mooney-rivlin two, ogden as many exponents as moduli")
		return
	}
	for i, m := range l.Moduli {
		if l.Kind == Ogden {
			m *= l.Exponents[i]
		}
		stiff += m
	}
	if !(stiff > 0) {
		r.problemAt(r.where[at], at, "the law gives the sheet no stiffness", "the sum of the moduli, times their exponents for ogden, must be above 0")
	}
}

func linerRowRows(l *Liner) []row {
	return []row{
		{"title", prose(&l.Title), "", true, "its usual name"},
		{"kind", word[LinerKind]{&l.Kind, []LinerKind{Felt, Sponge}}, "", true, "which law of compression it follows"},
		{"density", number{&l.Density, density, 10, 2000}, "", true, "as bought"},
		{"p0", number{&l.P0, pressure, 0.1, 5000}, "", false, "felt: p = p0 ((1-e)^-3 - 1)"},
		{"stress25", span{&l.Stress25, pressure, 0, 1000}, "", false, "sponge: pressure at 25 % deflection"},
		{"friction", number{&l.Friction, ratio, 0, 2}, "", true, "against the product"},
		{"thickness_tol", number{&l.ThicknessTol, share, 0, 0.5}, "", true, "how far the thickness may be off, one side"},
		{"set", number{&l.Set, share, 0, 0.9}, "", true, "how much of a compression stays"},
		{"most", number{&l.Most, share, 0.05, 0.8}, "", true, "largest working compression"},
		{"area_strain", number{&l.AreaStrain, share, 0, 1}, "", true, "how much it stretches into a hollow without a cut"},
		{"open_cell", yesNo{&l.OpenCell}, "no", false, "whether it breathes"},
		{"chlorinated", yesNo{&l.Chlorinated}, "no", false, "whether it gives hydrogen chloride when burnt"},
	}
}

// formerRows are the keys that a kit gives, and a title.
func formerRows(f *Former) []row {
	return []row{
		{"title", prose(&f.Title), "", true, "what it is"},
		{"area", vector{f.Area[:], "x, y", length, 40, 3000}, "", true, "free sheet inside the clamp"},
		{"clamp", number{&f.Clamp, length, 0, 100}, "", true, "width gripped along every edge"},
		{"depth", number{&f.Depth, length, 5, 1000}, "", true, "tallest tool that goes in"},
		{"vacuum", number{&f.Vacuum, pressure, 5, 101.325}, "", true, "below the atmosphere"},
		{"platen", section{rows: []row{
			{"pitch", number{&f.Pitch, length, 2, 200}, "", true, "between its holes"},
			{"hole", number{&f.Hole, length, 0.3, 50}, "", true, "diameter of its holes"},
			{"border", number{&f.Border, length, 0, 300}, "", true, "from the edge of the area to the first hole"},
		}}, "", true, "the perforated table under the tool"},
		{"tank", number{&f.Tank, volume, 0, 1000}, "0", false, "vacuum tank; 0: pump only"},
		{"pump", number{&f.Pump, flow, 0, 10000}, "0", false, "free air of the pump; 0: not known"},
		{"heater", number{&f.Heater, temperature, 150, 900}, "", true, "surface of the heater"},
		{"two_sided", yesNo{&f.TwoSided}, "no", false, "heats the sheet from both sides"},
	}
}

func printerRows(p *Printer) []row {
	return []row{
		{"title", prose(&p.Title), "", true, "what it is"},
		{"bed", vector{p.Bed[:], "x, y, z", length, 50, 2000}, "", true, "what it can fill"},
		{"nozzle", number{&p.Nozzle, length, 0.1, 2}, "", true, "bore of the nozzle"},
		{"layer", number{&p.Layer, length, 0.04, 1.5}, "", true, "layer height"},
		{"least_hole", number{&p.LeastHole, length, 0.2, 10}, "", true, "smallest upright hole that it prints open"},
		{"foot", number{&p.Foot, length, 0, 2}, "", true, "chamfer that takes off the elephant's foot"},
	}
}

func printMaterialRows(m *PrintMaterial) []row {
	return []row{
		{"title", prose(&m.Title), "", true, "its usual name"},
		{"density", number{&m.Density, density, 500, 3000}, "", true, "of the filament"},
		{"modulus", number{&m.Modulus, modulus, 1, 20000}, "", true, "in the layer's plane"},
		{"safe_strain", number{&m.SafeStrain, share, 0.001, 0.2}, "", true, "for a snap that is opened often"},
		{"hdt", span{&m.HDT, temperature, 30, 300}, "", true, "heat deflection at 1.8 MPa and at 0.45 MPa"},
		{"tg", number{&m.Tg, temperature, -50, 250}, "", true, "glass transition"},
		{"cp", span{&m.Cp, heatCapacity, 200, 6000}, "", true, "specific heat"},
		{"k", span{&m.K, conductivity, 0.01, 5}, "", true, "heat conduction"},
		{"friction", number{&m.Friction, ratio, 0, 2}, "", true, "on itself"},
		{"shrink_scale", span{&m.ShrinkScale, share, 0, 0.05}, "", true, "how much a print comes out short"},
	}
}

// prose is a line of text for people.
func prose(to *string) value {
	const most = 400
	return text{to: to, longest: most, ok: func(s string) complaint {
		if strings.IndexFunc(s, isControl) >= 0 || len(s) > 2*most {
			return complaint{quote(s) + " is not one line of text", "write one line of at most 400 characters"}
		}
		return complaint{}
	}}
}
