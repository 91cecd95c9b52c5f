package meshfile

import (
	"bytes"
	"encoding/binary"
	"math"
	"strconv"
	"strings"

	"buckwright/generate/geom"
)

// plyElement is a table of the file, as its head describes it.
type plyElement struct {
	name  string
	count uint64
	props []plyProp
}

// plyProp is a column: a number, or a list of numbers if length names a type.
type plyProp struct {
	name, kind, length string
}

// plySize is the bytes of a number of each type; 0 if there is no such type.
func plySize(kind string) int {
	switch kind {
	case "char", "uchar", "int8", "uint8":
		return 1
	case "short", "ushort", "int16", "uint16":
		return 2
	case "int", "uint", "float", "int32", "uint32", "float32":
		return 4
	case "double", "float64":
		return 8
	}
	return 0
}

func (r *reader) readPLY() error {
	h, err := r.plyHead()
	if err != nil {
		return err
	}
	for _, e := range h.elements {
		if len(e.props) == 0 {
			continue
		}
		for i := range e.count {
			if err := h.row(e, i); err != nil {
				return err
			}
		}
	}
	return h.check()
}

// plyBody reads the rows after the head.
type plyBody struct {
	*reader
	elements []plyElement
	order    binary.ByteOrder // nil for text
	words    words            // at the body, of either kind
	poly     []float64
}

// plyHead reads up to "end_header".
func (r *reader) plyHead() (*plyBody, error) {
	h := &plyBody{reader: r}
	known := false
	w := words{src: r.src, line: 1}
	for {
		start := w.line
		line, at := w.rest()
		f := strings.Fields(string(line))
		if len(f) == 0 {
			if at >= len(r.src) {
				return nil, r.failLine(start, "export or copy it again", "the file ends inside its head")
			}
			continue
		}
		switch {
		case f[0] == "format" && len(f) >= 2:
			known = true
			switch f[1] {
			case "ascii":
			case "binary_little_endian":
				h.order = binary.LittleEndian
			case "binary_big_endian":
				h.order = binary.BigEndian
			default:
				return nil, r.failLine(start, "", "%q is no PLY format", clip([]byte(f[1])))
			}
		case f[0] == "element" && len(f) == 3:
			n, err := strconv.ParseUint(f[2], 10, 32)
			if err != nil {
				return nil, r.failLine(start, "", "%q is no count", clip([]byte(f[2])))
			}
			h.elements = append(h.elements, plyElement{name: f[1], count: n})
		case f[0] == "property":
			p, ok := plyProperty(f)
			if !ok || len(h.elements) == 0 {
				return nil, r.failLine(start, "", "%q is no property", clip(line))
			}
			e := &h.elements[len(h.elements)-1]
			e.props = append(e.props, p)
		case f[0] == "end_header":
			if !known {
				return nil, r.failLine(start, "", "the head has no \"format\" line")
			}
			h.words = w
			return h, nil
		}
	}
}

func plyProperty(f []string) (plyProp, bool) {
	switch {
	case len(f) == 3 && plySize(f[1]) > 0:
		return plyProp{name: f[2], kind: f[1]}, true
	case len(f) == 5 && f[1] == "list" && plySize(f[2]) > 0 && plySize(f[3]) > 0:
		return plyProp{name: f[4], kind: f[3], length: f[2]}, true
	}
	return plyProp{}, false
}

// rest is the rest of the line, and where the next one starts.
func (w *words) rest() ([]byte, int) {
	line, _, found := bytes.Cut(w.src[w.at:], []byte("\n"))
	w.at += len(line)
	if found {
		w.at++
		w.line++
	}
	return line, w.at
}

// row reads one row of an element and keeps what it says of vertices and faces.
func (h *plyBody) row(e plyElement, i uint64) error {
	var p geom.Vec
	for _, prop := range e.props {
		at := h.words.at
		n := 1
		if prop.length != "" {
			v, err := h.number(prop.length, e, i)
			if err != nil {
				return err
			}
			if !(v >= 0 && v <= 1<<24) {
				return h.failAt(at, "a list of %v numbers in %s %d", v, e.name, i+1)
			}
			n = int(v)
		}
		h.poly = h.poly[:0]
		for range n {
			v, err := h.number(prop.kind, e, i)
			if err != nil {
				return err
			}
			h.poly = append(h.poly, v)
		}
		switch {
		case e.name == "vertex" && prop.length == "":
			switch prop.name {
			case "x":
				p.X = h.poly[0] + 0
			case "y":
				p.Y = h.poly[0] + 0
			case "z":
				p.Z = h.poly[0] + 0
			}
		case e.name == "face" && (prop.name == "vertex_indices" || prop.name == "vertex_index"):
			if err := h.face(at, i); err != nil {
				return err
			}
		}
	}
	if e.name == "vertex" {
		if !p.Finite() {
			return h.failAt(h.words.at, "vertex %d is not a point", i+1)
		}
		h.mesh.V = append(h.mesh.V, p)
	}
	return nil
}

// face makes triangles of the numbers in poly. They may come before the vertices.
func (h *plyBody) face(at int, i uint64) error {
	if len(h.poly) < 3 {
		return h.failAt(at, "face %d has %d corners", i+1, len(h.poly))
	}
	ids := make([]int32, len(h.poly))
	for k, v := range h.poly {
		if !(v >= 0 && v <= math.MaxInt32 && v == math.Floor(v)) {
			return h.failAt(at, "face %d: %v is not the number of a vertex", i+1, v)
		}
		ids[k] = int32(v)
	}
	return h.polygon(ids)
}

// check looks that all faces are of vertices that exist.
func (h *plyBody) check() error {
	for i, t := range h.mesh.T {
		if v := max(t[0], t[1], t[2]); int(v) >= len(h.mesh.V) {
			return h.fail(-1, "", "triangle %d has vertex %d, counted from 0; there are %d", i+1, v, len(h.mesh.V))
		}
	}
	return nil
}

// number reads one number of a type.
func (h *plyBody) number(kind string, e plyElement, i uint64) (float64, error) {
	w := &h.words
	if h.order == nil {
		word := w.next()
		v, err := strconv.ParseFloat(string(word), 64)
		switch {
		case len(word) == 0:
			return 0, h.failAt(w.at, "the file is cut short in %s %d of %d", e.name, i+1, e.count)
		case err != nil:
			return 0, h.failAt(w.at, "%q is not a number", clip(word))
		}
		return v, nil
	}
	b := w.src[w.at:]
	n := plySize(kind)
	if len(b) < n {
		return 0, h.failAt(len(w.src), "the file is cut short in %s %d of %d", e.name, i+1, e.count)
	}
	w.at += n
	switch kind {
	case "char", "int8":
		return float64(int8(b[0])), nil
	case "uchar", "uint8":
		return float64(b[0]), nil
	case "short", "int16":
		return float64(int16(h.order.Uint16(b))), nil
	case "ushort", "uint16":
		return float64(h.order.Uint16(b)), nil
	case "int", "int32":
		return float64(int32(h.order.Uint32(b))), nil
	case "uint", "uint32":
		return float64(h.order.Uint32(b)), nil
	case "float", "float32":
		return float64(math.Float32frombits(h.order.Uint32(b))), nil
	}
	return math.Float64frombits(h.order.Uint64(b)), nil
}

// failAt gives the line in a text file, the byte in a binary one.
func (h *plyBody) failAt(at int, msg string, a ...any) error {
	if h.order == nil {
		return h.failLine(h.words.line, "", msg, a...)
	}
	return h.fail(at, "", msg, a...)
}
