package proof

import (
	"fmt"
	"math"
	"testing"
)

// TestFlatsAreFlat: what lies across an axis keeps one coordinate to the last bit
// of the file. A facet of more than a speck that tilts by less than a fiftieth of a
// degree is no curve: over 10 mm it rises 3.5 um. Where a flat goes on in a curve, a
// vertex may still be held off it: that takes at most two thousandths of a printed
// part's flats, two hundredths of the insert's.
func TestFlatsAreFlat(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		for _, p := range m.Parts {
			share := 0.002
			switch p.Name {
			case "formed-insert": // as simulated: no drawn flats
				continue
			case "insert":
				share = 0.02
			}
			t.Run(p.Name, func(t *testing.T) { judgeFlats(t, p.Name, m.printed(t, p.Name), share) })
		}
	})
}

func judgeFlats(t *testing.T, name string, f []Tri, share float64) {
	t.Helper()
	const speck = 0.5 // mm²
	tilt := math.Cos(0.02 * deg)
	var all, tilted float64
	var bad []Fault
	for axis := range 3 {
		var flat, off float64
		for _, q := range f {
			switch {
			case q[0][axis] == q[1][axis] && q[1][axis] == q[2][axis]:
				flat += q.Area()
			case math.Abs(q.Normal()[axis]) > tilt && q.Area() > speck:
				off += q.Area()
				rise := math.Max(q[0][axis], math.Max(q[1][axis], q[2][axis])) - math.Min(q[0][axis], math.Min(q[1][axis], q[2][axis]))
				bad = append(bad, Fault{q.Mid(), rise, 0, fmt.Sprintf("a flat of %.1f mm² across %c rises", q.Area(), "xyz"[axis])})
			}
		}
		t.Logf("%s: %.0f mm² across %c exactly flat, %.1f not quite", name, flat, "xyz"[axis], off)
		all, tilted = all+flat, tilted+off
	}
	if !(tilted <= share*all) {
		blame(t, name, bad)
	}
}
