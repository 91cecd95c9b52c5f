package check

import (
	"fmt"
	"math"
	"strconv"

	"buckwright/generate/fit"
	"buckwright/generate/forming"
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
	Parts    []PartFact // as they are printed; the insert is not among them
	Items    []ItemFact // in the kit's order
	Flats    []FlatFact

	// What was predicted. Rules are silent where it is nil.
	Forming *forming.Formed
	Pockets []string // by the index of forming.Place, what stands in each
	Heat    *forming.Heating
	Run     *forming.Run
	Air     []AirFact           // one a pocket
	Maps    []*forming.LinerMap // in the kit's order
}

// AirFact is how the air under the sheet leaves one pocket.
type AirFact struct {
	Pocket   string
	Holes    int
	Diameter float64 // mm
	Needed   int     // holes of that diameter that let the air out within forming.Quick; 0: no number does
	forming.Evacuation
}

// PlaceName says where on the insert a place is; pockets are what stands in each.
func PlaceName(pockets []string, p forming.Place) string {
	switch p.Zone {
	case forming.Rim:
		return "rim"
	case forming.Skirt:
		return "skirt"
	case forming.Flange:
		return "waste"
	}
	zone := "floor corner"
	switch p.Zone {
	case forming.Wall:
		zone = "wall"
	case forming.Floor:
		zone = "floor"
	}
	if p.Pocket < 0 || p.Pocket >= len(pockets) {
		return fmt.Sprintf("%s of pocket %d", zone, p.Pocket+1)
	}
	return zone + " of " + pockets[p.Pocket]
}

func (j *Job) place(p forming.Place) string { return PlaceName(j.Pockets, p) }

// at is a place in the plan, in words.
func at(p geom.Vec) string { return "at x " + whole(p.X) + ", y " + whole(p.Y) }

// whole writes v to a whole number, and never "-0".
func whole(v float64) string { return strconv.Itoa(int(math.Round(v))) }

// mapped calls f for every item with a map of its liner.
func (j *Job) mapped(f func(i int, name string, m *forming.LinerMap) []Finding) []Finding {
	var out []Finding
	for i, m := range j.Maps {
		if m != nil && i < len(j.Dims.Items) {
			out = append(out, f(i, j.Dims.Items[i].Name, m)...)
		}
	}
	return out
}

// Layout is what was measured on the parts together.
type Layout struct {
	Half        [2]float64 // half sizes of the insert's plan at the rim
	OutsideHalf [2]float64 // half sizes of the case's plan
	Trim        float64    // z of the trim line
	Deep        float64    // z of the deepest pocket underside
	Bottom      float64    // z of the buck's underside
	LeastRib    float64    // flat rim left between pockets; +Inf when there is one
	Shared      [][]string // names of the items of each pocket that has several
	BuckFoot    [2]float64 // half sizes of the buck at its underside
	// FloorEdgeRadius is the least radius where a pocket's wall meets its
	// floor, on the sheet's product side.
	FloorEdgeRadius float64
	Vents           int
	Pins            []PinFact // vents that the kit asks for by their place
	Overlaps        []Overlap // pairs of items that reach into each other
}

// PinFact is how a vent that the kit asks for stands to the buck's channels.
type PinFact struct {
	At     geom.Vec2
	Shut   bool      // it runs into none
	Thin   bool      // it leaves a wall that the printer leaves out
	Better geom.Vec2 // the nearest place where it does neither; At where none is near
}

// Overlap is two items in one place, as they rest.
type Overlap struct {
	A, B  string
	Depth float64 // mm: thickness of what they have in common, where it is thickest
}

// PartFact is one printed part.
type PartFact struct {
	Name          string
	Size          geom.Vec // as it lies on the bed
	Wingless      geom.Vec // the same without the wings it is held by; zero where it has none
	Volume        float64
	LongestBridge float64 // of the ceilings that it prints without support
	FreeEdge      float64 // how far one of them stands out that is held at one end only
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
	PocketDepth  float64   // finished pocket, rim to floor
	PocketWidth  float64   // finished pocket at the rim, the smaller of length and width
	Mesh         *MeshFact // nil unless it came as a mesh
	// PadDrops is how far, mm, its top lies below its highest place, at places spread
	// evenly under its pad; +Inf beside it. Nil without a pad of its own.
	PadDrops []float64
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
