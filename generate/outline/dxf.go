package outline

import (
	"bytes"
	"math"
	"strconv"
	"strings"
)

// readDXF reads the lines and curves of a DXF drawing's model space, as the DXF
// reference (Autodesk, releases R12 to 2018) has it: groups of a code and a value,
// a line each. Colours are not looked at.
func readDXF(src []byte, o Options) (*drawing, *Error) {
	if bytes.HasPrefix(src, []byte("AutoCAD Binary DXF")) {
		return nil, fail(0, "save it as DXF R12, in text", "binary DXF is not read")
	}
	all, err := groups(src)
	if err != nil {
		return nil, err
	}
	d := &drawing{}
	if err := d.knows(o.Unit, headerUnit(all)); err != nil {
		err.Hint = "export it in mm with its unit ($INSUNITS), or add `unit: mm` beside the file if its numbers are millimetres"
		return nil, err
	}
	return d, d.entities(section(all, "ENTITIES"), o.Layer)
}

// group is a code with its value.
type group struct {
	code  int
	value string
	line  int // of the value
}

func (g group) is(code int, value string) bool { return g.code == code && g.value == value }

// groups reads the file up to its end mark, which must be there.
func groups(src []byte) ([]group, *Error) {
	var out []group
	line := 0
	next := func() (string, bool) {
		if len(src) == 0 {
			return "", false
		}
		line++
		text, rest, _ := bytes.Cut(src, []byte("\n"))
		src = rest
		return strings.TrimSpace(string(text)), true
	}
	for {
		code, ok := next()
		value, ok2 := next()
		if !ok || !ok2 {
			return nil, fail(line, "export the drawing again", "the file is cut short: no end mark")
		}
		n, err := strconv.Atoi(code)
		if err != nil {
			return nil, fail(line-1, "is it a DXF file? export the drawing again", "%.20q stands where a group code must be", code)
		}
		if n == 999 && len(out) > 0 {
			continue // a comment; the first may name the unit
		}
		g := group{n, value, line}
		if g.is(0, "EOF") {
			return out, nil
		}
		out = append(out, g)
	}
}

// section is the groups of a section, its name and end left out.
func section(all []group, name string) []group {
	for i := 1; i < len(all); i++ {
		if !all[i].is(2, name) || !all[i-1].is(0, "SECTION") {
			continue
		}
		for j := i + 1; j < len(all); j++ {
			if all[j].is(0, "ENDSEC") {
				return all[i+1 : j]
			}
		}
		return all[i+1:]
	}
	return nil
}

// headerUnit is mm per unit by $INSUNITS, 0 if it says nothing. Release 12 has no
// such variable; there a comment may say it in one word.
func headerUnit(all []group) float64 {
	for _, g := range all {
		if g.is(999, "millimetres") || g.is(999, "millimeters") {
			return 1
		}
	}
	head := section(all, "HEADER")
	for i := 0; i+1 < len(head); i++ {
		if !head[i].is(9, "$INSUNITS") || head[i+1].code != 70 {
			continue
		}
		switch head[i+1].value {
		case "1":
			return 25.4
		case "2":
			return 304.8
		case "4":
			return 1
		case "5":
			return 10
		case "6":
			return 1000
		case "9":
			return 0.0254
		case "13":
			return 0.001
		case "14":
			return 100
		}
	}
	return 0
}

// entity is one thing drawn.
type entity struct {
	kind string
	line int
	g    []group
}

// split cuts groups into entities.
func split(all []group) []entity {
	var out []entity
	for i, g := range all {
		if g.code == 0 {
			out = append(out, entity{kind: g.value, line: g.line})
		} else if n := len(out); n > 0 {
			out[n-1].g = append(out[n-1].g, all[i])
		}
	}
	return out
}

func (d *drawing) entities(all []group, layer string) *Error {
	list := split(all)
	for i := 0; i < len(list); i++ {
		e := list[i]
		var err *Error
		if e.kind == "POLYLINE" {
			from := i + 1
			for i+1 < len(list) && (list[i+1].kind == "VERTEX" || list[i+1].kind == "SEQEND") {
				i++
				if list[i].kind == "SEQEND" {
					break
				}
			}
			if e.on(layer) {
				err = d.polyline(e, list[from:min(i+1, len(list))])
			}
		} else if e.on(layer) {
			err = d.entity(e)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// values reads the numbers of the wanted codes, in the order of the file.
func (e entity) values(codes ...int) ([]float64, *Error) {
	var out []float64
	for _, g := range e.g {
		for _, c := range codes {
			if g.code != c {
				continue
			}
			v, err := strconv.ParseFloat(g.value, 64)
			if err != nil || !(math.Abs(v) < 1e12) {
				return nil, fail(g.line, "export the drawing again", "%.20q is no number to draw with", g.value)
			}
			out = append(out, v)
		}
	}
	return out, nil
}

// value is the number of a code, or what it is when not given.
func (e entity) value(code int, absent float64) (float64, *Error) {
	v, err := e.values(code)
	if err != nil || len(v) == 0 {
		return absent, err
	}
	return v[0], nil
}

// needs reads one number for each code; all must be given.
func (e entity) needs(codes ...int) ([]float64, *Error) {
	out := make([]float64, len(codes))
	for i, c := range codes {
		v, err := e.values(c)
		switch {
		case err != nil:
			return nil, err
		case len(v) == 0:
			return nil, fail(e.line, "export the drawing again", "the %s lacks group %d", e.kind, c)
		}
		out[i] = v[0]
	}
	return out, nil
}

// flags are the bits of group 70.
func (e entity) flags() int {
	for _, g := range e.g {
		if g.code == 70 {
			n, _ := strconv.Atoi(g.value)
			return n
		}
	}
	return 0
}

// paper reports whether it lies in paper space, on a sheet and not in the drawing.
func (e entity) paper() bool {
	for _, g := range e.g {
		if g.is(67, "1") {
			return true
		}
	}
	return false
}

// on reports whether it lies on a layer; all are on "".
func (e entity) on(layer string) bool {
	for _, g := range e.g {
		if g.code == 8 {
			return layer == "" || strings.EqualFold(g.value, layer)
		}
	}
	return layer == "" || layer == "0" // the layer of what names none
}
