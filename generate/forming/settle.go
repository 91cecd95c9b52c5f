package forming

import (
	"math"

	"buckwright/generate/geom"
)

// Limits of one settling: more never helped in trials, and they bound the time.
const (
	settleSteps = 200
	settlePast  = 6 // steps remembered
)

// settle moves the free nodes of a region into equilibrium under its load, from
// r.x on, until the force left over is less than tol of the pressing force. It
// is the limited-memory BFGS method (Nocedal, Math. Comput. 35:773, 1980) with
// the harmonic stiffness as the first guess of the inverse. No step moves a node
// by more than reach. It returns the pressure.
func (r *region) settle(tol, reach float64) float64 {
	m := r.newDescent()
	here, there := r.stand(r.x), r.stand(append([]geom.Vec(nil), r.x...))
	r.measure(&here)
	for range settleSteps {
		if norm(here.g[:r.free]) <= tol*r.scale(here.p) {
			break
		}
		if m.step(r, &here, &there, reach) {
			m.learn(&there, &here)
			here, there = there, here
		} else if m.count == 0 {
			break // rounding is all that is left
		} else {
			m.forget()
		}
	}
	r.x = here.x
	return here.p
}

// stand is a place of the region's nodes and what holds there.
type stand struct {
	x, g []geom.Vec // places, and the energy's slope
	e, p float64    // energy, pressure
}

func (r *region) stand(x []geom.Vec) stand { return stand{x: x, g: make([]geom.Vec, len(x))} }

func (r *region) measure(s *stand) { s.e, s.p = r.energy(s.x, s.g) }

// step tries to go downhill from here and leaves the trial in there.
func (m *descent) step(r *region, here, there *stand, reach float64) bool {
	g := here.g[:r.free]
	d := m.direction(g)
	slope := dot(d, g)
	if !(slope < 0) {
		m.forget()
		d = m.direction(g)
		slope = dot(d, g)
	}
	share := min(1, reach/longest(d))
	for range 12 {
		for i := range d {
			there.x[i] = here.x[i].Add(d[i].Scale(share))
		}
		r.measure(there)
		if there.e <= here.e+1e-4*share*slope+1e-14*math.Abs(here.e) { // Armijo's rule
			return true
		}
		share *= 0.4
	}
	return false
}

// scale is the force that a residual is measured against: that of the pressure,
// or of the sheet's own tension while there is none.
func (r *region) scale(p float64) float64 {
	f := math.Abs(p) * norm(r.pushing)
	t := r.law.Shear() * r.gauge * r.side * math.Sqrt(float64(r.free))
	return f + 0.01*t
}

// descent is the memory of the minimiser.
type descent struct {
	k      *stiffness
	f, kf  []geom.Vec // push, and the stiffness's inverse of it
	soft   float64    // of the rank-one term that the load adds
	size   float64    // of the first guess, by the last step
	s, y   [settlePast][]geom.Vec
	rho    [settlePast]float64
	count  int
	buffer []geom.Vec
	q      []geom.Vec
}

func (r *region) newDescent() *descent {
	m := &descent{k: r.k, f: r.pushing, buffer: make([]geom.Vec, r.free), q: make([]geom.Vec, r.free)}
	m.size = 1
	if r.load.rate > 0 {
		m.kf = make([]geom.Vec, r.free)
		r.k.divide(m.kf, m.f)
		m.soft = r.load.rate / (1 + r.load.rate*dot(m.f, m.kf))
	}
	return m
}

func (m *descent) forget() { m.count, m.size = 0, 1 }

// first divides by the stiffness and the load's rank-one part (Sherman and
// Morrison, Ann. Math. Stat. 21:124, 1950).
func (m *descent) first(y, g []geom.Vec) {
	m.k.divide(y, g)
	if m.soft > 0 {
		c := m.soft * dot(m.kf, g)
		for i := range y {
			y[i] = y[i].Sub(m.kf[i].Scale(c))
		}
	}
}

// direction is downhill from the slope g.
func (m *descent) direction(g []geom.Vec) []geom.Vec {
	q, d := m.q, m.buffer
	copy(q, g)
	n := min(m.count, settlePast)
	var a [settlePast]float64
	for j := 1; j <= n; j++ {
		i := (m.count - j) % settlePast
		a[i] = m.rho[i] * dot(m.s[i], q)
		addScaled(q, m.y[i], -a[i])
	}
	m.first(d, q)
	for i := range d {
		d[i] = d[i].Scale(m.size)
	}
	for j := n; j >= 1; j-- {
		i := (m.count - j) % settlePast
		addScaled(d, m.s[i], a[i]-m.rho[i]*dot(m.y[i], d))
	}
	for i := range d {
		d[i] = d[i].Scale(-1)
	}
	return d
}

// learn remembers a step.
func (m *descent) learn(to, from *stand) {
	i, free := m.count%settlePast, len(m.q)
	if m.s[i] == nil {
		m.s[i], m.y[i] = make([]geom.Vec, free), make([]geom.Vec, free)
	}
	s, y := m.s[i], m.y[i]
	for j := range free {
		s[j] = to.x[j].Sub(from.x[j])
		y[j] = to.g[j].Sub(from.g[j])
	}
	sy := dot(s, y)
	if !(sy > 1e-10*math.Sqrt(dot(s, s)*dot(y, y))) {
		return // the energy curves down here
	}
	m.rho[i] = 1 / sy
	m.first(m.q, y)
	m.size = sy / dot(y, m.q)
	m.count++
}

func addScaled(a, b []geom.Vec, c float64) {
	for i := range a {
		a[i] = a[i].Add(b[i].Scale(c))
	}
}

func norm(a []geom.Vec) float64 { return math.Sqrt(dot(a, a)) }

func longest(a []geom.Vec) float64 {
	most := 0.0
	for _, v := range a {
		most = max(most, v.Dot(v))
	}
	return math.Sqrt(most)
}
