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
		speed = Speed{min(f, speed.Outer), min(f, speed.Inner), min(f, speed.Solid), min(f, speed.Top), min(f, speed.Sparse), min(f, speed.Bridge), f, speed.Travel}
	}
	s := t.s.spacing()
	beads := l.walls / s
	outer := min(beads, l.outline)
	side := l.outline / float64(corners*max(1, l.loops))
	t.line(outer, speed.Outer, side)
	t.line(beads-outer, speed.Inner, side)
	t.jumps(l, speed.Travel)
	area := l.full + l.top + l.bridge + l.sparse
	if area > 0 {
		// The mean chord of a region is pi times its area over its outline (Crofton).
		chord := math.Pi * area / max(l.inside, 1e-9)
		t.line(l.full/s, speed.Solid, chord)
		t.line(l.top/s, speed.Top, chord)
		t.line(l.bridge/(t.s.Nozzle+0.05), speed.Bridge, chord)
		t.line(l.sparse*t.s.Infill/s, speed.Sparse, chord)
	}
}

// line adds a length of path in straight lines of a mean length, each begun and
// ended at a corner's speed.
func (t *clock) line(length, v, mean float64) {
	if length <= 0 {
		return
	}
	t.seconds += length / v
	t.seconds += length / mean * t.ramps(mean, v)
}

// ramps is the time that speeding up and slowing down adds to one line.
func (t *clock) ramps(length, v float64) float64 {
	c, a := min(cornering, v), t.s.Acceleration
	reach := math.Sqrt(c*c + a*length) // the speed that the line's middle allows
	if reach < v {
		return 2*(reach-c)/a - length/v
	}
	return (v - c) * (v - c) / (a * v)
}

// jumps adds the moves between loops, and to the infill within each: as far
// apart as so many places spread over the layer are.
func (t *clock) jumps(l layer, v float64) {
	n := float64(2 * l.loops)
	far := math.Sqrt(l.extent / n)
	t.seconds += n * (far/v + t.ramps(far, v) + pullBack)
}
