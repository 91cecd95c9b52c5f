package generate

import (
	"slices"

	"buckwright/generate/export"
	"buckwright/generate/geom"
	"buckwright/generate/pattern"
	"buckwright/generate/solid"
	"buckwright/params"
)

// defaultKerf is what a laser of this size burns away in felt, mm.
// Trade figure of 0.1 to 0.3 in 1 to 5 mm wool felt, from memory, confirm.
const defaultKerf = 0.2

// linerEdge is the gap, in mm, between a liner over the whole ceiling and the
// neck beside it: what a hand cuts to.
const linerEdge = 1.0

// drawFlats develops every flat piece of the kit, ready to be cut, and lays
// them on their stock.
func (r *Result) drawFlats(fam family) error {
	flats, err := r.plainFlats()
	if err != nil {
		return err
	}
	r.Flats = slices.Concat(flats[:1], r.feltFlats(fam), flats[1:])
	for i := range r.Flats {
		f := &r.Flats[i]
		kind := params.StockKind(f.Material.Kind)
		f.Ready(r.cutter(kind), "cutter: {kind: laser, knife: ["+string(kind)+"]}")
	}
	r.nest()
	return nil
}

// cutter is what the kit cuts a kind of material with.
func (r *Result) cutter(kind params.StockKind) pattern.Cutter {
	c := r.Kit.Cutter
	switch {
	case c.Kind == params.Laser && slices.Contains(c.Knife, kind):
		return pattern.Cutter{Name: string(params.Knife)}
	case c.Kerf != nil:
		return pattern.Cutter{Name: string(c.Kind), Kerf: *c.Kerf}
	case c.Kind == params.Laser:
		return pattern.Cutter{Name: string(c.Kind), Kerf: defaultKerf}
	}
	return pattern.Cutter{Name: string(c.Kind)}
}

// The materials of flats. What runs along the grain arrow is common practice.
func (r *Result) sheetMaterial() pattern.Material {
	return pattern.Material{Kind: "sheet", Title: r.sheet.Title, Thickness: r.Dims.Insert.Gauge, Chlorinated: r.sheet.Chlorinated, Grain: "extrusion"}
}

func (r *Result) feltMaterial() pattern.Material {
	return pattern.Material{Kind: "felt", Title: r.liner.Title, Thickness: r.Kit.Liner.Thickness, Chlorinated: r.liner.Chlorinated, Grain: "roll"}
}

func (r *Result) spongeMaterial() pattern.Material {
	return pattern.Material{Kind: "sponge", Title: r.lidLiner.Title, Thickness: r.Kit.LidLiner.Thickness, Chlorinated: r.lidLiner.Chlorinated, Grain: "either"}
}

func (r *Result) labelMaterial() pattern.Material {
	m := r.Kit.Label.Material
	title := string(m) + " label stock"
	if m == params.LabelVinyl {
		title += " (PVC)"
	}
	return pattern.Material{Kind: "label", Title: title, Chlorinated: m == params.LabelVinyl, Grain: "print"}
}

func paper() pattern.Material {
	return pattern.Material{Kind: "paper", Title: "stiff paper or card"}
}

// plainFlats are the flats that stay flat, the sheet's blank first.
func (r *Result) plainFlats() ([]pattern.Flat, error) {
	l, d := r.Layout, r.Dims
	foot := l.BuckFoot()
	corner := min(d.Insert.CornerRadius, l.Half.X, l.Half.Y)
	out := []pattern.Flat{pattern.Blank(d, r.sheetMaterial(), foot, corner+foot.X-l.Half.X)}
	switch {
	case d.Lid.Full:
		half, corner := l.CeilingPlan(linerEdge)
		out = append(out, pattern.LidLiner(r.spongeMaterial(), half, corner))
	case d.Lid.Pads:
		for i, it := range d.Items {
			h := l.PadHalf(i)
			out = append(out, pattern.Pad(it.Name, r.spongeMaterial(), h, solid.PadCorner(h)))
		}
	}
	if d.Lid.Label {
		f, err := r.label()
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	half := geom.Vec2{X: max(l.Half.X, l.Half.Y), Y: min(l.Half.X, l.Half.Y)}
	return append(out, pattern.TrimBand(paper(), half, corner, d.Insert.Draft, l.Trim, l.Bottom+d.Insert.Gauge)), nil
}

func (r *Result) label() (pattern.Flat, error) {
	half, corner := r.Layout.LabelPlan()
	gap := geom.Vec2{X: r.Kit.Label.Gap, Y: r.Kit.Label.Gap}
	size := pattern.LabelSize{Half: half.Sub(gap), Corner: max(corner-gap.X, 0)}
	var window geom.Vec2
	if w := r.Kit.Label.Window; w != nil {
		window = geom.Vec2{X: w[0], Y: w[1]}
	}
	f, err := pattern.Label(size, r.labelMaterial(), window)
	if err != nil {
		return f, r.Kit.Problem("label.window", err.Error(), "a smaller window, or take the key out")
	}
	return f, nil
}

// Nest is one piece of stock with flats laid on it.
type Nest struct {
	Name  string
	Flats []pattern.Laid
	Stock pattern.Stock
	Used  float64   // share of its area
	Take  geom.Vec2 // the corner of it that is enough
}

// The room, in mm, left between flats on one piece, and along its edges, which
// come untrue.
const (
	nestGap  = 3.0
	nestEdge = 5.0
)

// stockOf is the piece that a kind of material is cut from.
func (r *Result) stockOf(kind string) (pattern.Stock, bool) {
	s := r.Kit.Stock
	switch kind {
	case "felt":
		return pattern.Stock{X: s.Felt[0], Y: s.Felt[1]}, true
	case "sponge":
		return pattern.Stock{X: s.Sponge[0], Y: s.Sponge[1]}, true
	case "label":
		return pattern.Stock{X: s.Label[0], Y: s.Label[1]}, true
	case "paper":
		return pattern.Stock{X: s.Paper[0], Y: s.Paper[1]}, true
	}
	return pattern.Stock{}, false // the sheet is bought to size
}

// nest lays the flats of each material on its stock. A flat that is larger than
// the stock is left out; the findings say so.
func (r *Result) nest() {
	for _, kind := range []string{"felt", "sponge", "label"} {
		r.Nests = append(r.Nests, r.laid(kind, 1)...)
	}
}

// laid is how the flats of so many kits lie on their stock, of a kind of material.
func (r *Result) laid(kind string, kits int) (out []Nest) {
	stock, _ := r.stockOf(kind)
	var of []*pattern.Flat
	var prints []export.Footprint
	for i := range r.Flats {
		f := &r.Flats[i]
		if f.Material.Kind != kind || f.Refused != "" {
			continue
		}
		lo, hi := f.Bounds()
		for range kits * f.Count {
			of = append(of, f)
			prints = append(prints, export.Footprint{X: hi.X - lo.X, Y: hi.Y - lo.Y, Upright: f.Upright()})
		}
	}
	room := [2]float64{stock.X - 2*nestEdge, stock.Y - 2*nestEdge}
	plates, _ := export.Pack(prints, room, nestGap)
	for n, plate := range plates {
		out = append(out, nestOf(kind, n, stock, closer(plate, prints, room), of))
	}
	return out
}

func nestOf(kind string, n int, stock pattern.Stock, plate []export.Placed, of []*pattern.Flat) Nest {
	out := Nest{Name: "nest-" + kind + "-" + number(float64(n+1)), Stock: stock}
	low := geom.Vec2{X: stock.X, Y: stock.Y} // moved into the corner: the rest stays in one piece
	edge := geom.Vec2{X: nestEdge, Y: nestEdge}
	for _, p := range plate {
		low = geom.Vec2{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
	}
	area := 0.0
	for _, p := range plate {
		l := pattern.Laid{Flat: of[p.Part], Low: geom.Vec2{X: p.X, Y: p.Y}.Sub(low).Add(edge)}
		if p.Turned {
			l.Turn = 90 * geom.Degree
		}
		out.Flats = append(out.Flats, l)
		high := l.High()
		out.Take = geom.Vec2{X: max(out.Take.X, high.X+nestEdge), Y: max(out.Take.Y, high.Y+nestEdge)}
		area += l.Flat.Shape.Area()
	}
	out.Used = area / (stock.X * stock.Y)
	return out
}
