package forming

import "math"

// The closed forms of heating and contact. Temperatures are °C, lengths mm,
// heat flows W/m²; what is computed in kelvin or metres is so inside only.

// stefan is the Stefan-Boltzmann constant, W/(m² K⁴). Source: CODATA 2018.
const stefan = 5.670374419e-8

// kelvin is 0 °C. Source: BIPM, The International System of Units, 9th ed. 2019.
const kelvin = 273.15

// Substance is what heat flows through.
type Substance struct {
	K       float64 // W/(m K)
	Density float64 // kg/m³
	Cp      float64 // J/(kg K), the mean over the temperatures met
	Melting float64 // J/kg, 0 for a glassy one
	Melts   [2]float64
}

// Effusivity is sqrt(k rho c), W s^0.5/(m² K).
func (s Substance) Effusivity() float64 { return math.Sqrt(s.K * s.Density * s.Cp) }

// Contact is the temperature, °C, of the face at which two bodies meet, the
// mean of theirs weighed by their effusivities. It holds until the heat has
// crossed the thinner one: times well under thickness²/diffusivity.
// Source: Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, 2.9.
func Contact(a Substance, hot float64, b Substance, cold float64) float64 {
	ea, eb := a.Effusivity(), b.Effusivity()
	return (ea*hot + eb*cold) / (ea + eb)
}

// Exchange is the effective emissivity between two wide parallel faces.
// Source: Hottel, in McAdams, Heat Transmission, 3rd ed. 1954.
func Exchange(heater, sheet float64) float64 { return 1 / (1/heater + 1/sheet - 1) }

// fourth is the fourth power of a temperature in kelvin.
func fourth(celsius float64) float64 {
	t := celsius + kelvin
	return t * t * t * t
}

// Radiant is the net flux, W/m², from a hot to a cold face. Source: the law of
// Stefan and Boltzmann; Throne, Technology of Thermoforming, 1996, section 3.8.
func Radiant(emissivity, hot, cold float64) float64 {
	return emissivity * stefan * (fourth(hot) - fourth(cold))
}

// RadiantCoefficient is Radiant divided by the difference of temperature, W/(m² K).
func RadiantCoefficient(emissivity, hot, cold float64) float64 {
	a, b := hot+kelvin, cold+kelvin
	return emissivity * stefan * (a*a + b*b) * (a + b)
}

// LumpedTime is how long, s, a sheet without inner differences takes from one
// temperature to another under heaters on 1 or 2 sides, nothing lost: the
// integral of rho c t dT / (sides e sigma (Th⁴ - T⁴)). It is +Inf when the
// heater is no hotter than that.
func LumpedTime(s Substance, gauge float64, sides int, emissivity, heater, from, to float64) float64 {
	th := heater + kelvin
	g := func(t float64) float64 {
		x := (t + kelvin) / th
		return math.Atanh(x) + math.Atan(x)
	}
	if !(max(from, to) < heater) {
		return math.Inf(1)
	}
	stored := s.Density * s.Cp * gauge / 1000
	return stored / (float64(sides) * stefan * emissivity) * (g(to) - g(from)) / (2 * th * th * th)
}
