package meshfile

import (
	"bytes"
	"strconv"
)

// objLike reports whether text looks like OBJ: the first line that is no comment
// begins with one of its usual words.
func objLike(head []byte) bool {
	for line := range bytes.Lines(head) {
		f := bytes.Fields(line)
		if len(f) == 0 || f[0][0] == '#' {
			continue
		}
		switch string(f[0]) {
		case "v", "vn", "vt", "o", "g", "s", "mtllib", "usemtl":
			return true
		}
		return false
	}
	return false
}

// readOBJ takes vertices and faces; all else is skipped. A backslash at the end
// of a line joins it to the next.
func (r *reader) readOBJ() error {
	var poly []int32
	number := 1
	for at := 0; at < len(r.src); {
		end := objLine(r.src, at)
		line := r.src[at:end]
		w := words{src: line, line: number, join: true}
		number += 1 + bytes.Count(line, []byte("\n"))
		at = end + 1
		if i := bytes.IndexByte(line, '#'); i >= 0 {
			w.src = line[:i]
		}
		switch string(w.next()) {
		case "v":
			p, err := r.point(&w)
			if err != nil {
				return err
			}
			r.mesh.V = append(r.mesh.V, p)
		case "f":
			var err error
			if poly, err = r.objFace(&w, poly[:0]); err != nil {
				return err
			}
			if err := r.polygon(poly); err != nil {
				return err
			}
		}
	}
	return nil
}

// objLine is where the line that starts at from ends, with those joined to it.
func objLine(src []byte, from int) int {
	for at := from; ; {
		i := bytes.IndexByte(src[at:], '\n')
		if i < 0 {
			return len(src)
		}
		at += i
		if !bytes.HasSuffix(bytes.TrimSuffix(src[from:at], []byte("\r")), []byte("\\")) {
			return at
		}
		at++
	}
}

// objFace reads the corners "v", "v/vt", "v//vn" or "v/vt/vn" of a face.
// Negative numbers count back from the last vertex.
func (r *reader) objFace(w *words, poly []int32) ([]int32, error) {
	for word := w.next(); len(word) > 0; word = w.next() {
		v, _, _ := bytes.Cut(word, []byte("/"))
		i, err := strconv.Atoi(string(v))
		if err != nil {
			return nil, r.failLine(w.line, "", "%q is not the number of a vertex", clip(word))
		}
		n := len(r.mesh.V)
		if i < 0 {
			i += n + 1
		}
		if i < 1 || i > n {
			return nil, r.failLine(w.line, "", "vertex %s of a face: there are %d so far", clip(v), n)
		}
		poly = append(poly, int32(i-1))
	}
	if len(poly) < 3 {
		return nil, r.failLine(w.line, "", "a face with %d corners", len(poly))
	}
	return poly, nil
}
