package forming

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// SampleBelow cuts the part of a closed mesh below height z into pieces no
// longer than step, mm, puts those together that lie in one cell of half that
// size and look the same way, and returns one sample for each, in the mesh's order.
func SampleBelow(m *mesh.Mesh, z, step float64) []Sample {
	return gather(cut(m, z, step), step/2)
}

// gather leaves one sample of each cell and direction, with the area of all.
func gather(all []Sample, cell float64) []Sample {
	type key struct{ cell, way [3]int32 }
	round := func(v geom.Vec, by float64) [3]int32 {
		return [3]int32{int32(math.Floor(v.X / by)), int32(math.Floor(v.Y / by)), int32(math.Floor(v.Z / by))}
	}
	index := map[key]int{}
	var out []Sample
	for _, s := range all {
		k := key{round(s.At, cell), round(s.Normal, 0.5)}
		if i, ok := index[k]; ok {
			out[i].Area += s.Area
			continue
		}
		index[k] = len(out)
		out = append(out, s)
	}
	return out
}

// cut is the pieces of the part below height z.
func cut(m *mesh.Mesh, z, step float64) []Sample {
	var out []Sample
	for i := range m.T {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		if n.Len() == 0 || min(a.Z, b.Z, c.Z) >= z {
			continue
		}
		n = n.Scale(1 / n.Len())
		for _, t := range below(a, b, c, z) {
			out = pieces(out, t, n, step)
		}
	}
	return out
}

// triangle is three corners, anticlockwise from outside.
type triangle [3]geom.Vec

func (t triangle) area() float64 { return t[1].Sub(t[0]).Cross(t[2].Sub(t[0])).Len() / 2 }

// below is the part of a triangle under height z: none, one or two triangles.
func below(a, b, c geom.Vec, z float64) []triangle {
	if max(a.Z, b.Z, c.Z) <= z {
		return []triangle{{a, b, c}}
	}
	var kept []geom.Vec
	in := [3]geom.Vec{a, b, c}
	for i, p := range in {
		q := in[(i+1)%3]
		if p.Z <= z {
			kept = append(kept, p)
		}
		if (p.Z < z) != (q.Z < z) && p.Z != z && q.Z != z {
			kept = append(kept, p.Lerp(q, (z-p.Z)/(q.Z-p.Z)))
		}
	}
	var out []triangle
	for i := 2; i < len(kept); i++ {
		out = append(out, triangle{kept[0], kept[i-1], kept[i]})
	}
	return out
}

// pieces halves a triangle across its longest edge until it is short enough.
func pieces(out []Sample, t triangle, n geom.Vec, step float64) []Sample {
	stack := []triangle{t}
	for len(stack) > 0 {
		t = stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		k, long := 0, 0.0
		for i := range 3 {
			if d := t[i].Dist(t[(i+1)%3]); d > long {
				k, long = i, d
			}
		}
		if long > step {
			a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
			mid := a.Lerp(b, 0.5)
			stack = append(stack, triangle{a, mid, c}, triangle{mid, b, c})
			continue
		}
		mid := t[0].Add(t[1]).Add(t[2]).Scale(1.0 / 3)
		if area := t.area(); area > 0 && !math.IsNaN(area) {
			out = append(out, Sample{mid, n, area})
		}
	}
	return out
}
