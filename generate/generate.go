// Package generate runs the stages in order: the kit file's values become
// sizes, sizes become solids, solids become meshes, meshes become files. It is
// the only place that knows the order and what each part is called.
package generate

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"buckwright/generate/check"
	"buckwright/generate/estimate"
	"buckwright/generate/fit"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/pattern"
	"buckwright/generate/sdf"
	"buckwright/generate/solid"
	"buckwright/params"
)

// Quality is how close the meshes come to the solids.
type Quality string

// The qualities, with their largest surface error.
const (
	Draft  Quality = "draft"  // 0.1 mm
	Normal Quality = "normal" // 0.05 mm
	Fine   Quality = "fine"   // 0.02 mm
)

// tolerances is the sag, mm, allowed in one cell of each mesh that a part is made by,
// in the order they are made.
type tolerances struct {
	family float64 // of the pocket family
	plug   float64 // of the core of the press tool's plugs, which is made of the family
	part   float64 // of the part itself
}

// tolerance gives the sags of a quality. Errors of meshes made one from another add up;
// those of normal and fine together are within the quality's promise. Those of draft
// are not: the tests measure that its promise is kept all the same.
func (q Quality) tolerance() tolerances {
	switch q {
	case Fine:
		return tolerances{0.006, 0.006, 0.008}
	case Draft:
		return tolerances{0.05, 0.05, 0.06}
	}
	return tolerances{0.016, 0.009, 0.025}
}

// Input is one job.
type Input struct {
	Kit     *params.Kit
	Source  []byte                            // the kit file's bytes, for the hash of the inputs
	Tables  *params.Tables                    // as Kit.Resolve returned them
	Read    func(path string) ([]byte, error) // for product meshes and outlines
	Quality Quality
	Parts   []string // names to make; nil: all
	Before  []Part   // what stays beside Parts, as Kept returned it
}

// Result is everything derived from a kit, before any file is written.
type Result struct {
	Kit      *params.Kit
	Dims     *fit.Dims
	Layout   *solid.Layout
	Formed   *forming.Formed // the sheet as it is predicted to form
	Heat     *forming.Heating
	Shots    *forming.Run        // a run of sheets on the buck, with the least pause between them
	Air      []check.AirFact     // by pocket
	Liners   []*forming.LinerMap // by item
	Parts    []Part
	Kept     []string // names of those that an earlier run made
	Flats    []pattern.Flat
	Nests    []Nest
	Findings []check.Finding
	Quality  Quality
	Inputs   string // hex SHA-256 over the kit file and every file it names

	items           []*item
	sheet           params.Sheet
	liner, lidLiner params.Liner
	filament        params.PrintMaterial
	leastRib        float64
	pockets         [][]int  // the items of each pocket
	homes           outlines // the mouths of the pockets at the rim
}

// Part is one mesh. Reference parts are measured against, not printed.
type Part struct {
	Name      string
	Title     string
	Reference bool
	Quality   Quality
	Mesh      *mesh.Mesh  // in the kit's frame, finished sizes
	Printed   *mesh.Mesh  // as printed: scaled, turned, standing on z = 0
	ToKit     geom.Affine // from Printed to Mesh
	Print     estimate.Print
}

// Run derives and meshes a kit. report is called with the stage and how much of the
// whole is done, 0 to 1; it may be nil. Errors that a kit's author can mend are
// *params.Problem.
func Run(ctx context.Context, in Input, report func(stage string, done float64)) (*Result, error) {
	report = orSilent(report)
	tol := in.Quality.tolerance()
	res, items, fam, err := begin(ctx, in, in.Quality, report)
	if err != nil {
		return nil, err
	}
	plan, err := plannedParts(in, res, func() (sdf.Solid, error) {
		return roundedPlug(ctx, res.Layout, fam, mesh.Options{Tol: tol.plug})
	})
	if err != nil {
		return nil, err
	}
	for _, p := range plan {
		if p.kept != nil {
			res.Kept = append(res.Kept, p.name)
		}
	}
	var foreseen sync.WaitGroup
	foreseen.Go(func() { res.foresee(items) }) // beside the meshing: it needs no part
	res.Parts, err = meshParts(ctx, plan, tol.part, res, report)
	foreseen.Wait()
	if err != nil {
		return nil, err
	}
	report("flats", 0.95)
	if err := res.drawFlats(fam); err != nil {
		return nil, err
	}
	report("checks", 0.96)
	res.judge(items, res.partFacts())
	return res, nil
}

// Preview derives and judges a kit without meshing any part: sizes of parts
// are those of their solids. The result has no Parts.
func Preview(ctx context.Context, in Input, report func(stage string, done float64)) (*Result, error) {
	report = orSilent(report)
	res, items, fam, err := begin(ctx, in, Draft, report)
	if err != nil {
		return nil, err
	}
	plan, err := plannedParts(in, res, func() (sdf.Solid, error) { return fam.at(res.Dims.Pocket.Plug), nil })
	if err != nil {
		return nil, err
	}
	if err := res.drawFlats(fam); err != nil {
		return nil, err
	}
	report("checks", 0.9)
	res.foresee(items)
	facts, err := res.plannedFacts(plan)
	if err != nil {
		return nil, err
	}
	res.judge(items, facts)
	return res, nil
}

func orSilent(report func(string, float64)) func(string, float64) {
	if report == nil {
		return func(string, float64) {}
	}
	return report
}

// begin derives the sizes, meshes the pocket family and sets the parts out: once
// with the sheet's thickness by its areal draw ratio, so that the sheet can be formed
// on that, and again with the thickness that it was formed to.
func begin(ctx context.Context, in Input, q Quality, report func(string, float64)) (*Result, []*item, family, error) {
	report("sizes", 0)
	res, items, err := prepare(ctx, in, q)
	if err != nil {
		return nil, nil, nil, err
	}
	geo := measure(in.Kit, items)
	first, err := res.layOut(ctx, in, items, geo, together(items), Draft.tolerance().family)
	if err != nil {
		return nil, nil, nil, err
	}
	groups, homes := first.groups(items, res.Dims, apartFactor*res.Dims.Insert.Gauge)
	report("forming", 0.05)
	if err := res.clampClears(); err != nil {
		return nil, nil, nil, err
	}
	place, err := res.form(ctx, homes)
	if err != nil {
		return nil, nil, nil, fmt.Errorf("forming: %w", err)
	}
	res.pockets, res.homes = groups, homes
	geo.Formed = thickness(res.Formed, len(groups), in.Kit.Sheet.Gauge)
	for p, group := range groups {
		for _, i := range group {
			geo.Items[i].Pocket = p
		}
	}
	report("pockets", 0.15)
	fam, err := res.layOut(ctx, in, items, geo, groups, q.tolerance().family)
	if err != nil {
		return nil, nil, nil, err
	}
	res.items = items
	res.leastRib = fam.leastRib(res.Dims.Pocket.Finished)
	return res, items, fam, res.vent(in.Kit, place)
}

// apartFactor is how many gauges apart two pockets must be for each to have a
// thickness of its own. This program's own choice.
const apartFactor = 2.0

// layOut derives the sizes from what is known of the geometry, meshes the
// pocket family and sets the parts out.
func (r *Result) layOut(ctx context.Context, in Input, items []*item, geo fit.Geometry, groups [][]int, tol float64) (family, error) {
	dims, err := fit.Derive(in.Kit, in.Tables, geo)
	if err != nil {
		return nil, err
	}
	fam, err := newFamily(ctx, items, groups, dims, mesh.Options{Tol: tol})
	if err != nil {
		return nil, fmt.Errorf("pockets: %w", err)
	}
	r.Dims, r.Layout = dims, newLayout(dims, items, fam)
	return fam, nil
}

// closerVents is what the pitch of the vents is multiplied by while the air needs more
// of them.
const closerVents = 0.8

// vent places the vents where the sheet arrives last, and closer to each other
// than usual when the air would not be out in time; a pitch that the kit gives
// is kept. A pinned vent outside the pockets is the kit's mistake.
func (r *Result) vent(k *params.Kit, place func(geom.Vec) forming.Place) error {
	late, pitch := arrivals(r.Formed, place), k.Buck.Vent.Pitch
	stray := r.Layout.PlanVents(late, pitch)
	if !k.Given("buck.vent.pitch") {
		volume, least := r.airVolumes(), r.Layout.ClosestVents()
		for pitch > least && r.wantsVents(volume) {
			pitch = max(least, closerVents*pitch)
			r.Layout.PlanVents(late, pitch)
		}
	}
	for i, at := range k.Buck.Vent.Pin {
		if slices.Contains(stray, geom.Vec2{X: at[0], Y: at[1]}) {
			return k.Problem(fmt.Sprintf("buck.vent.pin[%d]", i), fmt.Sprintf("no pocket lies at %g, %g", at[0], at[1]), "vents stand in the pockets; places are x, y in the kit's plan")
		}
	}
	return nil
}

// meshParts meshes the parts side by side, the largest work first, and returns
// them in their own order: the result does not depend on which was done first.
func meshParts(ctx context.Context, plan []planned, tol float64, res *Result, report func(string, float64)) ([]Part, error) {
	parts := make([][]Part, len(plan))
	errs := make([]error, len(plan))
	var told sync.Mutex
	done := 0
	sideBySide(len(plan), func(k int) {
		i := (k + len(plan) - 1) % len(plan) // the insert is last, the buck first: they take longest
		p, err := plan[i].keptOrMade(ctx, tol, res)
		if err == nil {
			parts[i], err = res.withFormed(p)
		}
		if err != nil {
			errs[i] = fmt.Errorf("%s: %w", plan[i].name, err)
			return
		}
		told.Lock()
		defer told.Unlock()
		done++
		if plan[i].kept == nil {
			report(plan[i].name, 0.25+0.7*float64(done)/float64(len(plan)))
		}
	})
	return slices.Concat(parts...), errors.Join(errs...)
}

// itemTol is the sag, mm, of the mesh of an item that is given as a shape: it is
// measured and shown, and no part is made of it.
const itemTol = 0.02

// prepare looks up the kit's materials, builds its items and hashes its inputs.
func prepare(ctx context.Context, in Input, q Quality) (*Result, []*item, error) {
	res := &Result{Kit: in.Kit, Quality: in.Quality}
	if err := res.rows(in.Tables); err != nil {
		return nil, nil, err
	}
	var items []*item
	for i := range in.Kit.Items {
		it, err := newItem(ctx, in.Kit, i, in.Read, q)
		if err != nil {
			return nil, nil, err
		}
		if it.given == nil {
			it.mesh, err = mesh.Contour(ctx, it.body, mesh.Options{Tol: itemTol})
			if err != nil {
				return nil, nil, fmt.Errorf("item %s: %w", it.kit.Name, err)
			}
		}
		items = append(items, it)
	}
	var err error
	res.Inputs, err = in.hash()
	return res, items, err
}

func newLayout(d *fit.Dims, items []*item, fam family) *solid.Layout {
	places := make([]solid.Place, len(items))
	for i, it := range items {
		places[i] = it.place()
	}
	mouth := fam.mouth(d.Pocket.Finished, 0, d.Pocket.Draft)
	return solid.NewLayout(*d, places, fam.at, fam.below, mouth)
}

// rows looks up the materials that findings and masses need.
func (r *Result) rows(t *params.Tables) (err error) {
	if r.sheet, err = t.Sheet(r.Kit.Sheet.Material); err != nil {
		return err
	}
	if r.liner, err = t.Liner(r.Kit.Liner.Material); err != nil {
		return err
	}
	if r.lidLiner, err = t.Liner(r.Kit.LidLiner.Material); err != nil {
		return err
	}
	r.filament, err = t.PrintMaterial(r.Kit.Printer.Material)
	return err
}
