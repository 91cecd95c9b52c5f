package mesh

import (
	"context"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// trayBoss says where the four drafted bosses stand; trayHole the twelve holes.
var (
	trayBosses = [][2]float64{{-60, -35}, {60, -35}, {-60, 35}, {60, 35}}
	trayHoles  = [][2]float64{
		{-85, 0}, {-30, 0}, {0, 0}, {30, 0}, {85, 0}, {0, 30},
		{0, -30}, {0, 60}, {0, -60}, {-85, 55}, {85, 55}, {85, -55},
	}
)

// trayTan is the slope of the bosses: 3 degrees.
const trayDraft = 3 * geom.Degree

// testTray is 200 x 150 x 50 mm: a rounded box cut flat at z = 50, hollowed by
// another, with four drafted bosses on the floor and twelve holes of 1 mm in it.
func testTray() sdf.Solid {
	top := 50.0
	outer := sdf.RoundPrism(sdf.Rect(100, 75, 6), 0, 60, 6)
	inner := sdf.RoundPrism(sdf.Rect(94, 69, 4), 6, 70, 4)
	shell := sdf.Intersect(
		sdf.Difference(outer, inner),
		sdf.HalfSpace{N: geom.V(0, 0, 1), D: top},
	)
	parts := []sdf.Solid{shell}
	for _, at := range trayBosses {
		g := sdf.Place2(sdf.Rect(22, 17, 5), geom.Vec2{X: at[0], Y: at[1]}, 0)
		parts = append(parts, sdf.Taper(g, 6, trayDraft, 5, 30))
	}
	var holes []sdf.Solid
	for _, at := range trayHoles {
		holes = append(holes, sdf.Rod(geom.Vec2{X: at[0], Y: at[1]}, 0.5, -1, 7))
	}
	return sdf.Difference(sdf.Union(parts...), holes...)
}

func BenchmarkContourTray(b *testing.B) {
	b.ReportAllocs()
	s := testTray()
	for b.Loop() {
		m, err := Contour(context.Background(), s, Options{Tol: 0.01})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(m.T)), "triangles")
	}
}
