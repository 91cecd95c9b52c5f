package outline

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"

	"buckwright/generate/geom"
)

// readSVG reads the shapes of an SVG document: SVG 1.1 (second edition, W3C
// 2011), chapters 7 to 9. Styles are not looked at, but for display: none.
func readSVG(src []byte, o Options) (*drawing, *Error) {
	s := &svg{d: &drawing{flip: true}, said: o.Unit, layer: o.Layer}
	dec := xml.NewDecoder(bytes.NewReader(src))
	dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // what is read is ASCII
	dec.Strict = false                                                                     // for entities of drawing programs
	for {
		tok, err := dec.Token()
		line, _ := dec.InputPos()
		switch {
		case errors.Is(err, io.EOF):
			return nil, fail(0, "export the outline as SVG", "no svg element in it")
		case err != nil:
			return nil, fail(line, "export the drawing again", "not well-formed XML: %v", withoutLine(err))
		}
		if e := s.token(tok, line); e != nil {
			return nil, e
		}
		if s.seen && len(s.stack) == 0 {
			return s.d, nil // what follows the root is no drawing
		}
	}
}

// withoutLine is an XML error without the line that it begins with.
func withoutLine(err error) string {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		return syntax.Msg
	}
	return err.Error()
}

// svg is a document being read.
type svg struct {
	d     *drawing
	said  float64  // mm a unit, from the user
	seen  bool     // the root has begun
	stack []matrix // of the elements that are open
	skip  int      // elements open inside one that is not drawn
	layer string   // of the shapes that count; "": all
	depth int      // elements that were open when that layer began; 0: outside it
}

func (s *svg) token(tok xml.Token, line int) *Error {
	switch t := tok.(type) {
	case xml.EndElement:
		if s.skip > 0 {
			s.skip--
		} else if len(s.stack) > 0 {
			s.stack = s.stack[:len(s.stack)-1]
			if len(s.stack) < s.depth {
				s.depth = 0
			}
		}
	case xml.StartElement:
		if s.skip > 0 {
			s.skip++
			return nil
		}
		return s.start(t, line)
	}
	return nil
}

// start takes one element: a container, a shape, or something that is passed over.
func (s *svg) start(t xml.StartElement, line int) *Error {
	get := func(name string) string {
		for _, a := range t.Attr {
			if a.Name.Local == name && (a.Name.Space == "" || name == "href") {
				return a.Value
			}
		}
		return ""
	}
	if !s.seen {
		return s.root(t, get, line)
	}
	m, err := s.matrix(get("transform"), line)
	if err != nil {
		return err
	}
	style := strings.ReplaceAll(get("style"), " ", "")
	if get("display") == "none" || strings.Contains(style, "display:none") {
		s.skip++
		return nil
	}
	if strings.Contains(style, "transform:") {
		return fail(line, "apply the transform in the drawing program", "a transform in a style is not followed")
	}
	switch t.Name.Local {
	case "g", "a", "switch":
		s.stack = append(s.stack, m)
		if s.depth == 0 && (strings.EqualFold(get("id"), s.layer) || strings.EqualFold(label(t), s.layer)) {
			s.depth = len(s.stack)
		}
		return nil
	case "use", "svg":
		if s.layer != "" && s.depth == 0 {
			s.skip++
			return nil
		}
		return fail(line, "turn it into a path in the drawing program", "a copied or nested drawing (%s) is not followed", t.Name.Local)
	}
	s.skip++ // a shape has no children that are drawn
	if s.layer != "" && s.depth == 0 {
		return nil
	}
	return s.shape(t.Name.Local, get, m, line)
}

// label is the name that drawing programs show for a group: an attribute called
// label in a name space of their own.
func label(t xml.StartElement) string {
	for _, a := range t.Attr {
		if a.Name.Local == "label" && a.Name.Space != "" {
			return a.Value
		}
	}
	return ""
}

func (s *svg) root(t xml.StartElement, get func(string) string, line int) *Error {
	if t.Name.Local != "svg" {
		return fail(line, "export the outline as SVG", "the first element is %q, not svg", t.Name.Local)
	}
	s.seen = true
	own, err := svgUnit(get, line)
	if err != nil {
		return err
	}
	if err := s.d.knows(s.said, own); err != nil {
		err.Hint = "set width and height of the drawing in mm in its program, or add `unit: mm` beside the file if its numbers are millimetres"
		return err
	}
	u := s.d.unit
	s.stack = []matrix{{u, 0, 0, -u, 0, 0}}
	return nil
}

func (s *svg) matrix(transform string, line int) (matrix, *Error) {
	m, ok := parseTransform(transform)
	m = s.stack[len(s.stack)-1].times(m)
	if !ok || !m.finite() {
		return m, fail(line, "apply the transform in the drawing program", "the transform %.40q cannot be read", transform)
	}
	return m, nil
}

const cssPixel = 25.4 / 96 // mm; CSS Values and Units 3 (W3C 2024), 5.2

// svgUnit is the size of a user unit in mm, from the width and height of the
// document and its viewBox (SVG 1.1, 7.2 and 7.7); 0 if they have no unit.
func svgUnit(get func(string) string, line int) (float64, *Error) {
	w, okw := physical(get("width"))
	h, okh := physical(get("height"))
	box := get("viewBox")
	if !okw && !okh {
		return 0, nil
	}
	if box == "" {
		return cssPixel, nil // a size in mm does not change the unit of the numbers
	}
	v, ok := numbers(box)
	if !ok || len(v) != 4 || !(v[2] > 0 && v[3] > 0) {
		return 0, fail(line, "export the drawing again", "viewBox %.40q is not four numbers with a size", box)
	}
	x, y := w/v[2], h/v[3]
	switch {
	case !okw:
		return y, nil
	case !okh:
		return x, nil
	case get("preserveAspectRatio") == "none" && math.Abs(x/y-1) > 1e-3:
		return 0, fail(line, "give width and height the proportions of the viewBox", "the drawing is stretched: %.4g mm a unit across, %.4g up", x, y)
	}
	return min(x, y), nil
}

// physical is a length with a unit of the real world, in mm.
func physical(text string) (float64, bool) {
	mm, ok := svgLength(text, 0)
	return mm, ok && mm > 0
}

// svgLength reads a length; a plain number or px is px millimetres each.
func svgLength(text string, px float64) (float64, bool) {
	text = strings.TrimSpace(text)
	for _, u := range []struct {
		name string
		mm   float64
	}{{"mm", 1}, {"cm", 10}, {"in", 25.4}, {"pt", 25.4 / 72}, {"pc", 25.4 / 6}, {"px", px}, {"", px}} {
		number, has := strings.CutSuffix(text, u.name)
		if !has {
			continue
		}
		v, ok := numbers(number)
		return product(v, u.mm), ok && len(v) == 1
	}
	return 0, false
}

func product(v []float64, by float64) float64 {
	if len(v) == 0 {
		return 0
	}
	return v[0] * by
}

// shape draws one of the basic shapes; other elements are passed over.
func (s *svg) shape(kind string, get func(string) string, m matrix, line int) *Error {
	wrong := ""
	number := func(name string) float64 {
		text := get(name)
		if text == "" {
			return 0
		}
		v, ok := svgLength(text, cssPixel)
		if !ok {
			wrong = name
		}
		return v / cssPixel // in user units
	}
	p := &pen{m: m, line: line, d: s.d}
	var err *Error
	switch kind {
	case "path":
		err = p.path(get("d"))
	case "polygon", "polyline":
		err = p.polygon(get("points"), kind == "polygon")
	case "rect":
		err = p.rect(number("x"), number("y"), number("width"), number("height"), number("rx"), number("ry"), get("rx") != "", get("ry") != "")
	case "circle":
		r := number("r")
		err = p.oval(number("cx"), number("cy"), r, r)
	case "ellipse":
		err = p.oval(number("cx"), number("cy"), number("rx"), number("ry"))
	case "line":
		p.moveTo(geom.Vec2{X: number("x1"), Y: number("y1")})
		p.lineTo(geom.Vec2{X: number("x2"), Y: number("y2")})
		err = p.lift(false)
	}
	if wrong != "" {
		return fail(line, "turn the shape into a path in the drawing program", "%s of the %s, %.40q, is no length", wrong, kind, get(wrong))
	}
	return err
}
