package fit

import (
	"math"

	"buckwright/params"
)

// Gravity is the standard acceleration of free fall, m/s². Source: CGPM 1901.
const Gravity = 9.80665

// polymer is the density of the solid rubber between the cells of a neoprene
// sponge, kg/m³; from memory, confirm.
const polymer = 1230

// Law is a liner's pressure against its compression e, a share of the free
// thickness.
//
//   - Felt: p = P ((1-e)^-3 - 1). Source: van Wyk, J. Text. Inst. 37 T285, 1946.
//   - Sponge with closed cells: p = P s(e)/s(0.25), s(e) = e/(1-e-R), R the
//     share of the volume that is solid: the gas term of Gibson and Ashby,
//     Cellular Solids, put through the stress at 25 % that ASTM D1056 classes
//     it by. The full law with atmospheric gas is stiffer than the soft classes
//     are, because their cells leak.
//   - Sponge with open cells (R = 0 in the law's own terms): p = P e/0.25, a
//     straight line through the same stress. Common practice, no source.
type Law struct {
	Felt  bool
	Open  bool
	P     float64 // kPa: van Wyk's P0, or the sponge's stress at 25 %
	Solid float64 // R, closed cells only
}

// shape is the law without its constant.
func (l Law) shape(e float64) float64 {
	switch {
	case l.Felt:
		return math.Pow(1-e, -3) - 1
	case l.Open:
		return e / 0.25
	}
	return e / (1 - e - l.Solid) * (0.75 - l.Solid) / 0.25
}

// Limit is the compression at which the liner is solid.
func (l Law) Limit() float64 {
	if l.Felt || l.Open {
		return 1
	}
	return 1 - l.Solid
}

// packed is the share of Limit that a reported force goes up to: a liner
// squeezed farther by its tolerances would break what holds it.
const packed = 0.95

// Working is e, but no nearer to solid than packed.
func (l Law) Working(e float64) float64 { return min(e, packed*l.Limit()) }

// Pressure is the stress, kPa, at compression e: none when the liner does not
// touch, infinite when it is solid.
func (l Law) Pressure(e float64) float64 {
	switch {
	case e <= 0:
		return 0
	case e >= l.Limit():
		return math.Inf(1)
	}
	return l.P * l.shape(e)
}

// Compression is the inverse of Pressure, for p in kPa.
func (l Law) Compression(p float64) float64 {
	q := p / l.P
	switch {
	case l.Felt:
		return 1 - 1/math.Cbrt(1+q)
	case l.Open:
		return min(0.25*q, 1)
	}
	a := q * 0.25 / (0.75 - l.Solid)
	return a * (1 - l.Solid) / (1 + a)
}

// Energy is the work, kPa, that a unit volume of free liner takes up to
// compression e: the integral of Pressure.
func (l Law) Energy(e float64) float64 {
	switch {
	case e <= 0:
		return 0
	case e >= l.Limit():
		return math.Inf(1)
	case l.Felt:
		return l.P * (0.5/((1-e)*(1-e)) - 0.5 - e)
	case l.Open:
		return l.P * e * e / 0.5
	}
	a := 1 - l.Solid
	return l.P * (0.75 - l.Solid) / 0.25 * (a*math.Log(a/(a-e)) - e)
}

// through is the law with its constant set so that it passes through one
// point: pressure p, kPa, at compression e.
func (l Law) through(p, e float64) Law {
	l.P = p / l.shape(e)
	return l
}

// sound reports whether a table row gives a law that can be used.
func (l Law) sound() bool { return l.P > 0 && l.Solid >= 0 && l.Solid <= mostSolid }

// mostSolid is the densest sponge that the law of gas in its cells fits.
const mostSolid = 0.6

// linerLaws are the laws of a table row: as expected, softest and stiffest.
func linerLaws(row params.Liner) (mid, soft, stiff Law) {
	l := Law{Felt: row.Kind == params.Felt, Open: row.OpenCell, Solid: row.Density / polymer}
	if l.Felt {
		l.P, l.Solid = row.P0, 0
		return l, l, l
	}
	mid, soft, stiff = l, l, l
	mid.P, soft.P, stiff.P = row.Stress25.Mid(), row.Stress25.Least, row.Stress25.Most
	return mid, soft, stiff
}

// tested replaces a law's constant by one weight test: mass in grams on area
// in mm² left thickness of free. False when the test says nothing.
func (l Law) tested(w params.WeightTest, free float64) (Law, bool) {
	e := 1 - w.Thickness/free
	if !(e > 0 && e < l.Limit()) || !(w.Mass > 0 && w.Area > 0) {
		return l, false
	}
	return l.through(Weight(w.Mass)/w.Area*1000, e), true
}

// Weight is the weight, N, of a mass in grams.
func Weight(mass float64) float64 { return mass / 1000 * Gravity }
