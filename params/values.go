package params

import "strings"

// Value is one key of a kit with what it came to.
type Value struct {
	Key   string `json:"key"`   // dotted
	Text  string `json:"text"`  // the value with its unit, "" when it stays unset
	Given bool   `json:"given"` // it stands in the file; else it is a default or from a named row
	Help  string `json:"help"`
}

// Values lists every key that has a single value, items apart, with what the
// file, a row of a table or the default gave it. After Resolve it is what the
// kit is made with.
func (k *Kit) Values() []Value {
	var out []Value
	for _, w := range kitRows(k) {
		if w.key != "items" {
			out = k.values(out, "", w)
		}
	}
	return out
}

func (k *Kit) values(out []Value, at string, w row) []Value {
	key := join(at, w.key)
	switch v := w.to.(type) {
	case shower:
		return append(out, Value{key, v.show(), k.Given(key), w.help})
	case parent:
		suffix, rows := v.inside()
		if suffix != "" { // a list: its elements have no keys of their own
			return out
		}
		for _, inner := range rows {
			out = k.values(out, key, inner)
		}
	}
	return out
}

// shower is a value that can be written as it would be typed.
type shower interface{ show() string }

func (v number) show() string { return v.q.text(*v.to) }

func (v optional) show() string {
	if *v.to == nil {
		return v.auto
	}
	return v.q.text(**v.to)
}

func (v vector) show() string {
	texts := make([]string, len(v.to))
	for i, x := range v.to {
		texts[i] = v.q.text(x)
	}
	return "[" + strings.Join(texts, ", ") + "]"
}

func (v span) show() string {
	if v.to.Least == v.to.Most {
		return v.q.text(v.to.Least)
	}
	return "[" + v.q.text(v.to.Least) + ", " + v.q.text(v.to.Most) + "]"
}

func (v word[T]) show() string { return string(*v.to) }

func (v text) show() string { return *v.to }

func (v yesNo) show() string {
	if *v.to {
		return "yes"
	}
	return "no"
}

// show writes what is there; a pointer that stays nil has nothing to show.
func (v maybe[T]) show() string {
	if *v.to == nil {
		return ""
	}
	switch inner := v.of(*v.to).(type) {
	case shower:
		return inner.show()
	case section:
		var texts []string
		for _, w := range inner.rows {
			if s, ok := w.to.(shower); ok {
				texts = append(texts, w.key+": "+s.show())
			}
		}
		return "{" + strings.Join(texts, ", ") + "}"
	}
	return ""
}
