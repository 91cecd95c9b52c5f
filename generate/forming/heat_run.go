package forming

import "math"

// RunSetup is a run of shots on a printed buck.
type RunSetup struct {
	Sheet  Substance
	Formed float64 // mm, of the sheet where it lies on the buck
	Hot    float64 // °C, of the sheet as it arrives
	Set    float64 // °C, mean of the sheet at which it may be taken off
	Print  Substance
	Solid  float64 // mm, solid skin of the buck
	Infill float64 // share of the inside behind it that is filled
	Soft   float64 // °C at which the skin gives
	Room   float64 // °C
	Shots  int
}

// Run is what the shots do to the buck's skin, one entry a shot.
type Run struct {
	Contact float64   // °C, of two thick bodies, as the first sheet arrives on a cool buck
	Pause   float64   // s between a sheet taken off and the next one laid on
	Skin    []float64 // °C, hottest skin
	Start   []float64 // °C, skin as the sheet arrives
	Hold    []float64 // s that the sheet stays on until it is set; +Inf: it does not set
}

// Peak is the hottest skin of the run, °C.
func (r Run) Peak() float64 {
	peak := math.Inf(-1)
	for _, t := range r.Skin {
		peak = max(peak, t)
	}
	return peak
}

// Longest is the longest hold of the run, s.
func (r Run) Longest() float64 {
	long := 0.0
	for _, t := range r.Hold {
		long = max(long, t)
	}
	return long
}

// The buck behind its skin.
const (
	coreDepth  = 15.0  // mm of infill that takes part; deeper changes the skin by less than 1 K over a run
	stillAirK  = 0.026 // W/(m K), air between the infill at 25 °C; CRC Handbook, from memory, confirm
	emissive   = 0.9   // of a printed face; from memory, confirm
	sheetParts = 14
	skinParts  = 20
	coreParts  = 10
	finest     = 0.02  // mm, layers at the face where sheet and buck meet
	longHold   = 300.0 // s after which a sheet that is not set is taken to stay soft
	firstStep  = 3e-4  // s, under the time that heat needs through the finest layer; later ones grow
	growth     = 1.25
	longStep   = 1.0 // s
)

// behind is the sparse inside of a print: walls of the infill run across the
// skin, so that plastic and air conduct side by side.
func (s RunSetup) behind() Substance {
	p := s.Print
	p.K = s.Infill*p.K + (1-s.Infill)*stillAirK
	p.Density *= max(s.Infill, 0.01)
	return p
}

// air is a face to the room: natural convection and radiation, which in this
// range of temperatures is as good as straight.
func (s RunSetup) air() face {
	return convective(stillAir+RadiantCoefficient(emissive, s.Soft, s.Room), s.Room)
}

// buckLayers is the buck from its skin inwards.
func (s RunSetup) buckLayers() []layer {
	return append(graded(s.Print, s.Solid, finest, skinParts), even(s.behind(), coreDepth, coreParts)...)
}

// sheetLayersOn is the sheet from its free face down to the buck.
func (s RunSetup) sheetLayersOn() []layer {
	down := graded(s.Sheet, s.Formed, finest, sheetParts)
	out := make([]layer, len(down))
	for i, l := range down {
		out[len(down)-1-i] = l
	}
	return out
}

// Run makes the shots with a pause, s, between them. The sheet meets the skin
// without a gap, which is the hottest case.
func (s RunSetup) Run(pause float64) Run { return s.run(pause, math.Inf(1)) }

// run makes the shots until the skin reaches enough, °C.
func (s RunSetup) run(pause, enough float64) Run {
	r := Run{Contact: Contact(s.Sheet, s.Hot, s.Print, s.Room), Pause: pause}
	buck := make([]float64, skinParts+coreParts)
	for i := range buck {
		buck[i] = s.Room
	}
	skin := s.Room
	for range s.Shots {
		r.Start = append(r.Start, skin)
		peak, hold := s.shot(buck)
		r.Skin, r.Hold = append(r.Skin, peak), append(r.Hold, hold)
		if peak >= enough {
			break
		}
		skin = s.rest(buck, pause)
	}
	return r
}

// shot lays a hot sheet on the buck until it is set, and leaves the buck as it
// then is.
func (s RunSetup) shot(buck []float64) (peak, hold float64) {
	b := newSlab(append(s.sheetLayersOn(), s.buckLayers()...), s.air(), tight, s.Hot)
	copy(b.t[1+sheetParts:], buck)
	b.t[len(b.t)-1] = buck[len(buck)-1]
	hold = math.Inf(1)
	for now, dt := 0.0, firstStep; now < longHold; dt = min(dt*growth, longStep) {
		was := b.mean(0, sheetParts)
		b.step(dt)
		mean := b.mean(0, sheetParts)
		peak = max(peak, b.faceBetween(sheetParts))
		if mean <= s.Set {
			hold = now + dt*(was-s.Set)/(was-mean)
			break
		}
		now += dt
	}
	copy(buck, b.t[1+sheetParts:])
	return peak, hold
}

// rest cools the bare buck in air and returns its skin's temperature.
func (s RunSetup) rest(buck []float64, pause float64) float64 {
	b := newSlab(s.buckLayers(), s.air(), tight, s.Room)
	copy(b.t[1:], buck)
	b.t[0], b.t[len(b.t)-1] = buck[0], buck[len(buck)-1]
	const steps = 30
	for range steps {
		if pause > 0 {
			b.step(pause / steps)
		}
	}
	copy(buck, b.t[1:len(b.t)-1])
	return b.t[0]
}

// LeastPause is the shortest pause, s, to 2 % or 1 s, that keeps the skin below
// Soft over all shots, and the run with it. It is +Inf when the first sheet on a
// cool buck is too much already, or an hour is not enough; the run is then that
// without one. It has no margin, because none has a source; say so wherever it is shown.
// Contact is taken as perfect and the sheet's heat as the caller gives it.
func (s RunSetup) LeastPause() (float64, Run) {
	const hour, fine, share = 3600.0, 1.0, 0.02 // s, s, of the pause
	cool := func(pause float64) (Run, bool) {
		r := s.run(pause, s.Soft)
		return r, r.Peak() < s.Soft
	}
	if r, ok := cool(0); ok {
		return 0, r
	}
	best, ok := cool(hour)
	if !ok {
		r := s.Run(0)
		r.Pause = math.Inf(1)
		return math.Inf(1), r
	}
	lo, hi := 0.0, hour
	for hi-lo > max(fine, share*hi) {
		mid := (lo + hi) / 2
		if r, ok := cool(mid); ok {
			hi, best = mid, r
		} else {
			lo = mid
		}
	}
	return hi, best
}
