package forming

import "math"

// slab is a wall cut into layers, for heat that flows straight through it.
// Unknowns are the mean temperature of every layer and the temperature of both
// faces, which hold no heat. SI units inside: m, W/m², J/m².
type slab struct {
	layers []layer
	left   face
	right  face

	t []float64 // °C: left face, the layers, right face

	between []float64 // conductance between neighbours, W/(m² K)

	// scratch of one step
	diag, low, up, rhs, flow, old, first []float64
}

// layer is one finite volume.
type layer struct {
	thick float64 // m
	of    Substance
}

// face is the heat that enters at a face of temperature t, W/m², and its
// derivative.
type face func(t float64) (q, slope float64)

// tight is a face that no heat passes.
func tight(float64) (float64, float64) { return 0, 0 }

// convective is a face in air of a temperature, h in W/(m² K).
func convective(h, air float64) face {
	return func(t float64) (float64, float64) { return h * (air - t), -h }
}

// radiating is a face that looks at a body of a temperature.
func radiating(emissivity, body float64) face {
	return func(t float64) (float64, float64) {
		k := t + kelvin
		return Radiant(emissivity, body, t), -4 * emissivity * stefan * k * k * k
	}
}

// both is the sum of two.
func both(a, b face) face {
	return func(t float64) (float64, float64) {
		qa, sa := a(t)
		qb, sb := b(t)
		return qa + qb, sa + sb
	}
}

// newSlab is a wall at one temperature.
func newSlab(layers []layer, left, right face, start float64) *slab {
	n := len(layers) + 2
	s := &slab{layers: layers, left: left, right: right}
	for _, p := range []*[]float64{&s.t, &s.diag, &s.low, &s.up, &s.rhs, &s.flow, &s.old, &s.first} {
		*p = make([]float64, n)
	}
	for i := range s.t {
		s.t[i] = start
	}
	for i := range n - 1 {
		s.between = append(s.between, s.conductance(i))
	}
	return s
}

// even cuts a wall of thickness mm into n equal layers.
func even(of Substance, thickness float64, n int) []layer {
	out := make([]layer, n)
	for i := range out {
		out[i] = layer{thickness / 1000 / float64(n), of}
	}
	return out
}

// graded cuts a wall of thickness mm into n layers, each wider than the one
// before it by the same factor; the first is finest mm thick. They are equal
// when the wall is thinner than n of those.
func graded(of Substance, thickness, finest float64, n int) []layer {
	if float64(n)*finest >= thickness {
		return even(of, thickness, n)
	}
	sum := func(r float64) float64 { return finest * (math.Pow(r, float64(n)) - 1) / (r - 1) }
	lo, hi := 1+1e-9, 4.0
	for range 80 {
		if mid := (lo + hi) / 2; sum(mid) < thickness {
			lo = mid
		} else {
			hi = mid
		}
	}
	out := make([]layer, n)
	width := finest / 1000
	for i := range out {
		out[i] = layer{width, of}
		width *= lo
	}
	return out
}

// heat is what a layer at t holds above 0 °C, J/m², and its derivative. What
// melting takes is spread evenly over the range in which it happens.
func (l layer) heat(t float64) (h, slope float64) {
	mass := l.of.Density * l.thick
	h, slope = mass*l.of.Cp*t, mass*l.of.Cp
	if l.of.Melting > 0 {
		span := max(l.of.Melts[1]-l.of.Melts[0], 1e-3)
		share := (t - l.of.Melts[0]) / span
		if share > 0 && share < 1 {
			slope += mass * l.of.Melting / span
		}
		h += mass * l.of.Melting * min(max(share, 0), 1)
	}
	return h, slope
}

// resist is the resistance of half a layer, m² K/W.
func (l layer) resist() float64 { return l.thick / (2 * l.of.K) }

// conductance is between unknowns i and i+1, W/(m² K).
func (s *slab) conductance(i int) float64 {
	r := 0.0
	if i > 0 {
		r += s.layers[i-1].resist()
	}
	if i < len(s.layers) {
		r += s.layers[i].resist()
	}
	return 1 / r
}

// flows fills flow with the net heat into every unknown, W/m², and the
// tridiagonal matrix with its derivatives.
func (s *slab) flows() {
	n := len(s.t)
	clear(s.flow)
	clear(s.diag)
	s.flow[0], s.diag[0] = s.left(s.t[0])
	q, slope := s.right(s.t[n-1])
	s.flow[n-1], s.diag[n-1] = q, slope
	for i, g := range s.between {
		through := g * (s.t[i] - s.t[i+1])
		s.flow[i] -= through
		s.flow[i+1] += through
		s.diag[i] -= g
		s.diag[i+1] -= g
		s.up[i], s.low[i+1] = g, g
	}
}

// sdirk is the constant of Alexander's two-stage method, 1 - 1/sqrt 2: of
// second order and free of ringing after a jump, as when the sheet meets the
// tool. Source: Alexander, SIAM J. Numer. Anal. 14:1006, 1977.
const sdirk = 1 - 1/math.Sqrt2

// step goes on by dt seconds.
func (s *slab) step(dt float64) {
	for i, l := range s.layers {
		s.old[i+1], _ = l.heat(s.t[i+1])
	}
	clear(s.first)
	s.stage(sdirk * dt)
	copy(s.first, s.flow)
	for i := range s.old {
		s.old[i] += (1 - sdirk) * dt * s.first[i]
	}
	s.stage(sdirk * dt)
}

// stage solves heat(t) = old + dt flow(t) for every layer and flow = 0 at the
// faces by Newton's method, and leaves flow at the solution.
func (s *slab) stage(dt float64) {
	const most, close = 60, 1e-9 // iterations; K
	for range most {
		s.flows()
		for i := range s.t {
			h, slope := 0.0, 0.0
			if i > 0 && i <= len(s.layers) {
				h, slope = s.layers[i-1].heat(s.t[i])
				h -= s.old[i]
			}
			s.rhs[i] = dt*s.flow[i] - h
			s.diag[i] = slope - dt*s.diag[i]
			s.low[i] *= -dt
			s.up[i] *= -dt
		}
		solveTridiagonal(s.low, s.diag, s.up, s.rhs)
		change := 0.0
		for i, d := range s.rhs {
			s.t[i] += d
			change = max(change, math.Abs(d))
		}
		if !(change > close) {
			break
		}
	}
	s.flows()
}

// solveTridiagonal solves in place; the answer is left in rhs. low[0] and
// up[last] are not used. The matrix must be diagonally dominant.
func solveTridiagonal(low, diag, up, rhs []float64) {
	n := len(rhs)
	for i := 1; i < n; i++ {
		f := low[i] / diag[i-1]
		diag[i] -= f * up[i-1]
		rhs[i] -= f * rhs[i-1]
	}
	rhs[n-1] /= diag[n-1]
	for i := n - 2; i >= 0; i-- {
		rhs[i] = (rhs[i] - up[i]*rhs[i+1]) / diag[i]
	}
}

// faceBetween is the temperature of the face between layers i-1 and i.
func (s *slab) faceBetween(i int) float64 {
	ra, rb := s.layers[i-1].resist(), s.layers[i].resist()
	return (s.t[i]*rb + s.t[i+1]*ra) / (ra + rb)
}

// mean is the mean temperature of layers from up to and not including to, by
// thickness.
func (s *slab) mean(from, to int) float64 {
	sum, thick := 0.0, 0.0
	for i := from; i < to; i++ {
		sum += s.layers[i].thick * s.t[i+1]
		thick += s.layers[i].thick
	}
	return sum / thick
}

// extremes are the coldest and the hottest over both faces and all layers.
func (s *slab) extremes() (coldest, hottest float64) {
	coldest, hottest = math.Inf(1), math.Inf(-1)
	for _, t := range s.t {
		coldest, hottest = min(coldest, t), max(hottest, t)
	}
	return coldest, hottest
}
