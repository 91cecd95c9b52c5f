package generate

import (
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
