package picture

import (
	"image"
	"math"

	"buckwright/generate/geom"
)

// Section is what a plane meets: soft layers first, then bodies, each over what
// was drawn before it.
type Section struct {
	Layers []Layer
	Cuts   []Cut
}

// Cut is one body in a section.
type Cut struct {
	Loops Loops
	Fill  Fill
}

// view shows a window of a section in a frame of the page.
type view struct {
	page   *page
	frame  image.Rectangle
	window Window
	scale  float64 // pixels a mm
}

// newView puts the window's upper left corner at (x, y).
func newView(p *page, x, y int, w Window, scale float64) *view {
	size := w.Size().Scale(scale)
	return &view{p, image.Rect(x, y, x+int(math.Ceil(size.X)), y+int(math.Ceil(size.Y))), w, scale}
}

// at maps a point of the section to the page.
func (v *view) at(p geom.Vec2) geom.Vec2 {
	return geom.Vec2{
		X: float64(v.frame.Min.X) + (p.X-v.window.Min.X)*v.scale,
		Y: float64(v.frame.Min.Y) + (v.window.Max.Y-p.Y)*v.scale,
	}
}

// mm is the point of the section in the middle of a pixel.
func (v *view) mm(x, y int) geom.Vec2 {
	return geom.Vec2{
		X: v.window.Min.X + (float64(x-v.frame.Min.X)+0.5)/v.scale,
		Y: v.window.Max.Y - (float64(y-v.frame.Min.Y)+0.5)/v.scale,
	}
}

// pixels are those that a window touches.
func (v *view) pixels(w Window) image.Rectangle {
	a, b := v.at(geom.Vec2{X: w.Min.X, Y: w.Max.Y}), v.at(geom.Vec2{X: w.Max.X, Y: w.Min.Y})
	return image.Rect(floor(a.X), floor(a.Y), floor(b.X)+1, floor(b.Y)+1)
}

// path is loops on the page.
func (v *view) path(l Loops) path {
	out := make(path, len(l))
	for i, loop := range l {
		out[i] = make([]geom.Vec2, len(loop))
		for k, p := range loop {
			out[i][k] = v.at(p)
		}
	}
	return out
}

// draw shows the section, cut off at the frame.
func (v *view) draw(s Section, width float64) {
	v.page.within(v.frame, func() {
		for _, l := range s.Layers {
			v.layer(l)
		}
		for _, c := range s.Cuts {
			on := v.path(v.clipped(c.Loops))
			v.page.hatch(v.page.mask(on), c.Fill)
			if c.Fill.Pattern != Full {
				v.page.outline(on, ink, width)
			}
		}
	})
}

// clipped leaves out loops that the window does not meet.
func (v *view) clipped(l Loops) Loops {
	var out Loops
	for _, loop := range l {
		b := Loops{loop}.Bounds()
		if b.Max.X >= v.window.Min.X && b.Min.X <= v.window.Max.X && b.Max.Y >= v.window.Min.Y && b.Min.Y <= v.window.Max.Y {
			out = append(out, loop)
		}
	}
	return out
}

// gap draws a dimension from a to b: arrows between them when there is room,
// else from outside towards them. It returns the end to lead a line from.
func (v *view) gap(a, b geom.Vec2) geom.Vec2 {
	const head = 11.0
	pa, pb := v.at(a), v.at(b)
	d := pb.Sub(pa)
	if d.Len() > 3*head {
		v.page.dart(pa.Lerp(pb, 0.5), pa, head)
		v.page.dart(pa.Lerp(pb, 0.5), pb, head)
		return pa.Lerp(pb, 0.5)
	}
	u := d.Unit().Scale(2 * head)
	v.page.dart(pa.Sub(u), pa, head)
	v.page.dart(pb.Add(u), pb, head)
	return pb.Add(u)
}

// dart is a thin line with an arrow at its end, on a rim of paper so that it
// shows on dark ground.
func (p *page) dart(from, to geom.Vec2, head float64) {
	p.line(paper, 3.4, from, to)
	p.line(ink, 1.2, from, to)
	p.arrow(paper, to.Add(to.Sub(from).Unit().Scale(2)), from, head+4)
	p.arrow(ink, to, from, head)
}
