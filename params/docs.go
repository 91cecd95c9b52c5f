package params

import "strings"

// Key is one key of the kit file as it is explained to people.
type Key struct {
	Key     string `json:"key"`     // dotted; [] for the elements of a list
	Default string `json:"default"` // as it would be typed, "" when there is none
	Need    bool   `json:"need"`    // must be given
	Help    string `json:"help"`
}

// Keys lists every key of the kit file in the order in which they are explained.
func Keys() []Key {
	var keys []Key
	walk("", kitRows(new(Kit)), func(at string, w row) {
		keys = append(keys, Key{at, w.def, w.need, w.help})
	})
	return keys
}

// parent is a value that has rows of its own inside.
type parent interface {
	inside() (suffix string, rows []row)
}

func (s section) inside() (string, []row) { return "", s.rows }
func (v oneOf) inside() (string, []row)   { return "", v.rows }
func (v notch) inside() (string, []row)   { return "", v.rows() }

func (v maybe[T]) inside() (string, []row) { return rowsOf(v.of(new(T))) }

func (v list[T]) inside() (string, []row) {
	suffix, rows := rowsOf(v.each(new(T)))
	return "[]" + suffix, rows
}

func rowsOf(v value) (string, []row) {
	if p, ok := v.(parent); ok {
		return p.inside()
	}
	return "", nil
}

func walk(at string, rows []row, visit func(at string, w row)) {
	for _, w := range rows {
		key := join(at, w.key)
		visit(key, w)
		if suffix, inner := rowsOf(w.to); inner != nil {
			walk(key+suffix, inner, visit)
		}
	}
}

// elsewhere is the dotted place of a key that stands in the wrong section: the
// first of that name, or "".
func elsewhere(name string) string {
	found := ""
	walk("", kitRows(new(Kit)), func(at string, w row) {
		if found == "" && w.key == name && strings.Contains(at, ".") {
			found = at
		}
	})
	return found
}
