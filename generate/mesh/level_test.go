package mesh

import (
	"math"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// levelArea is the area of the triangles that face the way of n, along an axis,
// and lie exactly at the given height along it, and of those that nearly do: that
// tilt by less than a tenth of a degree.
func levelArea(m *Mesh, n geom.Vec, at float64) (level, nearly float64) {
	for i := range m.T {
		a, b, c := m.Corners(i)
		k := b.Sub(a).Cross(c.Sub(a))
		area := k.Len() / 2
		switch x, y, z := n.Dot(a), n.Dot(b), n.Dot(c); {
		case x == at && y == at && z == at:
			level += area
		case n.Dot(k)/k.Len() > math.Cos(0.1*math.Pi/180) && math.Abs((x+y+z)/3-at) < 0.05:
			nearly += area
		}
	}
	return level, nearly
}

// TestContourFlatsEndWhereTheyDo: the flats of a block that is rounded all round are
// exact and as large as elementary geometry says.
func TestContourFlatsEndWhereTheyDo(t *testing.T) {
	const x, y, z, corner, edge = 20, 15, 10, 6, 2
	m := contourSound(t, sdf.RoundPrism(sdf.Rect(x, y, corner), -z, z, edge), 0.025)
	top := 4*(x-edge)*(y-edge) - (4-math.Pi)*(corner-edge)*(corner-edge)
	for _, side := range []struct {
		n        geom.Vec
		at, want float64
	}{
		{geom.V(0, 0, 1), z, top},
		{geom.V(0, 0, -1), z, top},
		{geom.V(1, 0, 0), x, 4 * (y - corner) * (z - edge)},
		{geom.V(-1, 0, 0), x, 4 * (y - corner) * (z - edge)},
		{geom.V(0, 1, 0), y, 4 * (x - corner) * (z - edge)},
		{geom.V(0, -1, 0), y, 4 * (x - corner) * (z - edge)},
	} {
		level, nearly := levelArea(m, side.n, side.at)
		if !(level <= side.want+0.1 && level >= 0.97*side.want && nearly <= 0.01*side.want) {
			t.Errorf("facing %v: %.2f mm² level, %.2f nearly so, want %.2f level", side.n, level, nearly, side.want)
		}
	}
}
