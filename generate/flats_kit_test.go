package generate

import (
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/judge"
	"buckwright/generate/pattern"
	"buckwright/generate/solid"
	"buckwright/params"
)

// gaugeKit is a small kit: a block with a finger notch and a can beside it.
const gaugeKit = `kit: tide-gauge
items:
  - name: gauge
    shape: {box: {size: [70, 44, 20], corner_radius: 9, edge_radius: 3}}
    at: [-26, 0]
    depth: 14
    mass: 150
    notch: [front]
  - name: cap
    shape: {cylinder: {diameter: 34, height: 18, edge_radius: 2}}
    at: [46, 0]
    depth: 12
    mass: 40
`

// redraw draws the flats of a kit again after change.
func redraw(t *testing.T, r *Result, fam family, change func(k *params.Kit)) error {
	t.Helper()
	kit := *r.Kit
	defer func(before *params.Kit) { r.Kit = before }(r.Kit)
	r.Kit = &kit
	change(r.Kit)
	r.Flats, r.Nests = nil, nil
	return r.drawFlats(fam)
}

func flatNamed(t *testing.T, r *Result, name string) *pattern.Flat {
	t.Helper()
	for i := range r.Flats {
		if r.Flats[i].Name == name {
			return &r.Flats[i]
		}
	}
	var names []string
	for _, f := range r.Flats {
		names = append(names, f.Name)
	}
	t.Fatalf("no flat %s among %v", name, names)
	return nil
}

func files(t *testing.T, r *Result) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	_, _, err := r.writeFlats(func(name string, write func(io.Writer) error) error {
		var b bytes.Buffer
		err := write(&b)
		out[name] = b.Bytes()
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestFlatsOfAKit(t *testing.T) {
	if testing.Short() {
		t.Skip("forms a sheet")
	}
	r, fam := flatsOf(t, gaugeKit, ".")
	for _, name := range []string{"sheet-blank", "felt-rim-and-skirt", "felt-floor-gauge", "felt-wall-gauge", "felt-floor-cap", "felt-wall-cap", "pad-gauge", "pad-cap", "label", "trim-band"} {
		if f := flatNamed(t, r, name); f.Refused != "" {
			t.Errorf("%s: %s", name, f.Refused)
		}
	}
	written := files(t, r)
	t.Run("the same twice", func(t *testing.T) {
		if err := redraw(t, r, fam, func(*params.Kit) {}); err != nil {
			t.Fatal(err)
		}
		for name, b := range files(t, r) {
			if !bytes.Equal(b, written[name]) {
				t.Errorf("%s has other bytes", name)
			}
		}
	})
	t.Run("on the sheet", func(t *testing.T) { onTheSheet(t, r, fam) })
	t.Run("outside checks", func(t *testing.T) { audited(t, r, written) })
	t.Run("refused and misfit", func(t *testing.T) { misfits(t, r, fam) })
}

// onTheSheet compares the surface that felt is developed from with the insert's
// own solid: its middle lies half the felt and the cement off the sheet, down
// the wall and round the mouth. The solid rounds mouths by an ellipse where the
// angle is not right; 3 degrees make 0.1 mm.
func onTheSheet(t *testing.T, r *Result, fam family) {
	insert := solid.Insert(r.Layout)
	draft := r.Dims.Pocket.Draft
	for _, c := range r.cavities(fam) {
		if d := math.Abs(c.Field(c.Outline[0].At(c.Top))); d > 0.01 {
			t.Errorf("%s: the outline is %.3f mm off its surface", c.Name, d)
		}
		for i := 0; i < len(c.Outline); i += 7 {
			p, q := c.Outline[i], c.Outline[(i+1)%len(c.Outline)]
			dir := q.Sub(p).Unit()
			in := geom.Vec2{X: -dir.Y, Y: dir.X}
			middle := p.Sub(in.Scale(c.Bend / draft.Cos())).At(c.Top) // of the mouth's bend
			for _, phi := range []float64{5, 30, 60, 80} {
				s, co := math.Sincos(phi * math.Pi / 180)
				on := middle.Add(in.Scale(s * (c.Bend - r.middle())).At(co * (c.Bend - r.middle())))
				if d := math.Abs(insert.Dist(on)); d > 0.12 && turnsSlowly(c.Outline, i) {
					t.Errorf("%s at %v, %v degrees into the mouth: the felt's face is %.3f mm off the sheet", c.Name, on, phi, d)
				}
			}
		}
	}
}

// turnsSlowly reports whether an outline is straight or round about point i, no
// crease: there the mouth's bend has no single middle.
func turnsSlowly(l []geom.Vec2, i int) bool {
	n := len(l)
	a := l[(i+n-6)%n].Sub(l[(i+n-8)%n]).Unit()
	b := l[(i+8)%n].Sub(l[(i+6)%n]).Unit()
	return a.Dot(b) > 0.6 && a.Cross(b) > -0.05
}

// audited shows every DXF to ezdxf and GEOS.
func audited(t *testing.T, r *Result, written map[string][]byte) {
	for i := range r.Flats {
		f := &r.Flats[i]
		path := filepath.Join(t.TempDir(), "f.dxf")
		if err := os.WriteFile(path, written["flats/"+f.Name+".dxf"], 0o644); err != nil {
			t.Fatal(err)
		}
		d := judge.Ezdxf(t, path, 0)
		if d.Errors != 0 || d.Fixes != 0 || d.Open != 0 || len(d.Invalid) != 0 || d.Cut != 1+len(f.Cut.Holes) {
			t.Errorf("%s: %+v", f.Name, d)
		}
		lo, hi := f.Bounds()
		for _, e := range []float64{d.Low[0] - lo.X, d.Low[1] - lo.Y, d.High[0] - hi.X, d.High[1] - hi.Y} {
			if math.Abs(e) > 0.01 {
				t.Errorf("%s: ezdxf has it at %v to %v, we at %v to %v", f.Name, d.Low, d.High, lo, hi)
				break
			}
		}
		if want := f.Cut.Area(); math.Abs(d.Area-want) > 5e-4*want {
			t.Errorf("%s: GEOS has %.2f mm², we %.2f", f.Name, d.Area, want)
		}
	}
}

func misfits(t *testing.T, r *Result, fam family) {
	err := redraw(t, r, fam, func(k *params.Kit) { k.Cutter.Kind = params.Laser })
	if err != nil {
		t.Fatal(err)
	}
	if f := flatNamed(t, r, "pad-gauge"); !strings.Contains(f.Refused, "hydrogen chloride") || len(f.Cut.Outer.P) != 0 {
		t.Errorf("a sponge of polychloroprene under a laser: refused %q", f.Refused)
	}
	if _, there := files(t, r)["flats/pad-gauge.svg"]; there {
		t.Error("a file is written for a refused flat")
	}
	if f := flatNamed(t, r, "felt-wall-gauge"); f.Refused != "" || f.Kerf != defaultKerf {
		t.Errorf("wool felt under a laser: refused %q, kerf %g", f.Refused, f.Kerf)
	}
	err = redraw(t, r, fam, func(k *params.Kit) {
		k.Cutter.Kind, k.Cutter.Knife = params.Laser, []params.StockKind{params.StockSponge}
	})
	if f := flatNamed(t, r, "pad-gauge"); err != nil || f.Refused != "" || f.Cutter != "knife" {
		t.Errorf("the same with a knife: refused %q, cut by %s", f.Refused, f.Cutter)
	}
	err = redraw(t, r, fam, func(k *params.Kit) { k.Stock.Felt = [2]float64{150, 150} })
	laid, felt := 0, 0
	for _, n := range r.Nests {
		if strings.HasPrefix(n.Name, "nest-felt") {
			laid += len(n.Flats)
		}
	}
	for _, f := range r.Flats {
		if f.Material.Kind == "felt" {
			felt++
		}
	}
	if err != nil || laid == 0 || laid >= felt {
		t.Errorf("felt of 150 x 150: %d of %d flats are laid on it, %v", laid, felt, err)
	}
	err = redraw(t, r, fam, func(k *params.Kit) { k.Label.Window = &[2]float64{500, 10} })
	if p, ok := err.(*params.Problem); !ok || p.Key != "label.window" {
		t.Errorf("a window wider than its label: %v", err)
	}
	for _, wrap := range []params.Wrap{params.WrapPockets, params.WrapRim} {
		err = redraw(t, r, fam, func(k *params.Kit) { k.Liner.Wrap = wrap })
		if err != nil {
			t.Error(err)
		}
		for _, f := range r.Flats {
			if strings.HasPrefix(f.Name, "felt") && f.Refused != "" {
				t.Errorf("wrap %s: %s: %s", wrap, f.Name, f.Refused)
			}
		}
	}
}
