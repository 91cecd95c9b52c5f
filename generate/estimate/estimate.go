// Package estimate says what a print takes: filament, time, and the widest gap
// it has to bridge. It looks at a mesh as a slicing program does, layer by layer.
//
// Each layer is a raster of bits. Walls are what erosion by the walls' width
// takes off; of the rest, what has air within the skin's layers above or below
// is printed full, and so are areas too small to fill thinly; what remains gets
// the infill. Lengths of path follow from areas, times from lengths, speeds and
// an acceleration.
//
// Against a slicing program with the same settings mass comes within a few
// per cent and time within a few more; the tests say how near. Not modelled:
// support (parts need none), skirt and brim, heating, cooling pauses of layers
// that take only seconds, and what a printer's own firmware adds.
package estimate

import (
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/mesh"
)

// Settings are what a slicing program is told, in mm, shares, kg/m³, mm/s and mm/s².
type Settings struct {
	Layer, Width, Nozzle float64
	Walls                int     // perimeters
	Top, Bottom          int     // full layers
	Infill               float64 // straight lines in two directions
	Density              float64
	Speed                Speed
	Acceleration         float64
}

// Speed of each kind of path, in mm/s.
type Speed struct{ Outer, Inner, Full, Top, Infill, Bridge, First, Travel float64 }

// Print is what one part takes.
type Print struct {
	Grams, Seconds float64
	Layers         int
	Walls          float64 // mm³ of filament in perimeters
	Full           float64 // mm³ in full infill, skins and bridges
	Sparse         float64 // mm³ in infill
	Bridge         float64 // mm, the widest gap under a layer that is held at both ends; 0 where all rests on the layer below
	FreeEdge       float64 // mm, how far what is held at one end only stands out over air
}

// Part estimates one mesh as it stands on the bed at z = 0.
func Part(m *mesh.Mesh, s Settings) Print {
	st := newStack(m, s)
	p := Print{Layers: len(st.layers)}
	t := clock{s: s}
	for i := range st.layers {
		l := st.look(i)
		p.Walls += l.walls * s.Layer
		p.Full += (l.full+l.top)*s.Layer + l.bridge*bridgeHeight(s)
		p.Sparse += l.sparse * s.Infill * s.Layer
		t.layer(i, l)
		h := st.hangs(i)
		p.Bridge, p.FreeEdge = max(p.Bridge, h.span), max(p.FreeEdge, h.reach)
	}
	p.Grams = (p.Walls + p.Full + p.Sparse) * s.Density * 1e-6
	p.Seconds = t.seconds
	return p
}

// bridgeHeight is the mean thickness of a layer of bridges: round threads of the
// nozzle's bore, laid 0.05 mm apart. Common practice of slicing programs.
func bridgeHeight(s Settings) float64 {
	d := s.Nozzle
	return math.Pi * d * d / 4 / (d + 0.05)
}

// spacing is the distance between the middles of neighbouring beads.
func (s Settings) spacing() float64 { return fit.BeadSpacing(s.Width, s.Layer) }

// inset is how far the infill's edge lies inside the outline: half a bead, the
// beads between, and half the last one's spacing.
func (s Settings) inset() float64 {
	if s.Walls < 1 {
		return 0
	}
	return s.Width/2 + (float64(s.Walls)-0.5)*s.spacing()
}
