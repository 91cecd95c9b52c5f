package generate

import (
	"fmt"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/picture"
)

// packed is the closed case with everything in it.
func (c *cutting) packed() picture.Drawing {
	s := picture.Section{Layers: c.felt(), Cuts: c.cuts("base", "insert", "lid")}
	s.Cuts = append(append(s.Cuts, c.pads()...), c.items()...)
	window := bounds(s.Cuts)
	strip := picture.Strip{
		Caption: "Packed. Heights from the bare rim. The sheet is drawn at the mean thickness of each pocket; the white line is cement." + c.printNote(),
		Section: s, Window: window.Grow(1.5),
		Levels: c.packedLevels(), Dims: c.packedDims(), Tags: c.tags(),
	}
	d := picture.Drawing{Title: c.title(" in its case"), Strips: []picture.Strip{strip}}
	d.Details = letters(c.packedFloor(), c.packedMouth(), c.packedEdge(), c.packedFoot())
	return d
}

// letters names the details that there are.
func letters(all ...*picture.Detail) (out []picture.Detail) {
	for _, d := range all {
		if d != nil {
			d.Letter = string(rune('A' + len(out)))
			out = append(out, *d)
		}
	}
	return out
}

func bounds(cuts []picture.Cut) (w picture.Window) {
	for i, c := range cuts {
		if b := c.Loops.Bounds(); i == 0 {
			w = b
		} else {
			w = w.Union(b)
		}
	}
	return w
}

// printNote says which sizes are written where a print comes out other than its file.
func (c *cutting) printNote() string {
	if c.offset() == 0 {
		return ""
	}
	return fmt.Sprintf(" Sizes of prints: with their offset of %.2f a face.", c.offset())
}

func at(u, z float64) geom.Vec2 { return geom.Vec2{X: u, Y: z} }

// height writes a level with its sign.
func height(v float64) string {
	if math.Abs(v) < 0.005 {
		return "0"
	}
	if v < 0 {
		return "\u2212" + fmt.Sprintf("%.1f", -v)
	}
	return "+" + fmt.Sprintf("%.1f", v)
}

func level(u, z float64, what string) picture.Level {
	return picture.Level{At: at(u, z), Text: what + " " + height(z)}
}

func (c *cutting) packedLevels() []picture.Level {
	r, base, lid := c.r, c.of("base").Bounds(), c.of("lid").Bounds()
	d := r.Dims
	right := base.Max.X
	out := []picture.Level{
		level(right, base.Min.Y, "base, underside"),
		level(right, d.Base.NeckTop-d.Base.Neck, "shoulder"),
		level(right-4, d.Base.NeckTop, "top of the neck"),
		level(c.of("insert").Bounds().Max.X, r.Layout.Trim, "trim line"),
		level(0, -d.Items[c.item].Depth, r.Kit.Items[c.item].Name+", underside"),
		level(0, d.Items[c.item].Height-d.Items[c.item].Depth, r.Kit.Items[c.item].Name+", top"),
		level(c.rim(), 0, "rim of the sheet"),
	}
	if z, ok := c.floor(0); ok {
		out = append(out, level(0, z, "pocket floor"))
	}
	if len(c.of("lid")) > 0 {
		out = append(out, level(right, lid.Max.Y, "lid, top"), level(right-8, d.Lid.Ceiling, "ceiling"))
	}
	return out
}

// rim is a place on the flat of the rim, right of everything.
func (c *cutting) rim() float64 { return c.insertRight(-0.2) - c.r.Dims.Insert.RimRadius - 2 }

// insertRight is the insert's outside at a height.
func (c *cutting) insertRight(z float64) float64 {
	x := c.of("insert").AtHeight(z)
	if len(x) == 0 {
		return c.of("insert").Bounds().Max.X
	}
	return x[len(x)-1]
}

// floor is the product side of the insert under a place in a pocket.
func (c *cutting) floor(u float64) (float64, bool) {
	z := c.of("insert").AtPlace(u)
	if len(z) < 2 {
		return 0, false
	}
	return z[len(z)-1], true
}

// packedDims are the case's width and how the item lies: below the rim, above
// it, and its width. Ends of a dimension stand at the item's own extremes.
func (c *cutting) packedDims() []picture.Dim {
	base, b := c.of("base").Bounds(), c.own().Bounds()
	u, out := -0.25*b.Size().X, c.offset()
	dims := []picture.Dim{
		dim(at(base.Min.X-out, base.Min.Y), at(base.Max.X+out, base.Min.Y), "case", picture.Under),
		dim(at(u, 0), at(u, b.Min.Y), "", picture.Inside),
	}
	if b.Max.Y > 1 {
		dims = append(dims, dim(at(u, b.Max.Y), at(u, 0), "", picture.Inside))
	}
	if left, right, ok := widest(c.own()); ok {
		dims = append(dims, dim(left, right, "", picture.Inside))
	}
	return dims
}

// widest is the height at which a body is widest; of several, the one nearest below the
// rim, where a dimension is out of the way.
func widest(body picture.Loops) (left, right geom.Vec2, ok bool) {
	const step, same = 0.25, 0.02 // mm
	b := body.Bounds()
	prefer, most := min(-1.5, b.Max.Y-1.5), 0.0
	for _, way := range [2]float64{-step, step} {
		for z := prefer; z > b.Min.Y && z < b.Max.Y; z += way {
			x := body.AtHeight(z)
			if n := len(x); n > 1 && x[n-1]-x[0] > most+same {
				most, left, right, ok = x[n-1]-x[0], at(x[0], z), at(x[n-1], z), true
			}
		}
	}
	return left, right, ok
}

// offset is how far, mm, a face of a print stands out from where its file has it.
// Sections are drawn from the files; sizes written for prints include it.
func (c *cutting) offset() float64 { return c.r.Dims.Print.Offset }

// tags are the names of the items in the plane.
func (c *cutting) tags() (out []picture.Tag) {
	for i, it := range c.r.Kit.Items {
		if l := c.itemLoops(i); len(l) > 0 {
			b := l.Bounds()
			t := picture.Tag{At: b.Min.Lerp(b.Max, 0.5), Room: 0.9 * b.Size().X, Text: it.Name}
			if i == c.item { // clear of the dimensions
				t.At, t.Room = at(b.Min.X+0.7*b.Size().X, 0.6*b.Min.Y), 0.2*b.Size().X
			}
			out = append(out, t)
		}
	}
	return out
}

// own is the section of the item whose pocket this is.
func (c *cutting) own() picture.Loops { return c.itemLoops(c.item) }

// itemLoops is the section of an item.
func (c *cutting) itemLoops(i int) picture.Loops {
	key := "item " + c.r.Kit.Items[i].Name
	l, ok := c.loops[key]
	if !ok {
		l = c.plane.Section(c.r.packedItem(i))
		c.loops[key] = l
	}
	return l
}

// dim writes the distance between two points, after what it is of.
func dim(a, b geom.Vec2, what string, lane picture.Lane) picture.Dim {
	text := fmt.Sprintf("%.1f", b.Sub(a).Len())
	if what != "" {
		text = what + " " + text
	}
	return picture.Dim{A: a, B: b, Text: text, Lane: lane}
}

// gap is a note of the distance between two points.
func gap(a, b geom.Vec2, format string, more ...any) picture.Note {
	return picture.Note{A: a, B: b, Text: fmt.Sprintf(format, append([]any{b.Sub(a).Len()}, more...)...)}
}

func spot(a geom.Vec2, format string, more ...any) picture.Note {
	return picture.Note{A: a, B: a, Text: fmt.Sprintf(format, more...)}
}

// The windows of details, mm.
const (
	detailWide = 9.0
	detailHigh = 16.0
)

// packedFloor shows the foot of the pocket's wall.
func (c *cutting) packedFloor() *picture.Detail {
	p, q, ok := c.tightest(c.own())
	if !ok {
		return nil
	}
	u := q.X - 5
	floor, _ := c.floor(u)
	d := &picture.Detail{
		Caption: "felt in the pocket",
		Window:  picture.Around(at(q.X-2, floor+5.5), detailWide, detailHigh),
	}
	d.Notes = append(d.Notes, c.linerNote("felt, tightest", p, q), c.sheetNote("sheet", q))
	if z := c.own().AtPlace(u); len(z) > 0 {
		d.Notes = append(d.Notes, c.linerNote("felt, floor", at(u, z[0]), c.onProduct(at(u, z[0]))))
	}
	d.Notes = append(d.Notes, c.supportNote(u-0.7)...)
	return d
}

// onProduct is the place of the sheet's product side nearest to a point.
func (c *cutting) onProduct(p geom.Vec2) geom.Vec2 {
	product, _ := c.sides()
	q, _ := picture.Loops{product}.Nearest(p)
	return q
}

// linerNote gives the thickness of the felt between two points, without the cement.
func (c *cutting) linerNote(what string, a, b geom.Vec2) picture.Note {
	free := c.r.Kit.Liner.Thickness
	room := b.Sub(a).Len() - c.cement()
	if room >= free {
		return picture.Note{A: a, B: b, Text: what + " " + fixed(2, free) + ", not pressed"}
	}
	return picture.Note{A: a, B: b, Text: fmt.Sprintf("%s %.2f, pressed %s\u00a0%%", what, room, trim(100*(1-room/free), 1))}
}

// sheetNote is the thickness of the sheet at a point of its product side.
func (c *cutting) sheetNote(what string, q geom.Vec2) picture.Note {
	_, under := c.sides()
	b, _ := picture.Loops{under}.Nearest(q)
	return gap(q, b, what+" %.2f")
}

// supportNote is the gap that glue fills under a pocket's floor.
func (c *cutting) supportNote(u float64) []picture.Note {
	insert, base := c.of("insert").AtPlace(u), c.of("base").AtPlace(u)
	for i := len(base) - 1; i >= 0 && len(insert) > 1; i-- {
		under := insert[len(insert)-2]
		if base[i] < under {
			if under-base[i] > 1.5 {
				return nil
			}
			return []picture.Note{gap(at(u, under), at(u, base[i]), "glue gap %.2f")}
		}
	}
	return nil
}

// packedMouth shows the pocket's right mouth.
func (c *cutting) packedMouth() *picture.Detail {
	d := c.mouth("mouth of the pocket")
	if d == nil {
		return nil
	}
	if x := c.own().AtHeight(-2); len(x) > 0 {
		from := at(x[len(x)-1], -2)
		if to := c.onProduct(from); to.X < d.Window.Max.X && from.X > d.Window.Min.X {
			d.Notes = append(d.Notes, c.openNote(from, to))
		}
	}
	return d
}

// openNote gives the room between item and sheet at the mouth.
func (c *cutting) openNote(a, b geom.Vec2) picture.Note {
	free := b.Sub(a).Len() - c.cement() - c.r.Kit.Liner.Thickness
	if c.lined()(b) < 0 {
		return gap(a, b, "item to sheet %.2f, above the felt")
	}
	if free < 0 {
		return c.linerNote("felt", a, b)
	}
	return gap(a, b, "item to sheet %.2f, clear of the felt by %.2f", free)
}

// mouth is the window round the right edge of the pocket, with what the sheet
// and the felt are there.
func (c *cutting) mouth(caption string) *picture.Detail {
	u, ok := c.mouthRight(-3)
	if !ok {
		return nil
	}
	d := &picture.Detail{Caption: caption, Window: picture.Around(at(u+0.5, -2.5), detailWide, detailHigh)}
	top := min(-3, c.r.wallTop()-0.1) // below the rounding of the mouth
	z := top - 0.35*c.r.Dims.Items[c.item].Depth
	high, is := c.mouthRight(top)
	if low, ok := c.mouthRight(z); ok && is {
		lean, draft := math.Atan2(high-low, top-z)*180/math.Pi, c.r.Dims.Pocket.Draft.Degrees()
		text := "draft"
		if lean > draft+0.5 {
			text = "wall leans"
		}
		if x, ok := c.mouthRight(-6); ok {
			d.Notes = append(d.Notes, spot(at(x, -6), "%s %.1f\u00b0", text, lean))
		}
	}
	flat := u + 4.2
	if z, ok := c.floor(flat); ok && z > -0.1 {
		d.Notes = append(d.Notes, c.sheetNote("sheet, rim", at(flat, z)))
		if felt := c.r.Dims.Press.RimFelt; felt > 0 {
			d.Notes = append(d.Notes, spot(at(flat-1, z+c.cement()+felt/2), "felt, rim %s", fixed(2, felt)))
		}
	}
	return d
}

// mouthRight is the product side of the pocket's right wall at a height.
func (c *cutting) mouthRight(z float64) (float64, bool) {
	product, _ := c.sides()
	for _, u := range (picture.Loops{product}).AtHeight(z) {
		if u > 0 && u < c.insertRight(z)-1 {
			return u, true
		}
	}
	return 0, false
}

// packedFoot shows the insert's foot in the base, at the right.
func (c *cutting) packedFoot() *picture.Detail {
	d := c.r.Dims
	z := c.r.Layout.Trim
	low := z + 0.05 // the cut edge: higher up the skirt leans away
	foot, b := c.insertRight(low), c.of("base").AtHeight(low)
	if len(b) < 2 {
		return nil
	}
	wall := b[len(b)-2] - c.offset()
	t := &picture.Detail{
		Caption: "foot of the insert",
		Window:  picture.Around(at(wall-1.5, z+detailHigh/2-4.5), detailWide, detailHigh),
		Notes:   []picture.Note{c.skirtNote(at(foot, low), at(wall, low))},
	}
	if ledge := c.of("base").AtPlace(foot - 0.3); len(ledge) > 1 && ledge[1] < z {
		t.Notes = append(t.Notes, gap(at(foot-0.3, ledge[1]), at(foot-0.3, z), "trim line over the ledge %.2f"))
	}
	mid := c.insertRight(z + 7)
	t.Notes = append(t.Notes, c.sheetNote("sheet, skirt", at(mid, z+7)),
		spot(at(c.insertRight(z+10), z+10), "skirt draft %s\u00b0", trim(d.Insert.Draft.Degrees(), 1)))
	return t
}

func (c *cutting) skirtNote(a, b geom.Vec2) picture.Note {
	if c.r.Dims.Base.SkirtFelt {
		return c.linerNote("felt, skirt", a, b)
	}
	return gap(a, b, "skirt to base %.2f")
}
