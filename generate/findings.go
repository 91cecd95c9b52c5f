package generate

import (
	"math"
	"slices"

	"buckwright/generate/check"
	"buckwright/generate/geom"
	"buckwright/generate/solid"
	"buckwright/params"
)

// judge compares what was foreseen and made with what the trade allows.
func (r *Result) judge(items []*item, parts []check.PartFact) {
	j := r.job()
	j.Layout, j.Parts, j.Items = r.layoutFacts(items), parts, r.itemFacts(items)
	j.Heat, j.Run, j.Air, j.Maps = r.Heat, r.Shots, r.Air, r.Liners
	j.Forming, j.Pockets = r.Formed, r.pocketNames()
	j.Flats = r.flatFacts()
	r.Findings = check.Run(j)
}

func (r *Result) flatFacts() []check.FlatFact {
	var out []check.FlatFact
	for i := range r.Flats {
		f := &r.Flats[i]
		one := check.FlatFact{Name: f.Name, Size: sizeOf(f), Upright: f.Upright(), Key: "stock." + f.Material.Kind, Refused: f.Refused}
		if s, ok := r.stockOf(f.Material.Kind); ok {
			one.Stock = [2]float64{s.X, s.Y}
		}
		if f.Strain != nil {
			one.Strain = f.Strain.Most()
		}
		out = append(out, one)
	}
	return out
}

func (r *Result) layoutFacts(items []*item) check.Layout {
	l := r.Layout
	out := l.OutsideHalf()
	foot := l.BuckFoot()
	return check.Layout{
		Half:        [2]float64{l.Half.X, l.Half.Y},
		OutsideHalf: [2]float64{out.X, out.Y},
		Trim:        l.Trim, Deep: l.Deep, Bottom: l.Bottom,
		LeastRib:        r.leastRib,
		Shared:          r.shared(),
		BuckFoot:        [2]float64{foot.X, foot.Y},
		FloorEdgeRadius: r.floorEdge(),
		Vents:           len(l.Vents),
		Pins:            pinFacts(l.Pins),
		Overlaps:        overlaps(items),
	}
}

func pinFacts(pins []solid.Pin) []check.PinFact {
	var out []check.PinFact
	for _, p := range pins {
		out = append(out, check.PinFact(p))
	}
	return out
}

// shared names the items of each outline at the rim that goes round several.
func (r *Result) shared() [][]string {
	var first []*geom.Vec2 // points of the outlines met so far
	var names [][]string
	for k, i := range slices.Concat(r.pockets...) { // the outlines are in this order
		start := &r.homes.loops[k][0]
		at := slices.Index(first, start)
		if at < 0 {
			at, first, names = len(first), append(first, start), append(names, nil)
		}
		names[at] = append(names[at], r.Kit.Items[i].Name)
	}
	return slices.DeleteFunc(names, func(n []string) bool { return len(n) < 2 })
}

// floorEdge is the least radius at a pocket's floor on the sheet's product
// side: eroding R, whose edges have at least its reach, takes as much off.
func (r *Result) floorEdge() float64 {
	d := r.Dims.Pocket
	sharp := math.Inf(1)
	for _, it := range r.Kit.Items {
		sharp = min(sharp, edgeRadius(it.Shape))
	}
	return max(0, sharp+d.Finished)
}

func (r *Result) partFacts() []check.PartFact {
	var out []check.PartFact
	for _, p := range r.Parts {
		if !p.Reference {
			out = append(out, check.PartFact{
				Name: p.Name, Size: p.Printed.Bounds().Size(), Wingless: r.wingless(p.Name),
				Volume: p.Printed.Volume(), LongestBridge: p.Print.Bridge, FreeEdge: p.Print.FreeEdge,
			})
		}
	}
	return out
}

// plannedFacts are the sizes of the parts before they are meshed.
func (r *Result) plannedFacts(plan []planned) ([]check.PartFact, error) {
	var out []check.PartFact
	for _, p := range plan {
		if p.reference {
			continue
		}
		s, err := p.draw()
		if err != nil {
			return nil, err
		}
		out = append(out, check.PartFact{Name: p.name, Size: p.toPrint(r).Box(s.Bounds()).Size(), Wingless: r.wingless(p.name)})
	}
	return out, nil
}

// wingless is the size of the press tool as it prints, without its grip wings;
// zero for a part that has none.
func (r *Result) wingless(part string) geom.Vec {
	if part != check.PressTool || r.Kit.Press.Grip == params.GripNone {
		return geom.Vec{}
	}
	l := r.Layout
	tool := solid.PressTool(l, l.Pocket(l.Dims.Pocket.Plug), false)
	return planned{turn: topDown}.toPrint(r).Box(tool.Bounds()).Size()
}

func (r *Result) itemFacts(items []*item) []check.ItemFact {
	var out []check.ItemFact
	for i, it := range items {
		d := r.Dims.Items[i]
		size := it.box.Size()
		wider := 2 * (r.Dims.Pocket.Finished + it.kit.Depth*r.Dims.Pocket.Draft.Tan())
		out = append(out, check.ItemFact{
			Name: it.kit.Name, Height: size.Z,
			UndercutArea: undercut(it.mesh.Transform(geom.Translate(geom.V(0, 0, -it.kit.Depth)))),
			ProudOfRim:   size.Z - it.kit.Depth,
			HasNotch:     len(it.kit.Notch) > 0,
			PocketDepth:  d.Depth + d.SeatRise + r.Dims.Pocket.Finished,
			PocketWidth:  min(size.X, size.Y) + wider,
			Mesh:         it.state,
			PadDrops:     r.padDrops(it, i),
		})
	}
	return out
}
