package sdf

import (
	"math"

	"buckwright/generate/geom"
)

// Loop is one closed outline of a region, the region to its left. Side i runs
// from P[i] to the next point; Bulge[i] is as in Polygon.
type Loop struct {
	P     []geom.Vec2
	Bulge []float64
}

// Loops gives the outlines of a region. ok is false for a Region made elsewhere
// and where an operation could not trace its outline.
func Loops(g Region) (loops []Loop, ok bool) {
	t, ok := g.(planar)
	if !ok {
		return nil, false
	}
	e := t.pieces()
	if _, empty := g.(none2); len(e) == 0 && !empty {
		return nil, false
	}
	for i := range e {
		if i == 0 || len2(e[i].a.Sub(e[i-1].b)) > 200*weld {
			loops = append(loops, Loop{})
		}
		l := &loops[len(loops)-1]
		l.P = append(l.P, e[i].a)
		l.Bulge = append(l.Bulge, e[i].bulge())
	}
	return loops, true
}

// bulge is the tangent of a quarter of the sweep, negative clockwise.
func (e *piece) bulge() float64 {
	return math.Copysign(math.Tan(e.sweep()/4), e.r)
}
