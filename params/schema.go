package params

import (
	"regexp"
	"strings"
)

// object is one JSON object of a schema.
type object = map[string]any

// Schema is the JSON Schema (draft 2020-12) of a kit file. What it cannot
// express (repeated keys, the range of a number with a unit, sizes that must
// fit together) Parse checks alone.
func Schema() map[string]any {
	s := section{rows: kitRows(new(Kit))}.schema()
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = "buckwright kit"
	s["description"] = "One product, what goes with it, and their case. Plain numbers are millimetres, degrees, grams, kilopascals; any number may carry its unit."
	return s
}

func (s section) schema() object {
	properties, required := object{}, []string{}
	for _, w := range s.rows {
		properties[w.key] = w.schema()
		if w.need {
			required = append(required, w.key)
		}
	}
	o := object{"type": "object", "properties": properties, "additionalProperties": false}
	if len(required) > 0 {
		o["required"] = required
	}
	return o
}

func (w row) schema() object {
	o := w.to.schema()
	o["description"] = w.help
	var more []string
	if m, ok := w.to.(measured); ok && m.plain() != "" {
		more = append(more, m.plain())
	}
	if w.def != "" {
		more = append(more, "default "+w.def)
	}
	if len(more) > 0 {
		o["description"] = w.help + " (" + strings.Join(more, ", ") + ")"
	}
	return o
}

// measured is a value whose plain numbers are in a unit, "" for none.
type measured interface{ plain() string }

func (v number) plain() string   { return v.q.units()[0].name }
func (v optional) plain() string { return v.q.units()[0].name }
func (v vector) plain() string   { return v.q.units()[0].name }

func (v named) schema() object {
	return object{"anyOf": []object{rowName(v.name).schema(), v.section.schema()}}
}

// schema lets a plain number through within the range, and any number with a
// unit of its quantity.
func (v number) schema() object {
	hi := v.hi
	if v.q == share {
		hi = min(hi, 1)
	}
	var names []string
	for _, n := range v.q.unitNames() {
		names = append(names, regexp.QuoteMeta(n))
	}
	units := ""
	if len(names) > 0 {
		units = `[ \t]*(` + strings.Join(names, "|") + `)?`
	}
	pattern := `^[ \t]*([+-]?([0-9]+( +|-))?[0-9]+/[0-9]+|[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?)` + units + `[ \t]*$`
	return object{"anyOf": []object{
		{"type": "number", "minimum": v.lo, "maximum": hi},
		{"type": "string", "pattern": pattern},
	}}
}

func (v optional) schema() object {
	o := number{nil, v.q, v.lo, v.hi}.schema()
	if v.auto != "" {
		o["anyOf"] = append(o["anyOf"].([]object), object{"const": v.auto})
	}
	return o
}

func (v vector) schema() object {
	return object{"type": "array", "minItems": len(v.to), "maxItems": len(v.to), "items": v.each(0).schema()}
}

func (v same) schema() object {
	return object{"anyOf": []object{v.each(0).schema(), v.vector.schema()}}
}

func (v span) schema() object {
	return same{vector{make([]float64, 2), "", v.q, v.lo, v.hi}}.schema()
}

func (v maybe[T]) schema() object { return v.of(new(T)).schema() }

func (v word[T]) schema() object { return object{"enum": v.words()} }

func (v yesNo) schema() object { return object{"enum": []string{"yes", "no"}} }

func (v meshUnit) schema() object { return object{"enum": v.words()} }

func (v text) schema() object {
	o := object{"type": []string{"string", "number"}, "minLength": 1, "maxLength": v.longest}
	if v.pattern != "" {
		o["pattern"] = v.pattern
	}
	return o
}

func (v list[T]) schema() object {
	each := v.each(new(T)).schema()
	all := object{"type": "array", "items": each, "minItems": v.least, "maxItems": v.most}
	if v.lone {
		return object{"anyOf": []object{all, each}}
	}
	return all
}

func (v oneOf) schema() object {
	o := section{rows: v.rows}.schema()
	o["minProperties"], o["maxProperties"] = 1, 1
	return o
}

func (v notch) schema() object {
	return object{"anyOf": []object{v.side().schema(), section{rows: v.rows()}.schema()}}
}

func (v limits) schema() object {
	return object{"type": "object", "patternProperties": object{ruleName: object{"type": []string{"number", "string"}}}, "additionalProperties": false}
}

func (v overrides) schema() object {
	properties := object{}
	for _, k := range rowKinds() {
		properties[k.kind] = object{"type": "object", "additionalProperties": k.scratch().schema()}
	}
	return object{"type": "object", "properties": properties, "additionalProperties": false}
}
