package templates

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"testing"
)

// The drift buoy's body is a superellipsoid, so that its volume is known:
// half sizes, and the exponents of its upright and its plan section.
const (
	buoyX, buoyY, buoyZ = 55.0, 31.0, 17.0 // mm
	buoyUp, buoyPlan    = 0.7, 0.6
	buoyRound, buoyTall = 64, 32 // facets about and along the axis
)

type triangle [3][3]float32

// buoy draws the body by its angles; the poles are single points.
func buoy() []triangle {
	at := func(i, j int) [3]float32 {
		u := math.Pi * (float64(j)/buoyTall - 0.5)
		v := 2 * math.Pi * float64(i%buoyRound) / buoyRound
		if j == 0 || j == buoyTall {
			return [3]float32{0, 0, float32(buoyZ + buoyZ*math.Copysign(1, u))}
		}
		r := power(math.Cos(u), buoyUp)
		return [3]float32{float32(buoyX * r * power(math.Cos(v), buoyPlan)), float32(buoyY * r * power(math.Sin(v), buoyPlan)),
			float32(buoyZ + buoyZ*power(math.Sin(u), buoyUp))}
	}
	var out []triangle
	for j := range buoyTall {
		for i := range buoyRound {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			if j > 0 {
				out = append(out, triangle{a, b, c})
			}
			if j < buoyTall-1 {
				out = append(out, triangle{a, c, d})
			}
		}
	}
	return out
}

// power keeps the sign; what should be zero is zero.
func power(x, e float64) float64 {
	if math.Abs(x) < 1e-12 {
		return 0
	}
	return math.Copysign(math.Pow(math.Abs(x), e), x)
}

// TestBuoyMesh compares the mesh that ships with the closed form of its body:
// V = 2 a b c e1 e2 B(e1/2 + 1, e1) B(e2/2, e2/2), Jaklic, Leonardis and
// Solina, Segmentation and Recovery of Superquadrics, 2000, eq. 2.60.
func TestBuoyMesh(t *testing.T) {
	const file = "drift-buoy.stl"
	if os.Getenv("UPDATE") != "" {
		writeSTL(t, file, buoy())
	}
	ts := readSTL(t, file)
	volume, edges := 0.0, map[[2][3]float32]int{}
	lo, hi := ts[0][0], ts[0][0]
	for _, f := range ts {
		a, b, c := f[0], f[1], f[2]
		volume += float64(a[0]) * (float64(b[1])*float64(c[2]) - float64(b[2])*float64(c[1])) / 6
		volume += float64(a[1]) * (float64(b[2])*float64(c[0]) - float64(b[0])*float64(c[2])) / 6
		volume += float64(a[2]) * (float64(b[0])*float64(c[1]) - float64(b[1])*float64(c[0])) / 6
		for i, p := range f {
			edges[[2][3]float32{p, f[(i+1)%3]}]++
			for k := range 3 {
				lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
			}
		}
	}
	for e, n := range edges {
		if n != 1 || edges[[2][3]float32{e[1], e[0]}] != 1 {
			t.Fatalf("edge %v is there %d times, and %d times the other way", e, n, edges[[2][3]float32{e[1], e[0]}])
		}
	}
	beta := func(x, y float64) float64 { return math.Gamma(x) * math.Gamma(y) / math.Gamma(x+y) }
	want := 2 * buoyX * buoyY * buoyZ * buoyUp * buoyPlan * beta(buoyUp/2+1, buoyUp) * beta(buoyPlan/2, buoyPlan/2)
	if !(volume < want && volume > 0.99*want) { // its corners are on the body, so it is inside
		t.Errorf("volume %.0f, the body has %.0f", volume, want)
	}
	for k, half := range [3]float64{buoyX, buoyY, buoyZ} {
		if got := float64(hi[k] - lo[k]); math.Abs(got-2*half) > 1e-5 {
			t.Errorf("size %d is %g, want %g", k, got, 2*half)
		}
	}
}

func writeSTL(t *testing.T, file string, ts []triangle) {
	t.Helper()
	var b bytes.Buffer
	b.Write(make([]byte, 80))
	binary.Write(&b, binary.LittleEndian, uint32(len(ts)))
	for _, f := range ts {
		binary.Write(&b, binary.LittleEndian, [3]float32{}) // readers work the normal out
		binary.Write(&b, binary.LittleEndian, f)
		b.Write([]byte{0, 0})
	}
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

func readSTL(t *testing.T, file string) []triangle {
	t.Helper()
	src, err := os.ReadFile(file)
	if err != nil || len(src) < 84 {
		t.Fatal(err, len(src))
	}
	ts := make([]triangle, binary.LittleEndian.Uint32(src[80:]))
	if len(src) != 84+50*len(ts) {
		t.Fatalf("%d bytes for %d triangles", len(src), len(ts))
	}
	for i := range ts {
		if err := binary.Read(bytes.NewReader(src[84+50*i+12:]), binary.LittleEndian, &ts[i]); err != nil {
			t.Fatal(err)
		}
	}
	return ts
}
