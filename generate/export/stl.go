package export

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"buckwright/generate/mesh"
)

// stlHeader begins every file. It must not begin with "solid": readers take
// that for the text form of the format.
const stlHeader = "buckwright binary STL, mm: "

// WriteSTL writes m as a binary STL, in mm: an 80-byte header that bears the
// name (cut to fit), then the triangles in order with their unit normals.
// It refuses, before the first byte, a mesh that no file can hold faithfully: empty,
// open, wrongly turned, not finite, or with vertices that float32 cannot keep apart.
func WriteSTL(w io.Writer, m *mesh.Mesh, name string) error {
	pts, err := points(m)
	if err != nil {
		return fmt.Errorf("%s: cannot be written as STL: %w", name, err)
	}
	var head [84]byte
	for i := range 80 {
		head[i] = ' '
	}
	copy(head[:80], stlHeader+name)
	binary.LittleEndian.PutUint32(head[80:], uint32(len(m.T)))
	out := bufio.NewWriterSize(w, 1<<16)
	out.Write(head[:]) // a bufio.Writer keeps its first error for Flush
	var rec [50]byte
	for _, t := range m.T {
		putFacet(&rec, pts[t[0]], pts[t[1]], pts[t[2]])
		out.Write(rec[:])
	}
	return out.Flush()
}

func putFacet(rec *[50]byte, a, b, c point) {
	n := normal(a, b, c)
	for i, p := range [4]point{n, a, b, c} {
		for k := range 3 {
			binary.LittleEndian.PutUint32(rec[12*i+4*k:], math.Float32bits(p[k]))
		}
	}
}

// normal is the unit normal of a triangle, zero for one without area.
func normal(a, b, c point) point {
	return toPoint(b.vec().Sub(a.vec()).Cross(c.vec().Sub(a.vec())).Unit())
}
