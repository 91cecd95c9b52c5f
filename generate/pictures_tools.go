package generate

import (
	"buckwright/generate/picture"
)

// toolWide is the width of the details on a page of tools, where there are three.
const toolWide = 12.0

// tools are the buck with the sheet on it, and the press tool on the felt.
func (c *cutting) tools() picture.Drawing {
	d := picture.Drawing{Title: c.title(", its tools")}
	var details []*picture.Detail
	if len(c.of("buck")) > 0 {
		d.Strips = append(d.Strips, c.forming())
		details = append(details, c.formingFloor(), c.inStrip(c.formingRim(), 0))
	}
	if len(c.of("press-tool")) > 0 {
		d.Strips = append(d.Strips, c.pressing())
		details = append(details, c.inStrip(c.pressFloor(), len(d.Strips)-1))
	}
	d.Details = letters(details...)
	return d
}

func (c *cutting) inStrip(d *picture.Detail, strip int) *picture.Detail {
	if d != nil {
		d.Strip = strip
	}
	return d
}

// forming is the sheet on the buck.
func (c *cutting) forming() picture.Strip {
	s := picture.Section{Cuts: c.cuts("buck", "insert")}
	w := bounds(s.Cuts)
	buck, insert := c.of("buck").Bounds(), c.of("insert").Bounds()
	out := picture.Strip{
		Caption: "Forming: the sheet on the buck, finished sizes (the buck is printed larger by the shrinkage).",
		Section: s, Window: w.Grow(1.5),
		Levels: []picture.Level{
			level(c.rim(), 0, "rim of the sheet"),
			level(insert.Max.X, c.r.Layout.Trim, "trim line"),
			level(buck.Max.X, buck.Min.Y, "buck, underside"),
		},
	}
	if z, ok := c.floor(0); ok {
		out.Levels = append(out.Levels, level(0, z, "pocket floor"))
	}
	product, _ := c.sides()
	if x := (picture.Loops{product}).AtHeight(-3); len(x) > 1 {
		for i := 0; i+1 < len(x); i++ {
			if x[i] < 0 && x[i+1] > 0 {
				out.Dims = append(out.Dims, dim(at(x[i], 0), at(x[i+1], 0), "pocket, 3 below the rim", picture.Over))
			}
		}
	}
	out.Dims = append(out.Dims,
		dim(at(insert.Min.X, insert.Max.Y), at(insert.Max.X, insert.Max.Y), "trimmed insert", picture.Over),
		dim(at(buck.Min.X-c.offset(), buck.Min.Y), at(buck.Max.X+c.offset(), buck.Min.Y), "foot of the buck", picture.Under))
	return out
}

// formingFloor shows the sheet in the foot of the buck's pocket.
func (c *cutting) formingFloor() *picture.Detail {
	_, q, ok := c.tightest(c.own())
	if !ok {
		return nil
	}
	u := q.X - 5
	floor, _ := c.floor(u)
	d := &picture.Detail{
		Caption: "sheet in the buck",
		Window:  picture.Around(at(q.X-1.5, floor+3.5), toolWide, detailHigh),
		Notes:   []picture.Note{c.sheetNote("sheet, wall", q), c.sheetNote("sheet, floor", at(u, floor))},
	}
	if b := c.of("buck").AtPlace(u); len(b) > 1 {
		d.Notes = append(d.Notes, spot(at(u, b[len(b)-1]-2.5), "buck %.2f thick below the floor", b[len(b)-1]-b[len(b)-2]))
	}
	return d
}

// formingRim shows the buck's outer edge.
func (c *cutting) formingRim() *picture.Detail {
	u := c.insertRight(-6)
	return &picture.Detail{
		Caption: "outer edge of the buck",
		Window:  picture.Around(at(u-3.5, -5), toolWide, detailHigh),
		Notes: []picture.Note{
			c.sheetNote("sheet, rim", at(u-6, 0)), c.sheetNote("sheet, skirt", at(u, -6)),
			spot(at(c.insertRight(-10), -10), "skirt draft %s\u00b0", trim(c.r.Dims.Insert.Draft.Degrees(), 1)),
		},
	}
}

// pressing is the press tool on felt, insert and nest; on the base when there
// is no nest.
func (c *cutting) pressing() picture.Strip {
	bed := "press-nest"
	if len(c.of(bed)) == 0 {
		bed = "base"
	}
	s := picture.Section{Layers: c.felt(), Cuts: c.cuts(bed, "insert", "press-tool")}
	tool := c.of("press-tool").Bounds()
	out := picture.Strip{
		Caption: "Pressing: the press tool on the felt while the cement sets.",
		Section: s, Window: bounds(s.Cuts).Grow(c.cement() + c.r.Kit.Liner.Thickness),
		Levels: []picture.Level{
			level(c.rim(), 0, "rim of the sheet"),
			level(tool.Max.X, tool.Max.Y, "press tool, back"),
			level(0, tool.Min.Y, "press tool, lowest"),
		},
		Dims: []picture.Dim{dim(at(tool.Min.X-c.offset(), tool.Min.Y), at(tool.Max.X+c.offset(), tool.Min.Y), "press tool", picture.Under)},
	}
	if l := c.of(bed); len(l) > 0 {
		b := l.Bounds()
		out.Levels = append(out.Levels, level(b.Max.X, b.Min.Y, c.fill[bed].Name+", underside"))
	}
	return out
}

// pressFloor shows the plug's edge on the felt.
func (c *cutting) pressFloor() *picture.Detail {
	plug := c.of("press-tool")
	p, q, ok := c.tightest(plug)
	if !ok {
		return nil
	}
	u := q.X - 5
	floor, _ := c.floor(u)
	d := &picture.Detail{
		Caption: "plug on the felt",
		Window:  picture.Around(at(q.X-1.5, floor+5.5), toolWide, detailHigh),
		Notes:   []picture.Note{c.linerNote("felt, wall", p, q)},
	}
	if z := plug.AtPlace(u); len(z) > 0 {
		d.Notes = append(d.Notes, c.linerNote("felt, floor", at(u, z[0]), c.onProduct(at(u, z[0]))))
	}
	if nest := c.of("press-nest").AtPlace(u); len(nest) > 0 {
		if insert := c.of("insert").AtPlace(u); len(insert) > 1 {
			top := nest[len(nest)-1]
			d.Notes = append(d.Notes, gap(at(u-1, insert[len(insert)-2]), at(u-1, top), "nest clear by %.2f"))
		}
	}
	return d
}
