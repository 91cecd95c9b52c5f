package picture

import (
	"image/color"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"buckwright/generate/geom"
)

// typeface is Go Regular, a BSD-licensed face by Bigelow and Holmes with Latin,
// Greek and Cyrillic. What it lacks is drawn as an empty box. Letters are
// outlines in ems, y downwards, the origin on the base line.
type typeface struct {
	font   *sfnt.Font
	buf    sfnt.Buffer
	glyphs map[rune]glyph
}

type glyph struct {
	index   sfnt.GlyphIndex
	advance float64
	outline path
}

// newTypeface parses the face, which is part of the program: it cannot fail
// unless the program is broken.
func newTypeface() *typeface {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		panic("picture: the built-in typeface: " + err.Error())
	}
	return &typeface{font: f, glyphs: map[rune]glyph{}}
}

func (f *typeface) em() fixed.Int26_6 { return fixed.Int26_6(f.font.UnitsPerEm()) }

func (f *typeface) glyph(r rune) glyph {
	if g, ok := f.glyphs[r]; ok {
		return g
	}
	var g glyph
	em := float64(f.em())
	g.index, _ = f.font.GlyphIndex(&f.buf, r) // 0, the empty box, when there is none
	if a, err := f.font.GlyphAdvance(&f.buf, g.index, f.em(), font.HintingNone); err == nil {
		g.advance = float64(a) / em
	}
	if segments, err := f.font.LoadGlyph(&f.buf, g.index, f.em(), nil); err == nil {
		g.outline = flatten(segments, 1/em)
	}
	f.glyphs[r] = g
	return g
}

// chords is how many straight lines stand for one curve of a letter: at text
// sizes they are off by less than a tenth of a pixel.
const chords = 4

func flatten(segments sfnt.Segments, scale float64) path {
	at := func(p fixed.Point26_6) geom.Vec2 {
		return geom.Vec2{X: float64(p.X) * scale, Y: float64(p.Y) * scale}
	}
	var out path
	for _, s := range segments {
		last := len(out) - 1
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			out = append(out, []geom.Vec2{at(s.Args[0])})
		case sfnt.SegmentOpLineTo:
			out[last] = append(out[last], at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			a, b, c := out[last][len(out[last])-1], at(s.Args[0]), at(s.Args[1])
			for k := 1; k <= chords; k++ {
				t := float64(k) / chords
				out[last] = append(out[last], a.Lerp(b, t).Lerp(b.Lerp(c, t), t))
			}
		case sfnt.SegmentOpCubeTo: // not in this face
			out[last] = append(out[last], at(s.Args[2]))
		}
	}
	return out
}

// lay sets a line of text and returns its outlines and its length, in ems.
func (f *typeface) lay(s string) (path, float64) {
	var out path
	var x float64
	var last sfnt.GlyphIndex
	for i, r := range s {
		g := f.glyph(r)
		if i > 0 {
			if k, err := f.font.Kern(&f.buf, last, g.index, f.em(), font.HintingNone); err == nil {
				x += float64(k) / float64(f.em())
			}
		}
		for _, loop := range g.outline {
			moved := make([]geom.Vec2, len(loop))
			for k, v := range loop {
				moved[k] = geom.Vec2{X: v.X + x, Y: v.Y}
			}
			out = append(out, moved)
		}
		x += g.advance
		last = g.index
	}
	return out, x
}

// width is the length of a line of text, in pixels.
func (p *page) width(size float64, s string) float64 {
	_, w := p.face.lay(s)
	return w * size
}

// capHeight is the height of a capital, in ems.
const capHeight = 0.72

// text writes a line. at is the middle of its capitals' height; along is 0 when
// the line starts there, 0.5 when its middle is there, 1 when it ends there.
func (p *page) text(c color.Color, size float64, at geom.Vec2, along float64, s string) {
	out, w := p.face.lay(s)
	origin := geom.Vec2{X: at.X - along*w*size, Y: at.Y + size*capHeight/2}
	for _, loop := range out {
		for k, v := range loop {
			loop[k] = origin.Add(v.Scale(size))
		}
	}
	p.fill(out, c)
}

// label is text on a patch of paper, so that it reads over anything.
func (p *page) label(size float64, at geom.Vec2, along float64, s string) {
	w := p.width(size, s)
	x := at.X - along*w
	p.fill(path{box2(x-4, at.Y-size*0.62, x+w+4, at.Y+size*0.62)}, color.RGBA{245, 245, 245, 245})
	p.text(ink, size, at, along, s)
}

// wrap breaks text at its plain spaces into lines no longer than room, where words allow.
func (p *page) wrap(s string, size, room float64) (lines []string) {
	line := ""
	for _, word := range strings.Split(s, " ") {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && p.width(size, longer) > room {
			lines, longer = append(lines, line), word
		}
		line = longer
	}
	return append(lines, line)
}
