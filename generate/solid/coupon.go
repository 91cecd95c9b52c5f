package solid

import (
	"fmt"
	"math"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// The coupon's plan, in mm. Columns of one grade stand side by side along x: a
// slot in front, then its mark, a rib, the mark again, a hole.
const (
	couponThick = 5.0  // plate
	couponPitch = 11.0 // from column to column
	couponFirst = 9.0  // x of the first column
	couponDeep  = 70.0 // plate along y
	couponLeg   = 12.0 // width of the leg that makes the long side along y
	fitLength   = 12.0 // length of tongue and ribs
	fitEnds     = 0.75 // room at either end, which plays no part in the fit
	fitHigh     = 6.0  // of the ribs
	slotY       = 9.5
	markY       = 22.0
	ribY        = 34.0
	markBackY   = 46.0
	holeY       = 52.5
	wallY       = 64.0
	wallLong    = 9.0
	wallHigh    = 8.0
	leadIn      = 0.6 // chamfer that finds the way
	couponMark  = 5.0 // height of the digits
)

// CouponPrint is what the coupon must know of the printer: chamfer against the
// elephant's foot, width of a bead, layer height.
type CouponPrint struct{ Foot, Width, Layer float64 }

// Piece is one body of the coupon, where it stands on the bed.
type Piece struct {
	Name  string
	Solid sdf.Solid
}

// Coupon draws the fit coupon: plate, tongue and ring. It is drawn without any
// correction, since it is there to find them.
func Coupon(c fit.Coupon, p CouponPrint) []Piece {
	return []Piece{
		{"plate", couponPlate(c, p)},
		{"tongue", geomAt(couponTongue(c, p), 46, 104)},
		{"ring", geomAt(couponRing(c, p), 84, 104)},
	}
}

func geomAt(s sdf.Solid, x, y float64) sdf.Solid {
	return sdf.Move(s, geom.Translate(geom.V(x, y, 0)))
}

func rectAt(x, y, hx, hy float64) sdf.Region {
	return sdf.Place2(sdf.Rect(hx, hy, 0), geom.Vec2{X: x, Y: y}, 0)
}

// couponPlate is an L whose outer sides are the two measured lengths.
func couponPlate(c fit.Coupon, p CouponPrint) sdf.Solid {
	plan := sdf.Union2(rectAt(c.Bar/2, couponDeep/2, c.Bar/2, couponDeep/2), rectAt(couponLeg/2, c.Bar/2, couponLeg/2, c.Bar/2))
	plate := sdf.Intersect(sdf.Prism(plan, 0, couponThick), chamferBelow(plan, 0, p.Foot))
	add := append([]sdf.Solid{plate}, couponWalls(c, p)...)
	var cuts []sdf.Solid
	for i := range c.Grades {
		x, g := couponFirst+couponPitch*float64(i), c.Grade(i)
		add = append(add, couponRib(x, c.Gauge/2-g))
		cuts = append(cuts, through(rectAt(x, slotY, c.Gauge/2+g, fitLength/2+fitEnds), p.Foot)...)
		cuts = append(cuts, through(sdf.Place2(sdf.Disc((c.Pin+g)/2), geom.Vec2{X: x, Y: holeY}, 0), p.Foot)...)
		text := fmt.Sprintf("%.0f", 100*g)
		for _, y := range [2]float64{markY, markBackY} {
			cuts = append(cuts, mark(text, couponMark, geom.Vec2{X: x, Y: y}, 0, couponThick))
		}
	}
	for n := 1; n <= c.Walls; n++ {
		cuts = append(cuts, mark(fmt.Sprint(n), couponMark, geom.Vec2{X: wallX(n) - 4, Y: wallY}, 0, couponThick))
	}
	return sdf.Difference(sdf.Union(add...), cuts...)
}

// through cuts a plan through the plate, wider at the bed by the elephant's foot.
func through(plan sdf.Region, foot float64) []sdf.Solid {
	cut := []sdf.Solid{sdf.Prism(plan, -1, couponThick+1)}
	if foot > 0 {
		cut = append(cut, sdf.Taper(plan, foot, 45*geom.Degree, -1, foot))
	}
	return cut
}

// couponRib stands on the plate, half wide across, with a lead-in.
func couponRib(x, half float64) sdf.Solid {
	return led(rectAt(x, ribY, half, fitLength/2), couponThick-0.5, couponThick+fitHigh)
}

// led is an upright prism whose upper edge leads in.
func led(plan sdf.Region, z0, z1 float64) sdf.Solid {
	return sdf.Intersect(sdf.Prism(plan, z0, z1), chamferAbove(plan, z1, leadIn))
}

func wallX(n int) float64 { return 14 + 24*float64(n-1) + 2 }

// couponWalls are walls of one bead, two beads and so on, along y.
func couponWalls(c fit.Coupon, p CouponPrint) []sdf.Solid {
	var out []sdf.Solid
	for n := 1; n <= c.Walls; n++ {
		half := fit.PrintWall(n, p.Width, p.Layer) / 2
		out = append(out, sdf.Prism(rectAt(wallX(n)+5, wallY, half, wallLong/2), couponThick-0.5, couponThick+wallHigh))
	}
	return out
}

// couponTongue is the gauge for the slots: a foot to hold it by and the tongue
// upright on it, printed as the slots are, walls upright.
func couponTongue(c fit.Coupon, p CouponPrint) sdf.Solid {
	const hx, hy, thick = 9.0, 9.0, 4.0
	plan := sdf.Rect(hx, hy, 3)
	foot := sdf.Intersect(sdf.Prism(plan, 0, thick), chamferBelow(plan, 0, p.Foot))
	return sdf.Union(foot, led(sdf.Rect(c.Gauge/2, fitLength/2, 0), thick-0.5, thick+couponThick+4))
}

// couponRing is the gauge for the ribs: a window as wide as the tongue.
func couponRing(c fit.Coupon, p CouponPrint) sdf.Solid {
	const wall = 2.4
	high := fitHigh + 2
	hx, hy := c.Gauge/2, fitLength/2+fitEnds
	plan, window := sdf.Rect(hx+wall, hy+wall, 1), sdf.Rect(hx, hy, 0)
	body := sdf.Intersect(sdf.Prism(plan, 0, high), chamferBelow(plan, 0, p.Foot))
	lead := math.Max(p.Foot, leadIn)
	return sdf.Difference(body, sdf.Prism(window, -1, high+1),
		sdf.Taper(window, lead, 45*geom.Degree, -1, lead))
}
