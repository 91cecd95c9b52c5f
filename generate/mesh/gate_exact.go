package mesh

import (
	"math"
	"math/big"
	"math/bits"

	"buckwright/generate/geom"
)

// gateExact answers which side a point is on, without rounding. Coordinates that
// share a grid of at most 2^26 steps are turned into integers; others fall back
// on big numbers when floating point cannot tell.
type gateExact struct {
	v    []geom.Vec
	grid [][3]int64 // nil when the coordinates do not fit
}

func newGateExact(v []geom.Vec) gateExact {
	x := gateExact{v: v}
	const step, most = 1 << 15, 1 << 25
	grid := make([][3]int64, len(v))
	for i, p := range v {
		for a := range 3 {
			f := p.Axis(a) * step
			if f != math.Trunc(f) || !(math.Abs(f) < most) {
				return x
			}
			grid[i][a] = int64(f)
		}
	}
	x.grid = grid
	return x
}

// gateWide is a signed number of 128 bits.
type gateWide struct {
	hi int64
	lo uint64
}

func (w *gateWide) addMul(a, b int64) {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	h := int64(hi)
	if a < 0 {
		h -= b
	}
	if b < 0 {
		h -= a
	}
	var c uint64
	w.lo, c = bits.Add64(w.lo, lo, 0)
	w.hi += h + int64(c)
}

func (w *gateWide) sign() int {
	switch {
	case w.hi < 0:
		return -1
	case w.hi > 0 || w.lo > 0:
		return 1
	}
	return 0
}

// side is the sign of the volume of a, b, c, d: positive when d is on the side
// from which a, b, c turn counterclockwise.
func (x *gateExact) side(a, b, c, d int32) int {
	pa, pb, pc, pd := x.v[a], x.v[b], x.v[c], x.v[d]
	u, v, w := pb.Sub(pa), pc.Sub(pa), pd.Sub(pa)
	n := u.Cross(v)
	det := n.Dot(w)
	au, av, aw := u.Abs(), v.Abs(), w.Abs()
	bound := 1e-14 * ((au.Y*av.Z+au.Z*av.Y)*aw.X + (au.Z*av.X+au.X*av.Z)*aw.Y + (au.X*av.Y+au.Y*av.X)*aw.Z)
	if det > bound {
		return 1
	}
	if det < -bound {
		return -1
	}
	if bound == 0 { // every product has an exact 0 in it, as in a flat across an axis
		return 0
	}
	if x.grid == nil {
		return x.slow(a, b, c, d)
	}
	o := x.grid[a]
	i, j, k := gateLess(x.grid[b], o), gateLess(x.grid[c], o), gateLess(x.grid[d], o)
	var sum gateWide
	sum.addMul(i[1]*j[2]-i[2]*j[1], k[0])
	sum.addMul(i[2]*j[0]-i[0]*j[2], k[1])
	sum.addMul(i[0]*j[1]-i[1]*j[0], k[2])
	return sum.sign()
}

func gateLess(a, b [3]int64) [3]int64 { return [3]int64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// slow is side by big numbers.
func (x *gateExact) slow(a, b, c, d int32) int {
	u, v, w := x.bigLess(b, a), x.bigLess(c, a), x.bigLess(d, a)
	sum := new(big.Rat)
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		n := new(big.Rat).Sub(new(big.Rat).Mul(u[j], v[k]), new(big.Rat).Mul(u[k], v[j]))
		sum.Add(sum, n.Mul(n, w[i]))
	}
	return sum.Sign()
}

func (x *gateExact) bigLess(a, b int32) (d [3]*big.Rat) {
	for i := range 3 {
		p := new(big.Rat).SetFloat64(x.v[a].Axis(i))
		d[i] = p.Sub(p, new(big.Rat).SetFloat64(x.v[b].Axis(i)))
	}
	return d
}

// turn is the sign of the area of a, b, c seen along an axis.
func (x *gateExact) turn(a, b, c int32, axis int) int {
	j, k := (axis+1)%3, (axis+2)%3
	if x.grid != nil {
		u, v := gateLess(x.grid[b], x.grid[a]), gateLess(x.grid[c], x.grid[a])
		d := u[j]*v[k] - u[k]*v[j] // 2 x 26 bits and a sum
		switch {
		case d > 0:
			return 1
		case d < 0:
			return -1
		}
		return 0
	}
	pa, pb, pc := x.v[a], x.v[b], x.v[c]
	u, v := pb.Sub(pa), pc.Sub(pa)
	l, r := u.Axis(j)*v.Axis(k), u.Axis(k)*v.Axis(j)
	if d, bound := l-r, 1e-15*(math.Abs(l)+math.Abs(r)); d > bound {
		return 1
	} else if d < -bound {
		return -1
	}
	bu, bv := x.bigLess(b, a), x.bigLess(c, a)
	return new(big.Rat).Sub(new(big.Rat).Mul(bu[j], bv[k]), new(big.Rat).Mul(bu[k], bv[j])).Sign()
}

// holds reports that p lies in triangle t, seen along the axis, rim included.
func (x *gateExact) holds(t [3]int32, p int32, axis int) bool {
	u, v, w := x.turn(t[0], t[1], p, axis), x.turn(t[1], t[2], p, axis), x.turn(t[2], t[0], p, axis)
	return u >= 0 && v >= 0 && w >= 0 || u <= 0 && v <= 0 && w <= 0
}

// meet reports that the segments pq and ab meet, ends included, seen along the
// axis; segments on one line do not count.
func (x *gateExact) meet(p, q, a, b int32, axis int) bool {
	u, v := x.turn(p, q, a, axis), x.turn(p, q, b, axis)
	r, s := x.turn(a, b, p, axis), x.turn(a, b, q, axis)
	return u*v <= 0 && r*s <= 0 && !(u == 0 && v == 0)
}

// collinear reports that a, b, c span no area.
func (x *gateExact) collinear(a, b, c int32) bool {
	return x.turn(a, b, c, 0) == 0 && x.turn(a, b, c, 1) == 0 && x.turn(a, b, c, 2) == 0
}

// flat is an axis along which triangle t does not look like a line.
func (x *gateExact) flat(t [3]int32) int {
	pa, pb, pc := x.v[t[0]], x.v[t[1]], x.v[t[2]]
	n := pb.Sub(pa).Cross(pc.Sub(pa)).Abs()
	axis := 0
	if n.Y > n.X {
		axis = 1
	}
	if n.Z > max(n.X, n.Y) {
		axis = 2
	}
	for range 3 {
		if x.turn(t[0], t[1], t[2], axis) != 0 {
			break
		}
		axis = (axis + 1) % 3
	}
	return axis
}
