package generate

import (
	"buckwright/generate/estimate"
	"buckwright/generate/fit"
	"buckwright/params"
)

// printing is how a part is sliced: the kit's printer, the walls of the case.
func (r *Result) printing() estimate.Settings {
	return printSettings(r.Kit, r.Dims.Print.Width, r.walls(), r.filament.Density)
}

// estimate is what printing a part takes; nothing for a part that is not printed.
func (r *Result) estimate(p Part) estimate.Print {
	if p.Reference {
		return estimate.Print{}
	}
	return estimate.Part(p.Printed, r.printing())
}

func printSettings(k *params.Kit, width float64, walls int, density float64) estimate.Settings {
	p := k.Printer
	return estimate.Settings{
		Layer: p.Layer, Width: width, Nozzle: p.Nozzle,
		Walls: walls, Top: p.Skin, Bottom: p.Skin, Infill: p.Infill, Density: density,
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
