package generate

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/picture"
)

// tightest is the place right of the middle of the pocket where a body comes
// nearest to the sheet: on the wall if the body is near it, else below, as where
// the plane runs through a notch. It returns a point of the body and the sheet's
// product side.
func (c *cutting) tightest(body picture.Loops) (p, q geom.Vec2, ok bool) {
	edge, ok := c.mouthRight(-2)
	if !ok {
		return p, q, false
	}
	if p, q, ok = c.tightWall(body, edge); ok {
		return p, q, true
	}
	right, lined := min(edge, body.Bounds().Max.X), 1.02*(c.r.Kit.Liner.Thickness+c.cement())
	best := math.Inf(1)
	for u := 0.95 * right; u > 0; u -= 0.25 {
		z := body.AtPlace(u)
		if len(z) == 0 {
			continue
		}
		from := at(u, z[0])
		to := c.onProduct(from)
		if d := to.Sub(from).Len(); d < best-0.005 {
			p, q, best, ok = from, to, d, true
		}
		if best < lined {
			break // the outermost place that touches
		}
	}
	return p, q, ok
}

// tightWall is the tightest place on the wall, no farther than twice the liner.
func (c *cutting) tightWall(body picture.Loops, edge float64) (p, q geom.Vec2, ok bool) {
	best := 2 * (c.r.Kit.Liner.Thickness + c.cement())
	for z := body.Bounds().Min.Y + 0.1; z < -2; z += 0.25 {
		x, inside := lastBelow(body.AtHeight(z), edge)
		if !inside {
			continue
		}
		from := at(x, z)
		to := c.onProduct(from)
		if d := to.Sub(from).Len(); to.X-from.X > 0.7*d && d < best-0.005 {
			p, q, best, ok = from, to, d, true
		}
	}
	return p, q, ok
}

// lastBelow is the last of rising numbers that is less than most.
func lastBelow(x []float64, most float64) (float64, bool) {
	for i := len(x) - 1; i >= 0; i-- {
		if x[i] < most {
			return x[i], true
		}
	}
	return 0, false
}
