package solid

import (
	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

const (
	lugWall = 1.8 // mm of wall round a magnet: four extrusions of 0.45
	lugRoot = 5.0 // mm that a lug is wider at the case's wall, each side
)

// magnetSides are the sides that have a magnet in the middle: the ends first.
func (l *Layout) magnetSides() []side {
	all := l.sides()
	return all[:min(l.Dims.Closure.Pairs, len(all))]
}

// magnetAt is where a magnet's axis stands on a side: its bore's wall is the
// case's own outside, so that the lug need not stand out far.
func (l *Layout) magnetAt(d side) float64 {
	return d.neck + l.Dims.Lid.Slip + l.Dims.Lid.Wall + l.Dims.Closure.MagnetBore/2
}

// lug is the plan of the eye that carries a magnet beside the case, on the +x
// side: a round that runs out into the wall. It is upright, so base and lid
// print it standing on their beds.
func (l *Layout) lug(d side) sdf.Region {
	r := l.Dims.Closure.MagnetBore/2 + lugWall
	at := l.magnetAt(d)
	wall := d.neck + l.Dims.Lid.Slip + l.Dims.Lid.Wall/2
	root := sdf.Place2(sdf.Rect(l.Dims.Lid.Wall/4, r+lugRoot, 0), geom.Vec2{X: wall}, 0)
	return sdf.Hull(root, sdf.Place2(sdf.Disc(r), geom.Vec2{X: at}, 0))
}

// magnetBores are the bores for the discs between two heights.
func (l *Layout) magnetBores(z0, z1 float64) []sdf.Solid {
	var out []sdf.Solid
	for _, d := range l.magnetSides() {
		out = append(out, l.onSide(d, sdf.Rod(geom.Vec2{X: l.magnetAt(d)}, l.Dims.Closure.MagnetBore/2, z0, z1)))
	}
	return out
}
