package generate

import (
	"fmt"
	"math"
	"strconv"

	"buckwright/generate/export"
)

// formSection is the forming recipe.
func (r *Result) formSection(shelf pictures) export.Section {
	d, sh := r.Dims, r.sheet
	s := export.Section{ID: "form", Title: "Form", Block: export.Block{
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
	s.NewPage = true
	return s
}

func (r *Result) formSteps() []export.Step {
	return []export.Step{r.beforeStep(), r.heatStep(), r.drawStep(), r.nextStep()}
}

func (r *Result) beforeStep() export.Step {
	sh, foot := r.sheet, r.Layout.BuckFoot()
	s := export.Step{Title: "Before", Do: []string{
		fmt.Sprintf("Lay the buck on the middle of the platen, pockets up, its long side (%s) along the longer side of the frame. The channels in its underside lead the air from any row of platen holes.", mm(0, 2*max(foot.X, foot.Y))),
		"Check that all vents are open and that the mouths of the channels at the foot are free.",
		"Wipe the pockets and the skirt with a little release agent, none with silicone, or dust them with talc.",
		"Take the protective films off the sheet, wipe it, clamp it flat on all sides.",
	}}
	if sc := r.screwStep(); len(sc.Do) > 0 {
		s.Do, s.Tables = append(sc.Do, s.Do...), sc.Tables
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
	sh, f, h := r.sheet, r.Kit.Former, r.heating()
	from := "from above"
	if f.TwoSided {
		from = "from both sides"
	}
	s := export.Step{Title: "Heat", Block: export.Block{Facts: []export.Fact{
		{Name: "heater", Value: celsius(f.Heater) + ", " + from},
	}}}
	switch {
	case math.IsInf(h.Ready.Nominal, 1):
		s.Cautions = append(s.Cautions, export.Caution{
			Text:  fmt.Sprintf("A heater of %s brings the coldest place of this sheet to %s only; it wants %s. A stronger heater, or one nearer, is needed; do not draw a cold sheet.", celsius(f.Heater), celsius(h.Reached), celsius(sh.Low)),
			Defer: "the maker of the former",
		})
	case !h.Even():
		text := fmt.Sprintf("At %s the hot face reaches %s before the cold one is ready.", celsius(f.Heater), celsius(sh.Up))
		if h.Cooler > 0 {
			text += fmt.Sprintf(" Set the heater to %s or less and heat longer.", celsius(h.Cooler))
		}
		s.Cautions = append(s.Cautions, export.Caution{Text: text, Defer: "the sheet's maker"})
	default:
		s.Facts = append(s.Facts,
			export.Fact{Name: "heat for, to start from", Value: seconds(h.Ready.Nominal)},
			export.Fact{Name: "as the sheet takes up more or less of it", Value: seconds(h.Ready.Least) + " to " + seconds(h.Ready.Most)},
			export.Fact{Name: "all of it is warm enough after", Value: seconds(h.Earliest)},
			export.Fact{Name: "its hot face is too hot after", Value: seconds(h.Latest)},
			export.Fact{Name: "draw within, heater away", Value: seconds(h.Chill)},
		)
	}
	s.Facts = append(s.Facts, export.Fact{Name: "time that worked", Value: toFill})
	s.Do = []string{
		"Heat until the whole sheet sags evenly and lies quiet again; look from the side, do not lean over it. The sag decides, not the clock.",
		fmt.Sprintf("Measure with an infra-red thermometer in the middle and near the clamp: both within %s.", celsius(sh.Low, sh.Up)),
		"Write the time down: it holds for this sheet, heater and distance.",
	}
	return s
}

func (r *Result) drawStep() export.Step {
	return export.Step{Title: "Draw and cool", Do: []string{
		"Heater away, frame down over the buck in one calm move, vacuum on as soon as it seals.",
		"Look into the pockets: the sheet must lie in every lower corner. Corners come last.",
		fmt.Sprintf("Keep the vacuum until the sheet reads less than %s everywhere; moving air helps, water does not.", celsius(r.sheet.Set)),
		"Vacuum off, a breath of air from below, lift straight up: pull evenly at both ends.",
	}}
}

func (r *Result) nextStep() export.Step {
	return export.Step{Title: "Before the next sheet", Block: export.Block{Facts: r.pauseFacts()}, Do: []string{
		fmt.Sprintf("Let the buck cool until the hand can rest on it; its %s softens at about %s. Look at its edges and vents.", r.filament.Title, celsius(r.filament.Tg)),
		"Number the sheet and let it rest for a day before it is measured: it goes on shrinking.",
	}}
}

// screwStep holds the buck on the platen; empty when it lies loose.
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
	s.Tables = []export.Table{t}
	s.Do = []string{
		hold,
		fmt.Sprintf("Drill the platen, or a board on it, with %s at these places, unless its own holes will do; screw the buck down with %d screws %s.", mm(1, clear.Nominal), len(all), sc.Thread),
	}
	return s
}

// pauseFacts is how long the buck rests so that its skin stays hard.
func (r *Result) pauseFacts() []export.Fact {
	if r.Shots == nil || math.IsInf(r.Shots.Pause, 1) {
		return nil
	}
	return []export.Fact{{
		Name:  fmt.Sprintf("buck bare between sheets, for a run of %.0f", r.Kit.Buck.Run),
		Value: "at least " + seconds(r.Shots.Pause) + "; the next sheet heats meanwhile",
	}}
}
