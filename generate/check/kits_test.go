package check

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buckwright/generate/fit"
	"buckwright/generate/forming"
	"buckwright/params"
	"buckwright/templates"
)

// derived is the job of a kit file as it is parsed and derived. Its items are
// boxes and standing cylinders; what is measured on solids is estimated from
// the derived sizes, and left as in the clean job where they do not tell.
func derived(t *testing.T, name string) *Job { return changed(t, name, func(*params.Kit) {}) }

// changed is derived with something in the kit changed first.
func changed(t *testing.T, name string, change func(*params.Kit)) *Job {
	t.Helper()
	src, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	kit, err := params.Parse(name, src)
	if err != nil {
		t.Fatal(err)
	}
	change(kit)
	tables, err := templates.Tables()
	if err != nil {
		t.Fatal(err)
	}
	if tables, err = kit.Resolve(tables); err != nil {
		t.Fatal(err)
	}
	var geo fit.Geometry
	j := clean()
	j.Kit, j.Items = kit, nil
	j.Layout.FloorEdgeRadius = math.Inf(1)
	j.Forming, j.Air, j.Maps = nil, nil, nil // these need solids
	for _, it := range kit.Items {
		g := closedForm(t, it.Shape)
		geo.Items = append(geo.Items, g)
		j.Layout.FloorEdgeRadius = min(j.Layout.FloorEdgeRadius, lowerEdge(it.Shape))
		j.Items = append(j.Items, ItemFact{
			Name: it.Name, Height: g.Height, ProudOfRim: g.Height - it.Depth, HasNotch: len(it.Notch) > 0,
			PocketDepth: it.Depth, PocketWidth: min(g.Reach.Long(), g.Reach.Wide()),
		})
	}
	if j.Dims, err = fit.Derive(kit, tables, geo); err != nil {
		t.Fatal(err)
	}
	plan := j.Dims.Insert.Plan
	j.Layout.Half = [2]float64{plan[0] / 2, plan[1] / 2}
	draft := j.Dims.Insert.Draft
	flare := -j.Dims.Buck.Bottom*draft.Tan() - j.Dims.Insert.Skirt/draft.Cos() // of the buck beyond the rim
	j.Layout.BuckFoot, j.Layout.Bottom = [2]float64{j.Layout.Half[0] + flare, j.Layout.Half[1] + flare}, j.Dims.Buck.Bottom
	j.Layout.FloorEdgeRadius += j.Dims.Pocket.Finished
	j.Sheet, _ = tables.Sheet(kit.Sheet.Material)
	j.Liner, _ = tables.Liner(kit.Liner.Material)
	j.LidLiner, _ = tables.Liner(kit.LidLiner.Material)
	j.Print, _ = tables.PrintMaterial(kit.Printer.Material)
	h := forming.Heat(HeatSetup(j))
	_, r := RunSetup(j).LeastPause()
	j.Heat, j.Run = &h, &r
	return j
}

// closedForm are the closed forms of a box with round plan corners and of a
// standing cylinder.
func closedForm(t *testing.T, s params.Shape) fit.ItemGeometry {
	t.Helper()
	switch {
	case s.Box != nil:
		l, w, r := s.Box.Size[0], s.Box.Size[1], s.Box.CornerRadius
		return fit.ItemGeometry{
			Height: s.Box.Size[2], PlanArea: l*w - (4-math.Pi)*r*r,
			Reach: fit.Reach{Front: w / 2, Back: w / 2, Left: l / 2, Right: l / 2},
		}
	case s.Cylinder != nil:
		r := s.Cylinder.Diameter / 2
		return fit.ItemGeometry{
			Height: s.Cylinder.Height, PlanArea: math.Pi * r * r,
			Reach: fit.Reach{Front: r, Back: r, Left: r, Right: r},
		}
	}
	t.Fatal("only boxes and cylinders are measured here")
	return fit.ItemGeometry{}
}

// lowerEdge is the radius of the edges that an item stands on.
func lowerEdge(s params.Shape) float64 {
	if s.Box != nil {
		return s.Box.EdgeRadius
	}
	return s.Cylinder.EdgeRadius
}

// Each kit says in its first lines what must be found, `# want: warn reach`, or
// which rule just does not speak, `# want no: reach` or `# want no: stop reach`. Nothing else may say stop;
// a kit that wants nothing has notes only.
func TestKits(t *testing.T) {
	files, err := filepath.Glob("../../testdata/check/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no kits: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".yaml"), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			want, silent := map[string]bool{}, map[string]bool{}
			for _, line := range strings.Split(string(src), "\n") {
				if w, ok := strings.CutPrefix(line, "# want: "); ok {
					want[w] = true
				}
				if id, ok := strings.CutPrefix(line, "# want no: "); ok {
					silent[id] = true
				}
			}
			got := map[string]bool{}
			for _, f := range Run(derived(t, file)) {
				is := string(f.Severity) + " " + f.ID
				got[is] = true
				if silent[f.ID] || silent[is] {
					t.Errorf("%s, which the kit is to pass: %s %s, %s", is, f.Where, f.Value, f.LimitText)
				}
				if !want[is] && (f.Severity == Stop || f.Severity == Warn && len(want)+len(silent) == 0) {
					t.Errorf("%s, which the kit does not want: %s %s, %s", is, f.Where, f.Value, f.LimitText)
				}
				t.Logf("%s | %s: %s, %s\n    %s", is, f.Where, f.Value, f.LimitText, f.Fix)
			}
			for w := range want {
				if !got[w] {
					t.Errorf("no %s", w)
				}
			}
		})
	}
}

// Rules read these rows by name and are silent without them.
func TestFitHasTheRowsThatRulesRead(t *testing.T) {
	j := derived(t, "../../templates/tide-logger.yaml")
	for _, id := range []string{
		"slip.jam", "slip.rattle", "insert.compression", "insert.compression.rss", "force.insert",
		"closure.holds", "force.pads", "wall.count",
	} {
		if _, ok := j.Dims.Row(id); !ok {
			t.Errorf("package fit gives no row %s", id)
		}
	}
}
