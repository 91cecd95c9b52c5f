package forming

import "math"

// Air through small holes. Pressures are kPa absolute, lengths mm, volumes mm³,
// times s; what is computed in SI units is so inside only.

// Air as an ideal gas. Source: NACA Report 1135, 1953; US Standard Atmosphere, 1976.
const (
	gamma      = 1.4
	gasAir     = 287.05  // J/(kg K)
	Atmosphere = 101.325 // kPa
)

// critical is the ratio of pressures at which a hole is choked,
// (2/(gamma+1))^(gamma/(gamma-1)).
const critical = 0.5282817877171742

// MassFlux is the mass of air, kg/(m² s), through a hole without loss from a
// pressure up to a pressure down, kPa, at a temperature in °C. Below the
// critical ratio it no longer depends on down.
// Source: NACA Report 1135, 1953, isentropic flow.
func MassFlux(up, down, temp float64) float64 {
	if !(up > down) {
		return 0
	}
	r := max(down/up, critical)
	rt := gasAir * (temp + kelvin)
	flow := 2 * gamma / ((gamma - 1) * rt) * (math.Pow(r, 2/gamma) - math.Pow(r, (gamma+1)/gamma))
	return up * 1000 * math.Sqrt(max(flow, 0))
}

// speed is the volume that a choked hole without loss takes, m³/s for a m²,
// measured upstream.
func speed(temp float64) float64 {
	rt := gasAir * (temp + kelvin)
	return math.Sqrt(gamma*rt) * math.Pow(2/(gamma+1), (gamma+1)/(2*(gamma-1)))
}

// The loss of a hole.
const (
	sharpHole = 0.62 // discharge coefficient of a short one; handbooks, ISO 5167 in the limit of a small hole
	entryExit = 1.5  // velocity heads lost at a sharp entry and at the exit; common practice, no source
	wallLoss  = 0.03 // friction factor; common practice, no source
)

// Discharge is the share of the ideal flow that a hole of a diameter and a
// length lets through: the least of a sharp short hole's and of a pipe's,
// 1/sqrt(1.5 + f L/d). Common practice, no source.
func Discharge(diameter, length float64) float64 {
	return min(sharpHole, pipe(diameter, length))
}

func pipe(diameter, length float64) float64 {
	return 1 / math.Sqrt(entryExit+wallLoss*length/diameter)
}

// Hole is the area, mm², of n holes of a diameter.
func Hole(n int, diameter float64) float64 {
	return float64(n) * math.Pi / 4 * diameter * diameter
}

// Isothermal is the time, s, in which a volume falls from one pressure to
// another through an effective area (discharge x area) into a space that stays
// at pressure down; its walls keep the air at temp. +Inf if it never does.
//
// While choked t = tau ln(p_a/p_b), tau = V/(Cd A K). After that
// t = V/(Cd A) sqrt(7/(R T)) (F(c_a) - F(c_b)), c = sqrt((p/down)^(2/7) - 1),
// F(c) = c + 2c³/3 + c⁵/5. Derived here from MassFlux for gamma = 7/5.
func Isothermal(volume, area, from, to, down, temp float64) float64 {
	if !(to >= down) {
		return math.Inf(1)
	}
	if !(from > to) {
		return 0
	}
	metres := volume / area / 1000
	change := down / critical
	t := 0.0
	if from > change {
		t = metres / speed(temp) * math.Log(from/max(to, change))
	}
	if to < change {
		c := func(p float64) float64 { return math.Sqrt(math.Pow(p/down, 2.0/7) - 1) }
		f := func(c float64) float64 { return c + 2*c*c*c/3 + c*c*c*c*c/5 }
		t += metres * math.Sqrt(7/(gasAir*(temp+kelvin))) * (f(c(min(from, change))) - f(c(to)))
	}
	return t
}

// Shared is the pressure, kPa, after a tank is opened to a cavity, both at
// one temperature. Volumes in one unit.
func Shared(tank, tankPressure, cavity, cavityPressure float64) float64 {
	return (tank*tankPressure + cavity*cavityPressure) / (tank + cavity)
}
