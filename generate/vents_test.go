package generate

import (
	"fmt"
	"math"
	"testing"

	"buckwright/generate/geom"
)

// However narrow bores are and however close vents must be, planning them ends, every bore
// runs into a channel, and ribs are left between bores where the pitch allows.
func TestBoresReachChannels(t *testing.T) {
	for _, bore := range []float64{0.8, 1.3, 2, 4, 7} {
		for _, pitch := range []float64{0, 3, 6, 12, 25} {
			l := screwed(t, geom.Vec2{X: 34, Y: 23}).Layout
			l.Dims.Buck.Bore, l.Dims.Print.Width = bore, 0.45
			if pitch == 0 {
				pitch = l.ClosestVents()
			}
			l.PlanVents(nil, pitch)
			if most := 200 + 4*68*46/(pitch*pitch); len(l.Vents) == 0 || float64(len(l.Vents)) > most {
				t.Errorf("bore %g, pitch %g: %d vents", bore, pitch, len(l.Vents))
			}
			gap := l.Dims.Buck.ChannelGap
			for i, v := range l.Vents {
				at := v.At.XY().Sub(l.Center)
				off := math.Abs(at.Y - gap*math.Round(at.Y/gap))
				for _, share := range []float64{-0.5, 0, 0.5} {
					off = min(off, math.Abs(at.X-share*l.Half.X))
				}
				if !(off < (bore+l.Dims.Buck.Channel)/2) {
					t.Errorf("bore %g, pitch %g: the vent at %.2f is %.2f mm off the nearest channel", bore, pitch, v.At, off)
				}
				for _, w := range l.Vents[:i] {
					if rib := v.At.Dist(w.At) - bore; pitch >= l.ClosestVents() && !(rib >= 2*0.45) {
						t.Errorf("bore %g, pitch %g: %.2f mm are left between two bores", bore, pitch, rib)
					}
				}
			}
		}
	}
}

// Wherever the kit pins a vent, the place that is told in its stead serves: pinned there,
// as it is written, it is neither shut nor leaves land too thin to print.
func TestBetterPinsServe(t *testing.T) {
	l := screwed(t, geom.Vec2{X: 34, Y: 23}).Layout
	shut, thin, moved := 0, 0, 0
	for _, bore := range []float64{0.8, 2, 4} {
		l.Dims.Buck.Bore, l.Dims.Print.Width = bore, 0.45
		for x := -20.0; x <= 20; x += 3.7 {
			for y := -12.0; y <= 12; y += 1.3 {
				l.Dims.Buck.Pin = []geom.Vec2{{X: x, Y: y}}
				if stray := l.PlanVents(nil, 25); len(stray) > 0 {
					t.Fatalf("no pocket lies at %g, %g", x, y)
				}
				pin := l.Pins[0]
				if pin.Shut {
					shut++
				}
				if pin.Thin {
					thin++
				}
				if pin.Better == pin.At {
					continue
				}
				moved++
				at := fmt.Sprintf("%.2f %.2f", pin.Better.X, pin.Better.Y) // as it is told
				to := &l.Dims.Buck.Pin[0]
				if _, err := fmt.Sscan(at, &to.X, &to.Y); err != nil {
					t.Fatal(err)
				}
				if l.PlanVents(nil, 25); l.Pins[0].Shut || l.Pins[0].Thin || to.Sub(pin.At).Len() > 2.06 {
					t.Errorf("bore %g: %v in the place of %v is %+v", bore, *to, pin.At, l.Pins[0])
				}
			}
		}
	}
	t.Logf("%d shut, %d thin, %d moved", shut, thin, moved)
	if shut < 50 || thin < 50 || moved < 100 {
		t.Error("hardly any pin was put to the test")
	}
}
