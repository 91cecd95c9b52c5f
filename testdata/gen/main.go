// Gen writes the meshes that tests read, from formulas alone: the body of a
// drift buoy as a hand-held, moulded product has it, the same as a careless
// export leaves it, and files that must be refused. Run it at the module's root:
//
//	go run ./testdata/gen
package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
)

type point [3]float64 // mm

type triangle [3]point

func main() {
	fine, coarse := buoy(144, 30), buoy(32, 10)
	for name, data := range map[string][]byte{
		"drift-buoy.stl":       stl(fine),
		"drift-buoy-dirty.stl": stl(dirty(fine)),
		"bad-truncated.stl":    stl(coarse)[:9000],
		"bad-empty.stl":        {},
		"bad-metres.stl":       stl(scaled(coarse, 1e-3)),
		"bad-nan.stl":          stl(spoilt(coarse)),
	} {
		if err := os.WriteFile(filepath.Join("testdata", "mesh", name), data, 0o644); err != nil {
			log.Fatal(err)
		}
	}
	fmt.Println(len(fine), "triangles")
}

// The buoy's half sizes to its widest line, mm, and how square its sections are:
// 2 is an ellipse. It is deeper below the line than above.
const (
	halfX, halfY  = 55.0, 31.0
	above, below  = 13.0, 19.0
	plan, upright = 3.0, 2.5
)

// buoy draws the body in rings about its axis, one facet row apart.
func buoy(round, tall int) []triangle {
	about := even(round, func(t float64) point {
		x, y := super(2*math.Pi*t, plan)
		return point{halfX * x, halfY * y}
	})
	rings := heights(tall)
	at := func(i, j int) point {
		switch j {
		case 0:
			return skin(0, -math.Pi/2)
		case len(rings):
			return skin(0, math.Pi/2)
		}
		return skin(2*math.Pi*about[i%round], rings[j])
	}
	var out []triangle
	for j := range rings {
		for i := range round {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			if j > 0 {
				out = append(out, triangle{a, b, c})
			}
			if j+1 < len(rings) {
				out = append(out, triangle{a, c, d})
			}
		}
	}
	return out
}

// heights are the latitudes of the rings: evenly along the side, and close
// together where the button rises. The first is the lower pole.
func heights(tall int) []float64 {
	out := even(tall, func(t float64) point {
		r, z := super(math.Pi*(t-0.5), upright)
		return point{halfX * r, 0, above * z}
	})
	for i, t := range out {
		out[i] = math.Pi * (t - 0.5)
	}
	last := out[tall-1]
	edge := latitude(buttonR + 2*buttonEdge)
	for len(out) > 0 && out[len(out)-1] > edge {
		out = out[:len(out)-1]
	}
	for _, r := range []float64{2, 1, 0.5, 0, -0.5, -1, -2} {
		out = append(out, latitude(buttonR+r*buttonEdge))
	}
	if last > out[len(out)-1] {
		out = append(out, last)
	}
	return out
}

// even spaces n parameters of 0..1 evenly along a curve.
func even(n int, curve func(float64) point) []float64 {
	const steps = 20000
	length := make([]float64, steps+1)
	for i := range steps {
		p, q := curve(float64(i)/steps), curve(float64(i+1)/steps)
		length[i+1] = length[i] + math.Hypot(math.Hypot(q[0]-p[0], q[1]-p[1]), q[2]-p[2])
	}
	out := make([]float64, n)
	k := 0
	for i := range out {
		for length[k] < length[steps]*float64(i)/float64(n) {
			k++
		}
		out[i] = float64(k) / steps
	}
	return out
}

// super is the point of a superellipse of exponent e at an angle.
func super(angle, e float64) (x, y float64) {
	c, s := math.Cos(angle), math.Sin(angle)
	r := math.Pow(math.Pow(math.Abs(c), e)+math.Pow(math.Abs(s), e), -1/e)
	return r * c, r * s
}

// latitude is that of the upper side at a distance from the axis, along x.
func latitude(r float64) float64 {
	lo, hi := 0.0, math.Pi/2
	for range 60 {
		mid := (lo + hi) / 2
		if x, _ := super(mid, upright); halfX*x > r {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// The button is round, the grips are five upright grooves on each side; mm.
const (
	buttonR, buttonEdge, buttonHigh = 9.0, 1.2, 2.0
	gripStep, gripHalf, gripDeep    = 12.0, 2.4, 1.6
	gripTall                        = 9.0
)

// skin is the body's point at a longitude and latitude.
func skin(lon, lat float64) point {
	r, z := super(lat, upright)
	x, y := super(lon, plan)
	high := below
	if z > 0 {
		high = above
	}
	p := point{halfX * r * x, halfY * r * y, high * z}
	if p[2] > 0 {
		p[2] += buttonHigh / (1 + math.Exp((math.Hypot(p[0], p[1])-buttonR)*4/buttonEdge))
	}
	grip := 0.0
	for i := -2; i <= 2; i++ {
		d := (p[0] - gripStep*float64(i)) / gripHalf
		grip += math.Exp(-d * d)
	}
	fade := math.Exp(-math.Pow(p[2]/gripTall, 4)) * math.Pow(math.Abs(y), 6)
	p[1] -= math.Copysign(gripDeep*grip*fade, p[1])
	return p
}

// dirty does to a mesh what careless exports do: it loses facets in four places,
// turns some round, repeats some, and leaves a shell inside.
func dirty(ts []triangle) []triangle {
	r := rand.New(rand.NewPCG(1, 1))
	holes := []struct {
		at point
		r  float64
	}{{point{halfX, 0, 0}, 1.5}, {point{10, -halfY, -8}, 2.5}, {point{-20, 10, above}, 4}, {point{5, 5, -below}, 6}}
	var out []triangle
	for _, t := range ts {
		gone := false
		for _, h := range holes {
			gone = gone || dist(middle(t), h.at) < h.r
		}
		if gone {
			continue
		}
		switch r.IntN(100) {
		case 0, 1:
			t[1], t[2] = t[2], t[1]
		case 2:
			out = append(out, t)
		}
		out = append(out, t)
	}
	for _, t := range buoy(32, 10) { // a ballast that was never joined to the body
		for i, p := range t {
			t[i] = point{p[0]*0.4 + 8, p[1] * 0.4, p[2]*0.3 - 4}
		}
		out = append(out, t)
	}
	return out
}

func middle(t triangle) (p point) {
	for k := range p {
		p[k] = (t[0][k] + t[1][k] + t[2][k]) / 3
	}
	return p
}

func dist(a, b point) float64 {
	return math.Hypot(math.Hypot(a[0]-b[0], a[1]-b[1]), a[2]-b[2])
}

func scaled(ts []triangle, f float64) []triangle {
	out := make([]triangle, len(ts))
	for i, t := range ts {
		for k, p := range t {
			out[i][k] = point{p[0] * f, p[1] * f, p[2] * f}
		}
	}
	return out
}

func spoilt(ts []triangle) []triangle {
	out := append([]triangle(nil), ts...)
	out[100][1][2] = math.NaN()
	return out
}

// stl is the binary form; readers work the normals out.
func stl(ts []triangle) []byte {
	var b bytes.Buffer
	b.Write(make([]byte, 80))
	binary.Write(&b, binary.LittleEndian, uint32(len(ts)))
	for _, t := range ts {
		var f [12]float32
		for k, p := range t {
			for i, v := range p {
				f[3+3*k+i] = float32(v)
			}
		}
		binary.Write(&b, binary.LittleEndian, f)
		b.Write([]byte{0, 0})
	}
	return b.Bytes()
}
