package fit

import (
	"fmt"
	"math"
)

// Coupon is what is printed once per printer and material, and read without a
// screen. Slots, ribs and holes come in grades; the grade of a column is marked
// in hundredths of a millimetre. Sizes in mm.
type Coupon struct {
	First, Step float64 // least grade, and from one to the next
	Grades      int
	Gauge       float64 // width of the tongue, and of the ring's window
	Pin         float64 // what is tried in the holes: the shank of a 3 mm drill, h8 by ISO 235: 0 to -0.014
	Bar         float64 // length of the two measured sides
	Walls       int     // walls of 1, 2, ... beads
}

// StandardCoupon has grades from -0.10 to 0.50: faces up to 0.25 mm too far out,
// holes up to half a millimetre too small. Its bars are as long as a pocket calliper
// reaches: a small coupon cannot see a scale.
func StandardCoupon() Coupon {
	return Coupon{First: -0.10, Step: 0.05, Grades: 13, Gauge: 6, Pin: 3, Bar: 150, Walls: 6}
}

// Grade is the grade of column i: the slot is wider than the tongue by it on
// each side, the rib narrower than the window, the hole wider than the pin.
func (c Coupon) Grade(i int) float64 {
	return math.Round(100*(c.First+float64(i)*c.Step)) / 100
}

// Last is the greatest grade.
func (c Coupon) Last() float64 { return c.Grade(c.Grades - 1) }

// Reading is what a person read: the marks where the tongue first goes in with a
// push, where it first slides by itself, where the pin first goes in, and the
// lengths of the bars along x and y.
type Reading struct {
	Tight, Smooth, Hole float64
	Length              [2]float64
}

// Calibration is what a reading says of a printer: the sizes that the kit file
// calls offset, hole_offset, scale and tolerance, and how far each may be off.
type Calibration struct {
	Offset, Hole, Tolerance float64
	Scale                   [2]float64 // x, y
	OffsetOff, HoleOff      float64
}

// Calibrate turns a reading into the printer's numbers.
//
// A face grows by the offset o and lengths by the scale k, so the slot of grade
// g leaves g k - 2 o on each side of the tongue. The first that the tongue enters
// leaves between nothing and one step, half a step in the mean: o = k (g - step/2)/2.
// A bar comes out L = bar k + 2 o long, so that k = L/(bar + g - step/2). The same
// holds for the pin in its hole. A smooth fit needs more room than a tight one by
// the roughness of the two faces; the step that two readings may hide is added, so
// that the tolerance is never understated.
func (c Coupon) Calibrate(r Reading) (Calibration, error) {
	if err := c.plausible(r); err != nil {
		return Calibration{}, err
	}
	g := r.Tight - c.Step/2
	along := r.Length[0] / (c.Bar + g) // slots are graded along x
	out := Calibration{Offset: along * g / 2, OffsetOff: c.Step / 4}
	for i, l := range r.Length {
		out.Scale[i] = (l - 2*out.Offset) / c.Bar
	}
	k := (out.Scale[0] + out.Scale[1]) / 2
	out.Hole = c.Pin + c.Step/2 - (c.Pin+r.Hole)*k
	out.HoleOff = c.Step / 2
	out.Tolerance = (r.Smooth - r.Tight + c.Step) / 2
	return out, nil
}

// ReadingError is a reading that cannot be of this coupon.
type ReadingError struct {
	Name       string // tight, smooth, hole, length
	What, Hint string
}

func (e *ReadingError) Error() string { return e.Name + ": " + e.What }

// plausible refuses a reading from outside the coupon. The end of a row says
// only that the true value lies beyond it.
func (c Coupon) plausible(r Reading) error {
	for _, m := range []struct {
		name string
		v    float64
	}{{"tight", r.Tight}, {"smooth", r.Smooth}, {"hole", r.Hole}} {
		i := (m.v - c.First) / c.Step
		if !(i > -0.01 && i < float64(c.Grades)-0.99) {
			hint := fmt.Sprintf("marks go from %.2f to %.2f", c.First, c.Last())
			if math.Abs(m.v) >= 1 && math.Abs(m.v) <= 100 {
				hint += fmt.Sprintf("; the mark %g is %.2f mm", m.v, m.v/100)
			}
			return &ReadingError{m.name, fmt.Sprintf("%g is not on the coupon", m.v), hint}
		}
		if math.Abs(i-math.Round(i)) > 0.01 {
			return &ReadingError{m.name, fmt.Sprintf("%g is between two marks", m.v), fmt.Sprintf("marks are %.2f apart; take the first that fits", c.Step)}
		}
		if i < 0.01 && m.name != "smooth" {
			return &ReadingError{m.name, "the first of the row already fits, so the true size is beyond the row", "the printer lays too little filament: correct its flow, print the coupon again"}
		}
	}
	if !(r.Smooth >= r.Tight) {
		return &ReadingError{"smooth", fmt.Sprintf("%g slides where %g is still tight", r.Smooth, r.Tight), "tight is the first slot that the tongue enters, smooth a later one that it slides in"}
	}
	for _, l := range r.Length {
		if !(math.Abs(l/c.Bar-1) < 0.03) {
			return &ReadingError{"length", fmt.Sprintf("%g is no length of a bar of %g mm", l, c.Bar), "measure the whole side of the plate, x first and then y; a print is off by up to 3 %"}
		}
	}
	return nil
}
