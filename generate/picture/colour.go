package picture

import (
	"image/color"
	"math"
)

// lab is a colour in CIELAB under D65. L is lightness, 0 black to 100 white; it
// depends on luminance alone, so it is what a grey copy keeps.
//
// Source: CIE 15:2004, Colorimetry, 8.2.1; sRGB by IEC 61966-2-1:1999, its
// matrix with seven digits.
type lab struct{ L, a, b float64 }

// white is D65 seen by the 2 degree observer. Source: CIE 15:2004, table T.3.
var white = [3]float64{0.95047, 1, 1.08883}

// rgb is the colour as a screen shows it; false when it shows none like it.
func (c lab) rgb() (color.RGBA, bool) {
	y := (c.L + 16) / 116
	f := [3]float64{y + c.a/500, y, y - c.b/200}
	var t [3]float64
	for i, v := range f {
		t[i] = white[i] * labInverse(v)
	}
	return ofLinear([3]float64{
		3.2404542*t[0] - 1.5371385*t[1] - 0.4985314*t[2],
		-0.9692660*t[0] + 1.8760108*t[1] + 0.0415560*t[2],
		0.0556434*t[0] - 0.2040259*t[1] + 1.0572252*t[2],
	})
}

// labKnee: below its cube CIELAB takes a straight line instead of the cube root.
const labKnee = 6.0 / 29

func labInverse(f float64) float64 {
	if f > labKnee {
		return f * f * f
	}
	return 3 * labKnee * labKnee * (f - 4.0/29)
}

// ofLinear codes light as sRGB; false when a channel had to be cut off by more
// than rounding does.
func ofLinear(l [3]float64) (color.RGBA, bool) {
	var v [3]uint8
	inside := true
	for i, c := range l {
		if c <= 0.0031308 {
			c *= 12.92
		} else {
			c = 1.055*math.Pow(c, 1/2.4) - 0.055
		}
		inside = inside && c > -0.003 && c < 1.003
		v[i] = uint8(255*min(max(c, 0), 1) + 0.5)
	}
	return color.RGBA{v[0], v[1], v[2], 255}, inside
}

// The ends of the scale. Dark is a red brown, light a pale blue: red against
// blue is what every kind of colour-blind reader still tells apart.
var (
	scaleDark  = lab{24, 36, 26}
	scaleLight = lab{93, -9, -11}
)

// Scale is the colour of a value between 0 and 1: a straight line through
// CIELAB, so that equal steps of the value are equal steps to the eye (the
// colour difference of CIE 1976) and equal steps of grey.
func Scale(t float64) color.RGBA {
	t = min(max(t, 0), 1)
	mix := func(a, b float64) float64 { return a + (b-a)*t }
	c, _ := lab{
		mix(scaleDark.L, scaleLight.L), mix(scaleDark.a, scaleLight.a), mix(scaleDark.b, scaleLight.b),
	}.rgb()
	return c
}
