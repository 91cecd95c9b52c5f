package solid

import (
	"testing"

	"buckwright/generate/geom"
)

// TestDigitsAgainstSevenSegmentCodes: the usual codes of seven-segment displays,
// bit 0 the top bar and then clockwise, bit 6 the middle one, as data sheets of
// display decoders print them (0 to 9: 3F 06 5B 4F 66 6D 7D 07 7F 6F). The 1
// stands alone in the middle and is left out.
func TestDigitsAgainstSevenSegmentCodes(t *testing.T) {
	codes := []int{0x3F, 0x06, 0x5B, 0x4F, 0x66, 0x6D, 0x7D, 0x07, 0x7F, 0x6F}
	const h = 10.0
	w := glyphWidth('0', h)
	const s = markStroke
	at := []geom.Vec2{ // middles of the bars
		{X: 0, Y: h/2 - s/2}, {X: w/2 - s/2, Y: h / 4}, {X: w/2 - s/2, Y: -h / 4}, {X: 0, Y: s/2 - h/2},
		{X: s/2 - w/2, Y: -h / 4}, {X: s/2 - w/2, Y: h / 4}, {X: 0, Y: 0},
	}
	for d, code := range codes {
		if d == 1 {
			continue
		}
		g := digits(string(rune('0'+d)), h)
		for i, p := range at {
			if got, want := g.Dist(p) < 0, code>>i&1 == 1; got != want {
				t.Errorf("%d: bar %d is %v, want %v", d, i, got, want)
			}
		}
		for _, p := range []geom.Vec2{{X: 0, Y: h / 4}, {X: 0, Y: -h / 4}, {X: w, Y: 0}} { // the holes and beside it
			if g.Dist(p) < 0 {
				t.Errorf("%d is filled at %v", d, p)
			}
		}
	}
	for text, middle := range map[string]bool{"1": true, "-": true, "11": false} {
		if got := digits(text, h).Dist(geom.Vec2{}) < 0; got != middle {
			t.Errorf("%q at its middle: %v", text, got)
		}
	}
}
