package main

import (
	"errors"
	"strings"

	"buckwright/generate/fit"
	"buckwright/params"
)

// readings are what was read off the fit coupon, as typed.
type readings struct{ tight, smooth, hole, length string }

// point is the hint for a comma where a decimal point belongs.
const point = "--length 149.40,149.45: a comma stands between two lengths, decimals have a point"

// reading is what the text says, in mm.
func (t readings) reading() (fit.Reading, error) {
	var r fit.Reading
	for _, m := range []struct {
		name, text string
		to         *float64
	}{{"tight", t.tight, &r.Tight}, {"smooth", t.smooth, &r.Smooth}, {"hole", t.hole, &r.Hole}} {
		var err error
		if *m.to, err = millimetres(m.name, m.text); err != nil {
			return r, err
		}
	}
	lengths := strings.Split(t.length, ",")
	if len(lengths) > len(r.Length) {
		return r, usage(point, "one or two lengths are expected, x and y; %d are given", len(lengths))
	}
	for i := range r.Length {
		var err error
		if r.Length[i], err = millimetres("length", lengths[min(i, len(lengths)-1)]); err != nil {
			return r, err
		}
	}
	return r, nil
}

// millimetres reads the length that a flag was given.
func millimetres(flag, text string) (float64, error) {
	mm, err := params.Length(text)
	var wrong *params.ValueError
	if errors.As(err, &wrong) {
		return 0, usage(wrong.Hint, "--%s: %s", flag, wrong.What)
	}
	return mm, err
}

// decimal looks at a refused reading again: where two lengths cannot be, and one
// with the comma for its decimal point can, that one was probably meant.
func (t readings) decimal(refused error) error {
	x, y, two := strings.Cut(t.length, ",")
	if !two {
		return refused
	}
	t.length = x + "." + y
	r, err := t.reading()
	if err != nil {
		return refused
	}
	if _, err := fit.StandardCoupon().Calibrate(r); err != nil {
		return refused
	}
	return usage("write --length "+t.length, "--length: %s,%s are two lengths, and %s was probably meant", x, y, t.length)
}
