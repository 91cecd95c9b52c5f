package sdf

import (
	"math"
	"testing"

	"buckwright/generate/geom"
)

func cube(r float64) geom.Box {
	return geom.Box{Min: geom.V(-r, -r, -r), Max: geom.V(r, r, r)}
}

// filleted is the points in a or b, the crease between their surfaces filled with a
// fillet of radius r. maxCos is as in RoundIntersect.
func filleted(a, b Solid, r, maxCos float64) Solid {
	return Complement(RoundIntersect(Complement(a), Complement(b), r, maxCos))
}

// inRoundRect is membership in a rectangle with corner radius r, by cases.
func inRoundRect(x, y, hx, hy, r float64) bool {
	x, y = math.Abs(x), math.Abs(y)
	if x > hx || y > hy {
		return false
	}
	if x > hx-r && y > hy-r {
		return math.Hypot(x-hx+r, y-hy+r) <= r
	}
	return true
}

// ell is an L of unit strokes 10 long and 4 wide, its inner corner at (4, 4).
var ell = []geom.Vec2{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 10}, {X: 0, Y: 10}}

func inEll(x, y float64) bool {
	return x >= 0 && y >= 0 && x <= 10 && y <= 10 && (x <= 4 || y <= 4)
}

func mustPolygon(pts []geom.Vec2, bulge []float64) Region {
	g, err := Polygon(pts, bulge)
	if err != nil {
		panic(err)
	}
	return g
}

// slot is 20 long and 8 wide between the arcs' centres and a half disc bitten
// out of its upper side.
var slot = mustPolygon([]geom.Vec2{{X: -10, Y: -4}, {X: 10, Y: -4}, {X: 10, Y: 4}, {X: 3, Y: 4}, {X: -3, Y: 4}, {X: -10, Y: 4}},
	[]float64{0, 1, 0, -1, 0, 1})

func inSlot(x, y float64) bool {
	if math.Hypot(x, y-4) < 3 {
		return false
	}
	x = max(0, math.Abs(x)-10)
	return math.Hypot(x, y) <= 4 && (x > 0 || math.Abs(y) <= 4)
}

func specimens() []specimen {
	sq := geom.V(1, 2, 3)
	tilt := geom.RotateX(0.4).Then(geom.RotateY(-0.7)).Then(geom.Translate(geom.V(1, -2, 0.5)))
	untilt := tilt.Inverse()
	return []specimen{
		{"half space", HalfSpace{geom.V(0.6, 0, 0.8), 1}, func(p geom.Vec) bool { return 0.6*p.X+0.8*p.Z <= 1 }, cube(10)},
		{"box", Box(geom.V(-3, -2, -1), geom.V(4, 5, 6)), func(p geom.Vec) bool {
			return p.X >= -3 && p.X <= 4 && p.Y >= -2 && p.Y <= 5 && p.Z >= -1 && p.Z <= 6
		}, cube(9)},
		{"rod", Rod(geom.Vec2{X: 1, Y: 2}, 3, -4, 5), func(p geom.Vec) bool {
			return math.Hypot(p.X-1, p.Y-2) <= 3 && p.Z >= -4 && p.Z <= 5
		}, cube(9)},
		{"prism of a rounded rectangle", Prism(Rect(5, 3, 2), 0, math.Inf(1)), func(p geom.Vec) bool {
			return inRoundRect(p.X, p.Y, 5, 3, 2) && p.Z >= 0
		}, cube(8)},
		{"prism of an L", Prism(mustPolygon(ell, nil), -2, 3), func(p geom.Vec) bool {
			return inEll(p.X, p.Y) && p.Z >= -2 && p.Z <= 3
		}, cube(13)},
		{"prism of a house", Prism(mustPolygon([]geom.Vec2{{X: -2, Y: -3}, {X: 2, Y: -3}, {X: 2, Y: 0}, {X: 0, Y: 2}, {X: -2, Y: 0}}, nil), -6, 6), func(p geom.Vec) bool {
			return math.Abs(p.X) <= 2 && p.Y >= -3 && math.Abs(p.X)+p.Y <= 2 && math.Abs(p.Z) <= 6
		}, cube(8)},
		{"prism of a bitten slot", Prism(slot, -3, 3), func(p geom.Vec) bool {
			return inSlot(p.X, p.Y) && math.Abs(p.Z) <= 3
		}, cube(15)},
		{"turned prism", Prism(Place2(Rect(5, 3, 0), geom.Vec2{X: 1, Y: 1}, 30*geom.Degree), -2, 2), func(p geom.Vec) bool {
			x, y := p.X-1, p.Y-1
			c, s := math.Sqrt(3)/2, 0.5
			return math.Abs(c*x+s*y) <= 5 && math.Abs(c*y-s*x) <= 3 && math.Abs(p.Z) <= 2
		}, cube(9)},
		{"round prism", RoundPrism(Rect(6, 5, 2), -3, 4, 1.5), func(p geom.Vec) bool {
			return inRounded(p, 6, 5, 2, -3, 4, 1.5)
		}, cube(9)},
		{"round prism with sharp plan", RoundPrism(Rect(6, 5, 0), -3, 4, 1.5), func(p geom.Vec) bool {
			return inRounded(p, 6, 5, 1.5, -3, 4, 1.5)
		}, cube(9)},
		{"round prism of an L", RoundPrism(mustPolygon(ell, nil), -2, 3, 1.5), func(p geom.Vec) bool {
			x, y := max(1.5, min(p.X, 8.5)), max(1.5, min(p.Y, 8.5)) // to the core of the L
			d := math.Hypot(p.X-x, p.Y-y)
			if x > 2.5 && y > 2.5 {
				d = coreOfEll(p.X, p.Y)
			}
			return math.Hypot(d, max(-0.5-p.Z, p.Z-1.5, 0)) <= 1.5
		}, cube(13)},
		{"round prism of two discs", RoundPrism(Union2(Place2(Disc(3), geom.Vec2{X: -2}, 0), Place2(Disc(3), geom.Vec2{X: 2}, 0)), -4, 4, 2.5), func(p geom.Vec) bool {
			return math.Hypot(coreOfDiscs(math.Abs(p.X), math.Abs(p.Y)), max(0, math.Abs(p.Z)-1.5)) <= 2.5
		}, cube(7)},
		{"taper", Taper(Rect(6, 5, 2), 0, 10*geom.Degree, -4, 6), func(p geom.Vec) bool {
			return inTaper(p, 6, 5, 2, 0, 10*geom.Degree, -4, 6)
		}, cube(9)},
		{"widening taper of a sharp rectangle", Taper(Rect(4, 3, 0), -5, -20*geom.Degree, -5, 5), func(p geom.Vec) bool {
			return inTaper(p, 4, 3, 0, -5, -20*geom.Degree, -5, 5)
		}, cube(9)},
		{"ball", Ball(sq, 5), func(p geom.Vec) bool { return p.Dist(sq) <= 5 }, cube(9)},
		{"capsule", Capsule(geom.V(-3, -2, 0), geom.V(3, 4, 2), 2), func(p geom.Vec) bool {
			return inCapsule(p, geom.V(-3, -2, 0), geom.V(3, 4, 2), 2)
		}, cube(9)},
		{"cylinder", Cylinder(geom.V(-3, -2, 0), geom.V(3, 4, 2), 3), func(p geom.Vec) bool {
			return inFrustum(p, geom.V(-3, -2, 0), geom.V(3, 4, 2), 3, 3)
		}, cube(9)},
		{"cone", Cone(geom.V(-3, -2, 0), geom.V(3, 4, 2), 4, 1), func(p geom.Vec) bool {
			return inFrustum(p, geom.V(-3, -2, 0), geom.V(3, 4, 2), 4, 1)
		}, cube(9)},
		{"pointed cone", Cone(geom.V(0, 0, 5), geom.V(0, 0, -5), 0, 4), func(p geom.Vec) bool {
			return inFrustum(p, geom.V(0, 0, 5), geom.V(0, 0, -5), 0, 4)
		}, cube(9)},
		{"ellipsoid", Ellipsoid(geom.V(7, 2, 4)), func(p geom.Vec) bool {
			return p.X*p.X/49+p.Y*p.Y/4+p.Z*p.Z/16 <= 1
		}, cube(9)},
		{"flat ellipsoid", Ellipsoid(geom.V(7, 7, 1)), func(p geom.Vec) bool {
			return p.X*p.X/49+p.Y*p.Y/49+p.Z*p.Z <= 1
		}, cube(9)},
		{"torus", Revolve(Place2(Disc(2), geom.Vec2{X: 5}, 0)), func(p geom.Vec) bool {
			return math.Hypot(math.Hypot(p.X, p.Y)-5, p.Z) <= 2
		}, cube(9)},
		{"dome", Revolve(Disc(5)), func(p geom.Vec) bool { return p.Len() <= 5 }, cube(9)},
		{"cup", Revolve(mustPolygon([]geom.Vec2{{X: 0, Y: -4}, {X: 5, Y: -4}, {X: 6, Y: 5}, {X: 4, Y: 5}, {X: 0, Y: -2}}, nil)), func(p geom.Vec) bool {
			r := math.Hypot(p.X, p.Y)
			return p.Z >= -4 && p.Z <= 5 && r <= 5+(p.Z+4)/9 && p.Z <= -2+r*7/4
		}, cube(9)},
		{"turned round prism", Move(RoundPrism(Rect(6, 4, 2), -3, 3, 1), tilt), func(p geom.Vec) bool {
			return inRounded(untilt.Apply(p), 6, 4, 2, -3, 3, 1)
		}, cube(9)},
		{"mirrored", Move(Cone(geom.V(1, 0, -3), geom.V(1, 0, 4), 4, 2), geom.ScaleAbout(geom.V(2, 0, 0), geom.V(-1, 1, 1))), func(p geom.Vec) bool {
			return inFrustum(p, geom.V(3, 0, -3), geom.V(3, 0, 4), 4, 2)
		}, cube(9)},
		{"scaled", Scale(Prism(Rect(2, 1, 0.5), 0, 2), geom.V(1, 1, 1), 3), func(p geom.Vec) bool {
			return inRoundRect(p.X+2, p.Y+2, 6, 3, 1.5) && p.Z >= -2 && p.Z <= 4
		}, cube(9)},
		{"union", Union(Ball(sq, 4), Box(geom.V(-5, -4, -3), geom.V(2, 3, 1)), Rod(geom.Vec2{}, 1, -8, 8)), func(p geom.Vec) bool {
			return p.Dist(sq) <= 4 || p.X >= -5 && p.X <= 2 && p.Y >= -4 && p.Y <= 3 && p.Z >= -3 && p.Z <= 1 || math.Hypot(p.X, p.Y) <= 1 && math.Abs(p.Z) <= 8
		}, cube(9)},
		{"intersection", Intersect(Ball(sq, 5), Box(geom.V(-5, -4, -3), geom.V(2, 3, 4))), func(p geom.Vec) bool {
			return p.Dist(sq) <= 5 && p.X >= -5 && p.X <= 2 && p.Y >= -4 && p.Y <= 3 && p.Z >= -3 && p.Z <= 4
		}, cube(9)},
		{"difference", Difference(Box(geom.V(-6, -5, -3), geom.V(6, 5, 3)), Rod(geom.Vec2{}, 2, -9, 9), Ball(geom.V(4, 4, 3), 2)), func(p geom.Vec) bool {
			return math.Abs(p.X) <= 6 && math.Abs(p.Y) <= 5 && math.Abs(p.Z) <= 3 && math.Hypot(p.X, p.Y) >= 2 && p.Dist(geom.V(4, 4, 3)) >= 2
		}, cube(9)},
		{"rounded intersection", RoundIntersect(HalfSpace{geom.V(1, 0, 0), 2}, HalfSpace{geom.V(0, 0, 1), 3}, 2, 0), func(p geom.Vec) bool {
			if p.X > 0 && p.Z > 1 {
				return math.Hypot(p.X, p.Z-1) <= 2
			}
			return p.X <= 2 && p.Z <= 3
		}, cube(9)},
		// The angle at the edge is that of the sides; a floor under it slants more.
		{"rounded edge over a slanting floor", RoundIntersectAny(HalfSpace{geom.V(0, 0, 1), 3}, Union(HalfSpace{geom.V(1, 0, 0), 2}, HalfSpace{geom.V(0.28, 0, 0.96), 0.5}), 2, 0), func(p geom.Vec) bool {
			u, v := p.Z-1, min(p.X, 0.28*p.X+0.96*p.Z+1.5)
			if u > 0 && v > 0 {
				return u*u+v*v <= 4
			}
			return u <= 2 && v <= 2
		}, cube(9)},
		{"rounded slanting intersection", RoundIntersect(HalfSpace{geom.V(0.8, 0, 0.6), 2}, HalfSpace{geom.V(0, 0, 1), 3}, 2, 0.6), func(p geom.Vec) bool {
			u, v := 0.8*p.X+0.6*p.Z, p.Z-1
			if u > 0 && v > 0 {
				return u*u+v*v <= 4
			}
			return u <= 2 && v <= 2
		}, cube(9)},
		{"rounded union", filleted(HalfSpace{geom.V(1, 0, 0), -2}, Ball(geom.V(3, 0, 0), 4), 1, 1), func(p geom.Vec) bool {
			da, db := p.X+2, p.Dist(geom.V(3, 0, 0))-4
			if da < 1 && db < 1 {
				return (1-da)*(1-da)+(1-db)*(1-db) >= 1
			}
			return da <= 0 || db <= 0
		}, cube(9)},
		{"grown box", Offset(Box(geom.V(-3, -2, -1), geom.V(4, 5, 3)), 2), func(p geom.Vec) bool {
			return geom.Box{Min: geom.V(-3, -2, -1), Max: geom.V(4, 5, 3)}.Dist(p) <= 2
		}, cube(9)},
		{"shrunk box", Offset(Box(geom.V(-6, -5, -4), geom.V(4, 5, 3)), -2), func(p geom.Vec) bool {
			return p.X >= -4 && p.X <= 2 && math.Abs(p.Y) <= 3 && p.Z >= -2 && p.Z <= 1
		}, cube(9)},
		{"grown prism of an L", Offset(Prism(mustPolygon(ell, nil), -2, 3), 1.5), func(p geom.Vec) bool {
			return distEll(p, -2, 3) <= 1.5
		}, cube(13)},
		{"shrunk prism of an L", Offset(Prism(mustPolygon(ell, nil), -4, 5), -1), func(p geom.Vec) bool {
			return p.Z >= -3 && p.Z <= 4 && inEllInset(p.X, p.Y, 1)
		}, cube(13)},
		{"shrunk frustum", Offset(Cone(geom.V(0, 0, -5), geom.V(0, 0, 6), 5, 3), -1), func(p geom.Vec) bool {
			k := math.Hypot(11, 2) / 11
			return p.Z >= -4 && p.Z <= 5 && math.Hypot(p.X, p.Y) <= 5-(p.Z+5)*2/11-k
		}, cube(8)},
		{"grown frustum", Offset(Cone(geom.V(0, 0, -3), geom.V(0, 0, 4), 5, 3), 1), func(p geom.Vec) bool {
			return frustumDist(math.Hypot(p.X, p.Y), p.Z, -3, 4, 5, 3) <= 1
		}, cube(9)},
		{"shrunk difference", Offset(Difference(Box(geom.V(-6, -6, -6), geom.V(6, 6, 6)), Ball(geom.V(6, 6, 6), 5)), -1), func(p geom.Vec) bool {
			return max(math.Abs(p.X), math.Abs(p.Y), math.Abs(p.Z)) <= 5 && p.Dist(geom.V(6, 6, 6)) >= 6
		}, cube(9)},
		{"grown torus", Offset(Revolve(Place2(Rect(1, 2, 0), geom.Vec2{X: 5}, 0)), 1), func(p geom.Vec) bool {
			x, y := max(0, math.Abs(math.Hypot(p.X, p.Y)-5)-1), max(0, math.Abs(p.Z)-2)
			return math.Hypot(x, y) <= 1
		}, cube(9)},
	}
}

func inRounded(p geom.Vec, hx, hy, r, z0, z1, edge float64) bool {
	if p.Z < z0 || p.Z > z1 {
		return false
	}
	in := max(z0+edge-p.Z, p.Z-z1+edge, 0) // how far into the rounded edge
	d := edge - math.Sqrt(edge*edge-in*in)
	return inRoundRect(p.X, p.Y, hx-d, hy-d, r-d)
}

func inTaper(p geom.Vec, hx, hy, r, z float64, a geom.Angle, z0, z1 float64) bool {
	k := (z - p.Z) * math.Tan(float64(a))
	return p.Z >= z0 && p.Z <= z1 && inRoundRect(p.X, p.Y, hx+k, hy+k, max(0, r+k))
}

func inCapsule(p, a, b geom.Vec, r float64) bool {
	u := b.Sub(a)
	t := p.Sub(a).Dot(u) / u.Dot(u)
	switch {
	case t < 0:
		return p.Dist(a) <= r
	case t > 1:
		return p.Dist(b) <= r
	}
	return p.Sub(a).Cross(u).Len() <= r*u.Len()
}

func inFrustum(p, a, b geom.Vec, ra, rb float64) bool {
	u := b.Sub(a)
	t := p.Sub(a).Dot(u) / u.Dot(u)
	return t >= 0 && t <= 1 && p.Sub(a).Cross(u).Len() <= (ra+(rb-ra)*t)*u.Len()
}

// frustumDist is the distance to an upright frustum, 0 inside, by minimising
// over its four-sided section.
func frustumDist(x, z, z0, z1, r0, r1 float64) float64 {
	if z >= z0 && z <= z1 && x <= r0+(r1-r0)*(z-z0)/(z1-z0) {
		return 0
	}
	seg := func(ax, az, bx, bz float64) float64 {
		t := ((x-ax)*(bx-ax) + (z-az)*(bz-az)) / ((bx-ax)*(bx-ax) + (bz-az)*(bz-az))
		t = max(0, min(1, t))
		return math.Hypot(x-ax-t*(bx-ax), z-az-t*(bz-az))
	}
	return min(seg(0, z0, r0, z0), seg(r0, z0, r1, z1), seg(r1, z1, 0, z1))
}

// coreOfEll is the distance to the L shrunk by 1.5, from near its rounded inner
// corner: an arc of radius 1.5 about (4, 4), and the straight sides past its ends.
func coreOfEll(x, y float64) float64 {
	if inEllInset(x, y, 1.5) {
		return 0
	}
	seg := func(ax, ay, bx, by float64) float64 {
		t := max(0, min(1, ((x-ax)*(bx-ax)+(y-ay)*(by-ay))/((bx-ax)*(bx-ax)+(by-ay)*(by-ay))))
		return math.Hypot(x-ax-t*(bx-ax), y-ay-t*(by-ay))
	}
	d := min(seg(4, 2.5, 8.5, 2.5), seg(2.5, 4, 2.5, 8.5), seg(8.5, 1.5, 8.5, 2.5), seg(1.5, 8.5, 2.5, 8.5))
	if x <= 4 && y <= 4 {
		d = min(d, math.Abs(math.Hypot(x-4, y-4)-1.5))
	}
	return d
}

// coreOfDiscs is the distance to what discs of radius 3 about (2, 0) and (-2, 0)
// leave when they are shrunk together by 2.5, for x, y >= 0: a drop bounded by
// an arc of radius 0.5 about (2, 0) and one of 2.5 about where the discs' rims cross.
func coreOfDiscs(x, y float64) float64 {
	vy := math.Sqrt(5)
	if (x-2)*vy+y*2 >= 0 { // right of the line from (2, 0) to the crossing
		return max(0, math.Hypot(x-2, y)-0.5)
	}
	tip := math.Sqrt(2.5*2.5 - 5)
	r := math.Hypot(x, y-vy)
	switch {
	case x >= tip && r >= 2.5:
		return 0
	case r < 2.5 && x*vy-tip*(vy-y) >= 0: // under the crossing, right of its line to the tip
		return 2.5 - r
	}
	return math.Hypot(x-tip, y)
}

func distEll(p geom.Vec, z0, z1 float64) float64 {
	a := geom.Box{Min: geom.V(0, 0, z0), Max: geom.V(10, 4, z1)}
	b := geom.Box{Min: geom.V(0, 0, z0), Max: geom.V(4, 10, z1)}
	return min(a.Dist(p), b.Dist(p))
}

// inEllInset is membership in the L shrunk by k: an L whose inner corner is rounded.
func inEllInset(x, y, k float64) bool {
	if x < k || y < k || x > 10-k || y > 10-k {
		return false
	}
	return x <= 4-k || y <= 4-k || x <= 4 && y <= 4 && math.Hypot(x-4, y-4) >= k
}

func TestSolidsKeepTheirPromises(t *testing.T) {
	for _, c := range specimens() {
		t.Run(c.name, func(t *testing.T) { mustHold(t, c) })
	}
}
