package mesh

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// bvhNear is a triangle on a list made for a ball, with what a convex function
// of the point, such as the distance to the triangle, is at the ball's centre C.
// By convexity its value at C + d is at least dist + g·d - slack |d|. Lists fill
// most of a mesher's memory, hence the single precision.
type bvhNear struct {
	k     int32   // place in the tree
	dist  float32 // the value at C
	g     [3]float32
	slack float32 // 0 where g is the gradient; 1 where there is none, with g = 0
}

func newBVHNear(k int32, dist float64, g geom.Vec) bvhNear {
	return bvhNear{k: k, dist: float32(dist), g: [3]float32{float32(g.X), float32(g.Y), float32(g.Z)}}
}

// bvhRounding is the error, in mm, that bounds on distances allow for: that of
// single precision at 150 mm.
const bvhRounding = 1e-5

// least is the bound at C + d, whose length is off.
func (n *bvhNear) least(d geom.Vec, off float64) float64 {
	return float64(n.dist) + n.grad().Dot(d) - float64(n.slack)*off
}

func (n *bvhNear) grad() geom.Vec {
	return geom.Vec{X: float64(n.g[0]), Y: float64(n.g[1]), Z: float64(n.g[2])}
}

// bvhFirst puts the lowest value first.
func bvhFirst(list []bvhNear) {
	for i := range list {
		if list[i].dist < list[0].dist {
			list[0], list[i] = list[i], list[0]
		}
	}
}

// bvhCan cuts a list, lowest first, down to the triangles that can be lowest, or
// level with the lowest, somewhere in a ball of radius r. The value of the first
// rises by no more than g·d + bend over a way d in the ball; all values change by no
// more than the way.
func bvhCan(list []bvhNear, r, bend float64) []bvhNear {
	if len(list) == 0 {
		return list
	}
	w := list[0]
	if w.slack > 0 {
		bend = math.Inf(1)
	}
	out := list[:0]
	for _, t := range list {
		if float64(t.dist-w.dist) <= min(2*r, (t.grad().Dist(w.grad())+float64(t.slack))*r+bend)+bvhRounding {
			out = append(out, t)
		}
	}
	return out
}

// bvhSorted is a copy of a list by rising values, no longer than need be.
func bvhSorted(list []bvhNear) []bvhNear {
	var room [64]uint64
	order := room[:0] // numbers are sorted quicker than what they stand for
	for i, t := range list {
		order = append(order, uint64(bvhRank(t.dist))<<32|uint64(i))
	}
	slices.Sort(order)
	out := make([]bvhNear, len(list))
	for i, k := range order {
		out[i] = list[uint32(k)]
	}
	return out
}

// bvhRank is a number that rises with x, which is not NaN.
func bvhRank(x float32) uint32 {
	b := math.Float32bits(x)
	if b>>31 == 0 {
		return b | 1<<31
	}
	return ^b
}

// bvhBend is how far a function of curvature radius at least radius rises above
// its tangent over a way r.
func bvhBend(radius, r float64) float64 {
	if !(radius > 0) {
		return math.Inf(1)
	}
	return r * r / (2 * radius)
}
