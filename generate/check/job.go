package check

import (
	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/params"
)

// Job is all that a rule may look at: what was typed, what was derived from
// it, and what was measured on the solids. Rules do not change it. mm, mm², mm³.
type Job struct {
	Kit      *params.Kit
	Dims     *fit.Dims
	Sheet    params.Sheet // the rows that the kit names, its own values laid over them
	Liner    params.Liner
	LidLiner params.Liner
	Print    params.PrintMaterial
	Layout   Layout
	Parts    []PartFact // as they are printed; the insert is none of them
	Items    []ItemFact // in the kit's order
}

// Layout is what was measured on the parts together.
type Layout struct {
	Half        [2]float64 // half sizes of the insert's plan at the rim
	OutsideHalf [2]float64 // half sizes of the case's plan
	Trim        float64    // z of the trim line
	Deep        float64    // z of the deepest pocket underside
	Bottom      float64    // z of the buck's underside
	LeastRib    float64    // flat rim left between pockets; +Inf when there is one
	BuckFoot    [2]float64 // half sizes of the buck at its underside
	// FloorEdgeRadius is the least radius where a pocket's wall meets its
	// floor, on the sheet's product side.
	FloorEdgeRadius float64
	Vents           int
}

// PartFact is one printed part.
type PartFact struct {
	Name          string
	Size          geom.Vec // as it lies on the bed
	Volume        float64
	LongestBridge float64 // of the ceilings that it prints without support
}

// ItemFact is one item in its pocket.
type ItemFact struct {
	Name   string
	Height float64
	// UndercutArea is the area of its surface below the rim that looks up:
	// the pocket goes straight up from a wider place below.
	UndercutArea float64
	ProudOfRim   float64 // how far it stands above the rim
	HasNotch     bool
	PocketDepth  float64 // finished pocket, rim to floor
	PocketWidth  float64 // finished pocket at the rim, the smaller of length and width
}

// limit is a rule's limit: the kit's own, or else the one given.
func (j *Job) limit(id string, published float64) float64 {
	if own, ok := j.Kit.Limits[id]; ok {
		return own
	}
	return published
}

// measured is what a size read off a mesh may err by, mm, before a rule that
// compares it with a typed size speaks. Twice the fine mesh's promise.
const measured = 0.04
