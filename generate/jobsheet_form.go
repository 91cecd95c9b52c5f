package generate

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"buckwright/generate/export"
	"buckwright/generate/forming"
)

// formSection is the forming recipe.
func (r *Result) formSection(shelf pictures) export.Section {
	d, sh := r.Dims, r.sheet
	return export.Section{ID: "form", Title: "Form", Block: export.Block{
		Lead: []string{
			"Temperatures are of the sheet, not of the heater, and typical: your sheet's maker has better ones. Times are where to start from; write the ones that worked into the card.",
		},
		Facts: []export.Fact{
			{Name: "sheet", Value: mm(2, d.Insert.Gauge) + " " + sh.Title},
			{Name: "form it at", Value: celsius(sh.Core) + " in the core"},
			{Name: "window", Value: celsius(sh.Low, sh.Up)},
			{Name: "let go below", Value: celsius(sh.Set)},
			{Name: "buck", Value: "at room temperature to start with (a metal one: " + celsius(sh.Mould.Least, sh.Mould.Most) + ")"},
			{Name: "vacuum of the former", Value: fixed(0, d.Former.Vacuum) + " kPa below the atmosphere"},
		},
		Cautions: []export.Caution{
			{
				Text:  "The hot sheet sags and sticks to skin, the heater is far hotter than the sheet. Long sleeves and heat-resistant gloves; nobody reaches under a hot sheet.",
				Defer: "the maker of the former",
			},
			{
				Text:  "A sheet that smokes is too hot: its vapour is harmful. Stop the heater, keep the sheet clear of it, ventilate. " + celsius(sh.Up) + " is the upper limit.",
				Defer: "the sheet's safety data sheet",
			},
			{
				Text: fmt.Sprintf("The vacuum presses on the sheet with about %s. Use the buck printed as solid as said above, keep fingers out of the frame; a vacuum tank is pressure equipment.",
					newtons(d.Former.Vacuum/1000*d.Former.Area[0]*d.Former.Area[1])),
				Defer: "the maker of the former and your local code",
			},
		},
		Steps:   r.formSteps(),
		Figures: append(shelf.figures("thickness", ""), shelf.figures("contact", "")...),
		Tables:  r.formedTable(),
	}}
}

func (r *Result) formSteps() []export.Step {
	return []export.Step{r.beforeStep(), r.heatStep(), r.drawStep(), r.nextStep()}
}

func (r *Result) beforeStep() export.Step {
	sh, foot := r.sheet, r.Dims.OnBuck(r.Layout.BuckFoot())
	s := export.Step{Title: "Before", Do: []string{
		fmt.Sprintf("Lay the buck on the middle of the platen, pockets up, its long side (%s) along the longer side of the frame. The channels in its underside lead the air from any row of platen holes.", mm(0, 2*max(foot.X, foot.Y))),
		"Check that all vents are open and that the mouths of the channels at the foot are free.",
		"Wipe the pockets and the skirt with a little release agent, none with silicone, or dust them with talc.",
		"Take the protective films off the sheet, wipe it, clamp it flat on all sides.",
	}}
	s.Cautions = []export.Caution{{
		Text:  "Release agent and talc before the heater is on, with the sheet not yet in: a spray and its propellant burn, and the wet film must have dried. Talc's dust is not to be breathed: dab it on, do not blow it, and wear a dust mask.",
		Defer: "the safety data sheet of the release agent or talc",
	}}
	if sc := r.screwStep(); len(sc.Do) > 0 {
		hold := sc.Do[len(sc.Do)-1] // once it lies in its place
		s.Do = slices.Concat(sc.Do[:len(sc.Do)-1], s.Do[:1], []string{hold}, s.Do[1:])
		s.Tables, s.Cautions = sc.Tables, append(sc.Cautions, s.Cautions...)
	}
	if sh.DryFirst {
		s.Do = append([]string{"Dry the sheet first, as its maker says: moist, it bubbles."}, s.Do...)
	}
	if sh.Note != "" {
		s.Lead = []string{"On this sheet: " + sh.Note + "."}
	}
	return s
}

// heatStep starts from the time that the heating is worked out to take.
func (r *Result) heatStep() export.Step {
	f := r.Kit.Former
	from := "from above"
	if f.TwoSided {
		from = "from both sides"
	}
	s := export.Step{Title: "Heat", Block: export.Block{Facts: []export.Fact{
		{Name: "heater", Value: celsius(f.Heater) + ", " + from},
	}}}
	if r.Heat != nil {
		r.heatTimes(&s, r.Heat)
	}
	s.Facts = append(s.Facts, export.Fact{Name: "time that worked", Value: toFill})
	s.Do = []string{
		"Heat until the whole sheet sags evenly and lies quiet again; look from the side, do not lean over it. The sag decides, not the clock.",
		fmt.Sprintf("Measure with an infra-red thermometer in the middle and near the clamp: both within %s.", celsius(r.sheet.Low, r.sheet.Up)),
		"Write the time down: it holds for this sheet, heater and distance.",
	}
	return s
}

// narrow is the window of time, s, below which its ends are written to the second.
const narrow = 30.0

func (r *Result) heatTimes(s *export.Step, h *forming.Heating) {
	sh, heater, clock := r.sheet, celsius(r.Kit.Former.Heater), seconds
	if h.Latest-h.Earliest < narrow { // rounded to five seconds, its ends could coincide
		clock = func(s float64) string { return fixed(0, s) + nbsp + "s" }
	}
	caution := func(text, last string) { s.Cautions = append(s.Cautions, export.Caution{Text: text, Defer: last}) }
	switch {
	case math.IsInf(h.Ready.Nominal, 1):
		caution(fmt.Sprintf("A heater of %s brings the coldest place of this sheet to %s only; it wants %s. It takes a hotter heater, or a nearer one; do not draw a cold sheet.", heater, celsius(h.Reached), celsius(sh.Low)), "the maker of the former")
	case !h.Even() && h.Cooler > 0:
		caution(fmt.Sprintf("At %s the hot face reaches %s before the cold one is ready. Set the heater to %s or less and heat longer.", heater, celsius(sh.Up), celsius(h.Cooler)), "the sheet's maker")
	case !h.Even():
		caution(fmt.Sprintf("At %s the hot face reaches %s before the cold one is ready, and a cooler heater does not change that: turn the sheet over half-way, or heat it from both sides.", heater, celsius(sh.Up)), "the sheet's maker")
	default:
		s.Facts = append(s.Facts,
			export.Fact{Name: "heat for, to start from", Value: clock(h.Ready.Nominal)},
			export.Fact{Name: "as the sheet takes up more or less of it", Value: seconds(h.Ready.Least) + " to " + seconds(h.Ready.Most)},
			export.Fact{Name: "all of it is warm enough after", Value: clock(h.Earliest)},
			export.Fact{Name: "its hot face is too hot after", Value: clock(h.Latest)},
			export.Fact{Name: "draw within, heater away", Value: seconds(h.Chill)},
		)
	}
}

func (r *Result) drawStep() export.Step {
	s := export.Step{Title: "Draw and cool", Do: []string{
		"Heater away, frame down over the buck in one calm move, vacuum on as soon as it seals.",
		"Look into the pockets: the sheet must lie in every lower corner. Corners come last.",
		fmt.Sprintf("Keep the vacuum until the sheet reads less than %s everywhere; moving air helps, water does not.", celsius(r.sheet.Set)),
		"Vacuum off, a breath of air from below, lift straight up: pull evenly at both ends.",
	}}
	for _, a := range r.Air {
		if !math.IsInf(a.Time, 1) {
			s.Facts = append(s.Facts, export.Fact{Name: "air out of the pocket of " + a.Pocket, Value: fmt.Sprintf("%s s through %s; the %s set the pace", fixed(2, a.Time), some(a.Holes, "vent"), a.By)})
		}
	}
	if run := r.Shots; run != nil && len(run.Hold) > 0 && !math.IsInf(run.Longest(), 1) {
		s.Facts = append(s.Facts, export.Fact{Name: "stays on the buck, first sheet", Value: "about " + seconds(run.Hold[0])},
			export.Fact{Name: "once the buck is warm", Value: "up to " + seconds(run.Longest())})
	}
	return s
}

// nextStep says how long to wait between sheets, if a pause helps.
func (r *Result) nextStep() export.Step {
	soft := celsius(r.filament.Softens())
	s := export.Step{Title: "Before the next sheet", Do: []string{
		fmt.Sprintf("Wait; where there is time, until a hand can rest on the buck. Its %s softens at about %s: look at its edges and vents.", r.filament.Title, soft),
		"Number the sheet and let it rest for a day before it is measured: it goes on shrinking.",
	}}
	run := r.Shots
	switch {
	case run == nil || len(run.Skin) == 0:
	case run.Peak() >= r.filament.Softens():
		s.Cautions = []export.Caution{{
			Text:  fmt.Sprintf("The sheet brings the buck's skin to about %s, and no pause keeps it under %s: it softens, vents close, the insert may stick. Few sheets, the buck cold before each, or another filament.", celsius(run.Peak()), soft),
			Defer: "your own trial with one sheet",
		}}
	default:
		s.Facts = []export.Fact{
			{Name: fmt.Sprintf("shortest pause, in a run of %d", len(run.Skin)), Value: seconds(run.Pause) + ", without margin: longer is safer"},
			{Name: "the buck's skin then reaches", Value: celsius(run.Peak()) + ", softens at " + soft},
		}
	}
	return s
}

// screwStep holds the buck on the platen, the screwing itself last; empty when it
// lies loose.
func (r *Result) screwStep() (s export.Step) {
	all, sc := r.screwsJSON(), r.Dims.Buck.Screw
	if len(all) == 0 {
		return s
	}
	clear, _ := r.Dims.Row("screw.clearance")
	t := export.Table{Caption: "Holes in the platen, mm from the middle of the buck", Heads: []export.Head{
		{Text: "no."}, {Text: "to the right", Kind: export.Number}, {Text: "to the back", Kind: export.Number}, {Text: "drilled", Kind: export.Tick},
	}}
	for i, at := range all {
		t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), fixed(1, at.FromMiddle[0]), fixed(1, at.FromMiddle[1]), ""})
	}
	hold := "Melt the threaded inserts into the bores of the buck's underside, flush or a little below."
	if sc.Tapped {
		hold = fmt.Sprintf("Tap %s into the bores of the buck's underside, by hand, backing off often.", sc.Thread)
	}
	if !sc.Tapped {
		s.Cautions = []export.Caution{{
			Text:  "The iron that sets inserts is hot enough to burn skin and to make the print smoke: hold the insert with tweezers, go slowly, ventilate.",
			Defer: "the maker of the iron and the filament's safety data sheet",
		}}
	}
	s.Tables = []export.Table{t}
	s.Do = []string{
		hold,
		fmt.Sprintf("Drill the platen, or a board on it, with %s at these places, unless its own holes will do.", mm(1, clear.Nominal)),
		fmt.Sprintf("Screw it down from below with %d screws %s that reach %s into it: a longer one stands on the bore's end and does not pull.", len(all), sc.Thread, r.screwReach()),
	}
	return s
}

// screwReach is how far a screw goes into the buck: as deep as its thread is thick, in
// plastic twice that, which is common practice and has no source, and not to the bore's end.
func (r *Result) screwReach() string {
	sc := r.Dims.Buck.Screw
	const clear = 1.0 // mm to the end of the bore
	thick, _ := strconv.ParseFloat(strings.TrimPrefix(sc.Thread, "M"), 64)
	if sc.Tapped {
		thick *= 2
	}
	return fixed(0, thick) + " to " + mm(0, math.Floor(sc.Deep-clear))
}
