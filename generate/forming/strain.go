package forming

import "math"

// stress is the second Piola-Kirchhoff stress for the metric C, kPa, and the
// energy per volume.
func (l Law) stress(xx, xy, yy float64) (w, s11, s12, s22 float64) {
	switch l.Kind {
	case Harmonic:
		mu := l.Mu[0]
		return mu / 2 * (xx + yy - 2), mu, 0, mu
	case NeoHookean, "":
		mu := l.Mu[0]
		det := xx*yy - xy*xy
		if det > 1e-9 {
			c := mu / (det * det)
			s11, s12, s22 = mu-c*yy, c*xy, mu-c*xx
			if s11+s22 >= 0 && s11*s22 >= s12*s12 {
				return mu / 2 * (xx + yy + 1/det - 3), s11, s12, s22
			}
		}
	}
	return l.stressByStretch(xx, xy, yy)
}

// stressByStretch goes by the principal stretches.
func (l Law) stressByStretch(xx, xy, yy float64) (w, s11, s12, s22 float64) {
	const thin = 1e-6 // keeps a collapsed element's numbers finite
	a, b := principal(xx, xy, yy)
	a, b = max(a, thin), max(b, thin)
	w, wa, wb := l.relaxed(a, b)
	sa, sb := wa/a, wb/b
	// The larger stretch lies along (c, s): double-angle form of the eigenvector.
	d := math.Hypot((xx-yy)/2, xy)
	c2, s2 := 1.0, 0.0
	if d > 0 {
		c2, s2 = (xx-yy)/2/d, xy/d
	}
	mean, half := (sa+sb)/2, (sa-sb)/2
	return w, mean + half*c2, half * s2, mean - half*c2
}
