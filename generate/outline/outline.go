// Package outline reads one closed outline from an SVG or a DXF drawing, into
// millimetres with y up.
//
// It keeps arcs as arcs and fits arcs to Bézier curves, splines and ellipses, so
// that the outline stays within 0.01 mm of the drawing and bends as smoothly as
// it does. A drawing, or one layer of it, must hold one closed path and nothing
// else that is drawn; its unit must be known. What it cannot be sure of, it refuses and says where.
//
// Not looked at: whether the outline crosses itself, which is package sdf's
// business; line widths and colours; text and dimensions.
package outline

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"buckwright/generate/geom"
)

// Outline is a closed outline, counterclockwise. Side i runs from Points[i] to
// the next point, in mm; Bulge[i] is tan(sweep / 4) of its arc, 0 for a line,
// positive for an arc that turns left.
type Outline struct {
	Points []geom.Vec2
	Bulge  []float64
}

// Size is the outline's width and height in mm.
func (o Outline) Size() geom.Vec2 {
	b := boxOf(o.sides())
	return b.hi.Sub(b.lo)
}

func (o Outline) sides() []side {
	out := make([]side, len(o.Points))
	for i, p := range o.Points {
		out[i] = side{p, o.Points[(i+1)%len(o.Points)], o.Bulge[i]}
	}
	return out
}

// Options say what a drawing does not, or override what it does.
type Options struct {
	Unit  float64 // mm per unit of the drawing's numbers; 0: as the drawing says
	Layer string  // what is drawn on this layer counts alone: a DXF layer, or the id or label of an SVG group; "": all
}

// Error tells what is wrong with a drawing, and where.
type Error struct {
	Name string // of the file
	Line int    // counted from 1; 0 if it is the drawing as a whole
	Msg  string
	Hint string // what to do; may be empty
}

func (e *Error) Error() string {
	if e.Line > 0 {
		return fmt.Sprintf("%s:%d: %s", e.Name, e.Line, e.Msg)
	}
	return e.Name + ": " + e.Msg
}

func fail(line int, hint, msg string, a ...any) *Error {
	return &Error{Line: line, Msg: fmt.Sprintf(msg, a...), Hint: hint}
}

const (
	mostBytes = 16 << 20 // of a drawing; one outline never needs them
	mostSides = 5000     // of the outline, and pieces of a drawing
	mostPaths = 2000     // in one drawing: joining them compares each with each
	smallest  = 1.0      // mm, of an outline's larger size: smaller is another unit
	largest   = 1000.0   // mm, the largest item of a kit
)

// drawing is what a reader finds: paths in mm with y up.
type drawing struct {
	paths []path
	sides int     // in all paths
	unit  float64 // mm that one of the drawing's own is taken for
	flip  bool    // the drawing's own y runs down
}

// knows sets the unit: what the user says, else what the drawing says.
func (d *drawing) knows(said, own float64) *Error {
	d.unit = own
	if said > 0 {
		d.unit = said
	}
	if !(d.unit > 0 && d.unit < 1e6) {
		return fail(0, "export it with a unit, or add `unit: mm` beside the file if its numbers are millimetres", "the drawing does not say in which unit it is")
	}
	return nil
}

// Read makes an outline of a drawing's bytes; the name's ending says whether it
// is SVG or DXF. Errors are *Error.
func Read(name string, src []byte, o Options) (Outline, error) {
	out, err := read(name, src, o)
	if err != nil {
		err.Name = filepath.Base(name)
		return Outline{}, err
	}
	return out, nil
}

func read(name string, src []byte, o Options) (Outline, *Error) {
	switch {
	case len(bytes.TrimSpace(src)) == 0:
		return Outline{}, fail(0, "export the drawing again", "the file is empty")
	case len(src) > mostBytes:
		return Outline{}, fail(0, "export the outline alone", "the file has %d MB, more than one outline needs", len(src)>>20)
	}
	var d *drawing
	var err *Error
	switch strings.ToLower(filepath.Ext(name)) {
	case ".svg":
		d, err = readSVG(src, o)
	case ".dxf":
		d, err = readDXF(src, o)
	default:
		return Outline{}, fail(0, "SVG and DXF are", "this kind of drawing is not read")
	}
	if err != nil {
		return Outline{}, err
	}
	return d.finish(o)
}

// finish takes the drawing's one closed outline.
func (d *drawing) finish(o Options) (Outline, *Error) {
	switch {
	case len(d.paths) == 0 && o.Layer != "":
		return Outline{}, fail(0, "capitals do not count; leave `layer` out to take all that is drawn", "nothing that has an outline is on layer %.40q", o.Layer)
	case len(d.paths) == 0:
		return Outline{}, fail(0, "draw the outline as one closed path; text and filled images are not outlines", "nothing is drawn in it that has an outline")
	}
	if err := d.extent(); err != nil {
		return Outline{}, err
	}
	loop, err := d.loop()
	if err != nil {
		return Outline{}, err
	}
	return loop.outline()
}

// box widens a box by points.
type box struct{ lo, hi geom.Vec2 }

func nothing() box {
	inf := math.Inf(1)
	return box{geom.Vec2{X: inf, Y: inf}, geom.Vec2{X: -inf, Y: -inf}}
}

func (b *box) include(p geom.Vec2) {
	b.lo = geom.Vec2{X: min(b.lo.X, p.X), Y: min(b.lo.Y, p.Y)}
	b.hi = geom.Vec2{X: max(b.hi.X, p.X), Y: max(b.hi.Y, p.Y)}
}

func boxOf(all []side) box {
	b := nothing()
	for _, s := range all {
		for _, p := range s.extremes() {
			b.include(p)
		}
	}
	return b
}

// extent refuses a drawing that is too small or too large for a thing to pack,
// which is how a wrong unit shows.
func (d *drawing) extent() *Error {
	all := nothing()
	for _, p := range d.paths {
		b := boxOf(p.sides)
		all.include(b.lo)
		all.include(b.hi)
	}
	size := all.hi.Sub(all.lo)
	what := fmt.Sprintf("the drawing is %.4g x %.4g mm", size.X, size.Y)
	hint := fmt.Sprintf("its numbers were taken as %s; add the right `unit` beside the file", unitName(d.unit))
	switch long := max(size.X, size.Y); {
	case !(long >= smallest):
		return fail(0, hint, "%s, too small for an item", what)
	case !(long <= largest):
		return fail(0, hint, "%s, too large for an item: at most %g mm", what, largest)
	}
	return nil
}

// unitName says a unit of so many mm in words.
func unitName(mm float64) string {
	for _, u := range []struct {
		mm   float64
		name string
	}{{1, "millimetres"}, {10, "centimetres"}, {1000, "metres"}, {25.4, "inches"}, {304.8, "feet"}} {
		if math.Abs(mm/u.mm-1) < 1e-9 {
			return u.name
		}
	}
	return fmt.Sprintf("%.6g mm each", mm)
}
