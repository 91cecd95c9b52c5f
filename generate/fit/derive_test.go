package fit

import (
	"testing"

	"buckwright/params"
)

func ptr(v float64) *float64 { return &v }

// demoKit is the tide logger with its probe lead: every value as in its kit file.
func demoKit() *params.Kit {
	k := &params.Kit{File: "tide-logger.yaml", Name: "tide-logger", Where: map[string]params.Pos{}}
	k.Items = []params.Item{
		{Name: "logger", At: [2]float64{-33, 0}, Depth: 19, Mass: 210, Notch: []params.Notch{
			{Side: params.Front, Width: 30, Out: 12}, {Side: params.Back, Width: 30, Out: 12},
		}},
		{Name: "probe-lead", At: [2]float64{72, 0}, Depth: 22, Mass: 60, Notch: []params.Notch{
			{Side: params.Front, Width: 30, Out: 12},
		}},
	}
	k.Tolerance.Product = 0.2
	k.Liner.Material, k.Liner.Thickness, k.Liner.Compression = "felt", 2, 0.15
	k.Liner.Wrap, k.Liner.Cement = params.WrapSkirt, 0.1
	k.LidLiner.Material, k.LidLiner.Thickness, k.LidLiner.Compression = "sponge", 4, 0.25
	k.LidLiner.Pads = params.PadsAuto
	k.Closure.Kind = params.ClosureCatch
	k.Sheet.Material, k.Sheet.Gauge = "abs", 1
	k.Former.Area, k.Former.Clamp, k.Former.Depth, k.Former.Vacuum = [2]float64{228.6, 304.8}, 12, 80, 80
	k.Former.Platen.Pitch, k.Former.Platen.Hole, k.Former.Platen.Border = 10, 2, 15
	k.Printer.Bed, k.Printer.Nozzle, k.Printer.Layer = [3]float64{280, 280, 250}, 0.4, 0.3
	k.Printer.Material, k.Printer.Tolerance = "abs", ptr(0.15)
	k.Printer.LeastHole, k.Printer.Foot, k.Printer.Scale = 0.8, 0.4, [3]float64{1, 1, 1}
	k.Insert.Margin, k.Insert.Draft, k.Insert.CornerRadius, k.Insert.RimRadius = 14, 5, 16, 2
	k.Pocket.Draft, k.Pocket.MouthRadius, k.Pocket.Spacing = 3, 2, 12
	k.Buck.Floor, k.Buck.Vent.Land, k.Buck.Vent.Bore, k.Buck.Vent.Pitch = 6, 4, 4, 25
	k.Press.Nest, k.Press.Grip = params.NestAuto, params.GripWings
	k.Shell.Wall, k.Shell.Floor, k.Shell.Neck = 2.4, 2.4, 12
	k.Shell.Slip.Least, k.Shell.Slip.Stack = 0.1, params.StackRSS
	k.Shell.Label = params.LabelGroove
	return k
}

// demoTables has round rows, so that results can be worked out by hand.
func demoTables() *params.Tables {
	return &params.Tables{
		Sheets: []params.Sheet{{Name: "abs", Shrink: params.Span{Least: 0.004, Most: 0.008}, Mu: params.Span{Least: 100, Most: 1000}}},
		Liners: []params.Liner{
			{Name: "felt", Kind: params.Felt, P0: 93.3, Friction: 0.22, ThicknessTol: 0.1},
			{Name: "sponge", Kind: params.Sponge, Density: 184.5, Stress25: params.Span{Least: 13.8, Most: 34.5}, ThicknessTol: 0.1},
		},
		PrintMaterials: []params.PrintMaterial{{Name: "abs", Modulus: 2000, SafeStrain: 0.01, Friction: 0.3}},
	}
}

// demoGeometry is what the shapes of the kit file measure.
func demoGeometry() Geometry {
	const pi = 3.14159265358979
	return Geometry{Items: []ItemGeometry{
		{Height: 27, PlanArea: 118*64 - (4-pi)*100, WallArea: (2*(118+64) - (8-2*pi)*10) * 19, Reach: Reach{32, 32, 59, 59}},
		{Height: 22, PlanArea: pi * 23 * 23, WallArea: pi * 46 * 22, Reach: Reach{23, 23, 23, 23}},
	}}
}

func TestDemoShow(t *testing.T) {
	d, err := Derive(demoKit(), demoTables(), demoGeometry())
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range d.Rows {
		t.Logf("%-28s %10.4f %10.4f %10.4f %s", r.ID, r.Nominal, r.Least, r.Most, r.Unit)
	}
	t.Logf("%+v", d.Closure)
}
