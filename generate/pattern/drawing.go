package pattern

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"buckwright/generate/geom"
)

// Layer says what a line of a drawing is for.
type Layer string

// The layers, in the order they are drawn. Only Cut is cut.
const (
	LayerStock Layer = "STOCK" // edge of the material
	LayerNote  Layer = "NOTE"  // words, scale bar, arrow
	LayerMark  Layer = "MARK"  // folds and outlines to align to
	LayerCut   Layer = "CUT"
)

// Layers lists them.
func Layers() []Layer { return []Layer{LayerStock, LayerNote, LayerMark, LayerCut} }

// Line is one line of a drawing; an open one ends at its last point.
type Line struct {
	Layer Layer
	Path  Path
	Open  bool
}

// Text is one line of words, from its lower left corner.
type Text struct {
	At     geom.Vec2
	Height float64
	Words  string
}

// Drawing is what a file shows, in mm, y up.
type Drawing struct {
	Title string
	Lines []Line
	Texts []Text
}

const (
	barLength  = 100.0 // mm, the scale bar
	tick       = 2.0   // mm, half a tick at its ends
	textHeight = 3.0   // mm, words that read at arm's length
	leading    = 4.6   // mm, from line to line
	blockGap   = 7.0   // mm, under what is cut
	blockWidth = 118.0 // mm, least width of the words under a flat
	blockMost  = 175.0 // mm, their most: they stay on the first page that a wide flat is printed over
	charWidth  = 0.56  // of its height, a mean letter of a plain face
)

// Bounds is the box around all lines of a drawing, words included as far as
// their width can be guessed.
func (d *Drawing) Bounds() (lo, hi geom.Vec2) {
	lo, hi = pt(math.Inf(1), math.Inf(1)), pt(math.Inf(-1), math.Inf(-1))
	take := func(a, b geom.Vec2) {
		lo, hi = pt(min(lo.X, a.X), min(lo.Y, a.Y)), pt(max(hi.X, b.X), max(hi.Y, b.Y))
	}
	for _, l := range d.Lines {
		take(l.Bounds())
	}
	for _, t := range d.Texts {
		take(t.At, t.At.Add(pt(float64(len([]rune(t.Words)))*t.Height*charWidth, t.Height)))
	}
	return lo, hi
}

// Bounds is the box around one line.
func (l Line) Bounds() (lo, hi geom.Vec2) {
	if !l.Open {
		return l.Path.Bounds()
	}
	p := Path{P: l.Path.P, B: slices.Clone(l.Path.B)}
	if p.B != nil {
		p.B[len(p.B)-1] = 0 // the closing side is not drawn
	}
	return p.Bounds()
}

// Draw is the drawing of one flat: what is cut, what is marked, and under it
// its name, material, count, grain and scale bar.
func Draw(f *Flat) Drawing {
	d := Drawing{Title: f.Name}
	d.add(f, 0, pt(0, 0))
	lo, hi := f.Bounds()
	d.block(pt(lo.X, lo.Y-blockGap), min(max(hi.X-lo.X, blockWidth), blockMost), f.words(), f.Material.Grain)
	return d
}

// add draws a flat turned and moved, without words.
func (d *Drawing) add(f *Flat, turn geom.Angle, by geom.Vec2) {
	for _, m := range f.Marks {
		d.Lines = append(d.Lines, Line{LayerMark, m.Path.Move(turn, by), m.Open})
	}
	for _, p := range f.Cut.paths() {
		d.Lines = append(d.Lines, Line{LayerCut, p.Move(turn, by), false})
	}
}

// words are the lines under a flat.
func (f *Flat) words() []string {
	count := "cut " + strconv.Itoa(f.Count)
	if f.Template {
		count = "template, print " + strconv.Itoa(f.Count)
	}
	of := f.Material.Title
	if f.Material.Thickness > 0 {
		of += ", " + short(f.Material.Thickness) + " mm"
	}
	out := []string{f.Name + ": " + f.Title, of + "; " + count + cutBy(f)}
	if s := f.Strain; s != nil {
		out = append(out, "strain when laid in: stretches "+percent(s.Stretch)+", gathers "+percent(s.Gather)+" at most, "+s.Where)
	}
	for _, m := range f.Marks {
		if m.Text != "" {
			out = append(out, "grey line: "+m.Text)
		}
	}
	return append(out, f.Notes...)
}

func cutBy(f *Flat) string {
	switch {
	case f.Template:
		return ""
	case f.Kerf == 0:
		return " with a " + f.Cutter + ", on the line"
	}
	return " with a " + f.Cutter + "; lines lie " + short(f.Kerf/2) + " mm in the waste for a kerf of " + short(f.Kerf)
}

func percent(v float64) string { return strconv.FormatFloat(v*100, 'f', 1, 64) + " %" }

// short writes a length as a maker reads it.
func short(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// block puts words, arrow and scale bar under a point, width wide. It repeats
// no line: the notes of a flat are few.
func (d *Drawing) block(at geom.Vec2, width float64, words []string, grain string) {
	y := at.Y
	for _, w := range words {
		for _, line := range wrap(w, int(width/(textHeight*charWidth))) {
			y -= leading
			d.Texts = append(d.Texts, Text{pt(at.X, y), textHeight, line})
		}
	}
	y -= leading + 2
	d.bar(pt(at.X, y))
	d.Texts = append(d.Texts, Text{pt(at.X, y-leading-tick), textHeight, "this bar is 100 mm: print at 100 %, not fitted to the page"})
	if grain != "" {
		y -= 2*leading + tick + 2
		d.arrow(pt(at.X, y), 30)
		d.Texts = append(d.Texts, Text{pt(at.X+34, y-textHeight/2), textHeight, grain + " direction of the material"})
	}
}

func (d *Drawing) note(pts ...geom.Vec2) {
	d.Lines = append(d.Lines, Line{LayerNote, Straight(pts...), true})
}

func (d *Drawing) bar(at geom.Vec2) {
	end := at.Add(pt(barLength, 0))
	d.note(at, end)
	for i := range 11 {
		h := tick
		if i%10 != 0 {
			h /= 2
		}
		p := at.Add(pt(float64(i)*barLength/10, 0))
		d.note(p.Add(pt(0, -h)), p.Add(pt(0, h)))
	}
}

// arrow is a two-headed arrow along x.
func (d *Drawing) arrow(at geom.Vec2, l float64) {
	end := at.Add(pt(l, 0))
	d.note(at, end)
	d.note(at.Add(pt(3, 1.5)), at, at.Add(pt(3, -1.5)))
	d.note(end.Add(pt(-3, 1.5)), end, end.Add(pt(-3, -1.5)))
}

// wrap breaks words into lines of at most n letters where there are spaces.
func wrap(s string, n int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		if line != "" && len([]rune(line))+1+len([]rune(w)) > n {
			out, line = append(out, line), ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// Laid is one flat on a piece of stock.
type Laid struct {
	Flat *Flat
	Turn geom.Angle // a quarter turn, or none
	Low  geom.Vec2  // its lower left corner
}

// High is its upper right corner.
func (l Laid) High() geom.Vec2 {
	lo, hi := l.Flat.Cut.Move(l.Turn, geom.Vec2{}).Outer.Bounds()
	return l.Low.Add(hi.Sub(lo))
}

// DrawSheet is the drawing of a piece of stock with flats laid on it: used is
// the share of its area that they are, take the corner of it that is enough.
func DrawSheet(name string, m Material, s Stock, laid []Laid, used float64, take geom.Vec2) Drawing {
	d := Drawing{Title: name}
	d.Lines = append(d.Lines, Line{LayerStock, Rect(pt(s.X/2, s.Y/2), s.X/2, s.Y/2, 0), false})
	for _, l := range laid {
		lo, _ := l.Flat.Cut.Move(l.Turn, geom.Vec2{}).Outer.Bounds()
		by := l.Low.Sub(lo)
		d.add(l.Flat, l.Turn, by)
		a, b := l.Flat.Cut.Move(l.Turn, by).Outer.Bounds()
		h := min(textHeight, (b.X-a.X)/(charWidth*float64(len([]rune(l.Flat.Name))+2)))
		d.Texts = append(d.Texts, Text{a.Lerp(b, 0.5).Sub(pt(float64(len([]rune(l.Flat.Name)))*h*charWidth/2, h/2)), h, l.Flat.Name})
	}
	words := []string{name + ": " + m.Title + ", piece of " + short(s.X) + " x " + short(s.Y) + " mm, " + percent(used) + " of it used",
		"a corner of " + short(take.X) + " x " + short(take.Y) + " mm is enough"}
	d.block(pt(0, -blockGap), max(s.X, blockWidth), words, m.Grain)
	return d
}
