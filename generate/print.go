package generate

import (
	"buckwright/generate/estimate"
	"buckwright/generate/fit"
)

// printing is how a part is sliced: the kit's printer, the walls of the case.
func (r *Result) printing() estimate.Settings {
	p, d := r.Kit.Printer, r.Dims.Print
	return estimate.Settings{
		Layer: d.Layer, Width: d.Width, Nozzle: d.Nozzle,
		Walls: r.walls(), Top: p.Skin, Bottom: p.Skin, Infill: p.Infill, Density: r.filament.Density,
		Speed: estimate.Speed{
			Outer: p.Speed.Outer, Inner: p.Speed.Inner, Full: p.Speed.Full, Top: p.Speed.Top,
			Infill: p.Speed.Infill, Bridge: p.Speed.Bridge, First: p.Speed.First, Travel: p.Speed.Travel,
		},
		Acceleration: p.Acceleration,
	}
}

// walls is how many perimeters a part is printed with: half the extrusions of
// the case's wall, which is closed from both sides.
func (r *Result) walls() int {
	p := r.Dims.Print
	n := 1
	for n < 20 && fit.PrintWall(n, p.Width, p.Layer) < r.Dims.Lid.Wall-1e-6 {
		n++
	}
	return (n + 1) / 2
}

// mass is a part's mass in grams: of the filament, or of the sheet that a
// reference part is made of.
func (r *Result) mass(p Part) float64 {
	if p.Reference {
		return p.Mesh.Volume() * r.sheet.Density * 1e-6
	}
	return p.Print.Grams
}
