package params

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// MostBytes is the size beyond which Parse refuses a file unread: it bounds the
// time and memory that a file of noise can take. A kit is a few kilobytes.
const MostBytes = 256 << 10

// Parse reads a kit file. The error is Problems: every mistake at once, in the
// file's order, so that the user mends the file in one pass. What depends on
// the tables of materials is left to Kit.Resolve.
func Parse(file string, src []byte) (*Kit, error) {
	r := newReader(file, src)
	root, ok := r.document(src)
	if !ok {
		return nil, r.err()
	}
	k := &Kit{File: file}
	if root.Kind != yaml.MappingNode && !(root.Kind == yaml.ScalarNode && root.Tag == "!!null") {
		r.problem(root, "", found(root)+", the keys of a kit are expected", "begin with `kit: NAME`; `buckwright new` writes a commented kit")
		return nil, r.err()
	}
	section{rows: kitRows(k), check: wholeCheck(k)}.read(r, "", root)
	if err := r.err(); err != nil {
		return nil, err
	}
	delete(r.where, "")
	k.Where, k.lines = maps.Clone(r.where), r.lines
	return k, nil
}

// document turns the file into its one YAML tree.
func (r *reader) document(src []byte) (*yaml.Node, bool) {
	if len(src) > MostBytes {
		r.lines = nil
		r.problemAt(Pos{}, "", fmt.Sprintf("the file is larger than %d KiB, which no kit is", MostBytes>>10), "is this the right file?")
		return nil, false
	}
	if pos, what, hint := badText(src); what != "" {
		r.problemAt(pos, "", what, hint)
		return nil, false
	}
	dec := yaml.NewDecoder(bytes.NewReader(src))
	var doc, second yaml.Node
	err := dec.Decode(&doc)
	if errors.Is(err, io.EOF) || err == nil && len(doc.Content) == 0 {
		r.problemAt(Pos{}, "", "the file is empty", "`buckwright new FILE --template NAME` writes a commented kit")
		return nil, false
	}
	if err == nil {
		if err = dec.Decode(&second); errors.Is(err, io.EOF) {
			return doc.Content[0], true
		}
	}
	if err == nil {
		r.problem(&second, "", "a second document begins here", "one file holds one kit; take out what follows ---")
		return nil, false
	}
	r.notYAML(err)
	return nil, false
}

// badText finds the first byte that no text file should have.
func badText(src []byte) (pos Pos, what, hint string) {
	if bytes.HasPrefix(src, []byte{0xff, 0xfe}) || bytes.HasPrefix(src, []byte{0xfe, 0xff}) {
		return Pos{}, "the file is UTF-16 text", "save it as UTF-8"
	}
	line, col := 1, 0
	for i := 0; i < len(src); {
		c, size := utf8.DecodeRune(src[i:])
		col++
		switch {
		case c == utf8.RuneError && size == 1:
			return Pos{line, col}, fmt.Sprintf("byte %#02x is not UTF-8 text", src[i]), "save the file as UTF-8"
		case c == '\n':
			line, col = line+1, 0
		case c == '\r' && i+1 < len(src) && src[i+1] == '\n', c == '\t', c == 0xfeff && i == 0:
		case isControl(c):
			return Pos{line, col}, fmt.Sprintf("character U+%04X is not shown and does not belong in a kit", c), "delete it, or write the line again"
		}
		i += size
	}
	return Pos{}, "", ""
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line ([0-9]+): )?`)

// notYAML puts a syntax error where it is, in words.
func (r *reader) notYAML(err error) {
	msg := err.Error()
	at := yamlLine.FindStringSubmatch(msg)
	pos := Pos{1, 1} // yaml.v3 names no line for a mistake in the first
	if at != nil && at[1] != "" {
		n, _ := strconv.Atoi(at[1])
		pos = Pos{min(max(n, 1), len(r.lines)), 1}
	}
	if name, ok := strings.CutSuffix(strings.TrimPrefix(msg, "yaml: unknown anchor '"), "' referenced"); ok {
		pos = r.find("*" + name)
	}
	msg = strings.TrimPrefix(msg, yamlLine.FindString(msg))
	if tab, ok := r.indentTab(); ok {
		r.problemAt(tab, "", "a tab begins this line, and YAML is indented with spaces", "replace the tab by two spaces")
		return
	}
	r.problemAt(pos, "", "this is not YAML: "+printable(msg), yamlHint(msg))
}

// find is where a text first stands.
func (r *reader) find(s string) Pos {
	for i, line := range r.lines {
		if j := strings.Index(line, s); j >= 0 {
			return Pos{i + 1, utf8.RuneCountInString(line[:j]) + 1}
		}
	}
	return Pos{}
}

// indentTab finds the first tab in an indentation.
func (r *reader) indentTab() (Pos, bool) {
	for i, line := range r.lines {
		indent := line[:len(line)-len(strings.TrimLeft(line, " \t"))]
		if j := strings.IndexByte(indent, '\t'); j >= 0 && len(indent) < len(line) {
			return Pos{i + 1, j + 1}, true
		}
	}
	return Pos{}, false
}

func yamlHint(msg string) string {
	switch {
	case strings.Contains(msg, "mapping values are not allowed"):
		return "look for a missing line break, a wrong indentation or a colon too many, in this line or one near it"
	case strings.Contains(msg, "did not find expected ',' or"):
		return "look for a bracket or comma that is missing in this line or one near it"
	case strings.Contains(msg, "cannot start any token"):
		return "put the value in quotes"
	case strings.Contains(msg, "expected key"), strings.Contains(msg, "block collection"), strings.Contains(msg, "expected '-'"):
		return "look at the indentation in this line and those near it: keys of one group start in one column"
	case strings.Contains(msg, "could not find expected ':'"):
		return "write `key: value`, with a space after the colon"
	case strings.Contains(msg, "unknown anchor"):
		return "a kit does not use aliases; a value that begins with * needs quotes"
	}
	return "look at the brackets, quotes and indentation in this line and those near it"
}
