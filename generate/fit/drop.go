package fit

// LeastShock is the least deceleration, in G, of anything that falls from a
// height and stops within a distance, both mm: an ideal cushion with a constant
// force. A 6 mm liner cannot do better than 127 G from 760 mm.
func LeastShock(height, stop float64) float64 { return height / stop }

// Landing is how far a liner of thickness free is compressed by a mass in grams
// that falls from a height onto an area, and the deceleration in G. Energy
// balance with the liner's static law, no damping:
// m g (height + e free) = area free U(e).
func (l Law) Landing(height, mass, area, free float64) (e, shock float64) {
	w := Weight(mass)
	lo, hi := 0.0, l.Limit()
	for range 80 {
		e = (lo + hi) / 2
		if l.Energy(e)/1000*area*free < w*(height+e*free) {
			lo = e
		} else {
			hi = e
		}
	}
	return e, l.Pressure(e) / 1000 * area / w
}
