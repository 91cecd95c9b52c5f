package picture

import (
	"image"
	"io"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Drawing is a page of sections with their dimensions. Strips share one scale
// and stand one above the other; details enlarge places of a strip.
type Drawing struct {
	Title   string
	Strips  []Strip
	Details []Detail
}

// Strip is one section from side to side.
type Strip struct {
	Caption string
	Section Section
	Window  Window
	Levels  []Level
	Dims    []Dim
	Tags    []Tag
}

// Tag is a name written into a body; left out where it would not fit in Room, mm.
type Tag struct {
	At   geom.Vec2
	Room float64
	Text string
}

// Level is a height told beside the strip. From is where its line starts.
type Level struct {
	At   geom.Vec2
	Text string
}

// Lane is where a dimension line runs.
type Lane int

// The lanes. Over and Under are outside the strip.
const (
	Inside Lane = iota
	Over
	Under
)

// Dim is a dimension between two points.
type Dim struct {
	A, B geom.Vec2
	Text string
	Lane Lane
}

// Detail enlarges a window of a strip.
type Detail struct {
	Letter, Caption string
	Strip           int
	Window          Window
	Notes           []Note
}

// Note names a place, or the distance from A to B.
type Note struct {
	A, B geom.Vec2
	Text string
}

// Sizes of a page, in pixels.
const (
	pageWide  = 1600
	pageEdge  = 28
	titleSize = 30.0
	textSize  = 21.0
	smallSize = 19.0
	laneHigh  = 34
	ladder    = 300 // room for the levels' text
	mostScale = 9.0 // pixels a mm of a strip
)

// Draw writes the drawing as a PNG.
func (d Drawing) Draw(w io.Writer) error {
	l := d.layout()
	p := newPage(pageWide, l.height)
	p.text(ink, titleSize, geom.Vec2{X: pageEdge, Y: 34}, 0, d.Title)
	views := make([]*view, len(d.Strips))
	for i, s := range d.Strips {
		views[i] = newView(p, pageEdge, l.strips[i], s.Window, l.scale)
		p.strip(s, views[i])
	}
	for i, t := range d.Details {
		p.mark(t, views[t.Strip])
		p.detail(t, d.Strips[t.Strip].Section, l.details.Add(image.Pt(i*l.details.Dx(), 0)))
	}
	p.key(d.fills(), l.height-32)
	return encodeDrawing(w, p.img)
}

// arrangement is where everything stands on the page.
type arrangement struct {
	scale   float64
	strips  []int // y of the top of each view
	details image.Rectangle
	height  int
}

const detailHigh = 380

func (d Drawing) layout() arrangement {
	wide := 1.0
	for _, s := range d.Strips {
		wide = max(wide, s.Window.Size().X)
	}
	l := arrangement{scale: min(mostScale, (pageWide-2*pageEdge-ladder)/wide)}
	y := 62
	for _, s := range d.Strips {
		y += 34 + laneHigh*s.lanes(Over)
		l.strips = append(l.strips, y)
		y += int(math.Ceil(s.Window.Size().Y*l.scale)) + laneHigh*s.lanes(Under) + 14
	}
	if n := len(d.Details); n > 0 {
		l.details = image.Rect(pageEdge, y, pageEdge+(pageWide-2*pageEdge)/n, y+detailHigh+44)
		y += detailHigh + 50
	}
	l.height = y + 60
	return l
}

func (s Strip) lanes(which Lane) (n int) {
	for _, d := range s.Dims {
		if d.Lane == which {
			n++
		}
	}
	return n
}

// fills are the materials of all strips, in the order they come.
func (d Drawing) fills() (out []Fill) {
	seen := map[string]bool{"": true}
	add := func(f Fill) {
		if !seen[f.Name] {
			seen[f.Name] = true
			out = append(out, f)
		}
	}
	for _, s := range d.Strips {
		for _, l := range s.Section.Layers {
			add(l.Fill)
		}
		for _, c := range s.Section.Cuts {
			add(c.Fill)
		}
	}
	return out
}

// strip draws a section with its levels and dimensions.
func (p *page) strip(s Strip, v *view) {
	top := float64(v.frame.Min.Y - laneHigh*s.lanes(Over))
	p.text(ink, textSize, geom.Vec2{X: pageEdge, Y: top - 18}, 0, s.Caption)
	v.draw(s.Section, 1.5)
	above, below := 0, 0
	for _, d := range s.Dims {
		switch d.Lane {
		case Over:
			above++
			p.across(d, v, float64(v.frame.Min.Y-laneHigh*above+18), 4)
		case Under:
			below++
			p.across(d, v, float64(v.frame.Max.Y+laneHigh*below-18), -4)
		default:
			p.inside(d, v)
		}
	}
	for _, t := range s.Tags {
		if p.width(textSize, t.Text) < t.Room*v.scale {
			p.text(ink, textSize, v.at(t.At), 0.5, t.Text)
		}
	}
	p.levels(s.Levels, v)
}

// inside draws a dimension on the body: the number on a level line, beside an
// upright one.
func (p *page) inside(d Dim, v *view) {
	v.gap(d.A, d.B)
	if math.Abs(d.B.X-d.A.X) > math.Abs(d.B.Y-d.A.Y) {
		p.label(smallSize, v.at(d.A.Lerp(d.B, 0.55)), 0.5, d.Text)
		return
	}
	p.label(smallSize, v.at(d.A.Lerp(d.B, 0.5)).Add(geom.Vec2{X: 10}), 0, d.Text)
}

// across draws a level dimension outside the strip, with lines that extend
// beyond it.
func (p *page) across(d Dim, v *view, y, over float64) {
	a, b := v.at(d.A), v.at(d.B)
	for _, q := range [2]geom.Vec2{a, b} {
		p.line(pale, 1, geom.Vec2{X: q.X, Y: q.Y + over}, geom.Vec2{X: q.X, Y: y - over*1.5})
	}
	a.Y, b.Y = y, y
	p.line(ink, 1.2, a, b)
	p.arrow(ink, a, b, 12)
	p.arrow(ink, b, a, 12)
	p.label(smallSize, a.Lerp(b, 0.5), 0.5, d.Text)
}

// levels writes the heights beside a strip, moved apart where they crowd.
func (p *page) levels(all []Level, v *view) {
	if len(all) == 0 {
		return
	}
	sorted := byY(all, func(l Level) float64 { return v.at(l.At).Y })
	var want, need []float64
	for _, l := range sorted {
		want, need = append(want, v.at(l.At).Y), append(need, 24)
	}
	x := float64(v.frame.Max.X)
	for i, y := range spread(want, need, float64(v.frame.Min.Y)-30, float64(v.frame.Max.Y)+30) {
		at := v.at(sorted[i].At)
		p.dashed(pale, 1, 3, 5, at, geom.Vec2{X: x, Y: at.Y})
		p.line(pale, 1, geom.Vec2{X: x, Y: at.Y}, geom.Vec2{X: x + 24, Y: y}, geom.Vec2{X: x + 34, Y: y})
		p.text(ink, smallSize, geom.Vec2{X: x + 40, Y: y}, 0, sorted[i].Text)
	}
}

// mark frames a detail's window in its strip.
func (p *page) mark(t Detail, v *view) {
	r := v.pixels(t.Window)
	p.outline(path{box2(float64(r.Min.X), float64(r.Min.Y), float64(r.Max.X), float64(r.Max.Y))}, paper, 5)
	p.outline(path{box2(float64(r.Min.X), float64(r.Min.Y), float64(r.Max.X), float64(r.Max.Y))}, ink, 1.8)
	p.label(textSize, geom.Vec2{X: float64(r.Max.X) - 12, Y: float64(r.Min.Y) - 16}, 0.5, t.Letter)
}

// detail draws an enlarged window with notes beside it.
func (p *page) detail(t Detail, s Section, r image.Rectangle) {
	size := t.Window.Size()
	scale := float64(detailHigh) / size.Y
	p.text(ink, textSize, geom.Vec2{X: float64(r.Min.X), Y: float64(r.Min.Y) + 16}, 0, t.Letter+": "+t.Caption)
	v := newView(p, r.Min.X, r.Min.Y+34, t.Window, scale)
	v.draw(s, 2)
	f := v.frame
	p.outline(path{box2(float64(f.Min.X), float64(f.Min.Y), float64(f.Max.X), float64(f.Max.Y))}, ink, 1.8)
	p.notes(t.Notes, v, float64(r.Max.X-14))
}

// notes leads a line from every note's place to its text, right of the view and
// left of edge. Places that the view does not show are left out.
func (p *page) notes(all []Note, v *view, edge float64) {
	all = slices.DeleteFunc(slices.Clone(all), func(n Note) bool { return !v.window.holds(n.A.Lerp(n.B, 0.5)) })
	if len(all) == 0 {
		return
	}
	const row = 22.0
	x := float64(v.frame.Max.X) + 20
	sorted := byY(all, func(n Note) float64 { return v.at(n.A.Lerp(n.B, 0.5)).Y })
	from, text := make([]geom.Vec2, len(sorted)), make([][]string, len(sorted))
	var want, need []float64
	for i, n := range sorted {
		from[i], text[i] = v.point(n), p.wrap(n.Text, smallSize, edge-x)
		want, need = append(want, from[i].Y), append(need, 8+row*float64(len(text[i])))
	}
	for i, y := range spread(want, need, float64(v.frame.Min.Y), float64(v.frame.Max.Y)) {
		lead := []geom.Vec2{from[i], {X: x - 14, Y: y}, {X: x - 6, Y: y}}
		p.line(paper, 3.6, lead...)
		p.line(ink, 1.2, lead...)
		p.rows(text[i], smallSize, geom.Vec2{X: x, Y: y})
	}
}

// point marks a note's place and returns where its line starts.
func (v *view) point(n Note) geom.Vec2 {
	if n.A != n.B {
		return v.gap(n.A, n.B)
	}
	at := v.at(n.A)
	v.page.fill(path{disc2(at, 5)}, paper)
	v.page.fill(path{disc2(at, 3.4)}, ink)
	return at
}

// key shows what each hatch stands for.
func (p *page) key(fills []Fill, y int) {
	x := pageEdge
	for _, f := range fills {
		sw := box2(float64(x), float64(y-16), float64(x+44), float64(y+16))
		p.hatch(p.mask(path{sw}), f)
		p.outline(path{sw}, ink, 1.2)
		p.text(ink, smallSize, geom.Vec2{X: float64(x + 52), Y: float64(y)}, 0, f.Name)
		x += 52 + int(p.width(smallSize, f.Name)) + 26
	}
}
