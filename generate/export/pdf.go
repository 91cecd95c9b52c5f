package export

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"buckwright/generate/geom"
	"buckwright/generate/pattern"
)

// The page fits A4 and Letter as it is: the narrower of the widths, the lower
// of the heights (ISO 216; ANSI Y14.1). Lengths in mm.
const (
	pageShort   = 210.0
	pageLong    = 279.4
	pageEdge    = 10.0 // that desktop printers leave white
	pageFoot    = 14.0 // with the scale bar and the page's name
	pageOverlap = 8.0  // of neighbouring pages
)

// WritePDF writes a drawing at true size on pages that fit A4 and Letter, as
// many as it takes, each with a scale bar of 100 mm of its own. Neighbouring
// pages overlap and share crosses to lay on each other. Words are set in
// Helvetica; letters outside Latin-1 become question marks.
// Source: ISO 32000-1:2008, 7.5 and 8.5.
func WritePDF(w io.Writer, d pattern.Drawing) error {
	lo, hi := d.Bounds()
	t := tiles(hi.Sub(lo))
	var pages [][]byte
	for row := range t.rows {
		for col := range t.cols {
			pages = append(pages, t.page(d, lo, hi, col, row))
		}
	}
	return writePages(w, d.Title, t.w, t.h, pages)
}

// tiling is how a drawing is spread over pages of w x h.
type tiling struct {
	w, h       float64
	cols, rows int
}

// tiles finds whether upright or lying pages are fewer.
func tiles(size geom.Vec2) tiling {
	at := func(w, h float64) tiling {
		t := tiling{w: w, h: h}
		in := t.inside()
		count := func(size, in float64) int {
			if size <= in {
				return 1
			}
			return int(math.Ceil((size - pageOverlap) / (in - pageOverlap)))
		}
		t.cols, t.rows = count(size.X, in.X), count(size.Y, in.Y)
		return t
	}
	up, lying := at(pageShort, pageLong), at(pageLong, pageShort)
	if lying.cols*lying.rows < up.cols*up.rows {
		return lying
	}
	return up
}

// inside is the part of a page that shows the drawing.
func (t tiling) inside() geom.Vec2 {
	return geom.Vec2{X: t.w - 2*pageEdge, Y: t.h - 2*pageEdge - pageFoot}
}

// page is the content of one page; rows count from the top.
func (t tiling) page(d pattern.Drawing, lo, hi geom.Vec2, col, row int) []byte {
	in := t.inside()
	from := geom.Vec2{X: lo.X + float64(col)*(in.X-pageOverlap), Y: hi.Y - in.Y - float64(row)*(in.Y-pageOverlap)}
	p := pdf{off: geom.Vec2{X: pageEdge, Y: pageEdge + pageFoot}.Sub(from)}
	fmt.Fprintf(&p.b, "q %s %s %s %s re W n\n", points72(pageEdge), points72(pageEdge+pageFoot), points72(in.X), points72(in.Y))
	for _, layer := range pattern.Layers() {
		p.b.WriteString(pdfStyle(layer))
		for _, l := range d.Lines {
			if l.Layer == layer {
				p.line(l)
			}
		}
	}
	for _, w := range d.Texts {
		p.text(w)
	}
	p.crosses(t, lo, hi)
	p.b.WriteString("Q\n")
	p.foot(d.Title, t, col, row)
	return p.b.Bytes()
}

// pdf is the content of a page; off moves the drawing onto it.
type pdf struct {
	b   bytes.Buffer
	off geom.Vec2
}

// points72 is a length in PDF units of 1/72 in.
func points72(v float64) string { return mm(v * 72 / 25.4) }

func (p *pdf) to(q geom.Vec2) string {
	q = q.Add(p.off)
	return points72(q.X) + " " + points72(q.Y)
}

func pdfStyle(l pattern.Layer) string {
	switch l {
	case pattern.LayerCut:
		return "0 G 0.6 w [] 0 d\n"
	case pattern.LayerMark:
		return "0.55 G 0.6 w [7 4] 0 d\n"
	}
	return "0.4 G 0.6 w [] 0 d\n"
}

func (p *pdf) line(l pattern.Line) {
	n := len(l.Path.P)
	fmt.Fprintf(&p.b, "%s m\n", p.to(l.Path.P[0]))
	for i := range n {
		if l.Open && i == n-1 {
			break
		}
		if c, arc := l.Path.Arc(i); arc {
			p.arc(c)
		} else if l.Open || i < n-1 {
			fmt.Fprintf(&p.b, "%s l\n", p.to(l.Path.P[(i+1)%n]))
		}
	}
	if l.Open {
		p.b.WriteString("S\n")
	} else {
		p.b.WriteString("s\n")
	}
}

// arc draws cubics of at most an eighth turn: 4/3 tan(sweep/4) of the radius
// along the tangents, off the circle by less than 1e-6 of the radius.
func (p *pdf) arc(c pattern.Arc) {
	n := math.Ceil(math.Abs(c.Sweep) / (math.Pi / 4))
	k := 4.0 / 3 * math.Tan(c.Sweep/n/4)
	for i := range int(n) {
		a, b := c.At(float64(i)/n), c.At(float64(i+1)/n)
		va, vb := a.Sub(c.Center), b.Sub(c.Center)
		ca := a.Add(geom.Vec2{X: -va.Y, Y: va.X}.Scale(k))
		cb := b.Sub(geom.Vec2{X: -vb.Y, Y: vb.X}.Scale(k))
		fmt.Fprintf(&p.b, "%s %s %s c\n", p.to(ca), p.to(cb), p.to(b))
	}
}

func (p *pdf) text(t pattern.Text) {
	fmt.Fprintf(&p.b, "BT 0.2 g /F1 %s Tf %s Td (%s) Tj ET\n", points72(t.Height), p.to(t.At), latin1(t.Words))
}

// crosses mark the middle of the overlaps, so that pages can be laid together.
func (p *pdf) crosses(t tiling, lo, hi geom.Vec2) {
	in := t.inside()
	p.b.WriteString("0.4 G 0.4 w [] 0 d\n")
	for row := range t.rows + 1 {
		for col := range t.cols + 1 {
			if t.cols*t.rows == 1 {
				return
			}
			at := geom.Vec2{X: lo.X + float64(col)*(in.X-pageOverlap) + pageOverlap/2, Y: hi.Y - float64(row)*(in.Y-pageOverlap) - pageOverlap/2}
			for _, arm := range []geom.Vec2{{X: 3}, {Y: 3}} {
				fmt.Fprintf(&p.b, "%s m %s l S\n", p.to(at.Sub(arm)), p.to(at.Add(arm)))
			}
		}
	}
}

// foot draws the page's own scale bar and says which page it is.
func (p *pdf) foot(title string, t tiling, col, row int) {
	p.off = geom.Vec2{}
	y := pageEdge + 3.0
	seg := func(a, b geom.Vec2) { fmt.Fprintf(&p.b, "%s m %s l S\n", p.to(a), p.to(b)) }
	p.b.WriteString("0 G 0.6 w [] 0 d\n")
	seg(geom.Vec2{X: pageEdge, Y: y}, geom.Vec2{X: pageEdge + 100, Y: y})
	for _, x := range []float64{0, 100} {
		seg(geom.Vec2{X: pageEdge + x, Y: y - 2}, geom.Vec2{X: pageEdge + x, Y: y + 2})
	}
	words := title
	if n := t.cols * t.rows; n > 1 {
		words = fmt.Sprintf("%s, page %d of %d (row %d of %d, column %d of %d): lay the crosses on each other", title, row*t.cols+col+1, n, row+1, t.rows, col+1, t.cols)
	}
	p.text(pattern.Text{At: geom.Vec2{X: pageEdge, Y: y + 4}, Height: 2.8, Words: words})
	p.text(pattern.Text{At: geom.Vec2{X: pageEdge + 103, Y: y - 1}, Height: 2.8, Words: "100 mm: print at 100 %, not fitted"})
}

// latin1 is a string as PDF holds it in its Windows-1252 encoding.
func latin1(s string) string {
	var b strings.Builder
	for _, c := range s {
		switch {
		case c == '(' || c == ')' || c == '\\':
			b.WriteByte('\\')
			b.WriteRune(c)
		case c >= ' ' && c < 127:
			b.WriteRune(c)
		case c >= 0xA0 && c <= 0xFF:
			fmt.Fprintf(&b, "\\%03o", c)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}

// writePages writes the file round the contents of its pages: no date, no
// identifier, so that equal drawings have equal bytes.
func writePages(w io.Writer, title string, width, height float64, pages [][]byte) error {
	var b bytes.Buffer
	var at []int
	object := func(body string) {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", len(at), body)
	}
	b.WriteString("%PDF-1.4\n%\xe2\xe3\xcf\xd3\n")
	var kids []string
	for i := range pages {
		kids = append(kids, fmt.Sprintf("%d 0 R", 5+2*i))
	}
	object("<< /Type /Catalog /Pages 2 0 R >>")
	object(fmt.Sprintf("<< /Type /Pages /Count %d /Kids [%s] >>", len(pages), strings.Join(kids, " ")))
	object("<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>")
	object("<< /Title (" + latin1(title) + ") >>")
	for _, p := range pages {
		object(fmt.Sprintf("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %s %s] /Resources << /Font << /F1 3 0 R >> >> /Contents %d 0 R >>",
			points72(width), points72(height), len(at)+2))
		object(fmt.Sprintf("<< /Length %d >>\nstream\n%s\nendstream", len(p), p))
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, o := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root 1 0 R /Info 4 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, start)
	_, err := w.Write(b.Bytes())
	return err
}
