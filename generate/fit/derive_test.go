package fit

import (
	"errors"
	"math"
	"reflect"
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
	k.Printer.LeastHole, k.Printer.Foot, k.Printer.Scale = 1, 0.4, [3]float64{1, 1, 1}
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
			{Name: "weak", Kind: params.Felt},
			{Name: "rubber", Kind: params.Sponge, Density: 1100, Stress25: params.Span{Least: 10, Most: 20}},
		},
		PrintMaterials: []params.PrintMaterial{{Name: "abs", Modulus: 2000, SafeStrain: 0.02, Friction: 0.3}},
	}
}

// demoGeometry is what the shapes of the kit file measure.
func demoGeometry() Geometry {
	const pi = math.Pi
	return Geometry{Items: []ItemGeometry{
		{Height: 27, PlanArea: 118*64 - (4-pi)*100, WallArea: (2*(118+64) - (8-2*pi)*10) * 19, Reach: Reach{32, 32, 59, 59}},
		{Height: 22, PlanArea: pi * 23 * 23, WallArea: pi * 46 * 22, Reach: Reach{23, 23, 23, 23}},
	}}
}

func derive(t *testing.T, change func(k *params.Kit)) *Dims {
	t.Helper()
	k := demoKit()
	change(k)
	d, err := Derive(k, demoTables(), demoGeometry())
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// asIs changes nothing.
func asIs(*params.Kit) {}

func row(t *testing.T, d *Dims, id string) Row {
	t.Helper()
	r, ok := d.Row(id)
	if !ok {
		t.Fatalf("no row %s", id)
	}
	return r
}

// Each number is worked here from the kit file's values, apart from the program.
func TestDemoStackUp(t *testing.T) {
	d := derive(t, asIs)
	sqrt, pow, tan, sin := math.Sqrt, math.Pow, math.Tan, math.Sin
	deg := math.Pi / 180

	weight := .210 * 9.80665          // N, the logger
	lead := .060 * 9.80665            // N, the probe lead
	plan := 118*64. - (4-math.Pi)*100 // mm²
	pressed := 4 * weight / plan * 1000
	cFloor := 1 - pow(1+pressed/93.3, -1./3)
	rise := 2 * (.15 - cFloor)
	leadFloor := 1 - pow(1+4*lead/(math.Pi*529)*1000/93.3, -1./3)
	leadRise := 2 * (.15 - leadFloor)
	cp := 1 - pow(1+200/plan*1000/93.3, -1./3)

	// Sheet: two trays, mouths wider than floors by 2 depth tan 3.
	tw := d.Insert.Wall
	tray := func(l, w, depth float64) (mouth, area float64) {
		l, w = l+2*(1.8+tw), w+2*(1.8+tw)
		mouthL, mouthW := l+2*depth*tan(3*deg), w+2*depth*tan(3*deg)
		return mouthL * mouthW, l*w + (mouthL+l+mouthW+w)*depth/math.Cos(3*deg)
	}
	m1, a1 := tray(118, 64, 19+rise+1.8+tw)
	m2, a2 := tray(46, 46, 22+leadRise+1.8+tw)
	deep := 22 + leadRise + 1.8 + tw
	height := deep + max(1.5+4, 6) + 1 + 2 - 1 // channel of 1 and a roof of 2; the rim is a gauge down

	// Plan: the logger reaches left and, with notches, front and back; the lead right.
	long := (33 + 59 + 1.8 + 19*tan(3*deg) + 14) + (72 + 23 + 1.8 + 22*tan(3*deg) + 14)
	wide := 2 * (32 + 12 + 1.8 + 19*tan(3*deg) + 14)
	skirtL := (304.8 - long) / 2 / math.Hypot((304.8-long)/2, height)
	skirtW := (228.6 - wide) / 2 / math.Hypot((228.6-wide)/2, height)

	line := .4*1.125 - .3*(1-math.Pi/4)
	slip := .1 + sqrt(2)*.15
	thick := .45 + 5*line
	strain := 1.5 * thick * (.5 + sqrt(2)*.15) / (16 * 16)
	aside := 12 * pow(thick, 3) * 2000 * .5 / (4 * pow(16, 3))

	twTol := (d.Insert.WallSpan.Most - d.Insert.WallSpan.Least) / 2
	shrinkTol := 59 * .002 / .994
	gapRSS := sqrt(.04+.0225+twTol*twTol+shrinkTol*shrinkTol) / 2
	padTol := .4 + .3 + .2*(1-cFloor) + twTol

	for id, want := range map[string]float64{
		"r_pocket":                 1.8,
		"c_floor.logger":           cFloor,
		"seat_rise.logger":         rise,
		"seat_rise.probe-lead":     leadRise,
		"pad.area.logger":          3 * weight / 24.15 * 1000,
		"tw":                       (m1 + m2) / (a1 + a2),
		"r_buck":                   1.8 + tw,
		"under.probe-lead":         -deep,
		"trim":                     -deep - 1.5,
		"buck.height":              height,
		"t_rim":                    1,
		"t_skirt":                  (skirtL*wide + skirtW*long) / (long + wide),
		"shrink.scale":             1 / .994,
		"press.pressure":           200 / plan * 1000,
		"r_plug":                   2 * (cp - .15),
		"press.stop":               2*(1-cp) + .1,
		"force.plug.logger":        200,
		"force.plug.probe-lead":    200 / plan * math.Pi * 529,
		"vent.diameter":            sqrt(1.6*100/80*d.Insert.WallThin - .04), // k d/2 = 0.1 put into P = 4k/(1+k²) = p d/(2 mu t)
		"channel.gap":              20. / 3,
		"wall.count":               6,
		"wall":                     thick,
		"neck.top":                 3,
		"shoulder":                 -9,
		"insert.gap":               1.9,
		"slip.side":                slip,
		"lid.ceiling":              11,
		"catch.bead":               slip + .5,
		"closure.holds":            4 * aside * 1.3 / .7,
		"contact.logger":           .3 / sin(3*deg),
		"compression.rss.logger":   .15,
		"force.pads":               3 * (weight + lead),
		"compression.worst.logger": .15,
	} {
		near(t, id, row(t, d, id).Nominal, want, 1e-9)
	}
	near(t, "wall compression, RSS", row(t, d, "compression.rss.logger").Most, .15+sqrt(gapRSS*gapRSS+.085*.085), 1e-9)
	near(t, "wall compression, worst", row(t, d, "compression.worst.logger").Least, 1-(1.7+.35+twTol+shrinkTol)/1.8, 1e-9)
	near(t, "pad, worst", row(t, d, "pad.compression.logger").Most, 1-(3-padTol)/4.4, 1e-9)
	near(t, "catch strain", d.Closure.Strain.Most, strain, 1e-9)
	near(t, "slip least", row(t, d, "slip.side").Least, .1, 1e-12)
	near(t, "slip worst", row(t, d, "slip.worst").Least, slip-.3, 1e-12)
	// A shorter tongue by one step would strain the filament too far.
	if short := 1.5 * thick * (.5 + sqrt(2)*.15) / (15.5 * 15.5); !(strain <= .01 && short > .01) {
		t.Errorf("tongue of 16 strains %g, of 15.5 %g; the filament bears .01", strain, short)
	}
	near(t, "tongue", d.Closure.TongueL, 16, 0)
}

// The pad over each item is compressed as asked with the item at rest: from
// the boss to the item's top there is tn (1 - cn).
func TestPadsHangOverTheItems(t *testing.T) {
	d := derive(t, asIs)
	near(t, "logger", d.Items[0].PadZ, 27-19+3, 1e-12)
	near(t, "probe lead", d.Items[1].PadZ, 0+3, 1e-12)
	near(t, "area times pressure", d.Items[0].PadArea*24.15/1000, d.Items[0].PadForce, 1e-9)
}

func TestEveryRowIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, change := range variants() {
		clear(seen)
		for _, r := range derive(t, change).Rows {
			if seen[r.ID] {
				t.Errorf("%s stands twice", r.ID)
			}
			seen[r.ID] = true
			if r.Title == "" {
				t.Errorf("%s has no title", r.ID)
			}
			if !(r.Least <= r.Nominal && r.Nominal <= r.Most) || math.IsInf(r.Most, 0) {
				t.Errorf("%s is %g, %g, %g", r.ID, r.Least, r.Nominal, r.Most)
			}
		}
	}
}

// variants are kits that all can be made.
func variants() map[string]func(k *params.Kit) {
	return map[string]func(k *params.Kit){
		"demo":        asIs,
		"bare skirt":  func(k *params.Kit) { k.Liner.Wrap = params.WrapRim },
		"bare rim":    func(k *params.Kit) { k.Liner.Wrap = params.WrapPockets },
		"full lining": func(k *params.Kit) { k.LidLiner.Pads = params.PadsFull },
		"no pads":     func(k *params.Kit) { k.LidLiner.Pads, k.LidLiner.Material = params.PadsNone, "" },
		"worst case":  func(k *params.Kit) { k.Shell.Slip.Stack = params.StackWorst; k.Closure.Kind = params.ClosureBand },
		"ISO grade":   func(k *params.Kit) { k.Printer.Tolerance = nil; k.Closure.Kind = params.ClosureMagnets },
		"upright":     func(k *params.Kit) { k.Pocket.Draft, k.Insert.Draft = 0, 0 },
		"thick felt":  func(k *params.Kit) { k.Liner.Thickness, k.Liner.Compression = 6, .4 },
		"given vent":  func(k *params.Kit) { k.Buck.Vent.Diameter = ptr(.6) },
		"seal":        func(k *params.Kit) { k.Closure.Kind = params.ClosureSeal },
		"thin felt":   func(k *params.Kit) { k.Liner.Thickness = .3; k.Liner.Wrap = params.WrapSkirt },
		"wide vent":   func(k *params.Kit) { k.Buck.Vent.Diameter = ptr(4) },
		"nothing":     func(k *params.Kit) { k.Closure.Kind = params.ClosureNone },
	}
}

func TestSameKitSameSizes(t *testing.T) {
	if !reflect.DeepEqual(derive(t, asIs), derive(t, asIs)) {
		t.Error("two derivations differ")
	}
}

// 221 mm falls in ISO 286-1's step over 180 to 250: IT13 is .720, a quarter .180.
func TestDefaultToleranceIsAQuarterOfIT13(t *testing.T) {
	d := derive(t, variants()["ISO grade"])
	near(t, "tp", d.Print.Tp, .180, 1e-12)
}

func TestBareSkirtGetsClearance(t *testing.T) {
	d := derive(t, variants()["bare skirt"])
	size := d.Insert.Plan[0] - 2*d.Insert.Trim*math.Tan(5*math.Pi/180)
	want := .1 + math.Sqrt(.15*.15*2+.38*.38+math.Pow(size/2*.002/.994, 2))
	near(t, "insert.gap", d.Base.InsertGap, want, 1e-9)
}

// A harder press than a hand gives is not asked for; a softer one is.
func TestCementPressure(t *testing.T) {
	near(t, "soft", derive(t, func(k *params.Kit) { k.Liner.Press = ptr(10) }).Press.Pressure, 10, 1e-12)
	d := derive(t, func(k *params.Kit) { k.Liner.Press = ptr(500) })
	near(t, "hard", d.Items[0].PlugForce.Nominal, 200, 1e-9)
}

// Tighter felt under the plugs than in use makes the plug larger than the item.
func TestPlugMayBeLargerThanTheItem(t *testing.T) {
	d := derive(t, func(k *params.Kit) { k.Liner.Compression = .05 })
	if !(d.Pocket.Plug > 0) {
		t.Errorf("r_plug = %g, want more than 0", d.Pocket.Plug)
	}
	near(t, "gap to the sheet", d.Pocket.Finished-d.Pocket.Plug, d.Press.Stop, 1e-12)
}

// A full lining presses every item with its own plan, by how far it stands up.
func TestFullLining(t *testing.T) {
	d := derive(t, variants()["full lining"])
	near(t, "logger", d.Items[0].PadForce, 24.15*d.Items[0].PlugArea/1000, 1e-9)
	near(t, "lead, which lies below", d.Items[1].PadForce, 0, 0)
	near(t, "ceiling", d.Lid.Ceiling, 11, 1e-12)
}

// Friction round the skirt, summed up the wall in small steps.
func TestPushInForce(t *testing.T) {
	d := derive(t, asIs)
	tan5 := math.Tan(5 * math.Pi / 180)
	depth := -d.Insert.Trim
	grown := depth * tan5
	round := 2*(d.Insert.Plan[0]+d.Insert.Plan[1]+4*grown) - (8-2*math.Pi)*(16+grown)
	sum, h := 0.0, depth/1e5
	for z := h / 2; z < depth; z += h {
		if e := .1 - z*tan5/2; e > 0 {
			sum += 93.3 / 1000 * (math.Pow(1-e, -3) - 1) * h
		}
	}
	near(t, "push-in", row(t, d, "force.insert").Nominal, .22*round*sum, 1e-3)
}

func TestSimulatedThicknessReplacesTheEstimate(t *testing.T) {
	g := demoGeometry()
	g.Formed = &FormedGeometry{Pockets: []FormedPocket{{Wall: .5, Floor: .45, Corner: .3}, {Wall: .7, Floor: .8, Corner: .4}}, Rim: .95, Skirt: .7}
	g.Items[1].Pocket = 1
	d, err := Derive(demoKit(), demoTables(), g)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "r_buck", d.Pocket.Buck, 2.4, 1e-12)
	near(t, "r_buck of the first", d.Items[0].Buck, 2.3, 1e-12)
	near(t, "r_buck of the second", d.Items[1].Buck, 2.5, 1e-12)
	near(t, "wall of the second", d.Items[1].Wall.Most, .77, 1e-12)
	near(t, "seat of the first", d.Items[0].SeatRise, 2*(.15-d.Items[0].FloorCompression), 1e-12)
	near(t, "under the first", d.Items[0].Under, -(19 + d.Items[0].SeatRise + 1.8 + .45), 1e-12)
	near(t, "seat of the second", d.Items[1].SeatRise, 2*(.15-d.Items[1].FloorCompression), 1e-12)
	near(t, "under the second", d.Items[1].Under, -(22 + d.Items[1].SeatRise + 1.8 + .8), 1e-12)
	near(t, "thinnest", d.Insert.WallThin, .3, 0)
	near(t, "rim", d.Insert.Rim, .95, 0)
	near(t, "skirt", d.Insert.Skirt, .7, 0)
}

// A measured printer is drawn round: fat faces take twice their offset from a
// fit, large holes are drawn small, short prints are drawn long.
func TestMeasuredPrinter(t *testing.T) {
	d := derive(t, func(k *params.Kit) {
		k.Printer.Offset, k.Printer.Hole, k.Printer.Scale = .08, -.15, [3]float64{.995, .995, 1}
	})
	near(t, "slip as drawn", d.Lid.Slip, row(t, d, "slip.side").Nominal+.16, 1e-12)
	near(t, "bead", d.Closure.Bead, row(t, d, "slip.side").Nominal+d.Closure.Catch, 1e-12)
	near(t, "hole as drawn", d.Buck.VentDrawn, d.Buck.VentDia+.15, 1e-12)
	near(t, "scale", d.Print.Scale.X*.995, 1, 1e-12)
}

func TestWhatCannotBeMade(t *testing.T) {
	typed := params.Pos{Line: 9, Col: 9}
	for _, tt := range []struct {
		key    string
		change func(k *params.Kit)
	}{
		{"sheet.material", func(k *params.Kit) { k.Sheet.Material = "tin" }},
		{"printer.material", func(k *params.Kit) { k.Printer.Material = "tin" }},
		{"liner.compression", func(k *params.Kit) { k.Liner.Compression = 1.2 }},
		{"liner.test", func(k *params.Kit) { k.Liner.Test = &params.WeightTest{Mass: 10, Area: 100, Thickness: 2.5} }},
		{"lid_liner.compression", func(k *params.Kit) { k.LidLiner.Compression = .9 }},
		{"items[0].mass", func(k *params.Kit) { k.Items[0].Mass = 8000 }},
		{"lid_liner.material", func(k *params.Kit) { k.Items[0].Mass, k.Where["lid_liner.material"] = 8000, typed }},
		// A pad that is pressed solid: the value at fault is the one that takes the room, if it was typed.
		{"items[0]", func(k *params.Kit) { k.LidLiner.Thickness = .5 }},
		{"items[1]", func(k *params.Kit) { k.LidLiner.Thickness, k.Items[1].Mass = .5, 5 }},
		{"lid_liner.thickness", func(k *params.Kit) { k.LidLiner.Thickness, k.Where["lid_liner.thickness"] = .5, typed }},
		{"liner.thickness", func(k *params.Kit) {
			k.Liner.Thickness, k.Where["liner.thickness"], k.Where["lid_liner.thickness"] = 25, typed, typed
		}},
		{"tolerance.product", func(k *params.Kit) {
			k.Tolerance.Product, k.Where["tolerance.product"], k.Where["liner.thickness"] = 2, typed, typed
		}},
		{"liner.material", func(k *params.Kit) { k.Liner.Material = "weak" }},
		{"lid_liner.material", func(k *params.Kit) { k.LidLiner.Material = "rubber" }},
		{"former.area", func(k *params.Kit) { k.Former.Area = [2]float64{150, 150} }},
		{"printer.tolerance", func(k *params.Kit) {
			k.Printer.Tolerance, k.Insert.Margin, k.Former.Area = nil, 200, [2]float64{900, 900}
		}},
		{"shell.slip.least", func(k *params.Kit) { k.Shell.Slip.Least = -.1 }},
		{"shell.neck", func(k *params.Kit) {
			k.Shell.Neck, k.Where["shell.neck"] = 60, params.Pos{Line: 40, Col: 30}
		}},
		{"buck.vent.bore", func(k *params.Kit) { k.Buck.Vent.Bore = .5 }},
		{"closure.kind", func(k *params.Kit) { k.Shell.Wall = 12 }},
		{"closure.kind", func(k *params.Kit) { k.Shell.Wall = 0.9 }}, // its groove would cut the tongue off
	} {
		k := demoKit()
		tt.change(k)
		_, err := Derive(k, demoTables(), demoGeometry())
		var p *params.Problem
		if !errors.As(err, &p) || p.Key != tt.key || p.Hint == "" {
			t.Errorf("%s: got %v", tt.key, err)
		}
		if tt.key == "shell.neck" && p != nil && p.Pos.Line != 40 {
			t.Errorf("the problem points at line %d", p.Pos.Line)
		}
	}
}

// A neck that nobody typed is cut to what the base can carry.
func TestDefaultNeckGivesWay(t *testing.T) {
	d := derive(t, func(k *params.Kit) {
		k.Items[0].Depth, k.Items[1].Depth, k.Shell.Neck, k.Closure.Kind = 4, 4, 40, params.ClosureBand
	})
	if shoulder := d.Base.NeckTop - d.Base.Neck; !(shoulder >= d.Insert.Trim-d.Base.LedgeDrop) {
		t.Errorf("the shoulder at %g lies below the ledge", shoulder)
	}
}
