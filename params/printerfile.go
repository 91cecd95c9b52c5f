package params

import (
	"maps"
	"slices"

	"gopkg.in/yaml.v3"
)

// printerFile is the file that a kit's `printer.file` names: the keys of the
// printer section, measured once and used by many kits.
type printerFile struct {
	name  string
	where map[string]Pos // dotted key, as in a kit -> place in that file
	lines []string
}

// UsePrinter takes from a printer file what the kit does not give itself; what
// neither gives comes from the row that either names. The error is Problems,
// placed in that file.
func (k *Kit) UsePrinter(name string, src []byte) error {
	r := newReader(name, src)
	root, ok := r.document(src)
	if !ok {
		return r.err()
	}
	if root.Kind != yaml.MappingNode {
		r.problem(root, "", found(root)+", the keys of a printer are expected", "`buckwright calibrate` writes such a file")
		return r.err()
	}
	section{rows: k.printerRows()}.read(r, "printer", root)
	if err := r.err(); err != nil {
		return err
	}
	delete(r.where, "printer")
	k.printer = printerFile{name, maps.Clone(r.where), r.lines}
	return nil
}

// printerRows are the keys of a printer file, without the one that names
// another. What the kit itself gives is read, so that a mistake shows, and dropped.
func (k *Kit) printerRows() []row {
	rows := k.under("printer", printerKeyRows(k), printerKeyRows(new(Kit)))
	return slices.DeleteFunc(rows, func(w row) bool { return w.key == "file" })
}

// under puts the rows of dropped in place of those that the kit gives.
func (k *Kit) under(at string, rows, dropped []row) []row {
	for i := range rows {
		key := join(at, rows[i].key)
		if inner, ok := rows[i].to.(section); ok {
			inner.rows = k.under(key, inner.rows, dropped[i].to.(section).rows)
			rows[i].to = inner
		} else if k.gives(key) {
			rows[i].to = dropped[i].to
		}
	}
	return rows
}

// gives reports whether the kit file gives a key; for the printer's name, also
// when it stands in place of the section.
func (k *Kit) gives(key string) bool {
	return k.Given(key) || key == "printer.name" && k.Printer.Name != ""
}

// PrinterOnly makes a kit with nothing but a printer in it, for what is made
// once per printer. Of a printer file or a kit file it takes the printer; name
// is the row of the table when there is no file.
func PrinterOnly(name, file string, src []byte) (*Kit, error) {
	if file != "" && isKit(file, src) {
		return Parse(file, src)
	}
	k := &Kit{File: file, Where: map[string]Pos{}}
	section{rows: kitRows(k)}.fill(newReader(file, nil), "")
	if file == "" {
		k.Printer.Name = name
		return k, nil
	}
	return k, k.UsePrinter(file, src)
}

// isKit reports whether a file has the keys that only a kit has.
func isKit(file string, src []byte) bool {
	r := newReader(file, src)
	root, ok := r.document(src)
	if !ok || root.Kind != yaml.MappingNode {
		return false
	}
	seen := r.eachKey("", root, func(string, *yaml.Node, *yaml.Node) {})
	return seen["kit"] != nil || seen["items"] != nil
}

// PrinterGiven lists the keys of the printer that the kit file or its printer
// file gives, as they would be typed: what a printer file must say again.
func (k *Kit) PrinterGiven() []Value {
	var out []Value
	for _, w := range printerKeyRows(k) {
		for _, v := range k.values(nil, "printer", w) {
			_, filed := k.printer.where[v.Key]
			if v.Text != "" && (k.gives(v.Key) || filed) {
				out = append(out, v)
			}
		}
	}
	return out
}

// PrinterWord is the printer as a command line names it: the kit's or printer
// file, or the row of the table.
func (k *Kit) PrinterWord() string {
	if k.File != "" {
		return k.File
	}
	return k.Printer.Name
}
