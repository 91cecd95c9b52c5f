package mesh

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// randomBody is one primitive of a few millimetres, often on round numbers so
// that faces coincide, sometimes turned.
func randomBody(r *rand.Rand) sdf.Solid {
	size := func(lo, hi float64) float64 {
		v := lo + (hi-lo)*r.Float64()
		if r.IntN(2) == 0 {
			v = math.Round(v*2) / 2
		}
		return max(v, lo)
	}
	var s sdf.Solid
	switch r.IntN(6) {
	case 0:
		s = sdf.Box(geom.V(-size(1, 5), -size(1, 5), -size(1, 5)), geom.V(size(1, 5), size(1, 5), size(1, 5)))
	case 1:
		s = sdf.Ball(geom.V(size(-2, 2), size(-2, 2), size(-2, 2)), size(1, 4))
	case 2:
		s = sdf.Rod(geom.Vec2{X: size(-2, 2), Y: size(-2, 2)}, size(0.5, 3), -size(1, 4), size(1, 4))
	case 3:
		s = sdf.RoundPrism(sdf.Rect(size(2, 5), size(2, 5), size(0.5, 1)), -size(1, 4), size(1, 4), size(0.3, 1))
	case 4:
		s = sdf.Taper(sdf.Rect(size(2, 4), size(2, 4), size(0, 1)), 0, 5*geom.Degree, -size(1, 4), size(1, 4))
	default:
		s = sdf.Cone(geom.V(0, 0, -size(1, 3)), geom.V(0, 0, size(1, 3)), size(1, 3), size(0.3, 2))
	}
	if r.IntN(2) == 0 {
		turn := geom.RotateX(geom.Angle(r.Float64() * 6)).Then(geom.RotateZ(geom.Angle(r.Float64() * 6)))
		s = sdf.Move(s, turn)
	}
	return sdf.Move(s, geom.Translate(geom.V(size(-4, 4), size(-4, 4), size(-4, 4))))
}

// randomSolid joins, cuts and intersects a few bodies.
func randomSolid(r *rand.Rand) sdf.Solid {
	s := randomBody(r)
	for range 1 + r.IntN(4) {
		b := randomBody(r)
		switch r.IntN(4) {
		case 0:
			s = sdf.Difference(s, b)
		case 1:
			if r.IntN(2) == 0 {
				s = sdf.Intersect(s, b)
				break
			}
			fallthrough
		default:
			s = sdf.Union(s, b)
		}
	}
	return s
}

// TestContourRandom meshes random solids: each must come out sound, and near its
// solid. BUCKWRIGHT_RANDOM=n tries n of them.
func TestContourRandom(t *testing.T) {
	n := 40
	if v, err := strconv.Atoi(os.Getenv("BUCKWRIGHT_RANDOM")); err == nil {
		n = v
	}
	for i := range n {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			s := randomSolid(rand.New(rand.NewPCG(uint64(i), 7)))
			m, err := Contour(context.Background(), s, Options{Tol: 0.05})
			if err == errContourEmpty {
				t.Skip("nothing left")
			}
			if err != nil {
				t.Fatal(err)
			}
			if err := m.Check(); err != nil {
				t.Fatal(err)
			}
			for i := range m.T {
				a, b, c := m.Corners(i)
				if d := s.Dist(a.Add(b).Add(c).Scale(1.0 / 3)); !(math.Abs(d) <= 0.05) {
					t.Errorf("triangle %d is %.3f mm off", i, d)
					break
				}
			}
		})
	}
}
