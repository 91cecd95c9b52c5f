package check

import (
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/params"
)

// row is a derived value of the clean job.
func row(id string, nominal, least, most float64) fit.Row {
	return fit.Row{ID: id, Nominal: nominal, Least: least, Most: most}
}

// clean is a job that passes every rule but the ones that are told for every
// kit. Each call makes a fresh one. The sheet and the print material are ABS
// as trade tables give it.
func clean() *Job {
	built := fit.Built{Worst: fit.Span{Nominal: 0.2, Least: 0.02, Most: 0.35}, RSS: fit.Span{Nominal: 0.2, Least: 0.1, Most: 0.3}}
	k := &params.Kit{Items: []params.Item{{Name: "logger"}}, Where: map[string]params.Pos{"printer.scale": {Line: 1, Col: 1}}}
	k.Tolerance.Product = 0.1
	k.Liner.Thickness, k.Liner.Compression = 2, 0.15
	k.LidLiner.Thickness, k.LidLiner.Pads = 4, params.PadsAuto
	k.Sheet.Gauge = 1
	k.Former.Vacuum = 80
	k.Insert.Draft, k.Insert.RimRadius = 5, 2
	k.Pocket.Draft, k.Pocket.MouthRadius, k.Pocket.Spacing = 3, 2, 12
	k.Shell.Wall, k.Printer.Infill = 2.4, 0.15
	k.Liner.Wrap, k.Buck.Run = params.WrapSkirt, 20
	return &Job{
		Kit: k,
		Forming: &forming.Formed{
			Node:    []geom.Vec{{X: 10, Y: 10, Z: -5}, {X: 20, Y: 10, Z: -5}, {X: 10, Y: 18, Z: -5}},
			Element: [][3]int32{{0, 1, 2}}, Thickness: []float64{0.6}, Fold: []bool{false},
			Stats: []forming.Stat{
				stat(forming.Rim, 0.9, 1), stat(forming.Wall, 0.4, 0.6), stat(forming.Floor, 0.4, 1), stat(forming.Corner, 0.3, 0.4),
				stat(forming.Skirt, 0.4, 0.6), stat(forming.Flange, 0.01, 0.3),
			},
			Open: []forming.Open{{Place: forming.Place{Zone: forming.Corner}, Gap: 0.2, Radius: 2}, {Place: forming.Place{Zone: forming.Flange}, Gap: 9}},
		},
		Pockets: []string{"logger"},
		Heat:    &forming.Heating{Ready: fit.Fixed(64), Coldest: 144},
		Run:     &forming.Run{Pause: 30},
		Air:     []AirFact{{Pocket: "logger", Holes: 18, Diameter: 1, Needed: 18, Evacuation: forming.Evacuation{Time: 0.4, By: forming.ByVents}}},
		Maps:    []*forming.LinerMap{{HoldsG: 4, Hold: 8, Pull: 10, Band: 5.7, Sides: 6000, Tightest: 0.3}},
		Dims: &fit.Dims{
			Items: []fit.ItemDims{{
				Name: "logger", Depth: 19, Height: 27, Mass: 210, PadArea: 250, PadZ: 11,
				Contact: 5.7, Built: built, Pad: built, PlugForce: fit.Fixed(200),
			}},
			Pocket:  fit.PocketDims{Draft: 3 * geom.Degree},
			Insert:  fit.InsertDims{Rim: 1},
			Buck:    fit.BuckDims{VentDia: 1, Dimple: 0.05, Floor: 6, Channel: 4},
			Press:   fit.PressDims{Pressure: 50},
			Base:    fit.BaseDims{InsertGap: 0.6},
			Lid:     fit.LidDims{Wall: 2.4, Ceiling: 11},
			Closure: fit.ClosureDims{Kind: "catch", Holds: 30, Pads: 6, Tongues: 4, Strain: fit.Span{Nominal: 0.01, Least: 0.008, Most: 0.015}},
			Print:   fit.PrintDims{Bed: geom.V(280, 200, 250), LeastHole: 0.8, Tp: 0.15, Width: 0.45, Layer: 0.3},
			Former:  fit.FormerDims{Area: [2]float64{228.6, 304.8}, Depth: 80},
			Shrink:  fit.Span{Nominal: 0.006, Least: 0.004, Most: 0.008},
			Rows: []fit.Row{
				row("slip.jam", 0.001, 0.001, 0.001), row("slip.rattle", 0.01, 0.01, 0.01),
				row("closure.holds", 30, 20, 40), row("force.pads", 6, 2, 12),
			},
		},
		Sheet: params.Sheet{
			Title: "ABS", Density: 1050, K: params.Span{Least: 0.17, Most: 0.17}, Cp: params.Span{Least: 1300, Most: 1500},
			Core: 150, Low: 127, Orient: 138, Up: 182, Shrink: params.Span{Least: 0.004, Most: 0.008},
			Gauges: params.Span{Least: 0.5, Most: 6}, RadiusFactor: 1, MaleDraft: 3, FemaleDraft: 1, LeastVacuum: 67.7,
		},
		Liner:    params.Liner{Title: "wool felt", Most: 0.4},
		LidLiner: params.Liner{Title: "sponge", Most: 0.35},
		Print: params.PrintMaterial{
			Title: "ABS", Density: 1040, K: params.Span{Least: 0.17, Most: 0.17}, Cp: params.Span{Least: 1400, Most: 1400},
			Tg: 105, HDT: params.Span{Least: 76, Most: 90}, SafeStrain: 0.02, ShrinkScale: params.Span{Least: 0.004, Most: 0.007},
		},
		Layout: Layout{
			Half: [2]float64{110, 60}, OutsideHalf: [2]float64{115, 65}, Deep: -24, Trim: -25.5, Bottom: -38,
			LeastRib: math.Inf(1), BuckFoot: [2]float64{112, 62}, FloorEdgeRadius: 3, Vents: 30,
		},
		Parts: []PartFact{{Name: "base", Size: geom.V(230, 130, 40), LongestBridge: 4}},
		Items: []ItemFact{{Name: "logger", Height: 27, ProudOfRim: 8, PocketDepth: 21, PocketWidth: 68}},
	}
}

// stat is a thickness at a place of the first pocket.
func stat(z forming.Zone, least, mean float64) forming.Stat {
	return forming.Stat{Place: forming.Place{Zone: z}, Area: 100, Mean: mean, Least: least, At: geom.V(12, 7, -20)}
}
