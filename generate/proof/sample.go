package proof

import (
	"math"
	"math/rand/v2"
)

// Point is a place on a surface.
type Point struct {
	At, Normal Vec
	Facet      int // in the list that was sampled
}

// Sample spreads about n points over facets by area, and puts one on the
// middle of every facet, so that small ones count. Same input, same points.
func Sample(f []Tri, n int, keep func(i int, t Tri) bool) []Point {
	total := 0.0
	for i, t := range f {
		if keep(i, t) {
			total += t.Area()
		}
	}
	rnd := rand.New(rand.NewPCG(7, 11))
	var out []Point
	for i, t := range f {
		if !keep(i, t) {
			continue
		}
		normal := t.Normal()
		out = append(out, Point{t.Mid(), normal, i})
		more := t.Area() / total * float64(n)
		count := int(more)
		if rnd.Float64() < more-float64(count) {
			count++
		}
		for range count {
			out = append(out, Point{spot(t, rnd), normal, i})
		}
	}
	return out
}

// spot is uniform on a facet: Turk, "Generating random points in triangles",
// Graphics Gems, 1990.
func spot(t Tri, rnd *rand.Rand) Vec {
	r := math.Sqrt(rnd.Float64())
	s := rnd.Float64()
	return t[0].Mul(1 - r).Add(t[1].Mul(r * (1 - s))).Add(t[2].Mul(r * s))
}
