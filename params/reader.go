package params

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// row is one key of a kit file or of a table: the parser, the schema and the
// documentation read the same rows. Adding a parameter is adding a row.
type row struct {
	key  string
	to   value
	def  string // the default as it would be typed; "" when there is none
	need bool   // the key must be given
	help string // one line: what it is
}

// value is how the value of a key is read, and what it may be.
type value interface {
	// read stores what node n says, or records problems; at is the dotted key.
	read(r *reader, at string, n *yaml.Node)
	// schema is the JSON Schema of what read accepts.
	schema() object
}

// filler is a value that has defaults of its own inside.
type filler interface {
	fill(r *reader, at string)
}

// reader walks the YAML tree itself: yaml.v3 decoding into a struct keeps no
// column, lets .nan and 010 (read as 8) through, and names Go types.
type reader struct {
	file     string
	lines    []string
	where    map[string]Pos
	problems Problems
	dropped  int    // problems beyond mostProblems
	filling  bool   // defaults are being read: nothing is placed in the file
	help     string // of the key that is being read
}

// mostProblems keeps the output of a file of noise readable.
const mostProblems = 40

func newReader(file string, src []byte) *reader {
	lines := strings.Split(strings.ReplaceAll(string(src), "\r\n", "\n"), "\n")
	return &reader{file: file, lines: lines, where: map[string]Pos{}}
}

func (r *reader) problem(n *yaml.Node, key, what, hint string) {
	r.problemAt(Pos{n.Line, n.Column}, key, what, hint)
}

func (r *reader) problemAt(pos Pos, key, what, hint string) {
	if r.filling {
		panic("params: the default of " + key + ": " + what)
	}
	if len(r.problems) >= mostProblems {
		r.dropped++
		return
	}
	line := ""
	if pos.Line >= 1 && pos.Line <= len(r.lines) {
		line = r.lines[pos.Line-1]
	}
	r.problems = append(r.problems, &Problem{File: r.file, Pos: pos, Key: key, What: what, Hint: hint, line: line})
}

func (r *reader) place(at string, n *yaml.Node) {
	if !r.filling {
		r.where[at] = Pos{n.Line, n.Column}
	}
}

// err is nil when there was no problem.
func (r *reader) err() error {
	if len(r.problems) == 0 {
		return nil
	}
	slices.SortStableFunc(r.problems, func(a, b *Problem) int {
		if a.Pos.Line != b.Pos.Line {
			return a.Pos.Line - b.Pos.Line
		}
		return a.Pos.Col - b.Pos.Col
	})
	if r.dropped > 0 {
		last := &Problem{File: r.file, What: fmt.Sprintf("%d more problems are not shown", r.dropped), Hint: "mend these first"}
		return append(r.problems, last)
	}
	return r.problems
}

// usable reports whether n can be read as a value at all; if not, it says why.
func (r *reader) usable(at string, n *yaml.Node) bool {
	switch {
	case n.Kind == yaml.AliasNode:
		r.problem(n, at, "*"+n.Value+" is an alias, which a kit does not use", "write the value here in full")
	case n.Style&yaml.TaggedStyle != 0:
		r.problem(n, at, "the tag "+quote(n.Tag)+" is not used in a kit", "write the value alone")
	case n.Kind == yaml.ScalarNode && n.Tag == "!!null" || n.Kind == yaml.ScalarNode && strings.TrimSpace(n.Value) == "":
		r.problem(n, at, "nothing is written here", "write the value, or take the key out to have the default")
	default:
		return true
	}
	return false
}

// scalar returns the text of a single value.
func (r *reader) scalar(at string, n *yaml.Node, expected, hint string) (string, bool) {
	if !r.usable(at, n) {
		return "", false
	}
	switch n.Kind {
	case yaml.ScalarNode:
		return n.Value, true
	case yaml.SequenceNode:
		r.problem(n, at, "a list stands here, "+expected+" is expected", hint)
	default:
		r.problem(n, at, "a set of keys stands here, "+expected+" is expected", hint)
	}
	return "", false
}

// section is a set of keys. check, if given, runs when all keys were read
// without a problem, for what only shows when they are seen together.
type section struct {
	rows  []row
	check func(r *reader, at string)
}

func (s section) read(r *reader, at string, n *yaml.Node) {
	if !r.usable(at, n) {
		return
	}
	if n.Kind != yaml.MappingNode {
		r.notSection(s.keys(), s.meant(n), at, n)
		return
	}
	before := len(r.problems) + r.dropped
	r.place(at, n)
	misspelt := map[string]bool{} // keys that another was probably meant for
	seen := r.eachKey(at, n, func(key string, name, val *yaml.Node) {
		i := slices.IndexFunc(s.rows, func(w row) bool { return w.key == key })
		if i < 0 {
			misspelt[r.unknownKey(s.keys(), at, name)] = true
			return
		}
		r.help = s.rows[i].help
		s.rows[i].to.read(r, join(at, key), val)
	})
	_, merged := seen["<<"]
	for _, w := range s.rows {
		if _, given := seen[w.key]; given {
			continue
		}
		if w.need && (merged || misspelt[w.key]) {
			continue // what stands for it has been refused already
		}
		if w.need {
			r.problem(n, join(at, w.key), "missing", "add `"+w.key+":`, "+w.help)
			continue
		}
		w.fill(r, at)
	}
	if s.check != nil && len(r.problems)+r.dropped == before {
		s.check(r, at)
	}
}

func (s section) fill(r *reader, at string) {
	for _, w := range s.rows {
		w.fill(r, at)
	}
}

// meant is how a lone value was probably meant to be written, "" if that is not clear.
func (s section) meant(n *yaml.Node) string {
	key := s.likely(n)
	if key == "" || len(n.Value) >= 30 {
		return ""
	}
	said := n.Value
	for _, w := range s.rows {
		few, ok := w.to.(interface{ words() []string })
		if w.key != key || !ok || slices.Contains(few.words(), said) {
			continue
		}
		if said = meant(said, few.words()); said == "" {
			return "write {" + key + ": WORD}, the word one of: " + strings.Join(few.words(), ", ") + "; "
		}
	}
	return "did you mean {" + key + ": " + printable(said) + "}? "
}

// likely is the key for which a lone value was probably meant: the first that
// takes a number, or else the first.
func (s section) likely(n *yaml.Node) string {
	if n.Kind != yaml.ScalarNode {
		return ""
	}
	if _, _, ok := split(n.Value); !ok {
		return s.rows[0].key
	}
	for _, w := range s.rows {
		if takes(w.to, n.Value) {
			return w.key
		}
	}
	return ""
}

// takes reports whether text is a number that v could have.
func takes(v value, text string) bool {
	var is number
	switch v := v.(type) {
	case number:
		is = v
	case optional:
		is = number{nil, v.q, v.lo, v.hi}
	case span:
		is = number{nil, v.q, v.lo, v.hi}
	default:
		return false
	}
	m, wrong := is.q.parse(text)
	return wrong.what == "" && m.value >= is.lo && m.value <= is.hi
}

func (s section) keys() []string {
	keys := make([]string, len(s.rows))
	for i, w := range s.rows {
		keys[i] = w.key
	}
	return keys
}

// fill stores the row's default.
func (w row) fill(r *reader, at string) {
	was := r.filling
	r.filling = true
	defer func() { r.filling = was }()
	if w.def == "" {
		if f, ok := w.to.(filler); ok {
			f.fill(r, join(at, w.key))
		}
		return
	}
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(w.def), &doc); err != nil {
		panic("params: the default of " + w.key + ": " + err.Error())
	}
	w.to.read(r, join(at, w.key), doc.Content[0])
}

// eachKey visits the keys of a mapping, each once; it returns the keys seen.
func (r *reader) eachKey(at string, n *yaml.Node, visit func(key string, name, val *yaml.Node)) map[string]*yaml.Node {
	seen := map[string]*yaml.Node{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		name, val := n.Content[i], n.Content[i+1]
		first, twice := seen[name.Value]
		switch {
		case name.Kind != yaml.ScalarNode:
			r.problem(name, at, "a key must be one word", "write `key: value`")
		case name.Value == "<<" && name.Tag == "!!merge":
			seen["<<"] = name
			r.problem(name, join(at, "<<"), "a kit does not use merge keys", "write the keys here in full")
		case twice:
			r.problem(name, join(at, printable(name.Value)), fmt.Sprintf("given twice, first in line %d", first.Line), "keep one of them")
		default:
			seen[name.Value] = name
			visit(name.Value, name, val)
		}
	}
	return seen
}

// notSection says what stands where keys are expected; meant, when it is not
// empty, is how the value was probably meant.
func (r *reader) notSection(keys []string, meant, at string, n *yaml.Node) {
	what := "a list stands here, a set of keys is expected"
	hint := "keys here: " + strings.Join(keys, ", ")
	if n.Kind == yaml.ScalarNode {
		what = quote(n.Value) + " stands here, a set of keys is expected"
		hint = meant + hint
	}
	r.problem(n, at, what, hint)
}

// unknownKey refuses a key and returns the one that was probably meant, or "".
func (r *reader) unknownKey(keys []string, at string, name *yaml.Node) string {
	if len(r.problems) >= mostProblems {
		r.dropped++ // looking for what was meant takes time
		return ""
	}
	hint := "keys here: " + strings.Join(keys, ", ")
	near := cmp.Or(nearest(name.Value, keys), alike(name.Value, keys))
	if near != "" {
		twice := ""
		if strings.EqualFold(name.Value, "radius") && near == "diameter" {
			twice = ", twice as much"
		}
		hint = "did you mean " + near + twice + "? " + hint
	} else if place := elsewhere(name.Value); place != "" && strings.HasPrefix(place, "items") == strings.HasPrefix(at, "items") {
		hint = "did you mean " + place + "? " + hint
	}
	if digits := strings.Trim(name.Value, "0123456789"); digits == "" {
		hint = "a decimal is written with a point, not a comma; " + hint
	}
	key := strings.Trim(quote(name.Value), `"`)
	r.problem(name, join(at, key), "no such key", hint)
	return near
}

func join(at, key string) string {
	if at == "" {
		return key
	}
	return at + "." + key
}

func lastKey(at string) string {
	return at[strings.LastIndexByte(at, '.')+1:]
}
