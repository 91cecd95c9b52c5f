package generate

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/picture"
	"buckwright/params"
)

// What each material looks like where it is cut.
func (r *Result) fills() map[string]picture.Fill {
	grey := func(v uint8) color.RGBA { return color.RGBA{v, v, v, 255} }
	k := r.Kit
	return map[string]picture.Fill{
		"item":       {Name: "item", Tone: color.RGBA{250, 243, 226, 255}},
		"insert":     {Name: fmt.Sprintf("sheet, formed: %s", k.Sheet.Material), Tone: grey(58), Pattern: picture.Full},
		"felt":       {Name: fmt.Sprintf("felt %s mm", trim(k.Liner.Thickness, 2)), Tone: color.RGBA{190, 208, 190, 255}, Pattern: picture.Dotted},
		"sponge":     {Name: fmt.Sprintf("sponge %s mm", trim(k.LidLiner.Thickness, 2)), Tone: color.RGBA{178, 178, 190, 255}, Pattern: picture.Ringed},
		"base":       {Name: "base", Tone: grey(236), Pattern: picture.Rising},
		"lid":        {Name: "lid", Tone: grey(226), Pattern: picture.Falling},
		"buck":       {Name: "buck", Tone: color.RGBA{238, 230, 214, 255}, Pattern: picture.RisingWide},
		"press-tool": {Name: "press tool", Tone: color.RGBA{222, 230, 240, 255}, Pattern: picture.Falling},
		"press-nest": {Name: "press nest", Tone: grey(232), Pattern: picture.RisingWide},
	}
}

// trim writes a length without needless noughts, rounded as everywhere else.
func trim(v float64, digits int) string {
	rounded, _ := strconv.ParseFloat(fixed(digits, v), 64)
	return number(rounded)
}

// cutting is one plane through a kit and what it has met so far.
type cutting struct {
	r     *Result
	plane picture.Upright
	item  int
	at    int    // which of the item's planes
	way   string // how it runs through the item
	fill  map[string]picture.Fill
	loops map[string]picture.Loops
}

// sectionPictures are two planes through an item's middle, along it and across
// it, each once for the packed case and once for the tools.
func (r *Result) sectionPictures(i int) (out []drawn) {
	for _, c := range r.cuttings(i) {
		file := "pictures/section-" + r.Kit.Items[i].Name + "-" + c.way
		if r.made("base") != nil && r.made("insert") != nil {
			out = append(out, drawn{file + "-packed.png", func(w io.Writer) error { return r.cuttings(i)[c.at].packed().Draw(w) }})
		}
		if r.made("insert") != nil && (r.made("buck") != nil || r.made("press-tool") != nil) {
			out = append(out, drawn{file + "-tools.png", func(w io.Writer) error { return r.cuttings(i)[c.at].tools().Draw(w) }})
		}
	}
	return out
}

// cuttings are the planes along an item and across it, with nothing cut yet. A
// cutting remembers what it has cut, so each drawing takes its own.
func (r *Result) cuttings(i int) []*cutting {
	p := r.Layout.Places[i]
	along := geom.Vec2{X: p.Turn.Cos(), Y: p.Turn.Sin()}
	across := geom.Vec2{X: -along.Y, Y: along.X}
	if p.Half.Y > p.Half.X {
		along, across = across, along
	}
	return []*cutting{r.cutting(i, 0, "along", along), r.cutting(i, 1, "across", across)}
}

func (r *Result) cutting(i, at int, way string, dir geom.Vec2) *cutting {
	if dir.X < -1e-9 || math.Abs(dir.X) <= 1e-9 && dir.Y < 0 { // u runs to the right or to the back
		dir = dir.Scale(-1)
	}
	return &cutting{
		r: r, item: i, at: at, way: way, plane: picture.Upright{At: r.planMiddle(i), Dir: dir},
		fill: r.fills(), loops: map[string]picture.Loops{},
	}
}

// title is what a drawing of the plane is headed with.
func (c *cutting) title(what string) string {
	return fmt.Sprintf("%s: %s%s, section %s its middle. Sizes in mm.", c.r.Kit.Name, c.r.Kit.Items[c.item].Name, what, c.way)
}

// of is the section of a part, empty when it was not made.
func (c *cutting) of(name string) picture.Loops {
	l, ok := c.loops[name]
	if !ok {
		if m := c.r.made(name); m != nil {
			l = c.plane.Section(m)
		}
		c.loops[name] = l
	}
	return l
}

func (c *cutting) cut(name string) picture.Cut {
	return picture.Cut{Loops: c.of(name), Fill: c.fill[name]}
}

func (c *cutting) cuts(names ...string) (out []picture.Cut) {
	for _, n := range names {
		if len(c.of(n)) > 0 {
			out = append(out, c.cut(n))
		}
	}
	return out
}

// items are the sections of all items that the plane meets.
func (c *cutting) items() (out []picture.Cut) {
	for i := range c.r.items {
		if l := c.itemLoops(i); len(l) > 0 {
			out = append(out, picture.Cut{Loops: l, Fill: c.fill["item"]})
		}
	}
	return out
}

// sides parts the insert's outline into its product side, from the right trim
// line over the rim to the left one, and its underside, back again.
func (c *cutting) sides() (product, under []geom.Vec2) {
	loop := c.of("insert").Largest()
	low := picture.Loops{loop}.Bounds().Min.Y + 0.02
	from, to := -1, -1
	for i, v := range loop {
		if v.Y > low {
			continue
		}
		if from < 0 || v.X > loop[from].X {
			from = i
		}
		if to < 0 || v.X < loop[to].X {
			to = i
		}
	}
	if from < 0 {
		return nil, nil
	}
	return stretch(loop, from, to), stretch(loop, to, from)
}

// stretch is a loop's points from one to another, both included.
func stretch(loop []geom.Vec2, from, to int) []geom.Vec2 {
	out := []geom.Vec2{loop[from]}
	for i := from; i != to; {
		i = (i + 1) % len(loop)
		out = append(out, loop[i])
	}
	return out
}

// felt is the liner on the insert's product side, as far as it is wrapped.
func (c *cutting) felt() (out []picture.Layer) {
	product, _ := c.sides()
	from, to := c.cement(), c.cement()+c.r.Kit.Liner.Thickness
	for _, run := range picture.Runs(product, c.lined()) {
		out = append(out, picture.Layer{Along: run, From: from, To: to, Fill: c.fill["felt"]})
	}
	return out
}

// lined is positive where felt covers the product side: everywhere, on the flat
// of the rim and within, or on the pockets' walls and floors only.
func (c *cutting) lined() func(geom.Vec2) float64 {
	return func(v geom.Vec2) float64 { return c.r.lined(c.plane.Point(v.X).At(v.Y)) }
}

// lined is how far, in mm, a place on the product side is from where the felt
// ends; positive where there is felt.
func (r *Result) lined(p geom.Vec) float64 {
	switch r.Kit.Liner.Wrap {
	case params.WrapSkirt:
		return 1
	case params.WrapRim:
		return r.onRim(p.XY())
	}
	return min(r.onRim(p.XY()), r.wallTop()-p.Z)
}

// wallTop is the height, mm, at which the product side of a pocket's wall begins to
// round into the mouth: there felt ends that lines the pockets only.
func (r *Result) wallTop() float64 { return -r.mouthRound() * (1 - r.Dims.Pocket.Draft.Sin()) }

// onRim is how far inside the flat of the insert's rim a place of the plan is.
func (r *Result) onRim(p geom.Vec2) float64 {
	l, t := r.Layout, r.Dims.Insert
	edge := t.RimRadius + t.Rim
	round := max(t.CornerRadius-edge, 0)
	off := p.Sub(l.Center)
	x, y := math.Abs(off.X)-(l.Half.X-edge-round), math.Abs(off.Y)-(l.Half.Y-edge-round)
	return round - math.Hypot(max(x, 0), max(y, 0)) - min(max(x, y), 0)
}

func (c *cutting) cement() float64 { return c.r.Kit.Liner.Cement }

// pads are the sections of the lid's sponges.
func (c *cutting) pads() (out []picture.Cut) {
	if len(c.of("lid")) == 0 {
		return nil
	}
	for _, m := range c.r.padMeshes() {
		if l := c.plane.Section(m); len(l) > 0 {
			out = append(out, picture.Cut{Loops: l, Fill: c.fill["sponge"]})
		}
	}
	return out
}

// padMesh is an item's sponge as cut, hanging from its boss.
func (r *Result) padMesh(i int) *mesh.Mesh {
	h, p, it := r.Layout.PadHalf(i), r.Layout.Places[i], r.Dims.Items[i]
	m := blockMesh(geom.V(-h.X, -h.Y, it.PadZ-r.Dims.Lid.Liner), geom.V(h.X, h.Y, it.PadZ))
	return m.Transform(geom.RotateZ(p.Turn).Then(geom.Translate(p.At.At(0))))
}

// blockMesh is an upright block.
func blockMesh(lo, hi geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	b := geom.Box{Min: lo, Max: hi}
	for i := range 8 {
		m.V = append(m.V, b.Corner(i))
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.T = append(m.T, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}
