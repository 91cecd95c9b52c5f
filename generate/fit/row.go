package fit

import (
	"fmt"
	"strings"

	"buckwright/params"
)

// The sources that stand in many rows. Anything else names its publication.
const (
	srcTool = "design of this tool"
	srcCP   = "common practice, no source"
	srcKit  = "the kit file"
)

// Fixed is a value without a spread.
func Fixed(v float64) Span { return Span{v, v, v} }

// PlusMinus is a value with the same spread on either side.
func PlusMinus(v, t float64) Span { return Span{v, v - t, v + t} }

// add appends one derived value to the report.
func (b *builder) add(id, title, where, unit string, v Span, formula, source string) {
	b.d.Rows = append(b.d.Rows, Row{
		ID: id, Title: title, Where: where, Unit: unit,
		Nominal: v.Nominal, Least: v.Least, Most: v.Most,
		Formula: formula, Source: source,
	})
}

// Row finds a derived value by its ID.
func (d *Dims) Row(id string) (Row, bool) {
	for _, r := range d.Rows {
		if r.ID == id {
			return r, true
		}
	}
	return Row{}, false
}

// Problem is a combination of values that cannot be made.
type Problem struct {
	Key  string     // the kit's value to change, dotted
	Pos  params.Pos // its place; zero when it is a default
	Text string
	Hint string
}

// Problems is the error of Derive: everything that cannot be made, in a fixed order.
type Problems []Problem

func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, one := range p {
		lines[i] = one.Key + ": " + one.Text
	}
	return strings.Join(lines, "\n")
}

func (b *builder) problem(key, hint, format string, args ...any) {
	b.problems = append(b.problems, Problem{
		Key: key, Pos: b.k.Where[key], Text: fmt.Sprintf(format, args...), Hint: hint,
	})
}
