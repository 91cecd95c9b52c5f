package picture

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"

	"buckwright/generate/geom"
)

// page is a flat drawing, in pixels, y downwards. Everything on it is
// antialiased by exact coverage. What lies outside clip is not drawn.
type page struct {
	img  *image.RGBA
	clip image.Rectangle
	z    vector.Rasterizer
	face *typeface
}

// The inks of a drawing. All are told apart in a grey copy.
var (
	paper = color.RGBA{255, 255, 255, 255}
	ink   = color.RGBA{24, 24, 24, 255}
	pale  = color.RGBA{120, 120, 120, 255} // lines that only lead the eye
)

func newPage(w, h int) *page {
	p := &page{face: newTypeface()}
	p.size(w, h)
	return p
}

// size gives the page w x h blank pixels.
func (p *page) size(w, h int) {
	p.img = image.NewRGBA(image.Rect(0, 0, w, h))
	p.clip = p.img.Rect
	for i := range p.img.Pix {
		p.img.Pix[i] = 255
	}
}

// within draws with everything outside r left as it is.
func (p *page) within(r image.Rectangle, do func()) {
	was := p.clip
	p.clip = was.Intersect(r)
	do()
	p.clip = was
}

// farOff is farther, in pixels, than any page reaches.
const farOff = 1e5

// path is closed loops, filled by the non-zero rule.
type path [][]geom.Vec2

// load puts a path into the rasteriser and returns the pixels it may touch.
func (p *page) load(s path) image.Rectangle {
	lo, hi := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, loop := range s {
		for _, v := range loop {
			lo, hi = geom.Vec2{X: min(lo.X, v.X), Y: min(lo.Y, v.Y)}, geom.Vec2{X: max(hi.X, v.X), Y: max(hi.Y, v.Y)}
		}
	}
	if !(lo.X > -farOff && lo.Y > -farOff && hi.X < farOff && hi.Y < farOff) { // nothing, or nothing that a page holds
		return image.Rectangle{}
	}
	r := p.clip.Intersect(image.Rect(floor(lo.X), floor(lo.Y), floor(hi.X)+1, floor(hi.Y)+1))
	if r.Empty() {
		return image.Rectangle{}
	}
	p.z.Reset(r.Dx(), r.Dy())
	x0, y0 := float64(r.Min.X), float64(r.Min.Y)
	for _, loop := range s {
		for i, v := range loop {
			x, y := float32(v.X-x0), float32(v.Y-y0)
			if i == 0 {
				p.z.MoveTo(x, y)
			} else {
				p.z.LineTo(x, y)
			}
		}
		p.z.ClosePath()
	}
	return r
}

// floor is v rounded down, held where an int and a picture can have it.
func floor(v float64) int { return int(math.Floor(min(max(v, -farOff), farOff))) }

func (p *page) fill(s path, c color.Color) {
	if r := p.load(s); !r.Empty() {
		p.z.DrawOp = draw.Over
		p.z.Draw(p.img, r, image.NewUniform(c), image.Point{})
	}
}

// mask is the coverage of a path, 0 to 255, on the pixels it touches.
func (p *page) mask(s path) *image.Alpha {
	r := p.load(s)
	m := image.NewAlpha(r)
	if !r.Empty() {
		p.z.DrawOp = draw.Src
		p.z.Draw(m, r, image.Opaque, image.Point{})
	}
	return m
}

// blend lays ink over a pixel, as much of it as share says.
func (p *page) blend(x, y int, c color.RGBA, share float64) {
	i := p.img.PixOffset(x, y)
	px := p.img.Pix[i : i+3 : i+3]
	s := int(share*256 + 0.5)
	for k, v := range [3]uint8{c.R, c.G, c.B} {
		px[k] = uint8((int(px[k])*(256-s) + int(v)*s) >> 8)
	}
}

// line strokes an open polyline.
func (p *page) line(c color.Color, width float64, pts ...geom.Vec2) {
	if len(pts) > 1 {
		p.fill(strip(pts, width/2, false), c)
	}
}

// outline strokes closed loops.
func (p *page) outline(s path, c color.Color, width float64) {
	var all path
	for _, loop := range s {
		all = append(all, strip(loop, width/2, true)...)
	}
	p.fill(all, c)
}

// dashed strokes a straight line, on for the first length and off for the second.
func (p *page) dashed(c color.Color, width, on, off float64, a, b geom.Vec2) {
	long := b.Sub(a).Len()
	if !(long < farOff) {
		return
	}
	for at := 0.0; at < long; at += on + off {
		p.line(c, width, a.Lerp(b, at/long), a.Lerp(b, min(1, (at+on)/long)))
	}
}

// strip is a polyline made half wide to each side, with mitred corners.
func strip(pts []geom.Vec2, half float64, closed bool) path {
	pts = distinct(pts, closed)
	n := len(pts)
	if n < 2 {
		return nil
	}
	left, right := make([]geom.Vec2, n), make([]geom.Vec2, n)
	for i, v := range pts {
		m := mitre(pts, i, closed).Scale(half)
		left[i], right[i] = v.Add(m), v.Sub(m)
	}
	var out path
	for i := range n {
		j := i + 1
		if j == n {
			if !closed {
				break
			}
			j = 0
		}
		out = append(out, []geom.Vec2{left[i], left[j], right[j], right[i]})
	}
	return out
}

// distinct drops points that repeat the one before.
func distinct(pts []geom.Vec2, closed bool) []geom.Vec2 {
	var out []geom.Vec2
	for _, v := range pts {
		if len(out) == 0 || v.Sub(out[len(out)-1]).Len() > 1e-3 {
			out = append(out, v)
		}
	}
	for closed && len(out) > 1 && out[0].Sub(out[len(out)-1]).Len() <= 1e-3 {
		out = out[:len(out)-1]
	}
	return out
}

// mitre is the offset of a corner that keeps both its lines as wide as asked,
// at most twice as far.
func mitre(pts []geom.Vec2, i int, closed bool) geom.Vec2 {
	n := len(pts)
	before, after := i > 0 || closed, i < n-1 || closed
	var a, b geom.Vec2
	if before {
		a = normal2(pts[(i+n-1)%n], pts[i])
	}
	if after {
		b = normal2(pts[i], pts[(i+1)%n])
	}
	switch {
	case !before:
		return b
	case !after:
		return a
	}
	m := a.Add(b).Unit()
	return m.Scale(1 / max(m.Dot(b), 0.5))
}

// normal2 points to the left of the way from a to b, in a picture's axes.
func normal2(a, b geom.Vec2) geom.Vec2 {
	d := b.Sub(a).Unit()
	return geom.Vec2{X: d.Y, Y: -d.X}
}

// arrow draws the head of a dimension line: its tip at a point, coming from back.
func (p *page) arrow(c color.Color, tip, back geom.Vec2, size float64) {
	d := tip.Sub(back).Unit()
	n := geom.Vec2{X: d.Y, Y: -d.X}.Scale(size * 0.28)
	foot := tip.Sub(d.Scale(size))
	p.fill(path{{tip, foot.Add(n), foot.Sub(n)}}, c)
}

func box2(x0, y0, x1, y1 float64) []geom.Vec2 {
	return []geom.Vec2{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func disc2(c geom.Vec2, r float64) []geom.Vec2 {
	out := make([]geom.Vec2, 20)
	for i := range out {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(len(out)))
		out[i] = c.Add(geom.Vec2{X: r * k, Y: r * s})
	}
	return out
}
