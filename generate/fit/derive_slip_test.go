package fit

import (
	"math"
	"testing"

	"buckwright/params"
)

// With no least gap the RSS allowance is three standard deviations: a jam in
// one direction has the normal table's .00135, in either of two .0027. A gap
// that is .5 in the mean is wider half the time, in either direction 3/4.
func TestChancesOfJamAndRattle(t *testing.T) {
	d := derive(t, func(k *params.Kit) { k.Shell.Slip.Least = 0 })
	near(t, "jam", row(t, d, "slip.jam").Nominal, .0027, 5e-6)
	d = derive(t, func(k *params.Kit) { k.Shell.Slip.Least = .5 - .15*math.Sqrt2 })
	near(t, "rattle", row(t, d, "slip.rattle").Nominal, .75, 1e-9)
}

// A notch on an item's left makes the insert longer by what it reaches out; a
// notch on the right of an item that ends farther in does not.
func TestPlanGrowsWithNotches(t *testing.T) {
	long := func(change func(k *params.Kit)) float64 { return derive(t, change).Insert.Plan[0] }
	plain := long(asIs)
	left := params.Notch{Side: params.Left, Width: 30, Out: 12}
	near(t, "left of the logger", long(func(k *params.Kit) { k.Items[0].Notch = append(k.Items[0].Notch, left) }), plain+12, 1e-9)
	right := params.Notch{Side: params.Right, Width: 30, Out: 12}
	near(t, "right of the logger", long(func(k *params.Kit) { k.Items[0].Notch = append(k.Items[0].Notch, right) }), plain, 1e-9)
	near(t, "right of the lead", long(func(k *params.Kit) { k.Items[1].Notch = append(k.Items[1].Notch, right) }), plain+12, 1e-9)
}

// A quarter turn swaps the logger's sides: it then reaches 32 to the left, and
// 59 with a notch to the back.
func TestPlanOfATurnedItem(t *testing.T) {
	d := derive(t, func(k *params.Kit) { k.Items[0].Turn = 90; k.Former.Area = [2]float64{300, 300} })
	tan3 := math.Tan(3 * math.Pi / 180)
	near(t, "length", d.Insert.Plan[0], 33+32+12+72+23+2*(1.8+14)+(19+22)*tan3, 1e-9)
	near(t, "width", d.Insert.Plan[1], 2*(59+1.8+14+19*tan3), 1e-9)
}

// The sheet is turned so that its long side lies along the insert's.
func TestSheetLiesAlongTheInsert(t *testing.T) {
	d := derive(t, asIs)
	if d.Former.Area != [2]float64{304.8, 228.6} {
		t.Errorf("the sheet lies as %v", d.Former.Area)
	}
}

// The kit's own numbers for the liner replace the table's.
func TestKitOverridesTheLiner(t *testing.T) {
	d := derive(t, func(k *params.Kit) {
		k.Liner.Tolerance = ptr(.05)
		k.Liner.Test = &params.WeightTest{Mass: 500, Area: 2500, Thickness: 1.9}
		k.LidLiner.Test = &params.WeightTest{Mass: 500, Area: 2500, Thickness: 3}
		k.Sheet.Shrink = &params.Span{Least: .01, Most: .02}
	})
	near(t, "P0", row(t, d, "liner.law").Nominal, 11.790, .001)
	near(t, "Tf", row(t, d, "liner.thickness").Most, 2.05, 1e-12)
	near(t, "p25", row(t, d, "lid_liner.law").Most, 1.96133, 1e-9)
	near(t, "pad", d.Items[1].PadArea, 3*.06*9.80665/1.96133*1000, 1e-6)
	near(t, "shrink", d.Shrink.Nominal, .015, 1e-12)
}
