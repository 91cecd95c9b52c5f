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
		v.measure(buf, r, l.Along[i], l.Along[i+1], l.To, l.ends(i))
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

// end is where a line ends, and which way it leads out there.
type end struct{ at, out geom.Vec2 }

// ends are the ends of the line that segment i is no farther from, along the line,
// than the layer reaches.
func (l Layer) ends(i int) (out []end) {
	n, far := len(l.Along)-1, 0.0
	for k := i - 1; k >= 0 && far < l.To; k-- {
		far += l.Along[k+1].Sub(l.Along[k]).Len()
	}
	if far < l.To {
		out = append(out, end{l.Along[0], l.Along[0].Sub(l.Along[1])})
	}
	far = 0
	for k := i + 1; k < n && far < l.To; k++ {
		far += l.Along[k+1].Sub(l.Along[k]).Len()
	}
	if far < l.To {
		out = append(out, end{l.Along[n], l.Along[n].Sub(l.Along[n-1])})
	}
	return out
}

// beyond reports whether a point lies beyond one of the ends.
func beyond(q geom.Vec2, ends []end) bool {
	for _, e := range ends {
		if q.Sub(e.at).Dot(e.out) > 0 {
			return true
		}
	}
	return false
}

// measure lowers the distances of the pixels near one segment. Beyond an end of
// the whole line nothing is near, so that a layer ends square. Where two
// segments are as near, the one seen less edge-on tells the side.
func (v *view) measure(buf []near, r image.Rectangle, a, b geom.Vec2, reach float64, ends []end) {
	d := b.Sub(a)
	long := d.Len()
	if long == 0 {
		return
	}
	d = d.Scale(1 / long)
	box := v.pixels(Window{a, a}.Include(b).Grow(reach + 1/v.scale)).Intersect(r)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			at := v.mm(x, y)
			if beyond(at, ends) {
				continue
			}
			q := at.Sub(a)
			t, side := q.Dot(d), q.Cross(d)
			dist := q.Sub(d.Scale(min(max(t, 0), long))).Len()
			n := &buf[(y-r.Min.Y)*r.Dx()+x-r.Min.X]
			if tie := 1e-9 * (1 + dist); dist < n.dist-tie || dist < n.dist+tie && math.Abs(side) > math.Abs(n.side) {
				*n = near{dist, side}
			}
		}
	}
}
