package check

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"buckwright/generate/fit"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/params"
)

// ruleCase is a rule with a job that trips it and one that just does not, each
// the clean job with one thing changed.
type ruleCase struct {
	id       string
	severity Severity
	value    string // as the finding gives it
	limit    string
	trip     func(*Job)
	pass     func(*Job)
}

// set replaces a derived row.
func (j *Job) set(id string, nominal, least, most float64) {
	for i := range j.Dims.Rows {
		if j.Dims.Rows[i].ID == id {
			j.Dims.Rows[i] = row(id, nominal, least, most)
			return
		}
	}
	j.Dims.Rows = append(j.Dims.Rows, row(id, nominal, least, most))
}

// spread is a compression as drawn, its RSS half width and its worst case's.
func spread(v, rss, worst float64) fit.Built {
	return fit.Built{Worst: fit.PlusMinus(v, worst), RSS: fit.PlusMinus(v, rss)}
}

// rests raises the first item under a pad of 4 mm that is drawn a quarter compressed.
func rests(j *Job, high float64) {
	j.Dims.Items[0].Pad, j.Maps[0].Rest = spread(0.25, 0, 0), high
}

// The spreads are binary fractions, so that sums come out exact. The clean
// job's shrinkage spread is 0.22 mm: 110 mm x 0.4 % / 2.
func ruleCases() []ruleCase {
	return []ruleCase{
		{"gauge-sold", Warn, "6.5 mm", "at most 6 mm", func(j *Job) { j.Kit.Sheet.Gauge = 6.5 }, func(j *Job) { j.Kit.Sheet.Gauge = 6 }},
		{"gauge-sold", Warn, "0.4 mm", "at least 0.5 mm", func(j *Job) { j.Kit.Sheet.Gauge = 0.4 }, func(j *Job) { j.Kit.Sheet.Gauge = 0.5 }},
		{"blank-fits", Stop, "-2.3 mm", "at least 0 mm", func(j *Job) { j.Layout.BuckFoot = [2]float64{116.6, 116.6} }, func(j *Job) { j.Layout.BuckFoot = [2]float64{114.3, 114.3} }},
		{"blank-margin", Warn, "24.3 mm", "at least 25 mm", func(j *Job) { j.Layout.BuckFoot = [2]float64{90, 128.1} }, func(j *Job) { j.Layout.BuckFoot = [2]float64{89, 127} }},
		{"drape-room", Note, "0.98 times", "at least 1 times", func(j *Job) { j.Layout.Bottom = -42.2 }, func(j *Job) { j.Layout.Bottom = -41 }},
		{"buck-height", Stop, "81 mm", "at most 80 mm", func(j *Job) { j.Layout.Bottom = -82 }, func(j *Job) { j.Layout.Bottom = -81 }},
		{"vacuum", Warn, "67 kPa", "at least 68 kPa", func(j *Job) { j.Kit.Former.Vacuum = 67 }, func(j *Job) { j.Kit.Former.Vacuum = 67.7 }},
		{"crystalline", Note, "forms at 138 to 182 °C, shrinks 0.4 % to 0.8 %", "none", func(j *Job) { j.Sheet.Crystalline = true }, func(j *Job) { j.Sheet.Crystalline = false }},
		{"dry-first", Note, "must be dry", "none", func(j *Job) { j.Sheet.DryFirst = true }, func(j *Job) { j.Sheet.DryFirst = false }},
		{"heat-window", Warn, "125 °C", "at least 127 °C", func(j *Job) { j.Heat.Coldest, j.Heat.Cooler = 125, 380 }, func(j *Job) { j.Heat.Coldest = 127 }},
		{"heat-window", Warn, "60 °C", "at least 127 °C", func(j *Job) { j.Heat = &forming.Heating{Ready: fit.Fixed(math.Inf(1)), Coldest: 60} }, func(j *Job) { j.Heat = nil }},
		{"thin-wall", Warn, "0.24 mm", "at least 0.25 mm", func(j *Job) { j.Forming.Stats[3].Least = 0.24 }, func(j *Job) { j.Forming.Stats[3].Least = 0.25 }},
		{"thin-wall", Warn, "0.29 mm", "at least 0.3 mm", func(j *Job) { j.Kit.Sheet.Gauge, j.Forming.Stats = 1.5, []forming.Stat{stat(forming.Skirt, 0.29, 0.4)} }, func(j *Job) { j.Kit.Sheet.Gauge, j.Forming.Stats = 1.5, []forming.Stat{stat(forming.Skirt, 0.31, 0.4)} }},
		{"thin-wall", Stop, "0.08 mm", "at least 0.25 mm", func(j *Job) { j.Forming.Stats = []forming.Stat{stat(forming.Wall, 0.08, 0.4)} }, func(j *Job) { j.Forming.Stats[1].Least = 0.25 }},
		{"unfilled", Warn, "0.6 mm", "at most 0.5 mm", func(j *Job) { j.Forming.Open[0].Gap = 0.6 }, func(j *Job) { j.Forming.Open[0].Gap = 0.5 }},
		{"unfilled", Stop, "1.8 mm", "at most 0.5 mm", func(j *Job) { j.Forming.Open[0].Gap = 1.8 }, func(j *Job) { j.Forming.Open = nil }},
		{"unfilled", Warn, "1.8 mm", "at most 0.5 mm", func(j *Job) { j.Forming.Open[0] = forming.Open{Place: forming.Place{Zone: forming.Skirt}, Gap: 1.8} }, func(j *Job) { j.Forming.Open[0].Zone = forming.Flange }},
		{"unfilled", Warn, "0.6 mm", "at most 0.5 mm", func(j *Job) { j.Forming.Open = []forming.Open{{Gap: 0.6, At: geom.V(0, 0, -25)}} }, func(j *Job) { j.Forming.Open = []forming.Open{{Gap: 0.6, At: geom.V(0, 0, -26)}} }},
		{"web", Warn, "40 mm²", "at most 30 mm²", func(j *Job) { j.Forming.Fold[0] = true }, func(j *Job) { j.Forming.Fold[0] = true; j.Layout.Trim = -4 }},
		{"evacuation", Warn, "1.1 s", "at most 1 s", func(j *Job) { j.Air[0].Time, j.Air[0].Needed = 1.1, 20 }, func(j *Job) { j.Air[0].Time = 1 }},
		{"evacuation", Warn, "no end of s", "at most 1 s", func(j *Job) { j.Air[0].Time, j.Air[0].By, j.Air[0].Ends = math.Inf(1), forming.ByTank, 36 }, func(j *Job) { j.Air = nil }},
		{"draft-female", Warn, "0.9°", "at least 1°", func(j *Job) { j.Kit.Pocket.Draft = 0.9 }, func(j *Job) { j.Kit.Pocket.Draft = 1 }},
		{"draft-male", Warn, "2.9°", "at least 3°", func(j *Job) { j.Kit.Insert.Draft = 2.9 }, func(j *Job) { j.Kit.Insert.Draft = 3 }},
		{"draft-male", Stop, "1.4°", "at least 3°", func(j *Job) { j.Kit.Insert.Draft = 1.4 }, func(j *Job) { j.Kit.Insert.Draft = 3 }},
		{"pocket-depth", Warn, "0.8 times", "at most 0.75 times", func(j *Job) { j.Items[0].PocketDepth, j.Items[0].PocketWidth = 32, 40 }, func(j *Job) { j.Items[0].PocketDepth, j.Items[0].PocketWidth = 30, 40 }},
		{"pocket-depth", Stop, "1.05 times", "at most 0.75 times", func(j *Job) { j.Items[0].PocketDepth, j.Items[0].PocketWidth = 42, 40 }, func(j *Job) { j.Items[0].PocketDepth, j.Items[0].PocketWidth = 30, 40 }},
		{"edge-radius", Warn, "0.9 mm", "at least 1 mm", func(j *Job) { j.Layout.FloorEdgeRadius = 0.9 }, func(j *Job) { j.Layout.FloorEdgeRadius = 0.97 }},
		{"edge-radius", Warn, "1.5 mm", "at least 2 mm", func(j *Job) { j.Layout.FloorEdgeRadius, j.Sheet.RadiusFactor = 1.5, 2 }, func(j *Job) { j.Layout.FloorEdgeRadius, j.Sheet.RadiusFactor = 2, 2 }},
		{"mouth-radius", Warn, "0.9 mm", "at least 1 mm", func(j *Job) { j.Kit.Pocket.MouthRadius = 0.9 }, func(j *Job) { j.Kit.Pocket.MouthRadius = 1 }},
		{"rim-radius", Warn, "0.9 mm", "at least 1 mm", func(j *Job) { j.Kit.Insert.RimRadius = 0.9 }, func(j *Job) { j.Kit.Insert.RimRadius = 1 }},
		{"rib", Warn, "2.5 mm", "at least 3 mm", func(j *Job) { j.Layout.LeastRib = 2.5 }, func(j *Job) { j.Layout.LeastRib = 2.97 }},
		{"rib", Stop, "1.5 mm", "at least 3 mm", func(j *Job) { j.Layout.LeastRib = 1.5 }, func(j *Job) { j.Layout.LeastRib = 3 }},
		{"mesh-open", Warn, "1.1 mm", "at most 1 mm", func(j *Job) { j.Items[0].Mesh = &MeshFact{File: "body.stl", Holes: []mesh.Hole{{Width: 1.1}}} }, func(j *Job) { j.Items[0].Mesh = &MeshFact{Holes: []mesh.Hole{{Width: 1}}} }},
		{"mesh-mended", Note, "1 hole closed; triangles that faced in turned round; 2 triangles that repeat others left out; it passes through itself, at (1, 2.1, 0) for one: what is inside any part of it counts as body", "none",
			func(j *Job) {
				j.Items[0].Mesh = &MeshFact{File: "body.stl", Holes: make([]mesh.Hole, 1), Turned: true, Repeats: 2, Crossing: &geom.Vec{X: 1, Y: 2.05, Z: -0.01}}
			}, func(j *Job) { j.Items[0].Mesh = &MeshFact{} }},
		{"items-overlap", Warn, "0.6 mm", "at most 0.5 mm", func(j *Job) { j.Layout.Overlaps = []Overlap{{"a", "b", 0.6}} }, func(j *Job) { j.Layout.Overlaps = []Overlap{{"a", "b", 0.5}} }},
		{"spacing", Warn, "11.9 mm", "at least 12 mm", func(j *Job) { j.Layout.LeastRib = 11.9 }, func(j *Job) { j.Layout.LeastRib = 11.97 }},
		{"items-overlap", Warn, "1.5 mm", "at most 0.5 mm", func(j *Job) { j.Layout.Overlaps = []Overlap{{"a", "b", 1.5}} }, func(j *Job) { j.Layout.Overlaps = nil }},
		{"items-overlap", Stop, "1.6 mm", "at most 0.5 mm", func(j *Job) { j.Layout.Overlaps = []Overlap{{"a", "b", 1.6}} }, func(j *Job) { j.Layout.Overlaps = nil }}, // 2 x 2 mm x (40 % - 15 %) more
		{"pocket-shared", Warn, "2 in one pocket", "at most 1 in one pocket", func(j *Job) { j.Layout.Shared = [][]string{{"a", "b"}} }, func(j *Job) { j.Layout.Shared = nil }},
		{"pocket-shared", Note, "2 in one pocket", "at most 1 in one pocket", func(j *Job) { j.Layout.Shared, j.Kit.Pocket.Spacing = [][]string{{"a", "b"}}, 0 }, func(j *Job) { j.Layout.Shared = nil }},
		{"vent-none", Stop, "0 holes", "at least 1 holes", func(j *Job) { j.Layout.Vents = 0 }, func(j *Job) { j.Layout.Vents = 1 }},
		{"vent-pin", Warn, "its bore meets no channel under the buck", "none", func(j *Job) { j.Layout.Pins = []PinFact{{Shut: true}} }, func(j *Job) { j.Layout.Pins = []PinFact{{}} }},
		{"vent-pin", Note, "its bore leaves a wall too thin to print beside a channel", "none", func(j *Job) { j.Layout.Pins = []PinFact{{Thin: true, Better: geom.Vec2{X: 1}}} }, func(j *Job) { j.Layout.Pins = nil }},
		{"vent-mark", Note, "0.15 mm", "at most 0.1 mm", func(j *Job) { j.Dims.Buck.Dimple = 0.15 }, func(j *Job) { j.Dims.Buck.Dimple = 0.1 }},
		{"vent-drill", Note, "0.6 mm", "at least 0.8 mm", func(j *Job) { j.Dims.Buck.VentDia, j.Dims.Buck.VentDrill = 0.6, true }, func(j *Job) { j.Dims.Buck.VentDia = 0.8 }},
		{"vent-thick", Note, "1.1 mm", "at most 1 mm", func(j *Job) { j.Dims.Buck.VentDia = 1.1 }, func(j *Job) { j.Dims.Buck.VentDia = 1 }},
		{"vent-thick", Note, "1 mm", "at most 0.5 mm", func(j *Job) { j.Forming, j.Dims.Insert.WallThin = nil, 0.5 }, func(j *Job) { j.Forming, j.Dims.Insert.WallThin = nil, 1 }},
		{"buck-heat", Warn, "89 °C", "at most 80 °C", func(j *Job) { j.Print.Tg = 80 }, func(j *Job) { j.Print.Tg = 89 }},
		{"buck-heat", Warn, "89 °C", "at most 86 °C", func(j *Job) { j.Print.Tg, j.Print.HDT.Least = 45, 86 }, func(j *Job) { j.Print.Tg, j.Print.HDT.Least = 45, 89 }},
		{"buck-run", Warn, "65 s", "at most 64 s", func(j *Job) { j.Run.Pause = 65 }, func(j *Job) { j.Run.Pause = 64 }},
		{"buck-run", Warn, "no end of s", "at most 64 s", func(j *Job) { j.Run.Pause = math.Inf(1) }, func(j *Job) { j.Run.Pause, j.Print.Tg = math.Inf(1), 80 }},
		{"roof", Warn, "2.25 MPa", "at most 1.8 MPa", func(j *Job) { j.Kit.Printer.Infill = 0.1 }, func(j *Job) { j.Kit.Printer.Infill = 0.112 }},
		{"roof", Warn, "1 MPa", "at most 0.45 MPa", func(j *Job) { j.Print.HDT.Least = 50 }, func(j *Job) { j.Print.HDT.Least = 57 }},
		{"roof", Warn, "2.56 MPa", "at most 1.8 MPa", func(j *Job) { j.Dims.Buck.Channel, j.Dims.Buck.Floor = 8, 1 }, func(j *Job) { j.Dims.Buck.Channel, j.Dims.Buck.Floor = 8, 1.2 }},
		{"layer-lines", Note, "0.3 mm", "at most 0.15 mm", func(j *Job) { j.Kit.Liner.Wrap, j.Dims.Insert.Rim = params.WrapPockets, 0.5 }, func(j *Job) { j.Kit.Liner.Wrap, j.Dims.Insert.Rim = params.WrapPockets, 1 }},
		{"layer-lines", Note, "0.3 mm", "at most 0.1 mm", func(j *Job) { j.Kit.Liner.Wrap, j.Sheet.Clear = params.WrapPockets, true }, func(j *Job) { j.Kit.Liner.Wrap, j.Sheet.Clear = params.WrapRim, true }},
		{"buck-infill", Warn, "10 %", "at least 15 %", func(j *Job) { j.Kit.Printer.Infill = 0.1 }, func(j *Job) { j.Kit.Printer.Infill = 0.15 }},
		{"shrink-sheet", Warn, "0.22 mm", "at most 0.2 mm", func(j *Job) { j.Dims.Base.InsertGap = 0.2 }, func(j *Job) { j.Dims.Base.InsertGap = 0.221 }},
		{"shrink-sheet", Warn, "0.22 mm", "at most 0.2 mm", func(j *Job) { j.set("insert.compression", 0.1, -1, 1) }, func(j *Job) { j.set("insert.compression", 0.12, -1, 1) }},
		{"liner-loose", Stop, "-0.5 %", "at least 0 %", func(j *Job) { j.Dims.Items[0].Built = spread(-0.005, 0, 0) }, func(j *Job) { j.Dims.Items[0].Built = spread(0, 0, 0) }},
		{"liner-loose", Warn, "-12.5 %", "at least 0 %", func(j *Job) { j.Dims.Items[0].Built = spread(0.125, 0.25, 0.25) }, func(j *Job) { j.Dims.Items[0].Built = spread(0.125, 0.125, 0.125) }},
		{"liner-loose", Note, "-12.5 %", "at least 0 %", func(j *Job) { j.Dims.Items[0].Built = spread(0.125, 0.125, 0.25) }, func(j *Job) { j.Dims.Items[0].Built = spread(0.125, 0.125, 0.125) }},
		{"liner-crush", Stop, "41 %", "at most 40 %", func(j *Job) { j.Dims.Items[0].Built = spread(0.41, 0, 0) }, func(j *Job) { j.Dims.Items[0].Built = spread(0.4, 0, 0) }},
		{"liner-crush", Warn, "50 %", "at most 40 %", func(j *Job) { j.Dims.Items[0].Built = spread(0.25, 0.25, 0.25) }, func(j *Job) { j.Dims.Items[0].Built = spread(0.25, 0.125, 0.125) }},
		{"liner-crush", Note, "50 %", "at most 40 %", func(j *Job) { j.Dims.Items[0].Built = spread(0.25, 0.125, 0.25) }, func(j *Job) { j.Dims.Items[0].Built = spread(0.25, 0.125, 0.125) }},
		{"product-tolerance", Warn, "100 %", "at most 75 %", func(j *Job) { j.Kit.Tolerance.Product = 0.3 }, func(j *Job) { j.Kit.Tolerance.Product = 0.22 }},
		{"contact", Warn, "4.9 mm", "at least 5 mm", func(j *Job) { j.Maps[0].Sides, j.Dims.Items[0].Contact = 0, 4.9 }, func(j *Job) { j.Maps, j.Dims.Items[0].Contact = nil, 5 }},
		{"contact", Warn, "2 mm", "at least 3 mm", func(j *Job) { j.Maps[0].Band, j.Dims.Items[0].Depth = 2, 3 }, func(j *Job) { j.Maps[0].Band, j.Dims.Items[0].Depth = 3, 3 }},
		{"undercut", Note, "401 mm²", "at most 400 mm²", func(j *Job) { j.Items[0].UndercutArea = 401 }, func(j *Job) { j.Items[0].UndercutArea = 400 }},
		{"reach", Warn, "7.9 mm", "at least 8 mm", func(j *Job) { j.Items[0].ProudOfRim = 7.9 }, func(j *Job) { j.Items[0].ProudOfRim = 8 }},
		{"reach", Warn, "-2 mm", "at least 8 mm", func(j *Job) { j.Items[0].ProudOfRim = -2 }, func(j *Job) { j.Items[0].ProudOfRim, j.Items[0].HasNotch = -2, true }},
		{"press-force", Stop, "301 N", "at most 300 N", func(j *Job) { j.Dims.Items[0].PlugForce = fit.Fixed(301) }, func(j *Job) { j.Dims.Items[0].PlugForce = fit.Fixed(300) }},
		{"press-force", Stop, "310 N", "at most 300 N", func(j *Job) { // on two plugs of one plate
			j.Dims.Items = append(j.Dims.Items, j.Dims.Items[0])
			j.Dims.Items[0].PlugForce, j.Dims.Items[1].PlugForce = fit.Fixed(155), fit.Fixed(155)
		}, func(j *Job) {
			j.Dims.Items = append(j.Dims.Items, j.Dims.Items[0])
			j.Dims.Items[0].PlugForce, j.Dims.Items[1].PlugForce = fit.Fixed(155), fit.Fixed(145)
		}},
		{"press-cement", Note, "49 kPa", "at least 50 kPa", func(j *Job) { j.Dims.Press.Pressure = 49 }, func(j *Job) { j.Dims.Press.Pressure = 50 }},
		{"press-cement", Warn, "50 kPa", "at least 60 kPa", func(j *Job) { p := 60.0; j.Kit.Liner.Press = &p }, func(j *Job) { p := 50.0; j.Kit.Liner.Press = &p }},
		{"press-force", Note, "400 N", "at most 300 N", func(j *Job) { j.Dims.Items[0].PlugForce = fit.PlusMinus(200, 200) }, func(j *Job) { j.Dims.Items[0].PlugForce = fit.PlusMinus(200, 100) }},
		{"liner-pinch", Warn, "41 %", "at most 40 %", func(j *Job) { j.Maps[0].Tightest = 0.41 }, func(j *Job) { j.Maps[0].Tightest = 0.4 }},
		{"contact", Warn, "4.5 mm", "at least 5 mm", func(j *Job) { j.Maps[0].Band = 4.5 }, func(j *Job) { j.Maps[0].Band, j.Dims.Items[0].Contact = 5, 3 }},
		{"turned-over", Warn, "1.9 times", "at least 2 times", func(j *Job) { j.Maps[0].HoldsG = 1.9 }, func(j *Job) { j.Maps[0].HoldsG = 2 }},
		{"pull-easy", Note, "0.4 N", "at least 1 N", func(j *Job) { j.Maps[0].Hold = 0.4 }, func(j *Job) { j.Maps[0].Hold = 1 }},
		{"pull-hard", Warn, "46 N", "at most 45 N", func(j *Job) { j.Maps[0].Pull = 46 }, func(j *Job) { j.Maps[0].Pull = 45 }},
		{"rests-high", Note, "0.6 mm", "at most 0.5 mm", func(j *Job) { j.Maps[0].Rest = 0.6 }, func(j *Job) { j.Maps[0].Rest = 0.5 }},
		{"push-hard", Warn, "101 N", "at most 100 N", func(j *Job) { j.Maps[0].Push = 101 }, func(j *Job) { j.Maps[0].Push = 100 }},
		{"insert-loose", Warn, "-1 %", "at least 0 %", func(j *Job) { j.set("insert.compression.rss", 0.1, -0.01, 0.2) }, func(j *Job) { j.set("insert.compression.rss", 0.1, 0, 0.2) }},
		{"insert-crush", Warn, "41 %", "at most 40 %", func(j *Job) { j.set("insert.compression.rss", 0.1, 0, 0.41) }, func(j *Job) { j.set("insert.compression.rss", 0.1, 0, 0.4) }},
		{"slip-jam", Warn, "2 %", "at most 1 %", func(j *Job) { j.set("slip.jam", 0.02, 0.02, 0.02) }, func(j *Job) { j.set("slip.jam", 0.01, 0.01, 0.01) }},
		{"slip-jam", Stop, "20 %", "at most 1 %", func(j *Job) { j.set("slip.jam", 0.2, 0.2, 0.2) }, func(j *Job) { j.set("slip.jam", 0.01, 0.01, 0.01) }},
		{"slip-rattle", Warn, "11 %", "at most 10 %", func(j *Job) { j.set("slip.rattle", 0.11, 0.11, 0.11) }, func(j *Job) { j.set("slip.rattle", 0.1, 0.1, 0.1) }},
		{"lid-closes", Stop, "0.1 mm", "at least 0.2 mm", func(j *Job) { j.Dims.Items[0].PadZ = 8.1 }, func(j *Job) { j.Dims.Items[0].PadZ = 8.25 }},
		{"lid-closes", Stop, "-1 mm", "at least 0.2 mm", func(j *Job) { j.Dims.Items[0].PadArea, j.Dims.Lid.Ceiling = 0, 7 }, func(j *Job) { j.Dims.Items[0].PadArea, j.Dims.Lid.Ceiling = 0, 8.5 }},
		{"pad-loose", Stop, "-0.5 %", "at least 0 %", func(j *Job) { j.Dims.Items[0].Pad = spread(-0.005, 0, 0) }, func(j *Job) { j.Dims.Items[0].Pad = spread(0, 0, 0) }},
		{"pad-loose", Warn, "-12.5 %", "at least 0 %", func(j *Job) { j.Dims.Items[0].Pad = spread(0.125, 0.25, 0.25) }, func(j *Job) { j.Dims.Items[0].Pad = spread(0.125, 0.125, 0.125) }},
		{"pad-loose", Note, "-12.5 %", "at least 0 %", func(j *Job) { j.Dims.Items[0].Pad = spread(0.125, 0.125, 0.25) }, func(j *Job) { j.Dims.Items[0].PadArea = 0 }},
		{"pad-crush", Stop, "36 %", "at most 35 %", func(j *Job) { j.Dims.Items[0].Pad = spread(0.36, 0, 0) }, func(j *Job) { j.Dims.Items[0].Pad = spread(0.35, 0, 0) }},
		{"pad-crush", Warn, "50 %", "at most 35 %", func(j *Job) { j.Dims.Items[0].Pad = spread(0.25, 0.25, 0.25) }, func(j *Job) { j.Dims.Items[0].PadArea = 0 }},
		{"pad-crush", Note, "36.2 %", "at most 35 %", func(j *Job) { rests(j, 0.45) }, func(j *Job) { rests(j, 0.375) }},
		{"pad-crush", Note, "37.5 %", "at most 35 %", func(j *Job) { j.Dims.Items[0].Pad = spread(0.25, 0.0625, 0.125) }, func(j *Job) { j.Dims.Items[0].Pad = spread(0.25, 0.0625, 0.0625) }},
		{"pad-meets", Warn, "0.9 times", "at least 1 times", func(j *Job) { padded(j, 3) }, func(j *Job) { padded(j, 4) }},
		{"closure-holds", Stop, "31 N", "at most 30 N", func(j *Job) { j.Dims.Closure.Pads = 31 }, func(j *Job) { j.set("closure.holds", 30, 30, 30); j.Dims.Closure.Pads = 30 }},
		{"closure-holds", Stop, "6 N", "at most 0 N", func(j *Job) { j.Dims.Closure.Kind, j.Dims.Closure.Holds = "none", 0 }, func(j *Job) { j.Dims.Closure.Holds = 6 }},
		{"closure-holds", Warn, "21 N", "at most 20 N", func(j *Job) { j.set("force.pads", 6, 2, 21) }, func(j *Job) { j.set("force.pads", 6, 2, 20) }},
		{"catch-strain", Stop, "2.1 %", "at most 2 %", func(j *Job) { j.Dims.Closure.Strain = fit.Fixed(0.021) }, func(j *Job) { j.Dims.Closure.Strain = fit.Fixed(0.02) }},
		{"catch-strain", Warn, "2.1 %", "at most 2 %", func(j *Job) { j.Dims.Closure.Strain.Most = 0.021 }, func(j *Job) { j.Dims.Closure.Strain, j.Dims.Closure.Tongues = fit.Fixed(0.021), 0 }},
		{"wall-rounded", Note, "2.38 mm, 6 extrusions", "asked: 2.4 mm", func(j *Job) { j.Dims.Lid.Wall = 2.38; j.set("wall.count", 6, 6, 6) }, func(j *Job) { j.Dims.Lid.Wall = 2.395 }},
		{"shrink-print", Warn, "0.77 mm", "at most 0.6 mm", func(j *Job) { delete(j.Kit.Where, "printer.scale") }, func(j *Job) { delete(j.Kit.Where, "printer.scale"); j.Dims.Base.InsertGap = 0.775 }},
		{"part-bed", Stop, "1 mm", "at most 0 mm", func(j *Job) { j.Parts[0].Size = geom.V(281, 130, 40) }, func(j *Job) { j.Parts[0].Size = geom.V(200, 280, 250) }},
		{"part-bed", Stop, "5 mm", "at most 0 mm", func(j *Job) { j.Parts[0].Size = geom.V(205, 205, 40) }, func(j *Job) { j.Parts[0].Size = geom.V(280, 200, 40) }},
		{"part-bed", Stop, "2 mm", "at most 0 mm", func(j *Job) { j.Parts[0].Size = geom.V(20, 20, 252) }, func(j *Job) { j.Parts[0].Size = geom.V(20, 20, 250) }},
		{"bridge", Warn, "11 mm", "at most 10 mm", func(j *Job) { j.Parts[0].LongestBridge = 11 }, func(j *Job) { j.Parts[0].LongestBridge = 10 }},
		{"free-edge", Warn, "3.5 mm", "at most 3.3 mm", func(j *Job) { j.Parts[0].FreeEdge = 3.5 }, func(j *Job) { j.Parts[0].FreeEdge = 3.3 }},
		{"flat-refused", Stop, "not drawn", "none", func(j *Job) {
			j.Flats = []FlatFact{{Name: "pad-body", Refused: "neoprene sponge contains chlorine: cut it with a knife"}}
		}, func(j *Job) { j.Flats = []FlatFact{{Size: [2]float64{9, 9}}} }},
		{"flat-stock", Stop, "1 mm", "at most 0 mm", func(j *Job) {
			j.Flats = []FlatFact{{Name: "felt-rim", Size: [2]float64{301, 200}, Stock: [2]float64{200, 300}}}
		}, func(j *Job) { j.Flats = []FlatFact{{Size: [2]float64{300, 200}, Stock: [2]float64{200, 300}}} }},
		{"flat-stock", Stop, "100 mm", "at most 0 mm", func(j *Job) {
			j.Flats = []FlatFact{{Name: "felt-rim", Size: [2]float64{300, 200}, Stock: [2]float64{200, 300}, Upright: true}}
		}, func(j *Job) { j.Flats = []FlatFact{{Size: [2]float64{300, 200}}} }},
		{"flat-small", Warn, "2.9 mm", "at least 3 mm", func(j *Job) { j.Flats = []FlatFact{{Name: "pad-body", Size: [2]float64{20, 2.9}}} }, func(j *Job) { j.Flats = []FlatFact{{Size: [2]float64{20, 3}}} }},
		{"felt-strain", Note, "6 %", "at most 5 %", func(j *Job) {
			j.Liner.AreaStrain, j.Flats = 0.05, []FlatFact{{Name: "felt-floor-body", Size: [2]float64{20, 20}, Strain: 0.06}}
		}, func(j *Job) { j.Liner.AreaStrain, j.Flats = 0.05, []FlatFact{{Size: [2]float64{20, 20}, Strain: 0.05}} }},
		{"felt-strain", Warn, "11 %", "at most 5 %", func(j *Job) {
			j.Liner.AreaStrain, j.Flats = 0.05, []FlatFact{{Name: "felt-floor-body", Size: [2]float64{20, 20}, Strain: 0.11}}
		}, func(j *Job) { j.Flats = nil }},
		{"laser", Note, "taken to contain chlorine", "none", func(j *Job) { j.Sheet.Chlorinated = true }, func(j *Job) { j.Sheet.Chlorinated = false }},
		{"laser", Note, "taken to contain chlorine", "none", func(j *Job) { j.LidLiner.Chlorinated = true }, func(j *Job) { j.LidLiner.Chlorinated, j.Kit.LidLiner.Pads = true, params.PadsNone }},
		{"drop", Note, "no less than 100 G", "none", func(j *Job) { j.Dims.Items[0].Mass = 67.9e3 }, func(j *Job) { j.Dims.Items[0].Mass = 68e3 }},
	}
}

// padded gives the item a pad of three times its weight, which meets it in so many
// places of ten: an open sponge's pressure goes with its compression.
func padded(j *Job, meets int) {
	j.Kit.LidLiner.Compression = 0.25
	j.Dims.Pads = fit.Law{Open: true, P: 24}
	j.Dims.Items[0].PadArea = 3 * fit.Weight(j.Dims.Items[0].Mass) / j.Dims.Pads.Pressure(0.25) * 1000
	drops := make([]float64, 10)
	for k := meets; k < len(drops); k++ {
		drops[k] = math.Inf(1)
	}
	j.Items[0].PadDrops = drops
}

// of keeps the findings of one rule.
func of(id string, all []Finding) []Finding {
	var out []Finding
	for _, f := range all {
		if f.ID == id {
			out = append(out, f)
		}
	}
	return out
}

func TestRulesTripAndJustDoNot(t *testing.T) {
	for _, tt := range ruleCases() {
		j := clean()
		tt.trip(j)
		got := of(tt.id, Run(j))
		if len(got) != 1 {
			t.Errorf("%s (%s): %d findings, want 1: %+v", tt.id, tt.value, len(got), got)
			continue
		}
		if f := got[0]; f.Severity != tt.severity || f.Value != tt.value || f.LimitText != tt.limit {
			t.Errorf("%s: %s, %q, %q, want %s, %q, %q", tt.id, f.Severity, f.Value, f.LimitText, tt.severity, tt.value, tt.limit)
		}
		j = clean()
		tt.pass(j)
		if got := of(tt.id, Run(j)); len(got) != 0 {
			t.Errorf("%s: a job that just does not trip it has %+v", tt.id, got)
		}
	}
}

func TestEveryRuleHasACase(t *testing.T) {
	has := map[string]bool{}
	for _, tt := range ruleCases() {
		has[tt.id] = true
	}
	for _, r := range All() {
		if !has[r.ID] {
			t.Errorf("%s has no case", r.ID)
		}
	}
}

// A rule whose listed limit begins with a number judges by that number.
func TestListedLimitsAreJudgedBy(t *testing.T) {
	first := regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)
	judged := map[string][]string{} // by rule: the limits of its findings
	for _, tt := range ruleCases() {
		j := clean()
		tt.trip(j)
		for _, r := range All() {
			if r.ID == tt.id {
				judged[r.ID] = append(judged[r.ID], first.FindString(r.Unit.text(r.Run(j)[0].Limit)))
			}
		}
	}
	for _, r := range All() {
		listed := first.FindString(r.Limit)
		if listed != "" && strings.HasPrefix(r.Limit, listed) && !slices.Contains(judged[r.ID], listed) {
			t.Errorf("%s lists the limit %q, and judges by %v", r.ID, r.Limit, judged[r.ID])
		}
	}
}

// A maker reads the value, the limit and what to change; none may be missing,
// and the value may not read like the limit.
func TestFindingsReadLikeAdvice(t *testing.T) {
	key, index := regexp.MustCompile(`\b[a-z_]+(\[\d*\])?(\.[a-z_]+)+`), regexp.MustCompile(`\[\d*\]`)
	keys := map[string]bool{}
	for _, k := range params.Keys() {
		keys[k.Key] = true
	}
	for _, tt := range ruleCases() {
		j := clean()
		tt.trip(j)
		for _, f := range Run(j) {
			if f.Where == "" || f.Title == "" || f.Source == "" || len(f.Fix) < 30 || f.Key == "" {
				t.Errorf("%s says too little: %+v", f.ID, f)
			}
			if strings.HasSuffix(f.LimitText, " "+f.Value) || math.IsNaN(f.Number) {
				t.Errorf("%s: value %q against limit %q", f.ID, f.Value, f.LimitText)
			}
			for _, k := range key.FindAllString(f.Fix+" "+f.Key, -1) {
				if !keys[index.ReplaceAllString(k, "[]")] {
					t.Errorf("%s: the kit file has no key %s", f.ID, k)
				}
			}
			for _, bad := range []string{"%!", "NaN", "Inf", "e+", "e-0", "  "} {
				if strings.Contains(f.Where+f.Value+f.LimitText+f.Fix+f.Source, bad) {
					t.Errorf("%s has %q in %+v", f.ID, bad, f)
				}
			}
		}
	}
}

// Every limit that is a number gives way to the kit's own, and says so.
func TestLimitsOfTheKit(t *testing.T) {
	done := map[string]bool{}
	units := map[string]Unit{}
	for _, r := range All() {
		units[r.ID] = r.Unit
	}
	for _, tt := range ruleCases() {
		if units[tt.id] == None || done[tt.id] {
			continue
		}
		done[tt.id] = true
		j := clean()
		tt.trip(j)
		was := of(tt.id, Run(j))[0]
		strict, loose := was.Number+0.5, was.Number // a value that must be at least its limit
		if strings.HasPrefix(was.LimitText, "at most") || tt.id == "wall-rounded" {
			strict = was.Number / 2
		}
		j.Kit.Limits = map[string]float64{tt.id: loose}
		for _, f := range of(tt.id, Run(j)) {
			if f.Number == was.Number && f.Where == was.Where {
				t.Errorf("%s: limit %g of the kit still gives %+v", tt.id, loose, f)
			}
		}
		j.Kit.Limits = map[string]float64{tt.id: strict}
		got := of(tt.id, Run(j))
		if len(got) == 0 || !got[0].Overridden || got[0].Limit != strict ||
			!strings.Contains(got[0].LimitText, "set in the kit") || !strings.Contains(got[0].Source, "limits."+tt.id) {
			t.Errorf("%s: limit %g of the kit gives %+v", tt.id, strict, got)
		}
	}
}
