// Package meshfile reads triangle meshes from the bytes of STL, OBJ, PLY, 3MF
// and GLB files, into millimetres with z up.
//
// It takes files as they come: the mesh may be open, flipped or in pieces; what
// it needs to be a solid is package mesh's business. It refuses what has no shape
// at all: files cut short, no triangles, coordinates that are not numbers, and
// sizes that betray a wrong unit. Memory stays in proportion to the file, also
// when the file is made to deceive.
package meshfile

import (
	"bytes"
	"fmt"
	"hash/maphash"
	"math"
	"path/filepath"
	"strings"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// Options say what a file does not, or override what it does.
type Options struct {
	// Unit is mm per unit of the file. 0 takes the format's: mm for STL, OBJ and
	// PLY, m for GLB, what the file says for 3MF.
	Unit float64

	// Up is the file's axis that points up: z, -z, y, -y, x or -x. "" takes the
	// format's: y for GLB, z for the others.
	Up string
}

// Error tells what is wrong with a file, and where.
type Error struct {
	Name   string // of the file
	Line   int    // counted from 1; 0 if unknown or the file is binary
	Offset int    // byte from the start; -1 if unknown or Line says it
	Msg    string
	Hint   string // what to do; may be empty
}

func (e *Error) Error() string {
	at := e.Name
	switch {
	case e.Line > 0:
		at += fmt.Sprintf(":%d", e.Line)
	case e.Offset >= 0:
		at += fmt.Sprintf(": byte %d", e.Offset)
	}
	if e.Hint == "" {
		return at + ": " + e.Msg
	}
	return at + ": " + e.Msg + " (" + e.Hint + ")"
}

// Read makes a mesh of a file's bytes. The format is told by the content, and by
// the extension of the name where the content leaves it open. Errors are *Error.
func Read(name string, src []byte, o Options) (*mesh.Mesh, error) {
	r := &reader{name: name, src: src, index: pointIndex{salt: maphash.MakeSeed()}}
	f, err := r.detect()
	if err != nil {
		return nil, err
	}
	if o.Up != "" {
		f.up = o.Up
	}
	turn, ok := upright(f.up)
	if !ok {
		return nil, r.fail(-1, "z, -z, y, -y, x or -x", "%q is no axis that can point up", f.up)
	}
	if o.Unit != 0 && !(o.Unit > 0 && o.Unit <= 1e6) {
		return nil, r.fail(-1, "millimetres per unit of the file: 1, 25.4, 1000", "%v is no unit of length", o.Unit)
	}
	if err := f.read(r); err != nil {
		return nil, err
	}
	return r.finish(o, f.unit, turn)
}

// mostTriangles is the most triangles of a body, and in files that place bodies more
// than once the most vertices: more than an STL of 256 MiB holds. A polygon's corner
// can take one byte of a file, and a body that is placed again a few. This program's
// own choice.
const mostTriangles = 1 << 23

// reader is one file on its way into a mesh.
type reader struct {
	name  string
	src   []byte
	mesh  mesh.Mesh
	index pointIndex // vertices so far, for formats that repeat them
	unit  float64    // mm, if the file says; else 0
	tests int        // of corners, spent on polygons so far
}

// format is one kind of file: the unit in mm and the axis that it has by custom.
type format struct {
	unit float64
	up   string
	read func(*reader) error
}

// detect finds the format, by content first.
func (r *reader) detect() (format, error) {
	head := bytes.TrimLeft(r.src[:min(len(r.src), 512)], " \t\r\n")
	ext := strings.ToLower(filepath.Ext(r.name))
	starts := func(s string) bool { return bytes.HasPrefix(head, []byte(s)) }
	switch {
	case len(r.src) == 0:
		return format{}, r.fail(-1, "", "the file is empty")
	case starts("glTF"):
		return format{1000, "y", (*reader).readGLB}, nil
	case starts("PK\x03\x04"):
		return format{1, "z", (*reader).read3MF}, nil
	case starts("ply\n"), starts("ply\r"):
		return format{1, "z", (*reader).readPLY}, nil
	case stlFits(r.src), starts("solid"), ext == ".stl":
		return format{1, "z", (*reader).readSTL}, nil
	case ext == ".obj", objLike(head):
		return format{1, "z", (*reader).readOBJ}, nil
	case ext == ".gltf":
		return format{}, r.fail(-1, "export it as GLB, which holds all in one file", "glTF as text is not read")
	}
	return format{}, r.fail(-1, "STL, OBJ, PLY, 3MF and GLB are read", "the format is not known")
}

// upright is the turn that stands an axis up along z.
func upright(axis string) (geom.Affine, bool) {
	switch axis {
	case "z":
		return geom.Identity(), true
	case "-z":
		return geom.RotateX(180 * geom.Degree), true
	case "y":
		return geom.RotateX(90 * geom.Degree), true
	case "-y":
		return geom.RotateX(-90 * geom.Degree), true
	case "x":
		return geom.RotateY(-90 * geom.Degree), true
	case "-x":
		return geom.RotateY(90 * geom.Degree), true
	}
	return geom.Affine{}, false
}

func (r *reader) fail(offset int, hint, msg string, a ...any) error {
	return &Error{Name: r.name, Offset: offset, Msg: fmt.Sprintf(msg, a...), Hint: hint}
}

func (r *reader) failLine(line int, hint, msg string, a ...any) error {
	return &Error{Name: r.name, Line: line, Offset: -1, Msg: fmt.Sprintf(msg, a...), Hint: hint}
}

// room refuses a body that more triangles or vertices would make too large.
func (r *reader) room(triangles, vertices int) error {
	if max(len(r.mesh.T)+triangles, vertices) > mostTriangles {
		return r.fail(-1, "thin its mesh, or export it more coarsely", "the body has more than %d million triangles or corners", mostTriangles>>20)
	}
	return nil
}

// vertex is the number of the vertex at p, a new one if there is none.
func (r *reader) vertex(p geom.Vec) int32 {
	if 2*len(r.mesh.V) >= len(r.index.slot) {
		r.index.grow(r.mesh.V)
	}
	s := r.index.find(r.mesh.V, p)
	if *s == 0 {
		r.mesh.V = append(r.mesh.V, p)
		*s = int32(len(r.mesh.V))
	}
	return *s - 1
}

// pointIndex finds points in a list of their own. It holds four bytes a slot where
// a map would hold the points again.
type pointIndex struct {
	salt maphash.Seed // so that no file can be made to fill one slot
	slot []int32      // 1 + the number of a point, 0 if free; at the first free place from its hash on
}

// find is the slot of p, free if v does not have it.
func (x *pointIndex) find(v []geom.Vec, p geom.Vec) *int32 {
	mask := uint64(len(x.slot) - 1)
	for h := maphash.Comparable(x.salt, p) & mask; ; h = (h + 1) & mask {
		if s := &x.slot[h]; *s == 0 || v[*s-1] == p {
			return s
		}
	}
}

// grow makes room for twice as many points as there are.
func (x *pointIndex) grow(v []geom.Vec) {
	x.slot = make([]int32, max(64, 2*len(x.slot)))
	for i, p := range v {
		*x.find(v, p) = int32(i) + 1
	}
}

// Bodies outside these sizes, in mm, are taken for ones in another unit; only
// Options.Unit lets them pass. Common practice, no source.
const smallest, largest = 1.5, 10_000

// finish scales, turns and checks the mesh.
func (r *reader) finish(o Options, unit float64, turn geom.Affine) (*mesh.Mesh, error) {
	r.src, r.index = nil, pointIndex{} // may be large
	if len(r.mesh.T) == 0 {
		return nil, r.fail(-1, "", "the file holds no triangles")
	}
	if r.unit > 0 {
		unit = r.unit
	}
	if o.Unit > 0 {
		unit = o.Unit
	}
	m := r.used().Transform(geom.ScaleAbout(geom.Vec{}, geom.V(unit, unit, unit)).Then(turn))
	s := m.Bounds().Size()
	long := max(s.X, s.Y, s.Z)
	switch {
	case !(long > 0 && long < math.MaxFloat32):
		return nil, r.fail(-1, "", "the body has no extent")
	case o.Unit == 0 && long < smallest:
		return nil, r.fail(-1, unitHint(unit), "the body is only %.3g x %.3g x %.3g mm", s.X, s.Y, s.Z)
	case o.Unit == 0 && long > largest:
		return nil, r.fail(-1, unitHint(unit), "the body is %.4g x %.4g x %.4g mm", s.X, s.Y, s.Z)
	}
	return m, nil
}

// unitHint says what the numbers were taken for.
func unitHint(mm float64) string {
	taken := fmt.Sprintf("units of %g mm", mm)
	switch mm {
	case 1:
		taken = "mm"
	case 1000:
		taken = "metres"
	}
	return "its numbers are taken as " + taken + "; if they are not, give its unit: mm, cm, m, in or ft"
}

// used is the mesh without the vertices that no triangle has.
func (r *reader) used() *mesh.Mesh {
	to := make([]int32, len(r.mesh.V))
	out := &mesh.Mesh{T: r.mesh.T}
	for i, t := range out.T {
		for k, v := range t {
			if to[v] == 0 {
				out.V = append(out.V, r.mesh.V[v])
				to[v] = int32(len(out.V))
			}
			out.T[i][k] = to[v] - 1
		}
	}
	return out
}
