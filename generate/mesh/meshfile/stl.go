package meshfile

import (
	"bytes"
	"encoding/binary"
	"math"
	"strconv"

	"buckwright/generate/geom"
)

// A binary STL is 80 bytes of anything, a count, and 50 bytes a triangle: normal,
// three corners, two bytes of attributes; all little-endian float32.
const stlHead, stlEach = 84, 50

// stlFits reports whether the size is what the count says. It is the only sure
// mark of the binary form, because its 80 bytes may well begin with "solid".
func stlFits(src []byte) bool {
	if len(src) < stlHead {
		return false
	}
	n := uint64(binary.LittleEndian.Uint32(src[80:]))
	return n*stlEach+stlHead == uint64(len(src))
}

func (r *reader) readSTL() error {
	if stlFits(r.src) {
		return r.stlBinary()
	}
	if w := (&words{src: r.src, line: 1}); string(w.next()) == "solid" && stlText(r.src) {
		return r.stlASCII()
	}
	if len(r.src) < stlHead {
		return r.fail(len(r.src), "export or copy it again", "the file ends inside its head")
	}
	n := uint64(binary.LittleEndian.Uint32(r.src[80:]))
	whole := uint64(len(r.src)-stlHead) / stlEach
	if n > whole {
		return r.fail(len(r.src), "export or copy it again", "the file is cut short: it says %d triangles and holds %d", n, whole)
	}
	return r.fail(int(stlHead+n*stlEach), "export or copy it again",
		"%d bytes follow the %d triangles that the file says", uint64(len(r.src))-stlHead-n*stlEach, n)
}

// stlText reports whether the start has no byte that text would not have.
func stlText(src []byte) bool {
	for _, c := range src[:min(len(src), 512)] {
		if c < 9 || c > 13 && c < 32 {
			return false
		}
	}
	return true
}

func (r *reader) stlBinary() error {
	n := (len(r.src) - stlHead) / stlEach
	if err := r.room(n, 0); err != nil {
		return err
	}
	r.mesh.T = make([][3]int32, 0, n)
	for at := stlHead; at < len(r.src); at += stlEach {
		var t [3]int32
		for k := range t {
			p, ok := float32s(binary.LittleEndian, r.src[at+12+12*k:])
			if !ok {
				return r.fail(at+12+12*k, "", "corner %d of triangle %d is not a number", k+1, (at-stlHead)/stlEach+1)
			}
			t[k] = r.vertex(p)
		}
		r.mesh.T = append(r.mesh.T, t)
	}
	return nil
}

// float32s reads three coordinates, and reports whether they are finite.
func float32s(order binary.ByteOrder, b []byte) (geom.Vec, bool) {
	f := func(i int) float64 { return float64(math.Float32frombits(order.Uint32(b[i:]))) }
	p := geom.V(f(0), f(4), f(8))
	return p.Add(geom.Vec{}), p.Finite() // + 0 makes -0 into 0
}

// stlASCII reads "vertex x y z" and, at "endfacet", makes the polygon of them.
func (r *reader) stlASCII() error {
	w := words{src: r.src, line: 1}
	var poly []int32
	ended := false
	for {
		word := w.next()
		switch string(word) {
		case "":
			if len(poly) > 0 || !ended {
				return r.failLine(w.line, "export or copy it again", "the file is cut short: \"endsolid\" is missing")
			}
			return nil
		case "solid", "endsolid":
			ended = string(word) == "endsolid"
			w.skipLine() // a name of any words
		case "vertex":
			p, err := r.point(&w)
			if err != nil {
				return err
			}
			poly = append(poly, r.vertex(p))
		case "endfacet":
			if len(poly) < 3 {
				return r.failLine(w.line, "", "a facet with %d corners", len(poly))
			}
			if err := r.polygon(poly); err != nil {
				return err
			}
			poly = poly[:0]
		}
	}
}

// point reads three numbers.
func (r *reader) point(w *words) (geom.Vec, error) {
	var v [3]float64
	for i := range v {
		word := w.next()
		f, err := strconv.ParseFloat(string(word), 64)
		if err != nil || f-f != 0 {
			hint := ""
			if bytes.ContainsRune(word, ',') {
				hint = "export it with a point in its decimals"
			}
			return geom.Vec{}, r.failLine(w.line, hint, "%q is not a coordinate", clip(word))
		}
		v[i] = f + 0
	}
	return geom.V(v[0], v[1], v[2]), nil
}

// clip keeps a message short whatever the file holds.
func clip(word []byte) string { return string(word[:min(len(word), 24)]) }

// words splits text at blanks and counts lines.
type words struct {
	src  []byte
	at   int
	line int
	join bool // a backslash is a blank: it stands at the end of a line
}

func (w *words) blank() bool {
	c := w.src[w.at]
	return c == ' ' || c >= 9 && c <= 13 || c == '\\' && w.join
}

// next is the next word, empty at the end.
func (w *words) next() []byte {
	for w.at < len(w.src) && w.blank() {
		if w.src[w.at] == '\n' {
			w.line++
		}
		w.at++
	}
	from := w.at
	for w.at < len(w.src) && !w.blank() {
		w.at++
	}
	return w.src[from:w.at]
}

func (w *words) skipLine() {
	for w.at < len(w.src) && w.src[w.at] != '\n' {
		w.at++
	}
}
