package solid

import "buckwright/generate/geom"

const labelCorner = 4.0 // mm, corner radius of a label: a sharp one peels

// LabelPlan is the half size of the groove's inner edge, and its corner radius.
func (l *Layout) LabelPlan() (half geom.Vec2, corner float64) {
	out := l.OutsideHalf()
	return geom.Vec2{X: out.X * 0.55, Y: out.Y * 0.5}, labelCorner
}

// PadCorner is the corner radius of a pad of half size h.
func PadCorner(h geom.Vec2) float64 { return min(padCorner, h.X, h.Y) }

// CeilingPlan is the half size of the ceiling inside the neck, less gap, and
// its corner radius: a liner over the whole ceiling must clear the neck.
func (l *Layout) CeilingPlan(gap float64) (half geom.Vec2, corner float64) {
	g := l.cavityGrowth() - gap
	r := min(l.Dims.Insert.CornerRadius, l.Half.X, l.Half.Y) + g
	return l.Half.Add(geom.Vec2{X: g, Y: g}), max(r, 0)
}

// cavityGrowth is how far the base's cavity lies beyond the insert's rim.
func (l *Layout) cavityGrowth() float64 {
	return -l.Trim*l.Dims.Insert.Draft.Tan() + l.Dims.Base.InsertGap
}
