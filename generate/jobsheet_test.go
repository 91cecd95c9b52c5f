package generate

import (
	"bytes"
	"context"
	"html"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buckwright/generate/check"
	"buckwright/generate/estimate"
	"buckwright/generate/export"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/judge"
	"buckwright/generate/mesh"
	"buckwright/generate/sdf"
	"buckwright/params"
	"buckwright/templates"
)

// block is a closed box of a size, standing on z = 0: it stands in for a part.
func block(size geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 8 {
		m.V = append(m.V, geom.V(float64(i&1)*size.X, float64(i>>1&1)*size.Y, float64(i>>2)*size.Z))
	}
	m.T = [][3]int32{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
		{2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}}
	return m
}

// previewed is a kit as Run makes it, but for its parts, which are blocks of
// their sizes: what the job sheet says of them are names, sizes and masses.
func previewed(t testing.TB, kit string) *Result {
	t.Helper()
	src, err := os.ReadFile(kit)
	if err != nil {
		t.Fatal(err)
	}
	return previewOf(t, kit, src)
}

// jobOf is a kit file's job, at draft quality.
func jobOf(t testing.TB, kit string, src []byte) Input {
	t.Helper()
	k, err := params.Parse(kit, src)
	if err != nil {
		t.Fatal(err)
	}
	tables, err := templates.Tables()
	if err != nil {
		t.Fatal(err)
	}
	if tables, err = k.Resolve(tables); err != nil {
		t.Fatal(err)
	}
	return Input{Kit: k, Source: src, Tables: tables, Read: os.ReadFile, Quality: Draft}
}

func previewOf(t testing.TB, kit string, src []byte) *Result {
	t.Helper()
	in := jobOf(t, kit, src)
	r, err := Preview(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := plannedParts(in, r, func() (sdf.Solid, error) { return r.Layout.Pocket(r.Dims.Pocket.Plug), nil })
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range plan {
		s, err := p.draw()
		if err != nil {
			t.Fatal(err)
		}
		size := p.toPrint(r).Box(s.Bounds()).Size()
		r.Parts = append(r.Parts, Part{Name: p.name, Print: estimate.Print{Grams: 100, Seconds: 7200}, Title: p.title, Reference: p.reference, Mesh: block(size), Printed: block(size), ToKit: geom.Identity()})
	}
	return r
}

func page(t testing.TB, r *Result) string {
	t.Helper()
	var b bytes.Buffer
	if err := export.WriteJobSheet(&b, r.jobSheet("test", pictures{})); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// bundled calls f with every bundled kit. With BUCKWRIGHT_LOOK their pages are
// written there to be looked at.
func bundled(t *testing.T, f func(t *testing.T, r *Result, page string)) {
	for _, name := range []string{"tide-logger", "drift-buoy", "depth-probe", "spares"} {
		t.Run(name, func(t *testing.T) {
			r := previewed(t, "../templates/"+name+".yaml")
			p := page(t, r)
			if dir := os.Getenv("BUCKWRIGHT_LOOK"); dir != "" {
				if err := os.WriteFile(filepath.Join(dir, name+".html"), []byte(p), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			f(t, r, p)
		})
	}
}

func TestJobSheetOfBundledKits(t *testing.T) {
	bundled(t, func(t *testing.T, r *Result, sheet string) {
		t.Run("says everything", func(t *testing.T) { saysEverything(t, r, sheet) })
		t.Run("cautions", func(t *testing.T) { saysCautions(t, sheet) })
		t.Run("judges", func(t *testing.T) { judgesAccept(t, sheet) })
	})
}

// saysEverything: every finding with what to do, every derived size with its
// formula and source, every part, every item.
func saysEverything(t *testing.T, r *Result, sheet string) {
	text := html.UnescapeString(sheet)
	says := func(what string, texts ...string) {
		for _, s := range texts {
			if !strings.Contains(text, s) {
				t.Errorf("%s: the page does not say %q", what, s)
			}
		}
	}
	for _, f := range r.Findings {
		says("finding "+f.ID, f.Where+": "+f.Value, f.Fix, f.Source, f.Title)
		if f.LimitText != "none" {
			says("finding "+f.ID, f.LimitText)
		}
	}
	for _, row := range r.Dims.Rows {
		says("fit "+row.ID, row.Title, ">"+rowName(row)+"</td><td class=\"number\">"+rowValue(row, row.Nominal), row.Formula, "<li>"+row.Source+"</li>")
	}
	for _, p := range r.Parts {
		if !p.Reference {
			says("part "+p.Name, `<th scope="row">`+p.Title+"</th>")
		}
	}
	if len(r.Flats) == 0 || r.Formed == nil || r.Heat == nil || r.Shots == nil || len(r.Air) == 0 || len(r.Liners) == 0 {
		t.Error("a preview without flats or predictions: this test does not see them")
	}
	for i := range r.Flats {
		f := &r.Flats[i]
		says("flat "+f.Name, `<th scope="row">`+f.Title+"</th>")
		says("notes of flat "+f.Name, flatNotes(f)...)
	}
	for _, s := range r.Formed.Stats {
		if s.Zone != forming.Flange {
			says("formed", `<th scope="row">`+r.placeName(s.Place)+"</th>")
		}
	}
	for _, it := range r.Kit.Items {
		says("item "+it.Name, `<th scope="row">`+it.Name+"</th>")
	}
	if page(t, r) != sheet {
		t.Error("the same kit gives another page")
	}
}

// saysCautions: each hazard of the trade has its caution, which defers.
func saysCautions(t *testing.T, sheet string) {
	for _, s := range []string{
		"sticks to skin", "smokes", "vacuum presses", "highly flammable", "Cut away from the hand", "hydrogen chloride",
		"particles and vapour", "does not protect from drops",
		"safety data sheet", "local fire code", "maker of the former", "local code", "laser&#39;s maker", "printer&#39;s maker",
	} {
		if !strings.Contains(sheet, s) {
			t.Errorf("no caution says %q", s)
		}
	}
}

// TestJobSheetOfHostileKit: names that are markup are shown as they are.
func TestJobSheetOfHostileKit(t *testing.T) {
	r := previewOf(t, "small.yaml", []byte("kit: a\nitems:\n  - {name: a, shape: {box: {size: [30, 20, 12]}}, depth: 8, mass: 20}\n"))
	const evil = `</style><script>alert("1")</script>`
	r.Kit.Name, r.Kit.Items[0].Name, r.Dims.Items[0].Name = evil, evil, evil
	r.sheet.Title, r.liner.Title, r.lidLiner.Title, r.filament.Title, r.sheet.Note = evil, evil, evil, evil, evil
	r.Dims.Rows[0].Title, r.Dims.Rows[0].Where, r.Dims.Rows[0].Source = evil, evil, evil
	r.Findings = append([]check.Finding{{ID: evil, Severity: check.Stop, Title: evil, Where: evil, Value: evil, LimitText: evil, Source: evil, Fix: evil}}, r.Findings...)
	p := page(t, r)
	if strings.Contains(p, "<script") || strings.Contains(p, "ZgotmplZ") {
		t.Error("a name became markup")
	}
	if n := strings.Count(html.UnescapeString(p), evil); n < 30 {
		t.Errorf("names stand %d times on the page, 30 at least are wanted", n)
	}
}

// judgesAccept: the Nu Html Checker, axe-core and Chromium find nothing wrong.
func judgesAccept(t *testing.T, sheet string) {
	path := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(path, []byte(sheet), 0o644); err != nil {
		t.Fatal(err)
	}
	if got := judge.Markup(t, path); len(got) > 0 {
		t.Error(strings.Join(got, "\n"))
	}
	p := judge.Browser(t, path, t.TempDir())
	if fault := p.Problem(); fault != "" {
		t.Error(fault)
	}
	t.Logf("%d sheets of A4, %d of Letter, %d bytes", p.Sheets["a4"], p.Sheets["letter"], len(sheet))
}

// BenchmarkJobSheet is the page of the demo but for its pictures.
func BenchmarkJobSheet(b *testing.B) {
	r := previewed(b, "../templates/tide-logger.yaml")
	for b.Loop() {
		page(b, r)
	}
}

// TestJobSheetFollowsTheKit: what the kit chooses decides what is to be done.
func TestJobSheetFollowsTheKit(t *testing.T) {
	const items = "kit: a\nitems:\n  - {name: thing, shape: {box: {size: [40, 30, 14]}}, depth: 9, mass: 40, notch: front}\n"
	for _, tt := range []struct{ kit, says, not string }{
		{"closure: {kind: magnets}\nliner: {wrap: pockets}\nlid_liner: {pads: full}\n", "Set the magnets|disc magnet|over the whole ceiling|With the insert in the base", "press nest|elastic band"},
		{"closure: {kind: band}\nbuck: {vent: {diameter: 0.5}, screws: {thread: M4, hold: tapped}}\n", "elastic band|Drill the|from the left|Tap M4|Holes in the platen", "Clear the|disc magnet"},
		{"closure: {kind: seal}\nliner: {wrap: skirt}\nlid_liner: {pads: none}\nshell: {label: none}\n", "Lay the label across the joint|Put the insert on the press nest", "Line the lid|inside the groove|Glue pads under"},
		{"closure: {kind: none}\nsheet: {material: pc, gauge: 1}\nprinter: {material: pc}\n", "Dry the sheet first", "Try the catches|magnet|elastic band"},
	} {
		sheet := html.UnescapeString(page(t, previewOf(t, "a.yaml", []byte(items+tt.kit))))
		for _, s := range strings.Split(tt.says, "|") {
			if !strings.Contains(sheet, s) {
				t.Errorf("%s: the page does not say %q", tt.kit, s)
			}
		}
		for _, s := range strings.Split(tt.not, "|") {
			if strings.Contains(sheet, s) {
				t.Errorf("%s: the page says %q", tt.kit, s)
			}
		}
	}
}
