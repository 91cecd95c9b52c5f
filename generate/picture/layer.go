package picture

import (
	"image"
	"image/color"
	"math"

	"buckwright/generate/geom"
)

// Layer is a soft sheet that lies on a line: everything between From and To,
// in mm, off the line's right side. It is drawn before the bodies, which take
// away what they press together.
type Layer struct {
	Along    []geom.Vec2
	From, To float64
	Fill     Fill
}

// near is how far a pixel is from a line, and on which side.
type near struct{ dist, side float64 }

// layer draws l through the view.
func (v *view) layer(l Layer) {
	r := v.frame.Intersect(v.page.clip)
	if r.Empty() || len(l.Along) < 2 {
		return
	}
	buf := make([]near, r.Dx()*r.Dy())
	for i := range buf {
		buf[i].dist = math.Inf(1)
	}
	for i := range len(l.Along) - 1 {
		v.measure(buf, r, l.Along[i], l.Along[i+1], l.To, i == 0, i == len(l.Along)-2)
	}
	mask, edge := image.NewAlpha(r), image.NewAlpha(r)
	for i, n := range buf {
		if n.side <= 0 || math.IsInf(n.dist, 1) {
			continue
		}
		far, close := (l.To-n.dist)*v.scale, (n.dist-l.From)*v.scale
		mask.Pix[i] = uint8(255 * cover(far) * cover(close))
		edge.Pix[i] = uint8(255 * cover(0.6-math.Abs(far)))
	}
	v.page.hatch(mask, l.Fill)
	v.page.hatch(edge, Fill{Tone: color.RGBA{90, 90, 90, 255}})
}

// measure lowers the distances of the pixels near one segment. Beyond an end of
// the whole line nothing is near, so that a layer ends square. Where two
// segments are as near, the one seen less edge-on tells the side.
func (v *view) measure(buf []near, r image.Rectangle, a, b geom.Vec2, reach float64, first, last bool) {
	d := b.Sub(a)
	long := d.Len()
	if long == 0 {
		return
	}
	d = d.Scale(1 / long)
	box := v.pixels(Window{a, a}.Include(b).Grow(reach + 1/v.scale)).Intersect(r)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			q := v.mm(x, y).Sub(a)
			t, side := q.Dot(d), q.Cross(d)
			if first && t < 0 || last && t > long {
				continue
			}
			dist := q.Sub(d.Scale(min(max(t, 0), long))).Len()
			n := &buf[(y-r.Min.Y)*r.Dx()+x-r.Min.X]
			if tie := 1e-9 * (1 + dist); dist < n.dist-tie || dist < n.dist+tie && math.Abs(side) > math.Abs(n.side) {
				*n = near{dist, side}
			}
		}
	}
}
