// Package pattern develops and lays out the flat pieces of a kit: the sheet's
// blank, felt, pads, labels, templates. Millimetres, in the plane; it knows no
// file format.
//
// It guarantees that the outline of every flat is closed, runs counterclockwise
// (holes clockwise), does not touch or cross itself, and that developable
// surfaces keep their lengths. Surfaces that cannot be laid flat are flattened
// with the strain told.
//
// It does not guarantee the best nesting, nor that felt takes the strain that
// its table row says: cut one pocket first.
package pattern

import "buckwright/generate/geom"

// Flat is one piece to cut.
type Flat struct {
	Name     string // of its files: felt-wall-logger
	Title    string
	Material Material
	Count    int
	Shape    Shape   // finished size
	Cut      Shape   // what the cutter follows: Shape, the kerf allowed for
	Kerf     float64 // that Cut allows for
	Cutter   string  // knife, laser
	Template bool    // drawn on paper and followed by hand, never cut to keep
	Marks    []Mark
	Strain   *Strain  // nil where the piece is flat in use
	Notes    []string // what to know when it is cut or laid in
	Refused  string   // why no file is written for it
}

// Material is what a flat is cut from.
type Material struct {
	Kind        string // felt, sponge, label, sheet, paper: one stock size each
	Title       string
	Thickness   float64 // mm, 0 where it does not matter
	Chlorinated bool    // gives hydrogen chloride when burnt
	Grain       string  // what runs along the arrow: "roll", "extrusion"; "" where there is none
}

// Mark is a line that is not cut: a fold, an outline to align to. Open marks run
// from their first point to their last.
type Mark struct {
	Text string
	Path Path
	Open bool
}

// Strain is what laying a flat piece into its place asks of it, as shares:
// Stretch is the largest, Gather the largest shortening, positive both.
type Strain struct {
	Stretch, Gather float64
	Where           string
}

// Most is the larger of the two.
func (s Strain) Most() float64 { return max(s.Stretch, s.Gather) }

// Stock is a sheet or a length of material as bought.
type Stock struct{ X, Y float64 }

// Bounds is the box around what is cut.
func (f *Flat) Bounds() (lo, hi geom.Vec2) { return f.Cut.Outer.Bounds() }

// Upright reports whether the material's grain forbids a quarter turn: felt is
// stronger along its roll.
func (f *Flat) Upright() bool { return f.Material.Grain == "roll" }
