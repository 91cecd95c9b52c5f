package mesh

import (
	"math"
	"testing"

	"buckwright/generate/geom"
)

// plate is a flat plate of n by n squares of 1 mm, 1 mm thick.
func plate(n int) *Mesh {
	m := &Mesh{}
	at := func(i, j, k int) int32 { return int32((k*(n+1)+j)*(n+1) + i) }
	for k := range 2 {
		for j := range n + 1 {
			for i := range n + 1 {
				m.V = append(m.V, geom.V(float64(i), float64(j), float64(k)))
			}
		}
	}
	quad := func(a, b, c, d int32) { m.T = append(m.T, [3]int32{a, b, c}, [3]int32{a, c, d}) }
	for j := range n {
		for i := range n {
			quad(at(i, j, 1), at(i+1, j, 1), at(i+1, j+1, 1), at(i, j+1, 1))
			quad(at(i, j, 0), at(i, j+1, 0), at(i+1, j+1, 0), at(i+1, j, 0))
		}
	}
	for i := range n {
		quad(at(i, 0, 0), at(i+1, 0, 0), at(i+1, 0, 1), at(i, 0, 1))
		quad(at(i+1, n, 0), at(i, n, 0), at(i, n, 1), at(i+1, n, 1))
		quad(at(0, i+1, 0), at(0, i, 0), at(0, i, 1), at(0, i+1, 1))
		quad(at(n, i, 0), at(n, i+1, 0), at(n, i+1, 1), at(n, i, 1))
	}
	return m
}

// A move that folds nothing is made whole, to the grid.
func TestMovedGoesAllTheWay(t *testing.T) {
	m := plate(8)
	to := make([]geom.Vec, len(m.V))
	for i, p := range m.V {
		to[i] = p.Add(geom.V(0.3*math.Sin(p.Y), 0, 0.4*math.Cos(p.X)))
	}
	out, err := m.Moved(to)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range out.V {
		if p.Dist(to[i]) > SnapGrid {
			t.Errorf("vertex %d is at %v, want %v", i, p, to[i])
		}
	}
}

// A dent deeper than the plate is thick, and a vertex drawn over its neighbours, are made
// as far as they can be; what is far from them is moved whole, and nothing is moved back
// or beyond.
func TestMovedStopsShortOfCrossing(t *testing.T) {
	m := plate(8)
	for name, aim := range map[string]func(geom.Vec) geom.Vec{
		"dent": func(p geom.Vec) geom.Vec {
			if p.Z == 1 && p.Dist(geom.V(4, 4, 1)) < 1.5 {
				return p.Sub(geom.V(0, 0, 2.5))
			}
			return p.Add(geom.V(0, 0, 0.25))
		},
		"drawn over": func(p geom.Vec) geom.Vec {
			if p == geom.V(4, 4, 1) {
				return p.Add(geom.V(3, 0.2, 0))
			}
			return p.Add(geom.V(0.25, 0, 0))
		},
		"onto another": func(p geom.Vec) geom.Vec {
			if p == geom.V(4, 4, 1) {
				return geom.V(5, 4, 1)
			}
			return p
		},
	} {
		to := make([]geom.Vec, len(m.V))
		for i, p := range m.V {
			to[i] = aim(p)
		}
		out, err := m.Moved(to)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := out.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		short := 0
		for i, p := range out.V {
			way, gone := to[i].Sub(m.V[i]), p.Sub(m.V[i])
			if gone.Cross(way).Len() > 1e-4*way.Len() || gone.Dot(way) < -1e-6 || gone.Len() > way.Len()+1e-4 {
				t.Errorf("%s: vertex %d went %v, on its way %v", name, i, gone, way)
			}
			if p.Dist(to[i]) <= SnapGrid {
				continue
			}
			short++
			if far := m.V[i].XY().Sub(geom.Vec2{X: 4, Y: 4}).Len(); far > 3.7 {
				t.Errorf("%s: vertex %d, %.1f mm from the place, stopped short", name, i, far)
			}
		}
		if short == 0 {
			t.Errorf("%s: no vertex stopped short", name)
		}
	}
}

// A mesh that is not sound is not made so.
func TestMovedTellsOfAnUnsoundMesh(t *testing.T) {
	m := plate(3)
	m.T = m.T[1:]
	if _, err := m.Moved(m.V); err == nil {
		t.Error("a mesh with an open edge was moved without a word")
	}
}
