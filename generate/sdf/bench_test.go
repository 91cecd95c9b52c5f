package sdf

import (
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

func benchDist(b *testing.B, s Solid, box geom.Box) {
	r := rand.New(rand.NewPCG(1, 1))
	pts := make([]geom.Vec, 1024)
	for i := range pts {
		pts[i] = point(r, box)
	}
	var sum float64
	for i := 0; b.Loop(); i++ {
		sum += s.Dist(pts[i&1023])
	}
	_ = sum
}

func BenchmarkDist(b *testing.B) {
	for _, c := range specimens() {
		b.Run(c.name, func(b *testing.B) { benchDist(b, c.solid, c.box) })
	}
}

// tray is a tray with four drafted bosses and 31 holes: 40 nodes.
func tray() Solid {
	shell := Difference(RoundPrism(Rect(100, 75, 6), 0, 56, 6), RoundPrism(Rect(94, 69, 4), 6, 80, 4), HalfSpace{geom.V(0, 0, -1), -50})
	parts := []Solid{shell}
	for i := range 4 {
		at := geom.Vec2{X: float64(i%2)*90 - 45, Y: float64(i/2)*70 - 35}
		parts = append(parts, Taper(Place2(Rect(22, 17, 5), at, 0), 6, 3*geom.Degree, 5, 30))
	}
	var holes []Solid
	for i := range 31 {
		holes = append(holes, Rod(geom.Vec2{X: float64(i%8)*24 - 84, Y: float64(i/8)*36 - 54}, 0.5, -1, 7))
	}
	return Difference(Union(parts...), holes...)
}

func BenchmarkTray(b *testing.B) {
	s := tray()
	box := geom.Box{Min: geom.V(-101, -76, -1), Max: geom.V(101, 76, 51)}
	b.Run("Dist", func(b *testing.B) { benchDist(b, s, box) })
	b.Run("Local", func(b *testing.B) {
		r := rand.New(rand.NewPCG(1, 1))
		b.ReportAllocs()
		for b.Loop() {
			Local(s, geom.Ball{C: point(r, box), R: 4})
		}
	})
}
