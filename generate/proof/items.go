package proof

import "math"

// Distance is a body's true signed distance, negative inside.
type Distance func(p Vec) float64

// RoundedBox stands on z = 0 about the origin: corner rounds its plan, edge
// rounds every other edge, edge <= corner.
//
// It is a plan (a rectangle with rounded corners) swept upwards and rounded:
// the sharp prism of the plan shrunk by edge, grown by edge. The prism's
// distance is that of a product of two convex sets.
func RoundedBox(size Vec, corner, edge float64) Distance {
	return func(p Vec) float64 {
		qx := math.Abs(p[0]) - (size[0]/2 - corner)
		qy := math.Abs(p[1]) - (size[1]/2 - corner)
		plan := math.Hypot(math.Max(qx, 0), math.Max(qy, 0)) + math.Min(math.Max(qx, qy), 0) - (corner - edge)
		up := math.Abs(p[2]-size[2]/2) - (size[2]/2 - edge)
		return product(plan, up) - edge
	}
}

// product is the distance to the product of two sets with distances a and b in
// spaces at right angles.
func product(a, b float64) float64 {
	return math.Hypot(math.Max(a, 0), math.Max(b, 0)) + math.Min(math.Max(a, b), 0)
}

// Cylinder stands on z = 0 about the z axis.
func Cylinder(diameter, height float64) Distance {
	return func(p Vec) float64 {
		return product(math.Hypot(p[0], p[1])-diameter/2, math.Abs(p[2]-height/2)-height/2)
	}
}

// LyingCylinder rests on z = 0, its axis along x.
func LyingCylinder(diameter, length float64) Distance {
	r := diameter / 2
	return func(p Vec) float64 {
		return product(math.Hypot(p[1], p[2]-r)-r, math.Abs(p[0])-length/2)
	}
}

// LyingCapsule rests on z = 0, its axis along x; length is over all.
func LyingCapsule(diameter, length float64) Distance {
	r := diameter / 2
	return func(p Vec) float64 {
		x := math.Max(math.Abs(p[0])-(length/2-r), 0)
		return math.Sqrt(x*x+p[1]*p[1]+(p[2]-r)*(p[2]-r)) - r
	}
}

// Ellipsoid rests on z = 0. The foot point is found by bisection on the
// Lagrange multiplier: Eberly, "Distance from a point to an ellipse, an
// ellipsoid, or a hyperellipsoid", 2013.
func Ellipsoid(size Vec) Distance {
	h := size.Mul(0.5)
	return func(p Vec) float64 {
		q := Vec{math.Abs(p[0]), math.Abs(p[1]), math.Abs(p[2] - h[2])}
		for k := range 3 {
			q[k] = math.Max(q[k], 1e-9) // off the symmetry planes: the foot is then unique
		}
		least := math.Min(h[0], math.Min(h[1], h[2]))
		sum := func(t float64) float64 {
			s := 0.0
			for k := range 3 {
				v := h[k] * q[k] / (t + h[k]*h[k])
				s += v * v
			}
			return s
		}
		lo, hi := -least*least, q.Len()*math.Max(h[0], math.Max(h[1], h[2]))
		for range 100 {
			mid := (lo + hi) / 2
			if sum(mid) > 1 {
				lo = mid
			} else {
				hi = mid
			}
		}
		t := (lo + hi) / 2
		var foot Vec
		for k := range 3 {
			foot[k] = h[k] * h[k] * q[k] / (t + h[k]*h[k])
		}
		d := foot.Sub(q).Len()
		if t < 0 {
			return -d
		}
		return d
	}
}

// Placed is a body turned about z by degrees and moved.
func Placed(d Distance, turn float64, at Vec) Distance {
	s, c := math.Sincos(turn * math.Pi / 180)
	return func(p Vec) float64 {
		q := p.Sub(at)
		return d(Vec{c*q[0] + s*q[1], -s*q[0] + c*q[1], q[2]})
	}
}

// Union of bodies; its value is a distance outside only.
func Union(all ...Distance) Distance {
	return func(p Vec) float64 {
		least := math.Inf(1)
		for _, d := range all {
			least = math.Min(least, d(p))
		}
		return least
	}
}

// Released is the distance, outside, to a body swept upwards along the cone of
// half angle draft: the least over t >= 0 of d(p - t z) - t sin(draft), found
// by scanning t up to reach and refining about the best.
func Released(d Distance, draft, reach float64) Distance {
	return func(p Vec) float64 {
		v, _ := Swept(d, draft, reach, p)
		return v
	}
}

// Swept is Released at one place, and the t that gives it: how far below p the
// body is that p's surface was swept from.
func Swept(d Distance, draft, reach float64, p Vec) (dist, t float64) {
	sin := math.Sin(draft * math.Pi / 180)
	at := func(t float64) float64 { return d(Vec{p[0], p[1], p[2] - t}) - t*sin }
	const step = 0.5
	dist = at(0)
	for u := step; u <= reach; u += step {
		if v := at(u); v < dist {
			dist, t = v, u
		}
	}
	lo, hi := math.Max(t-step, 0), t+step
	for range 24 {
		a, b := lo+(hi-lo)*0.382, lo+(hi-lo)*0.618
		if at(a) < at(b) {
			hi = b
		} else {
			lo = a
		}
	}
	if v := at((lo + hi) / 2); v < dist {
		dist, t = v, (lo+hi)/2
	}
	return dist, t
}
