package fit

import "math"

// Tongue is a spring tongue of constant section, held at its root, that a bead
// pushes aside. Sizes in mm, the modulus in MPa.
//
// Source: the end-loaded cantilever (Roark, Formulas for Stress and Strain),
// with the force along the joint from the ramp and friction as in Bonenberger,
// The First Snap-Fit Handbook, 2000; from memory, confirm.
type Tongue struct {
	Width, Thick, Length float64
	Modulus              float64
	Friction             float64
	Ramp                 float64 // tan of the angle between the bead's flank and the joint's direction
}

// Strain is the largest strain, a share, when the end moves aside by y.
func (t Tongue) Strain(y float64) float64 { return 1.5 * t.Thick * y / (t.Length * t.Length) }

// Aside is the force, N, that moves the end aside by y.
func (t Tongue) Aside(y float64) float64 {
	return t.Width * t.Thick * t.Thick / 6 * t.Modulus * t.Strain(y) / t.Length
}

// Along is the force, N, along the joint that pulls the tongue over the bead.
// It is infinite when friction locks the flank.
func (t Tongue) Along(y float64) float64 {
	lock := 1 - t.Friction*t.Ramp
	if lock <= 0 {
		return math.Inf(1)
	}
	return t.Aside(y) * (t.Friction + t.Ramp) / lock
}
