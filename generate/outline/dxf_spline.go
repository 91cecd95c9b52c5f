package outline

import (
	"strconv"

	"buckwright/generate/geom"
)

// bspline is a curve of a degree over knots, with weights if it is rational.
type bspline struct {
	degree int
	knots  []float64
	points [][3]float64 // x w, y w, w
}

// spline draws a SPLINE by its control points.
func (d *drawing) spline(e entity) *Error {
	if _, err := d.plane(e); err != nil {
		return err
	}
	b, err := e.bspline()
	if err != nil {
		return err
	}
	for i := range b.points {
		b.points[i][0] *= d.unit
		b.points[i][1] *= d.unit
	}
	var sides []side
	for i := b.degree; i < len(b.points); i++ { // between knots it is one polynomial
		if b.knots[i+1]-b.knots[i] > 1e-12*(b.knots[len(b.knots)-1]-b.knots[0]) {
			sides = arcs(sides, b.piece(i), b.knots[i], b.knots[i+1])
		}
		if len(sides) > mostSides {
			break // add says so
		}
	}
	return d.add(path{sides: sides, line: e.line})
}

// bspline reads degree, knots, control points and weights.
func (e entity) bspline() (*bspline, *Error) {
	b := &bspline{degree: 3}
	for _, g := range e.g {
		if g.code == 71 {
			b.degree, _ = strconv.Atoi(g.value)
		}
	}
	x, err := e.values(10)
	if err != nil {
		return nil, err
	}
	y, err := e.values(20)
	if err != nil {
		return nil, err
	}
	w, err := e.values(41)
	if err != nil {
		return nil, err
	}
	if b.knots, err = e.values(40); err != nil {
		return nil, err
	}
	const hint = "export splines as arcs or polylines"
	switch n := len(x); {
	case n == 0:
		return nil, fail(e.line, hint, "the spline has fit points only, no control points")
	case !(b.degree >= 1 && b.degree <= 9) || n <= b.degree || len(y) != n || len(b.knots) != n+b.degree+1 || len(w) != 0 && len(w) != n:
		return nil, fail(e.line, hint, "the spline's control points, knots and degree do not fit together")
	}
	for i := 1; i < len(b.knots); i++ {
		if !(b.knots[i] >= b.knots[i-1]) {
			return nil, fail(e.line, hint, "the spline's knots fall")
		}
	}
	for i := range x {
		k := 1.0
		if len(w) > 0 {
			k = w[i]
		}
		if !(k > 0) {
			return nil, fail(e.line, hint, "a weight of the spline is not above 0")
		}
		b.points = append(b.points, [3]float64{x[i] * k, y[i] * k, k})
	}
	return b, nil
}

// stretch is a spline between two knots.
type stretch struct {
	*bspline
	k int
}

func (b *bspline) piece(k int) curve { return stretch{b, k} }

// at is de Boor's algorithm on the homogeneous points; C. de Boor, On
// calculating with B-splines, J. Approximation Theory 6, 1972.
func (s stretch) at(t float64) geom.Vec2 {
	p := s.degree
	var d [10][3]float64
	for j := range p + 1 {
		d[j] = s.points[j+s.k-p]
	}
	for r := 1; r <= p; r++ {
		for j := p; j >= r; j-- {
			i := j + s.k - p
			a := 0.0
			if gap := s.knots[i+p-r+1] - s.knots[i]; gap > 0 {
				a = (t - s.knots[i]) / gap
			}
			for c := range 3 {
				d[j][c] = (1-a)*d[j-1][c] + a*d[j][c]
			}
		}
	}
	return geom.Vec2{X: d[p][0] / d[p][2], Y: d[p][1] / d[p][2]}
}

// along is a difference of second order over a small step into the stretch.
func (s stretch) along(t float64) geom.Vec2 {
	lo, hi := s.knots[s.k], s.knots[s.k+1]
	h := (hi - lo) * 1e-4
	if t > (lo+hi)/2 {
		h = -h
	}
	return s.at(t).Scale(-3).Add(s.at(t + h).Scale(4)).Sub(s.at(t + 2*h)).Scale(1 / (2 * h))
}
