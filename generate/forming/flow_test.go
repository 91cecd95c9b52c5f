package forming

import (
	"math"
	"testing"
)

const lab = 20.0 // °C

// The critical ratio, the flux and its fall are those of NACA Report 1135,
// 1953, for air; vacuum textbooks round the choked speed to 20 L/s cm².
func TestMassFlux(t *testing.T) {
	near(t, "critical ratio", critical, 0.52828, 1e-5)
	near(t, "its formula", critical, math.Pow(2/(gamma+1), gamma/(gamma-1)), 1e-15)
	full := MassFlux(Atmosphere, 0, lab)
	near(t, "choked flux", full, 239.174, digits4)
	near(t, "coefficient", full/(Atmosphere*1000)*math.Sqrt(lab+kelvin), 0.040415, digits4)
	near(t, "choked speed", speed(lab), 198.63, digits4)
	for _, tt := range []struct{ r, want float64 }{{0.6, .98859}, {0.7, .93222}, {0.8, .81880}, {0.9, .61715}, {0.95, .44929}, {0.99, .20543}, {0.3, 1}} {
		near(t, "share of the choked flux", MassFlux(Atmosphere, tt.r*Atmosphere, lab)/full, tt.want, 2e-5)
	}
	if MassFlux(50, 60, lab) != 0 {
		t.Error("air flows uphill")
	}
}

// One litre through twenty holes of 0.8 mm, worked by hand and by numeric
// integration; Cd 0.62.
func TestIsothermal(t *testing.T) {
	const volume = 1e6
	area := 0.62 * Hole(20, 0.8)
	near(t, "area", Hole(20, 0.8), 10.0531, 1e-5)
	near(t, "tau", volume/area/1000/speed(lab), 0.80773, digits4)
	for _, tt := range []struct{ to, down, want float64 }{{20, 0.001, 1.31062}, {20, 10, 1.31062}, {30, 30, 1.21458}} {
		near(t, "time", Isothermal(volume, area, Atmosphere, tt.to, tt.down, lab), tt.want, digits4)
	}
	// Walls that give no heat: the air left cools, and less of it has to go. A lower bound.
	quick := adiabatic(volume, area, Atmosphere, 20, lab)
	near(t, "adiabatic", quick, 1.05355, digits4)
	if slow := Isothermal(volume, area, Atmosphere, 20, 0.001, lab); !(quick < slow) {
		t.Errorf("with the walls' heat %g s, without it %g", slow, quick)
	}
	if got := Isothermal(volume, area, Atmosphere, 20, 30, lab); !math.IsInf(got, 1) {
		t.Errorf("below the pressure behind the holes: %g s", got)
	}
}

// adiabatic is Isothermal for a cavity whose walls give no heat, all of it
// choked: a lower bound.
func adiabatic(volume, area, from, to, temp float64) float64 {
	tau := volume / area / 1000 / speed(temp)
	return tau * 2 / (gamma - 1) * (math.Pow(from/to, (gamma-1)/(2*gamma)) - 1)
}

// The closed form against the balance of mass, stepped finely.
func TestIsothermalAgainstSteps(t *testing.T) {
	const volume, area, down = 3e5, 4.0, 30.0
	rate := func(p float64) float64 {
		return MassFlux(p, down, lab) * area / volume * gasAir * (lab + kelvin)
	}
	p, time := Atmosphere, 0.0
	const to, dt = 33.0, 1e-5
	for p > to {
		p -= dt * rate(p-dt/2*rate(p))
		time += dt
	}
	near(t, "time", Isothermal(volume, area, Atmosphere, to, down, lab), time, 2e-4)
}

func TestHolesNeeded(t *testing.T) {
	// half a litre in half a second to 20 kPa: 13.176 mm², worked by hand
	area := 0.5e6 / 1000 / (0.62 * 0.5 * speed(lab)) * math.Log(Atmosphere/20)
	near(t, "area", area, 13.176, digits4)
	near(t, "holes of 1 mm", area/Hole(1, 1), 16.78, 3e-4)
	near(t, "holes of 0.8 mm", area/Hole(1, 0.8), 26.2, 1e-3)
	c := Cavity{Volume: 0.5e6, Holes: 1, Diameter: 1, Land: 0.1, Vacuum: (Atmosphere - 20) / felt, Temp: lab}
	if n, ok := c.HolesFor(0.5); n != 17 || !ok {
		t.Errorf("HolesFor(0.5) = %d, %t, want 17 holes of 1 mm", n, ok)
	}
	c.Diameter = 0.8
	if n, ok := c.HolesFor(0.5); n != 27 || !ok {
		t.Errorf("HolesFor(0.5) = %d, %t, want 27 holes of 0.8 mm", n, ok)
	}
}

func TestShared(t *testing.T) {
	near(t, "20 L at 5 kPa and 1 L", Shared(20, 5, 1, Atmosphere), 9.5869, digits4)
	near(t, "5 L at 10 kPa and 2 L", Shared(5, 10, 2, Atmosphere), 36.093, digits4)
}

func TestDischarge(t *testing.T) {
	near(t, "pipe of ten diameters", pipe(1, 10), 0.7454, 7e-5)
	if Discharge(1, 0.5) != 0.62 {
		t.Error("a short hole is not a sharp one")
	}
	if d := Discharge(0.5, 40); !(d < 0.62) {
		t.Errorf("a hole of 80 diameters lets %g through", d)
	}
}

func TestEvacuateWithATank(t *testing.T) {
	c := Cavity{Volume: 1e6, Holes: 20, Diameter: 0.8, Land: 4, Vacuum: 80, Temp: lab}
	steady := c.Evacuate()
	near(t, "held vacuum", steady.Time, Isothermal(1e6, c.area(), Atmosphere, Atmosphere-72, Atmosphere-80, lab), 1e-12)
	c.Tank = 1e4 // so large that it does not matter
	near(t, "endless tank", c.Evacuate().Time, steady.Time, 2e-3)
	c.Tank = 40
	large := c.Evacuate()
	near(t, "end of a large tank", large.Ends, Shared(40, 21.325, 1, Atmosphere), 1e-12)
	if !(large.Time > steady.Time) || large.By != ByVents {
		t.Errorf("40 litres: %+v", large)
	}
	c.Tank = 2
	if small := c.Evacuate(); !math.IsInf(small.Time, 1) || small.By != ByTank {
		t.Errorf("2 litres cannot draw 1 litre to 29 kPa: %+v", small)
	}
	if n, ok := c.HolesFor(1); ok {
		t.Errorf("%d holes help a tank that is too small", n)
	}
	c.Pump = 100
	if pumped := c.Evacuate(); math.IsInf(pumped.Time, 1) || pumped.By == ByVents {
		t.Errorf("a pump of 100 L/min finishes what the tank does not: %+v", pumped)
	}
}

// A pump alone on wide open vents draws the volume down as a textbook has it:
// t = V/S ln((p_a - p_end)/(p_b - p_end)), and so does one with a tank that is
// no larger than a hose; a pump that is no limit leaves the vents'.
func TestEvacuateWithAPump(t *testing.T) {
	c := Cavity{Volume: 1e6, Holes: 2000, Diameter: 3, Land: 1, Pump: 60, Vacuum: 80, Temp: lab}
	e := c.Evacuate()
	near(t, "time", e.Time, math.Log(80/(80-72.0)), 0.002)
	if e.By != ByPump || !e.Pumps {
		t.Errorf("%+v, want the pump to limit", e)
	}
	c.Tank = 1
	ends := Shared(1, Atmosphere-80, 1, Atmosphere)
	near(t, "time with a tank of a litre", c.Evacuate().Time, 2*math.Log((ends-21.325)/8), 0.01)
	c = Cavity{Volume: 1e6, Holes: 20, Diameter: 0.8, Land: 1, Vacuum: 80, Temp: lab}
	alone := c.Evacuate().Time
	c.Pump = 1e6
	near(t, "time with a huge pump", c.Evacuate().Time, alone, 2e-3)
}

func TestEvacuateNeverHangs(t *testing.T) {
	for _, c := range []Cavity{
		{}, {Volume: 1e5}, {Volume: 1e5, Vacuum: 80}, {Volume: 1e5, Vacuum: 101.325, Holes: 3, Diameter: 0.5, Land: 4},
		{Volume: 1, Vacuum: 80, Holes: 2000, Diameter: 5, Land: 1, Pump: 1, Tank: 1000},
		{Volume: 1e8, Vacuum: 5, Holes: 1, Diameter: 0.2, Land: 50, Pump: 10000},
		{Volume: 1e8, Vacuum: 101.325, Holes: 1, Diameter: 0.2, Land: 50, Pump: 1, Tank: 0.001},
	} {
		c.Temp = lab
		if e := c.Evacuate(); math.IsNaN(e.Time) || e.Time < 0 {
			t.Errorf("%+v: %+v", c, e)
		}
		c.HolesFor(1)
	}
}
