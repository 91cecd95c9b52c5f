package fit

import (
	"fmt"

	"buckwright/params"
)

// The sources that stand in many rows. Anything else names its publication.
const (
	srcTool = "design of this tool"
	srcCP   = "common practice, no source"
	srcKit  = "the kit file"

	srcGauge  = "gauge +-10 %: shop guide"
	srcDraw   = "SPE Thermoforming 101, Thermoforming Quarterly 24(4), 2005; " + srcGauge
	srcFormed = "membrane on the buck, package forming; " + srcGauge
)

// Fixed is a value without a spread.
func Fixed(v float64) Span { return Span{v, v, v} }

// PlusMinus is a value with the same spread on either side.
func PlusMinus(v, t float64) Span { return Span{v, v - t, v + t} }

// Plus is the sum of two values whose spreads err together.
func (s Span) Plus(t Span) Span {
	return Span{s.Nominal + t.Nominal, s.Least + t.Least, s.Most + t.Most}
}

// add appends one derived value to the report.
func (b *builder) add(id, title, where, unit string, v Span, formula, source string) {
	b.d.Rows = append(b.d.Rows, Row{
		ID: id, Title: title, Where: where, Unit: unit,
		Nominal: v.Nominal, Least: v.Least, Most: v.Most,
		Formula: formula, Source: source,
	})
}

// addItem is add for a value of item i: the item's name ends its ID and is its place.
func (b *builder) addItem(i int, id, title, unit string, v Span, formula, source string) {
	name := b.d.Items[i].Name
	b.add(id+"."+name, title, name, unit, v, formula, source)
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

// placed is the first of the keys that has a place in the kit file: a problem cannot
// point at what is left to its default.
func (b *builder) placed(keys ...string) string {
	for _, key := range keys {
		if b.k.Problem(key, "", "").Pos != (params.Pos{}) {
			return key
		}
	}
	return keys[0]
}

// typed is the first of the keys whose own value stands in the kit file, else the last.
func (b *builder) typed(keys ...string) string {
	for _, key := range keys {
		if b.k.Given(key) {
			return key
		}
	}
	return keys[len(keys)-1]
}

// problem records a combination of values that cannot be made; key is the
// kit's value to change.
func (b *builder) problem(key, hint, format string, args ...any) {
	b.problems = append(b.problems, b.k.Problem(key, fmt.Sprintf(format, args...), hint))
}
