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
	here, there := r.stand(r.x), r.stand(append([]geom.Vec(nil), r.x...))
	r.measure(&here)
	m := r.newDescent(here.g[:r.free])
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

// descent is the memory of the minimiser. It divides by the first guess once a
// step: a change of the slope is guessed by the change of the slope's guess.
type descent struct {
	k       *stiffness
	f, kf   []geom.Vec             // push, and the stiffness's inverse of it
	soft    float64                // of the rank-one term that the load adds
	size    float64                // of the first guess, by the last step
	s, y, z [settlePast][]geom.Vec // steps, changes of the slope, first guesses of those
	rho     [settlePast]float64
	count   int
	guess   []geom.Vec // first guess of the slope where it stands
	next    []geom.Vec // working space
	q, d    []geom.Vec
}

// newDescent begins where the slope is g.
func (r *region) newDescent(g []geom.Vec) *descent {
	room := func() []geom.Vec { return make([]geom.Vec, r.free) }
	m := &descent{k: r.k, f: r.pushing, size: 1, guess: room(), next: room(), q: room(), d: room()}
	if r.load.rate > 0 {
		m.kf = room()
		r.k.divide(m.kf, m.f)
		m.soft = r.load.rate / (1 + r.load.rate*dot(m.f, m.kf))
	}
	m.first(m.guess, g)
	return m
}

func (m *descent) forget() { m.count, m.size = 0, 1 }

// first divides by the stiffness and the load's rank-one part (Sherman and
// Morrison, Ann. Math. Stat. 21:124, 1950).
func (m *descent) first(y, g []geom.Vec) {
	m.k.divide(y, g)
	if m.soft > 0 {
		addScaled(y, m.kf, -m.soft*dot(m.kf, g))
	}
}

// direction is downhill from the slope g, which it began with or learned last.
func (m *descent) direction(g []geom.Vec) []geom.Vec {
	q, d := m.q, m.d
	copy(q, g)
	copy(d, m.guess)
	n := min(m.count, settlePast)
	var a [settlePast]float64
	for j := 1; j <= n; j++ {
		i := (m.count - j) % settlePast
		a[i] = m.rho[i] * dot(m.s[i], q)
		addScaled(q, m.y[i], -a[i])
		addScaled(d, m.z[i], -a[i])
	}
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
		m.s[i], m.y[i], m.z[i] = make([]geom.Vec, free), make([]geom.Vec, free), make([]geom.Vec, free)
	}
	s, y, z := m.s[i], m.y[i], m.z[i]
	m.first(m.next, to.g[:free])
	for j := range free {
		s[j] = to.x[j].Sub(from.x[j])
		y[j] = to.g[j].Sub(from.g[j])
		z[j] = m.next[j].Sub(m.guess[j])
	}
	m.guess, m.next = m.next, m.guess
	sy := dot(s, y)
	if !(sy > 1e-10*math.Sqrt(dot(s, s)*dot(y, y))) {
		return // the energy curves down here
	}
	m.rho[i] = 1 / sy
	m.size = sy / dot(y, z)
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
