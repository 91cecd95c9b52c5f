package forming

import "math"

// Cavity is the air under the sheet that one group of vents lets out.
type Cavity struct {
	Volume   float64 // mm³, as the sheet seals
	Beside   float64 // mm³, other air that goes to the same tank or pump meanwhile
	Holes    int
	Diameter float64 // mm, of the narrow part
	Land     float64 // mm, its length
	Tank     float64 // litres, 0: none
	Pump     float64 // litres of free air a minute, 0: not known
	Vacuum   float64 // kPa below the atmosphere that the former reaches
	Temp     float64 // °C of the air
}

// Evacuation is how the air leaves.
type Evacuation struct {
	Time  float64 // s until the sheet feels Felt of the vacuum; +Inf: it never does
	Ends  float64 // kPa absolute that tank and cavity end at, without the pump
	By    string  // what limits it: vents, tank, pump
	Pumps bool    // the pump's size was known and is in Time
}

// felt is the share of the former's vacuum at which the sheet counts as drawn.
// This program's own choice.
const felt = 0.9

// tiny is the share of the air's volume below which a tank is only a hose.
const tiny = 0.02

// What limits an evacuation.
const (
	ByVents = "vents"
	ByTank  = "tank"
	ByPump  = "pump"
)

// low is the former's own absolute pressure, kPa.
func (c Cavity) low() float64 { return max(Atmosphere-c.Vacuum, 0.01) }

// target is the pressure in the cavity at which the sheet counts as drawn.
func (c Cavity) target() float64 { return Atmosphere - felt*c.Vacuum }

// area is the effective area of the vents, mm².
func (c Cavity) area() float64 {
	return Discharge(c.Diameter, c.Land) * Hole(c.Holes, c.Diameter)
}

// Evacuate finds how long the air takes. The cavity keeps its volume and its
// temperature, which is the slower case: a sheet that follows pushes the air
// out before it. With neither tank nor pump known the former is taken to hold
// its vacuum behind the vents.
func (c Cavity) Evacuate() Evacuation {
	e := Evacuation{Ends: c.low(), By: ByVents, Pumps: c.Pump > 0}
	if c.Tank > 0 {
		e.Ends = Shared(c.Tank*1e6, c.low(), c.Volume+c.Beside, Atmosphere)
	}
	switch {
	case !(c.Volume > 0 && c.Vacuum > 0):
		return e
	case !(c.area() > 0):
		e.Time = math.Inf(1)
		return e
	case c.Tank == 0 && c.Pump == 0:
		e.Time = Isothermal(c.Volume, c.area(), Atmosphere, c.target(), c.low(), c.Temp)
		return e
	}
	alone := Isothermal(c.Volume, c.area(), Atmosphere, c.target(), c.low(), c.Temp)
	if c.Tank < tiny*(c.Volume+c.Beside)/1e6 {
		if e.Time = c.pumped(); e.Time > 1.5*alone {
			e.By = ByPump
		}
		return e
	}
	if e.Time = c.drained(); e.Time > 1.5*alone {
		e.By = ByTank
	}
	return e
}

// share is all the air that goes the same way over this cavity's.
func (c Cavity) share() float64 { return 1 + c.Beside/c.Volume }

// leaves is how fast the cavity's pressure p falls towards q, kPa/s.
func (c Cavity) leaves(p, q float64) float64 {
	return MassFlux(p, q, c.Temp) * c.area() / c.Volume * gasAir * (c.Temp + kelvin)
}

// sweep is the pump's volume a second over a volume in litres. It takes that
// volume at the pressure it finds, down to the former's vacuum.
func (c Cavity) sweep(litres float64) float64 { return c.Pump / 60 / litres }

// pumped is the time with a pump right behind the vents: at every pressure of
// the cavity as much flows through the vents as the pump takes.
func (c Cavity) pumped() float64 {
	const steps = 400
	if c.Pump == 0 {
		return math.Inf(1)
	}
	sweep := c.sweep(c.Volume * c.share() / 1e6)
	slower := func(p float64) float64 { // s/kPa
		lo, hi := c.low(), p
		for range 50 {
			if q := (lo + hi) / 2; c.leaves(p, q) > sweep*(q-c.low()) {
				lo = q
			} else {
				hi = q
			}
		}
		return 1 / c.leaves(p, lo)
	}
	width := (Atmosphere - c.target()) / steps
	t := 0.0
	for i := range steps {
		t += width * slower(c.target()+(float64(i)+0.5)*width)
	}
	return t
}

// drained is the time with a tank: cavity and tank run together, then the pump
// draws both down.
func (c Cavity) drained() float64 {
	const (
		part     = 0.005 // of a pressure, or of their difference, that one step may change
		together = 1e-3  // of the pressure: cavity and tank are at one
	)
	cavity, tank := Atmosphere, c.low()
	litres := c.Volume * c.share() / 1e6
	rates := func(p, q float64) (dp, dq float64) {
		dp = c.leaves(p, q)
		return -dp, dp*litres/c.Tank - c.sweep(c.Tank)*max(q-c.low(), 0)
	}
	t := 0.0
	for cavity-tank > together*cavity {
		dp, dq := rates(cavity, tank)
		stiff := c.sweep(c.Tank) - dp*litres/c.Tank/(cavity-tank) // 1/s, how fast the tank follows
		dt := min(part*min(cavity, 10*(cavity-tank))/-dp, 0.5/stiff)
		dp, dq = rates(cavity+dp*dt/2, tank+dq*dt/2)
		next := cavity + dp*dt
		if next <= c.target() {
			return t + dt*(cavity-c.target())/(cavity-next)
		}
		cavity, tank, t = next, max(tank+dq*dt, c.low()), t+dt
	}
	if c.Pump == 0 {
		return math.Inf(1)
	}
	return t + math.Log((cavity-c.low())/(c.target()-c.low()))/c.sweep(c.Tank+litres)
}

// HolesFor raises the number of holes, from what the cavity has, until the air
// is out within limit, s. ok is false when more holes do not help: tank or pump
// are too small for it.
func (c Cavity) HolesFor(limit float64) (holes int, ok bool) {
	const most = 2000
	c.Holes = max(c.Holes, 1)
	first := c.Evacuate().Time
	if first <= limit {
		return c.Holes, true
	}
	lo, hi := c.Holes, most
	c.Holes = most
	if !(c.Evacuate().Time <= limit) {
		return most, false
	}
	for hi-lo > 1 {
		c.Holes = (lo + hi) / 2
		if c.Evacuate().Time <= limit {
			hi = c.Holes
		} else {
			lo = c.Holes
		}
	}
	return hi, true
}

// Quick is the longest evacuation, s, before thin sheet chills: 0.1 to 1 s.
// Source: Throne, Technology of Thermoforming, 1996, from memory, confirm.
const Quick = 1.0
