package solid

import (
	"strings"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Marks are numbers that are read without a screen: digits made of bars, cut
// into a face that looks up, so that they print as plain grooves.
const (
	markDeep   = 0.6 // mm, two layers of a usual height
	markStroke = 0.9 // mm, two extrusions: a groove that a nozzle leaves open
)

// bars of a digit, from the top, clockwise, the middle one last.
const (
	barTop = 1 << iota
	barUpRight
	barLowRight
	barLow
	barLowLeft
	barUpLeft
	barMiddle
)

func digitBars(c rune) int {
	switch c {
	case '0':
		return barTop | barUpRight | barLowRight | barLow | barLowLeft | barUpLeft
	case '2':
		return barTop | barUpRight | barMiddle | barLowLeft | barLow
	case '3':
		return barTop | barUpRight | barMiddle | barLowRight | barLow
	case '4':
		return barUpLeft | barMiddle | barUpRight | barLowRight
	case '5':
		return barTop | barUpLeft | barMiddle | barLowRight | barLow
	case '6':
		return barTop | barUpLeft | barMiddle | barLowRight | barLow | barLowLeft
	case '7':
		return barTop | barUpRight | barLowRight
	case '8':
		return barTop | barUpRight | barLowRight | barLow | barLowLeft | barUpLeft | barMiddle
	case '9':
		return barTop | barUpRight | barLowRight | barLow | barUpLeft | barMiddle
	}
	return 0
}

// digits is the plan of a number made of 0-9, - and ., h high, its middle at
// the origin. It panics on any other character.
func digits(text string, h float64) sdf.Region {
	var parts []sdf.Region
	x := 0.0
	for _, c := range text {
		w := glyphWidth(c, h)
		parts = append(parts, glyph(c, x, w, h)...)
		x += w + markStroke
	}
	wide := x - markStroke
	return sdf.Place2(sdf.Union2(parts...), geom.Vec2{X: -wide / 2, Y: -h / 2}, 0)
}

func glyphWidth(c rune, h float64) float64 {
	switch c {
	case '.', '1':
		return markStroke
	case '-':
		return 0.4 * h
	}
	return 0.58 * h
}

// glyph is the bars of one character whose lower left corner is at x.
func glyph(c rune, x, w, h float64) []sdf.Region {
	const s = markStroke
	up := (h + s) / 2 // height of the upper edge of the middle bar
	switch c {
	case '.':
		return []sdf.Region{bar(x, 0, s, s)}
	case '-':
		return []sdf.Region{bar(x, up-s, w, s)}
	case '1':
		return []sdf.Region{bar(x, 0, s, h)}
	}
	all := []struct {
		bit  int
		plan sdf.Region
	}{
		{barTop, bar(x, h-s, w, s)}, {barUpRight, bar(x+w-s, up-s, s, h-up+s)}, {barLowRight, bar(x+w-s, 0, s, up)},
		{barLow, bar(x, 0, w, s)}, {barLowLeft, bar(x, 0, s, up)}, {barUpLeft, bar(x, up-s, s, h-up+s)}, {barMiddle, bar(x, up-s, w, s)},
	}
	bits := digitBars(c)
	if bits == 0 {
		panic("solid: no mark for " + strings.ToUpper(string(c)))
	}
	var out []sdf.Region
	for _, b := range all {
		if bits&b.bit != 0 {
			out = append(out, b.plan)
		}
	}
	return out
}

// bar is a rectangle from its lower left corner.
func bar(x, y, w, h float64) sdf.Region {
	return sdf.Place2(sdf.Rect(w/2, h/2, 0), geom.Vec2{X: x + w/2, Y: y + h/2}, 0)
}

// mark cuts a number into the face at height z that looks up; at is its middle
// and turn the way it reads.
func mark(text string, h float64, at geom.Vec2, turn geom.Angle, z float64) sdf.Solid {
	return sdf.Prism(sdf.Place2(digits(text, h), at, turn), z-markDeep, z+1)
}
