package picture

import (
	"image/color"
	"math"
	"testing"
)

// Want: the primaries of sRGB in CIELAB, D65, 2 degrees, as Lindbloom's
// calculator and many handbooks of colour print them.
func TestLabOfThePrimaries(t *testing.T) {
	for _, tt := range []struct {
		rgb  color.RGBA
		want lab
	}{
		{color.RGBA{255, 0, 0, 255}, lab{53.24, 80.09, 67.20}},
		{color.RGBA{0, 255, 0, 255}, lab{87.73, -86.18, 83.18}},
		{color.RGBA{0, 0, 255, 255}, lab{32.30, 79.19, -107.86}},
		{color.RGBA{255, 255, 255, 255}, lab{100, 0, 0}},
		{color.RGBA{0, 0, 0, 255}, lab{0, 0, 0}},
	} {
		got := labOf(tt.rgb)
		if !(distance(got, tt.want) < 0.03) {
			t.Errorf("labOf(%v) = %.2f, want %.2f", tt.rgb, got, tt.want)
		}
		if back, ok := got.rgb(); back != tt.rgb || !ok {
			t.Errorf("%v comes back as %v, inside the screen's colours: %v", tt.rgb, back, ok)
		}
	}
}

func distance(a, b lab) float64 {
	return math.Sqrt((a.L-b.L)*(a.L-b.L) + (a.a-b.a)*(a.a-b.a) + (a.b-b.b)*(a.b-b.b))
}

// dichromats see what a person who lacks one kind of cone sees. Source: Viénot,
// Brettel and Mollon, Color Research and Application 24(4), 1999, for the cones'
// response and the first two; the third by the same construction, with white
// and the red of the screen kept; its numbers from memory, confirm.
var dichromats = map[string]func(l, m, s float64) (float64, float64, float64){
	"protanope":   func(l, m, s float64) (float64, float64, float64) { return 2.02344*m - 2.52581*s, m, s },
	"deuteranope": func(l, m, s float64) (float64, float64, float64) { return l, 0.494207*l + 1.24827*s, s },
	"tritanope":   func(l, m, s float64) (float64, float64, float64) { return l, m, -0.395913*l + 0.801109*m },
}

func seenBy(kind string, p color.RGBA) lab {
	r := toLinear(p)
	l := 17.8824*r[0] + 43.5161*r[1] + 4.11935*r[2]
	m := 3.45565*r[0] + 27.1554*r[1] + 3.86714*r[2]
	s := 0.0299566*r[0] + 0.184309*r[1] + 1.46709*r[2]
	l, m, s = dichromats[kind](l, m, s)
	c, _ := ofLinear([3]float64{
		0.0809444479*l - 0.130504409*m + 0.116721066*s,
		-0.0102485335*l + 0.0540193266*m - 0.113614708*s,
		-0.000365296938*l - 0.00412161469*m + 0.693511405*s,
	})
	return labOf(c)
}

// Order must survive a grey copy and every kind of dichromat, and no step may
// get lost: ten steps, each seen as a difference of at least 5. A difference of
// about 2.3 is just noticed. Source of that: Mahy, Van Eycken and Oosterlinck,
// Color Research and Application 19(2), 1994.
func TestScaleKeepsItsOrder(t *testing.T) {
	views := map[string]func(color.RGBA) lab{"grey": func(p color.RGBA) lab { return lab{L: labOf(p).L} }, "full": labOf}
	for kind := range dichromats {
		views[kind] = func(p color.RGBA) lab { return seenBy(kind, p) }
	}
	for name, see := range views {
		last := see(Scale(0))
		for i := 1; i <= 200; i++ {
			next := see(Scale(float64(i) / 200))
			if !(next.L >= last.L-0.15) { // eight bits round by that much
				t.Errorf("%s: lightness falls from %.2f to %.2f at step %d of 200", name, last.L, next.L, i)
			}
			last = next
		}
		for i := range 10 {
			a, b := see(Scale(float64(i)/10)), see(Scale(float64(i+1)/10))
			if d := distance(a, b); !(d > 5) {
				t.Errorf("%s: step %d of 10 is seen as %.1f", name, i+1, d)
			}
		}
	}
}

// Equal steps are equal differences, and every colour is one a screen shows.
func TestScaleIsEven(t *testing.T) {
	whole := distance(scaleDark, scaleLight)
	for i := range 20 {
		a, b := labOf(Scale(float64(i)/20)), labOf(Scale(float64(i+1)/20))
		if d := distance(a, b); math.Abs(d-whole/20) > 0.6 {
			t.Errorf("step %d of 20 is %.2f, want %.2f", i+1, d, whole/20)
		}
	}
	for _, c := range []lab{scaleDark, scaleLight} {
		if _, ok := c.rgb(); !ok {
			t.Errorf("%v is not a colour of a screen", c)
		}
	}
}

// labOf is the inverse of rgb.
func labOf(p color.RGBA) lab {
	r := toLinear(p)
	f := func(row int, a, b, c float64) float64 { return labForward((a*r[0] + b*r[1] + c*r[2]) / white[row]) }
	x := f(0, 0.4124564, 0.3575761, 0.1804375)
	y := f(1, 0.2126729, 0.7151522, 0.0721750)
	z := f(2, 0.0193339, 0.1191920, 0.9503041)
	return lab{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

func labForward(t float64) float64 {
	if t > labKnee*labKnee*labKnee {
		return math.Cbrt(t)
	}
	return t/(3*labKnee*labKnee) + 4.0/29
}

// toLinear undoes the coding of sRGB.
func toLinear(p color.RGBA) (out [3]float64) {
	for i, v := range [3]uint8{p.R, p.G, p.B} {
		if c := float64(v) / 255; c <= 0.04045 {
			out[i] = c / 12.92
		} else {
			out[i] = math.Pow((c+0.055)/1.055, 2.4)
		}
	}
	return out
}
