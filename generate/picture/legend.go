package picture

import (
	"image/color"
	"math"
	"strconv"

	"buckwright/generate/geom"
)

// Steps are the bands of a scale of values: Count of them, Step wide, from Lo.
type Steps struct {
	Lo, Step float64
	Count    int
	DarkHigh bool // the dark end of the scale is the high one
}

// Round is steps over lo to hi with round numbers between them, most at the
// most: 1, 2 or 5 times a power of ten wide. What passes the last one by a
// twentieth of a step is left to it.
func Round(lo, hi float64, most int) Steps {
	if !(hi-lo > 1e-9) || math.IsInf(hi-lo, 0) {
		hi = lo + 1e-3
	}
	step := math.Pow(10, math.Floor(math.Log10((hi-lo)/float64(most))))
	for _, k := range [4]float64{1, 2, 5, 10} {
		from := math.Floor(lo/(k*step)+1e-9) * k * step
		if n := int(math.Ceil((hi-from)/(k*step) - 0.05)); n <= most {
			return Steps{Lo: from, Step: k * step, Count: max(n, 1)}
		}
	}
	return Steps{Lo: math.Floor(lo/(20*step)) * 20 * step, Step: 20 * step, Count: most}
}

// Share is where a value lies between the first step's start and the last one's end.
func (s Steps) Share(v float64) float64 { return (v - s.Lo) / (s.Step * float64(s.Count)) }

// bands are the colours of the steps, the lowest first.
func bands(s Steps) []color.RGBA {
	out := make([]color.RGBA, max(s.Count, 1))
	for i := range out {
		t := (float64(i) + 0.5) / float64(len(out))
		if s.DarkHigh {
			t = 1 - t
		}
		out[i] = Scale(t)
	}
	return out
}

// text is the number at the start of step i.
func (s Steps) text(i int) string {
	digits := max(0, -int(math.Floor(math.Log10(s.Step)+1e-9)))
	return strconv.FormatFloat(s.Lo+float64(i)*s.Step, 'f', digits, 64)
}

// Legend tells what the colours of a map stand for.
type Legend struct {
	Title   string // with the unit
	Steps   Steps
	Missing string // what hatching stands for; none if empty
}

const (
	legendWide = 150
	swatch     = 34.0
)

// legend draws the scale with its numbers, the lowest at the foot.
func (p *page) legend(l Legend, at geom.Vec2, high float64) {
	title := p.wrap(l.Title, smallSize, legendWide-10)
	head := 24 * float64(len(title))
	p.rows(title, smallSize, geom.Vec2{X: at.X, Y: at.Y + head/2 - 8})
	step := min(swatch, (high-head-80)/float64(l.Steps.Count))
	y := at.Y + head + 10 + step*float64(l.Steps.Count)
	for i, c := range bands(l.Steps) {
		top := y - step*float64(i+1)
		box := path{box2(at.X, top, at.X+40, top+step)}
		p.fill(box, c)
		p.outline(box, ink, 1)
	}
	for i := range l.Steps.Count + 1 {
		p.text(ink, smallSize, geom.Vec2{X: at.X + 50, Y: y - step*float64(i)}, 0, l.Steps.text(i))
	}
	if l.Missing == "" {
		return
	}
	box := path{box2(at.X, y+24, at.X+40, y+24+step)}
	for py := int(y + 24); py < int(y+24+step); py++ {
		for px := int(at.X); px < int(at.X)+40; px++ {
			p.blend(px, py, band(math.NaN(), nil, px, py), 1)
		}
	}
	p.outline(box, ink, 1)
	p.rows(p.wrap(l.Missing, smallSize, legendWide-60), smallSize, geom.Vec2{X: at.X + 50, Y: y + 24 + step/2})
}
