package generate

import (
	"fmt"
	"path"
	"strconv"

	"buckwright/generate/check"
	"buckwright/generate/estimate"
	"buckwright/generate/export"
	"buckwright/params"
)

// printSection says what to print, plate by plate.
func (r *Result) printSection(shelf pictures) export.Section {
	k, d := r.Kit, r.Dims
	s := export.Section{ID: "print", Title: "Print", Block: export.Block{
		Lead: []string{
			"The files are in plates; each part is also in parts by itself. Slice them as they lie and at 100 %: what sheet and filament shrink by is already in them.",
		},
		Facts: []export.Fact{
			{Name: "filament", Value: r.filament.Title},
			{Name: "layer", Value: mm(2, k.Printer.Layer) + ", nozzle " + mm(2, k.Printer.Nozzle)},
			{Name: "extrusion width", Value: mm(2, d.Print.Width)},
			{Name: "walls", Value: strconv.Itoa(r.walls())},
			{Name: "top and bottom", Value: some(k.Printer.Skin, "full layer")},
			{Name: "infill", Value: percent(k.Printer.Infill)},
			{Name: "supports", Value: "none"},
			{Name: "brim", Value: "if your filament lifts; the plates leave room for " + mm(0, plateGap/2)},
		},
		Cautions: []export.Caution{{
			Text:  "Printing gives off particles and vapour, ABS and ASA more than others. Enclose and filter, or ventilate the room.",
			Defer: "the printer's maker and the filament's safety data sheet",
		}},
	}}
	if t := r.plateTable(); len(t.Rows) > 0 {
		s.Tables = append(s.Tables, t)
	}
	s.Figures = shelf.figures("part-", "")
	s.Steps = r.printSteps()
	return s
}

func (r *Result) plateTable() export.Table {
	t := export.Table{Caption: "Plates", Heads: []export.Head{
		{Text: "part"}, {Text: "plate"}, {Text: "how many"}, {Text: "lies"}, {Text: "size of the file, mm", Kind: export.Number},
		{Text: "mass, g", Kind: export.Number}, {Text: "time, h", Kind: export.Number},
	}, Notes: []string{
		"Mass and time are of the files as they are sliced with the settings above and the speeds of printer.speed in the kit; heating up, skirt and brim are not in them.",
	}}
	plates, tooBig := r.plates()
	var all estimate.Print
	var mixed []string // plates with tools and case parts
	for i, plate := range plates {
		tools, cases := 0, 0
		name := path.Base(plateFile(i))
		var together estimate.Print
		for _, p := range plate {
			t.Rows = append(t.Rows, partRow(p.Part, name))
			together = sum(together, p.Print)
			if forTooling(p.Part.Name) {
				tools++
			} else {
				cases++
			}
		}
		if tools > 0 && cases > 0 {
			mixed = append(mixed, name)
		}
		if len(plate) > 1 {
			t.Rows = append(t.Rows, sumRow(name+" together", together))
		}
		all = sum(all, together)
	}
	for _, p := range tooBig {
		t.Rows = append(t.Rows, partRow(p, "none: larger than the bed"))
		all = sum(all, p.Print)
	}
	if mixed != nil {
		t.Notes = append(t.Notes, check.List(mixed)+": tools and parts of the case on one bed, to be printed once, for the model and its first case. For every case more slice parts/base and parts/lid alone.")
	}
	if len(t.Rows) > 1 {
		t.Rows = append(t.Rows, sumRow("all", all))
	}
	return t
}

func partRow(p Part, plate string) []string {
	size := p.Printed.Bounds().Size()
	return []string{
		p.Title, plate, partCount(p.Name), lies(p.Name), sizes(0, size.X, size.Y, size.Z),
		fixed(0, p.Print.Grams), hours(p.Print.Seconds),
	}
}

func sumRow(name string, p estimate.Print) []string {
	return []string{name, "", "", "", "", fixed(0, p.Grams), hours(p.Seconds)}
}

func sum(a, b estimate.Print) estimate.Print {
	return estimate.Print{Grams: a.Grams + b.Grams, Seconds: a.Seconds + b.Seconds}
}

// forTooling tells the parts that are made once for a model from those that go
// out with every case.
func forTooling(part string) bool { return part != "base" && part != "lid" }

func partCount(part string) string {
	if forTooling(part) {
		return "one for the model"
	}
	return "one a case"
}

// lies says how a part lies on its bed.
func lies(part string) string {
	switch part {
	case "buck":
		return "pockets up"
	case "press-tool":
		return "on its plate, plugs up"
	case "press-nest":
		return "hollow side up"
	case "base":
		return "on its floor"
	case "lid":
		return "on its top"
	case "trim-guide":
		return "land and number up"
	}
	return "as in the file"
}

// printSteps are what to do with the prints before they are used.
func (r *Result) printSteps() []export.Step {
	look := export.Step{Title: "Look the prints over", Do: []string{
		"Let the parts cool on the bed, then take them off; remove strings and blobs. Leave the faces as printed.",
		"Measure them and fill in the first lines of the inspection card.",
	}}
	if r.Dims.Print.Scale.X == 1 && r.Dims.Print.Scale.Y == 1 {
		look.Do = append(look.Do, "This kit's printer is not measured (printer.scale is 1): compare the buck's length with the card. `buckwright coupon` makes a coupon that measures the printer once for all, `buckwright calibrate` turns its readings into a printer file; make the kit again with that.")
	}
	if k := r.Kit.Closure.Kind; k == params.ClosureCatch {
		look.Do = append(look.Do, fmt.Sprintf("Bend the end of each spring tongue of the lid outwards by %s once, as far as its bead will and no farther: more may crack it. It must spring back and show no white line.", mm(2, r.Dims.Closure.Catch)))
	}
	return []export.Step{look, r.ventStep()}
}

// ventStep opens the vents: by a wire, or by a drill with a list of places.
func (r *Result) ventStep() export.Step {
	b := r.Dims.Buck
	n := len(r.Layout.Vents)
	if !b.VentDrill {
		return export.Step{Title: fmt.Sprintf("Clear the %s of the buck", some(n, "vent")), Do: []string{
			fmt.Sprintf("Push a wire a little thinner than %s through every vent, from the pocket down into the bore.", mm(2, b.VentDia)),
			fmt.Sprintf("Hold the buck against the light, or blow through it: all %d must be open.", n),
		}}
	}
	return export.Step{Title: fmt.Sprintf("Drill the %s of the buck", some(n, "vent")),
		Do: []string{
			fmt.Sprintf("Drill each marked dimple with a %s bit, straight down, until it drops into the bore after %s.", mm(2, b.VentDia), mm(1, b.Land)),
			"Take the burr off with a knife's tip, without rounding the hole. Blow the channels clean.",
			fmt.Sprintf("Hold the buck against the light: all %d must be open.", n),
		},
		Block: export.Block{
			Cautions: []export.Caution{{
				Text:  "Thin bits break: wear eye protection, clamp the buck, drill slowly so that the plastic does not melt.",
				Defer: "the drill's maker",
			}},
			Tables: []export.Table{r.ventTable()},
		},
	}
}

// ventTable lists the vents on the buck as it is printed, measured from the
// outline of its foot.
func (r *Result) ventTable() export.Table {
	t := export.Table{
		Caption: "Vents, mm from the left and the front edge of the buck's foot, pockets up",
		Heads: []export.Head{{Text: "no."}, {Text: "pocket"}, {Text: "from the left", Kind: export.Number},
			{Text: "from the front", Kind: export.Number}, {Text: "open", Kind: export.Tick}},
	}
	foot := r.Layout.BuckFoot()
	for i, v := range r.Layout.Vents {
		at := r.Dims.OnBuck(v.At.XY().Sub(r.Layout.Center).Add(foot))
		face := r.Dims.Print.Offset // the edges that it is measured from stand out
		t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), r.nearestItem(v.At.XY()), fixed(1, at.X+face), fixed(1, at.Y+face), ""})
	}
	return t
}
