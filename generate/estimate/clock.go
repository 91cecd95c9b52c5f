package estimate

import "math"

// Common practice of motion controllers and slicing programs, no source.
const (
	cornering = 10.0 // mm/s that a head turns a corner with
	corners   = 5    // times that a loop slows down: its four corners and its seam
	pullBack  = 0.1  // s to pull filament back and prime it again, 2 mm at 40 mm/s each
)

// clock adds up times.
type clock struct {
	s       Settings
	seconds float64
}

// layer adds one layer. The first is printed at its own speed.
func (t *clock) layer(i int, l layer) {
	speed := t.s.Speed
	if i == 0 {
		f := speed.First
		speed = Speed{min(f, speed.Outer), min(f, speed.Inner), min(f, speed.Full), min(f, speed.Top), min(f, speed.Infill), min(f, speed.Bridge), f, speed.Travel}
	}
	s := t.s.spacing()
	beads := l.walls / s
	outer := min(beads, l.outline)
	side := l.outline / float64(corners*max(1, l.loops))
	t.lines(outer, speed.Outer, side, 0)
	t.lines(beads-outer, speed.Inner, side, 0)
	t.jumps(l, speed.Travel)
	area := l.full + l.top + l.bridge + l.sparse
	if area <= 0 || l.inside <= 0 {
		return
	}
	// The mean chord of a region is pi times its area over its outline (Crofton).
	chord := math.Pi * area / l.inside
	t.lines(l.full/s, speed.Full, chord, s)
	t.lines(l.top/s, speed.Top, chord, s)
	t.lines(l.bridge/(t.s.Nozzle+0.05), speed.Bridge, chord, t.s.Nozzle+0.05)
	if l.sparse > 0 && t.s.Infill > 0 {
		t.lines(l.sparse*t.s.Infill/s, speed.Infill, chord, 2*s/t.s.Infill)
	}
}

// lines adds a length of path in straight lines of a mean length, joined by
// links to the next line; each is begun and ended at a corner's speed.
func (t *clock) lines(length, v, mean, link float64) {
	if length > 0 {
		t.seconds += length / (mean + link) * (t.move(mean, v) + t.move(link, v))
	}
}

// move is the time of one straight move.
func (t *clock) move(length, v float64) float64 {
	if length <= 0 {
		return 0
	}
	c, a := min(cornering, v), t.s.Acceleration
	peak := math.Sqrt(c*c + a*length) // the speed that half the length allows
	if peak < v {
		return 2 * (peak - c) / a
	}
	return length/v + (v-c)*(v-c)/(a*v)
}

// jumps adds the moves between loops, and to the infill within each: as far
// apart as so many places spread over the layer are.
func (t *clock) jumps(l layer, v float64) {
	if l.loops < 1 {
		return
	}
	n := float64(2 * l.loops)
	t.seconds += n * (t.move(math.Sqrt(l.extent/n), v) + pullBack)
}
