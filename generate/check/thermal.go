package check

import (
	"math"

	"buckwright/generate/forming"
)

// HeatSetup is the kit's cold sheet under its former's heater.
func HeatSetup(j *Job) forming.HeatSetup {
	f := j.Kit.Former
	return forming.HeatSetup{
		Sheet: sheetOf(j), Gauge: j.Kit.Sheet.Gauge, Heater: f.Heater, TwoSided: f.TwoSided, Room: Room,
		Window: forming.Window{Set: j.Sheet.Set, Low: j.Sheet.Low, Core: j.Sheet.Core, Up: j.Sheet.Up},
	}
}

// RunSetup is the kit's run of shots, where the sheet is thickest on the buck:
// on its rim.
func RunSetup(j *Job) forming.RunSetup {
	return forming.RunSetup{
		Sheet: sheetOf(j), Formed: j.Dims.Insert.Rim, Hot: j.Sheet.Core, Set: j.Sheet.Set,
		Print: printOf(j), Solid: skin(j), Infill: j.Kit.Printer.Infill, Soft: j.Print.Softens(),
		Room: Room, Shots: int(math.Round(j.Kit.Buck.Run)),
	}
}

const (
	topLayers = 4   // solid layers over the infill; common practice of slicing programs
	topLeast  = 0.8 // mm of them at least; common practice of slicing programs
)

// skin is the thickness of the solid top over the buck's infill, mm.
func skin(j *Job) float64 { return max(topLayers*j.Dims.Print.Layer, topLeast) }

// Room is the temperature, °C, of a buck that has cooled down and of the air.
const Room = 25.0

// sheetOf and printOf are what heat flows through.
func sheetOf(j *Job) forming.Substance {
	s := forming.Substance{K: j.Sheet.K.Mid(), Density: j.Sheet.Density, Cp: j.Sheet.Cp.Most}
	if m := j.Sheet.Melts; m != nil {
		s.Melting, s.Melts = j.Sheet.Melting*1000, [2]float64{m.Least, m.Most}
	}
	return s
}

func printOf(j *Job) forming.Substance {
	return forming.Substance{K: j.Print.K.Mid(), Density: j.Print.Density, Cp: j.Print.Cp.Mid()}
}
