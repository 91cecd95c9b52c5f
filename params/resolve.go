package params

import (
	"cmp"
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// Problem makes a problem of a later stage that points at the value of key in
// the kit file, or at the nearest section round it that is in the file.
func (k *Kit) Problem(key, what, hint string) *Problem {
	if pos, ok := k.printer.where[key]; ok && !k.Given(key) {
		return &Problem{File: k.printer.name, Pos: pos, Key: key, What: what, Hint: hint, line: k.printer.lines[pos.Line-1]}
	}
	p := &Problem{File: k.File, Pos: nearestPlace(k.Where, key), Key: key, What: what, Hint: hint}
	if n := p.Pos.Line; n >= 1 && n <= len(k.lines) {
		p.line = k.lines[n-1]
	}
	return p
}

// Given reports whether the kit file holds a value for the dotted key; if not,
// it is a default.
func (k *Kit) Given(key string) bool {
	_, ok := k.Where[key]
	return ok
}

// Beside is the path of a file that the kit names: a relative one is taken from the
// kit's own folder.
func (k *Kit) Beside(name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(filepath.Dir(k.File), name)
}

func nearestPlace(where map[string]Pos, key string) Pos {
	for key != "" {
		if pos, ok := where[key]; ok {
			return pos
		}
		key = key[:max(strings.LastIndexByte(key, '.'), strings.LastIndexByte(key, '['), 0)]
	}
	return Pos{}
}

// Resolve fills the former and printer from the rows they name, and returns
// the tables with the kit's own values laid over them. The error is Problems:
// names that no table has, each with the nearest that there is.
func (k *Kit) Resolve(t *Tables) (*Tables, error) {
	own := &Tables{slices.Clone(t.Sheets), slices.Clone(t.Liners), slices.Clone(t.Formers), slices.Clone(t.Printers), slices.Clone(t.PrintMaterials)}
	problems := k.override(own)
	look := func(key, name, kind string, err error) {
		if err != nil {
			problems = append(problems, k.noRow(key, name, kind, err))
		}
	}
	_, err := own.Sheet(k.Sheet.Material)
	look("sheet.material", k.Sheet.Material, "sheet", err)
	_, err = own.Liner(k.Liner.Material)
	look("liner.material", k.Liner.Material, "liner", err)
	_, err = own.Liner(k.LidLiner.Material)
	look("lid_liner.material", k.LidLiner.Material, "liner", err)
	_, err = own.PrintMaterial(k.Printer.Material)
	look("printer.material", k.Printer.Material, "print", err)
	if k.Former.Name != "" {
		row, err := own.Former(k.Former.Name)
		look(k.nameKey("former"), k.Former.Name, "former", err)
		k.fromFormer(row)
	}
	if k.Printer.Name != "" {
		row, err := own.Printer(k.Printer.Name)
		look(k.nameKey("printer"), k.Printer.Name, "printer", err)
		k.fromPrinter(row)
	}
	if len(problems) == 0 {
		problems = k.recheck()
	}
	if len(problems) > 0 {
		slices.SortStableFunc(problems, func(a, b *Problem) int {
			return cmp.Or(a.Pos.Line-b.Pos.Line, a.Pos.Col-b.Pos.Col)
		})
		return nil, problems
	}
	return own, nil
}

// nameKey is where a former's or printer's name stands.
func (k *Kit) nameKey(section string) string {
	at, given := k.Where[section+".name"]
	alone := given && at == k.Where[section] // it stands in place of the section
	if _, filed := k.printer.where[section+".name"]; filed || given && !alone {
		return section + ".name"
	}
	return section
}

func (k *Kit) noRow(key, name, kind string, err error) *Problem {
	hint := "`buckwright materials " + kind + "` lists them"
	var unknown *UnknownRowError
	if errors.As(err, &unknown) {
		hint = "one of: " + strings.Join(unknown.Names, ", ")
		if unknown.Near != "" {
			hint = "did you mean " + unknown.Near + "? " + hint
		}
	}
	return k.Problem(key, "no "+tableTitle(kind)+" is called "+quote(name), hint)
}

// fromFormer takes from the row what the kit does not give itself.
func (k *Kit) fromFormer(row Former) {
	f := &k.Former
	take(k, "former.area", &f.Area, row.Area)
	take(k, "former.clamp", &f.Clamp, row.Clamp)
	take(k, "former.depth", &f.Depth, row.Depth)
	take(k, "former.vacuum", &f.Vacuum, row.Vacuum)
	take(k, "former.platen.pitch", &f.Platen.Pitch, row.Pitch)
	take(k, "former.platen.hole", &f.Platen.Hole, row.Hole)
	take(k, "former.platen.border", &f.Platen.Border, row.Border)
	take(k, "former.tank", &f.Tank, row.Tank)
	take(k, "former.pump", &f.Pump, row.Pump)
	take(k, "former.heater", &f.Heater, row.Heater)
	take(k, "former.two_sided", &f.TwoSided, row.TwoSided)
}

func (k *Kit) fromPrinter(row Printer) {
	p := &k.Printer
	take(k, "printer.bed", &p.Bed, row.Bed)
	take(k, "printer.nozzle", &p.Nozzle, row.Nozzle)
	take(k, "printer.layer", &p.Layer, row.Layer)
	take(k, "printer.least_hole", &p.LeastHole, row.LeastHole)
	take(k, "printer.foot", &p.Foot, row.Foot)
}

func take[T any](k *Kit, key string, to *T, row T) {
	if _, filed := k.printer.where[key]; !filed && !k.Given(key) {
		*to = row
	}
}

// recheck repeats, on what rows and kit give together, the checks that Parse
// made on the kit alone.
func (k *Kit) recheck() Problems {
	r := &reader{file: k.File, lines: k.lines, where: k.Where}
	k.checkFormer(r)
	k.checkPrinter(r)
	k.checkWall(r)
	return r.problems
}

// overrides reads `materials: {sheet: {abs: {shrink: 0.5 %}}}`. Here the values
// are only checked; Resolve reads them again into the rows they change.
type overrides struct{ kit *Kit }

func (v overrides) read(r *reader, at string, n *yaml.Node) {
	if !r.usable(at, n) {
		return
	}
	names := make([]string, 0, 5)
	for _, t := range rowKinds() {
		names = append(names, t.kind)
	}
	if n.Kind != yaml.MappingNode {
		r.notSection(names, "", at, n)
		return
	}
	r.place(at, n)
	r.eachKey(at, n, func(kind string, name, rows *yaml.Node) {
		t, ok := kindOf(kind)
		if !ok {
			r.unknownKey(names, at, name)
			return
		}
		v.readRows(r, join(at, kind), t, rows)
	})
}

func (v overrides) readRows(r *reader, at string, t rowKind, n *yaml.Node) {
	if !r.usable(at, n) {
		return
	}
	if n.Kind != yaml.MappingNode {
		r.notSection([]string{t.example}, "", at, n)
		return
	}
	r.place(at, n)
	r.eachKey(at, n, func(name string, key, val *yaml.Node) {
		if c := rowNameFault(name); name == "" || c.what != "" {
			r.problem(key, at, quote(name)+" is not the name of a row", "`buckwright materials "+t.kind+"` lists them")
			return
		}
		rowKey := join(at, name)
		r.place(rowKey, key)
		t.scratch().read(r, rowKey, val)
		v.kit.overrides = append(v.kit.overrides, override{kind: t.kind, name: name, key: rowKey, values: val})
	})
}

// override is a set of values for one row of one table.
type override struct {
	kind   string
	name   string
	key    string
	values *yaml.Node
}

// override lays the kit's values over the rows. A row that does not exist is a problem.
func (k *Kit) override(t *Tables) Problems {
	var problems Problems
	for _, o := range k.overrides {
		kind, _ := kindOf(o.kind)
		row, source, err := kind.row(t, o.name)
		if err != nil {
			problems = append(problems, k.noRow(o.key, o.name, o.kind, err))
			continue
		}
		r := &reader{file: k.File, lines: k.lines, where: map[string]Pos{}}
		row.read(r, o.key, o.values)
		*source = "changed in the kit; else " + *source
		problems = append(problems, r.problems...)
	}
	return problems
}
