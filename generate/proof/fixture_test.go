package proof

import "math"

// box is an upright box.
func box(lo, hi Vec) []Tri {
	return prism([][2]float64{{lo[0], lo[1]}, {hi[0], lo[1]}, {hi[0], hi[1]}, {lo[0], hi[1]}}, lo[2], hi[2])
}

// prism extrudes a convex counterclockwise outline.
func prism(o [][2]float64, z0, z1 float64) []Tri {
	var f []Tri
	at := func(i int, z float64) Vec { p := o[i%len(o)]; return Vec{p[0], p[1], z} }
	for i := range o {
		a, b, c, d := at(i, z0), at(i+1, z0), at(i+1, z1), at(i, z1)
		f = append(f, Tri{a, b, c}, Tri{a, c, d})
		if i > 0 && i+1 < len(o) {
			f = append(f, Tri{at(0, z0), at(i+1, z0), at(i, z0)}, Tri{at(0, z1), at(i, z1), at(i+1, z1)})
		}
	}
	return f
}

// lathe turns a closed outline of (radius, z), counterclockwise in the (r, z)
// plane, about the z axis.
func lathe(o [][2]float64, n int) []Tri {
	var f []Tri
	at := func(i, k int) Vec {
		p := o[i%len(o)]
		s, c := math.Sincos(2 * math.Pi * float64(k%n) / float64(n))
		if p[0] == 0 {
			s, c = 0, 0
		}
		return Vec{p[0] * c, p[0] * s, p[1]}
	}
	for i := range o {
		for k := range n {
			a, b, c, d := at(i, k), at(i, k+1), at(i+1, k+1), at(i+1, k)
			if a != b {
				f = append(f, Tri{a, b, c})
			}
			if c != d {
				f = append(f, Tri{a, c, d})
			}
		}
	}
	return f
}

// flipped turns facets inside out.
func flipped(f []Tri) []Tri {
	out := make([]Tri, len(f))
	for i, t := range f {
		out[i] = Tri{t[0], t[2], t[1]}
	}
	return out
}

func moved(f []Tri, by Vec) []Tri {
	out := make([]Tri, len(f))
	for i, t := range f {
		out[i] = Tri{t[0].Add(by), t[1].Add(by), t[2].Add(by)}
	}
	return out
}
