package fit

import (
	"errors"
	"math"
	"testing"

	"buckwright/params"
)

// reading is what a person reads of a printer whose faces are fat by o, holes
// wide by h, lengths by k, faces rough by t: the first mark of each row that fits.
func reading(c Coupon, o, h, k, t float64) Reading {
	first := func(need float64) float64 { return c.Step * math.Ceil(need/c.Step-1e-9) }
	bar := c.Bar*k + 2*o
	return Reading{
		Tight: first(2 * o / k), Smooth: first((2*o + 2*t) / k), Hole: first((c.Pin-h)/k - c.Pin),
		Length: [2]float64{bar, bar},
	}
}

// A worked case: 0.08 fat closes the slots by 0.16, so 0.20 is the first that
// the tongue enters; a pin of 3 enters the hole drawn 3.25, which comes out 3.04
// less 0.5 %.
func TestCalibrateByHand(t *testing.T) {
	c := StandardCoupon()
	r := reading(c, 0.08, -0.2, 0.995, 0.05)
	if want := (Reading{0.20, 0.30, 0.25, [2]float64{149.41, 149.41}}); math.Abs(r.Tight-want.Tight)+math.Abs(r.Smooth-want.Smooth)+
		math.Abs(r.Hole-want.Hole)+math.Abs(r.Length[0]-want.Length[0]) > 1e-9 {
		t.Fatalf("read %+v, want %+v", r, want)
	}
	got, err := c.Calibrate(r)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "offset", got.Offset, 0.0870543, 1e-6) // 0.0875 k
	near(t, "scale", got.Scale[0], 149.41/150.175, 1e-12)
	near(t, "hole", got.Hole, 3.025-3.25*got.Scale[0], 1e-12)
	near(t, "tolerance", got.Tolerance, 0.075, 1e-12) // (0.30 - 0.20 + 0.05)/2
}

// The lid of a kit that is given the calibration slips, as it is really printed,
// with the clearance that was wanted, to within the doubt about two faces.
func TestCalibratedLidSlipsAsWanted(t *testing.T) {
	c := StandardCoupon()
	for o := -0.04; o < 0.2; o += 0.011 {
		const k, rough = 0.995, 0.05
		cal, err := c.Calibrate(reading(c, o, -0.2, k, rough))
		if err != nil {
			t.Fatal(err)
		}
		d := derive(t, func(kit *params.Kit) {
			p := &kit.Printer
			p.Offset, p.Hole, p.Tolerance, p.Scale = cal.Offset, cal.Hole, &cal.Tolerance, [3]float64{cal.Scale[0], cal.Scale[1], 1}
		})
		printed := d.Lid.Slip*d.Print.Scale.X*k - 2*o
		near(t, "slip as printed", printed, row(t, d, "slip.side").Nominal, 2*cal.OffsetOff+1e-3)
		length := 240 * d.Print.Scale.X * k
		near(t, "length of 240 as printed", length, 240, 240*2*cal.OffsetOff/c.Bar+1e-6)
		if cal.Tolerance < rough {
			t.Errorf("offset %.3f: tolerance %.4f is told, faces are rough by %g", o, cal.Tolerance, rough)
		}
	}
}

func TestReadingsThatCannotBe(t *testing.T) {
	good := Reading{0.1, 0.2, 0.15, [2]float64{149.4, 149.4}}
	for name, change := range map[string]func(r *Reading){
		"tight":  func(r *Reading) { r.Tight = math.NaN() },
		"smooth": func(r *Reading) { r.Smooth = 0.05 },
		"hole":   func(r *Reading) { r.Hole = 3.15 },
		"length": func(r *Reading) { r.Length[1] = math.Inf(1) },
	} {
		r := good
		change(&r)
		_, err := StandardCoupon().Calibrate(r)
		var wrong *ReadingError
		if !errors.As(err, &wrong) || wrong.Name != name || wrong.Hint == "" {
			t.Errorf("%+v: %v, want a complaint about %s with a hint", r, err, name)
		}
	}
}
