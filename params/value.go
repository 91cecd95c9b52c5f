package params

import (
	"fmt"
	"math"
	"strings"

	"gopkg.in/yaml.v3"
)

// number is one measured value within a range, ends included.
type number struct {
	to     *float64
	q      quantity
	lo, hi float64
}

func (v number) read(r *reader, at string, n *yaml.Node) {
	if x, ok := v.number(r, at, n); ok {
		*v.to = x
		r.place(at, n)
	}
}

func (v number) number(r *reader, at string, n *yaml.Node) (float64, bool) {
	text, ok := r.scalar(at, n, v.q.noun()+" of "+v.span(), r.help)
	if !ok {
		return 0, false
	}
	m, wrong := v.q.parse(text)
	if wrong.what != "" {
		r.problem(n, at, wrong.what+"; allowed: "+v.span(), wrong.hint+r.about())
		return 0, false
	}
	if v.q == share && m.bare && m.value > 1 {
		r.problem(n, at, fmt.Sprintf("%s without a %% sign would be %s; allowed: %s", text, share.text(m.value), v.span()),
			"write `"+text+" %` if that is meant"+r.about())
		return 0, false
	}
	if !(m.value >= v.lo && m.value <= v.hi) { // written so that NaN fails
		r.problem(n, at, v.outside(text, m), v.outsideHint(r, text, m))
		return 0, false
	}
	return m.value, true
}

// about puts the key's help behind a hint.
func (r *reader) about() string {
	if r.help == "" {
		return ""
	}
	return " (" + r.help + ")"
}

func (v number) outside(text string, m measure) string {
	shown := strings.TrimSpace(printable(text))
	as := v.q.text(m.value)
	converted := !m.bare && as != shown || v.q == share && m.bare
	switch {
	case math.IsInf(m.value, 0):
		return shown + " is too large; allowed: " + v.span()
	case converted:
		return shown + " is " + as + ", outside " + v.span()
	}
	return shown + " is outside " + v.span()
}

// outsideHint knows the commonest reasons for a number out of range: a percentage
// written as a plain number, and a length in another unit.
func (v number) outsideHint(r *reader, text string, m measure) string {
	switch v.q {
	case share:
		if m.bare && m.value/100 >= v.lo && m.value/100 <= v.hi && m.value != 0 {
			return "write `" + text + " %` if that is meant"
		}
	case length:
		if other := v.otherUnit(text); other != "" {
			return other + r.about()
		}
	}
	return r.help
}

// otherUnit asks whether a length that is out of range was meant in a unit in
// which the same number is within it.
func (v number) otherUnit(text string) string {
	const thin = 50 // mm: only what stays below is measured in thousandths of an inch
	digits, _, _ := split(strings.TrimSpace(text))
	var asked []string
	for _, u := range []struct{ unit, said string }{
		{"mm", "millimetres"}, {"in", "inches"}, {"cm", "centimetres"}, {"mil", "thousandths of an inch"},
	} {
		m, _ := v.q.parse(digits + " " + u.unit)
		likely := u.unit != "mil" || v.hi <= thin && len(asked) == 0
		if likely && m.value >= v.lo && m.value <= v.hi {
			asked = append(asked, "in "+u.said+"? write "+digits+" "+u.unit)
		}
	}
	return strings.Join(asked, "; ")
}

func (v number) span() string { return v.q.text(v.lo) + " to " + v.q.text(v.hi) }

// optional is a number that may stay unset. auto, when given, is the word that
// leaves it so.
type optional struct {
	to     **float64
	q      quantity
	lo, hi float64
	auto   string
}

func (v optional) read(r *reader, at string, n *yaml.Node) {
	if v.auto != "" && n.Kind == yaml.ScalarNode && n.Value == v.auto {
		*v.to = nil
		r.place(at, n)
		return
	}
	if x, ok := (number{nil, v.q, v.lo, v.hi}).number(r, at, n); ok {
		*v.to = &x
		r.place(at, n)
	}
}

// vector is a fixed count of numbers.
type vector struct {
	to     []float64 // as long as the list must be
	names  string    // what they are, for messages: x, y, z
	q      quantity
	lo, hi float64
}

func (v vector) read(r *reader, at string, n *yaml.Node) {
	if !r.usable(at, n) {
		return
	}
	if n.Kind != yaml.SequenceNode || len(n.Content) != len(v.to) {
		r.problem(n, at, fmt.Sprintf("%s, a list of %d numbers is expected: [%s], each %s", found(n), len(v.to), v.names, v.each(0).span()), r.help)
		return
	}
	r.place(at, n)
	for i, c := range n.Content {
		v.each(i).read(r, fmt.Sprintf("%s[%d]", at, i), c)
	}
}

func (v vector) each(i int) number { return number{&v.to[i], v.q, v.lo, v.hi} }

// found says in words what node n holds.
func found(n *yaml.Node) string {
	switch n.Kind {
	case yaml.SequenceNode:
		if len(n.Content) == 0 {
			return "an empty list stands here"
		}
		return fmt.Sprintf("a list of %d stands here", len(n.Content))
	case yaml.MappingNode:
		return "a set of keys stands here"
	}
	return quote(n.Value) + " stands here"
}

// same is a number or a list of numbers: one number stands for all.
type same struct{ vector }

func (v same) read(r *reader, at string, n *yaml.Node) {
	if n.Kind == yaml.SequenceNode {
		v.vector.read(r, at, n)
		return
	}
	if x, ok := v.each(0).number(r, at, n); ok {
		for i := range v.to {
			v.to[i] = x
		}
		r.place(at, n)
	}
}

// span is a least and a most; one number stands for both.
type span struct {
	to     *Span
	q      quantity
	lo, hi float64
}

func (v span) read(r *reader, at string, n *yaml.Node) {
	before := len(r.problems) + r.dropped
	pair := []float64{v.to.Least, v.to.Most}
	same{vector{pair, "least, most", v.q, v.lo, v.hi}}.read(r, at, n)
	if len(r.problems)+r.dropped != before {
		return
	}
	if pair[0] > pair[1] {
		r.problem(n, at, fmt.Sprintf("least %s is more than most %s", v.q.text(pair[0]), v.q.text(pair[1])), "write the smaller number first")
		return
	}
	*v.to = Span{pair[0], pair[1]}
}

// maybe holds a value behind a pointer that stays nil unless the key is given.
type maybe[T any] struct {
	to **T
	of func(*T) value
}

func (v maybe[T]) read(r *reader, at string, n *yaml.Node) {
	t := new(T)
	v.of(t).read(r, at, n)
	*v.to = t
}

// word is one of a few.
type word[T ~string] struct {
	to *T
	of []T
}

func (v word[T]) read(r *reader, at string, n *yaml.Node) {
	words := v.words()
	list := "one of: " + strings.Join(words, ", ")
	text, ok := r.scalar(at, n, "a word", list)
	if !ok {
		return
	}
	for _, w := range v.of {
		if string(w) == text {
			*v.to = w
			r.place(at, n)
			return
		}
	}
	hint := "write one of them"
	if near := meant(text, words); near != "" {
		hint = "did you mean " + near + "?"
	}
	r.problem(n, at, quote(text)+" is not "+list, hint)
}

func (v word[T]) words() []string {
	words := make([]string, len(v.of))
	for i, w := range v.of {
		words[i] = string(w)
	}
	return words
}

// meant is nearest, knowing that true and false are said for yes and no.
func meant(text string, words []string) string {
	switch strings.ToLower(text) {
	case "true", "on", "y":
		text = "yes"
	case "false", "off", "n":
		text = "no"
	}
	return nearest(text, words)
}

// yesNo is a switch.
type yesNo struct{ to *bool }

func (v yesNo) read(r *reader, at string, n *yaml.Node) {
	var w string
	before := len(r.problems) + r.dropped
	word[string]{&w, []string{"yes", "no"}}.read(r, at, n)
	if len(r.problems)+r.dropped == before {
		*v.to = w == "yes"
	}
}

// text is free text that passes a test; ok returns what is wrong, or nothing.
type text struct {
	to *string
	ok func(string) complaint
	// pattern and longest say the same as ok, as far as a schema can.
	pattern string
	longest int
}

func (v text) read(r *reader, at string, n *yaml.Node) {
	s, ok := r.scalar(at, n, "a name", "write one word or path")
	if !ok {
		return
	}
	if c := v.ok(s); c.what != "" {
		r.problem(n, at, c.what, c.hint)
		return
	}
	*v.to = s
	r.place(at, n)
}

// list is a list of like values.
type list[T any] struct {
	to          *[]T
	each        func(*T) value
	noun        string // of one element
	least, most int
	lone        bool // a single element may stand without brackets
	check       func(r *reader, at string)
}

func (v list[T]) read(r *reader, at string, n *yaml.Node) {
	if !r.usable(at, n) {
		return
	}
	elements := n.Content
	switch {
	case n.Kind == yaml.SequenceNode:
	case v.lone:
		elements = []*yaml.Node{n}
	default:
		hint := "write a dash before each " + v.noun
		if n.Kind == yaml.ScalarNode {
			hint = "write a list in brackets: [ ... ]"
		}
		r.problem(n, at, found(n)+", a list is expected: one "+v.noun+" after another", hint)
		return
	}
	if k := len(elements); k < v.least || k > v.most {
		r.problem(n, at, fmt.Sprintf("%s; %d to %d are allowed", found(n), v.least, v.most), v.countHint(k))
		return
	}
	before := len(r.problems) + r.dropped
	r.place(at, n)
	all := make([]T, len(elements))
	for i, c := range elements {
		v.each(&all[i]).read(r, fmt.Sprintf("%s[%d]", at, i), c)
	}
	*v.to = all
	if v.check != nil && len(r.problems)+r.dropped == before {
		v.check(r, at)
	}
}

func (v list[T]) countHint(k int) string {
	if k > v.most {
		return fmt.Sprintf("take out %d or more", k-v.most)
	}
	return fmt.Sprintf("add %d or more", v.least-k)
}
