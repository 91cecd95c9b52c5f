package fit

import "buckwright/generate/geom"

// Reads is what a calliper reads over the outside of a good print, mm, of a body
// whose file is that large: along the bed the printer's scale comes back out and
// its two faces stand out by its offset, upwards only the scale does.
//
// It is the printer as Coupon.Calibrate measures it: L = drawn k + 2 o.
func (p PrintDims) Reads(drawn geom.Vec) geom.Vec {
	faces := 2 * p.Offset
	return geom.V(drawn.X/p.Scale.X+faces, drawn.Y/p.Scale.Y+faces, drawn.Z/p.Scale.Z)
}

// OnBuck is a distance of the finished plan as it is found on the printed buck:
// larger by what the sheet shrinks. The printer's scale is not in it, for a good
// print has taken it back.
func (d Dims) OnBuck(plan geom.Vec2) geom.Vec2 { return plan.Scale(1 / (1 - d.Shrink.Nominal)) }
