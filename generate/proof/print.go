package proof

import (
	"math"
	"slices"
)

// Print is how a part stands on the bed and what hangs over air.
type Print struct {
	Low      float64 // least z
	Contact  float64 // mm² of flat on the bed
	Skewed   []Fault // facets that start on the bed and rise less than a layer, facing down
	Shells   int
	Voids    []Fault // shells that are turned inside out: closed voids
	Bridges  []Bridge
	Overhang float64 // mm², area of all bridges
}

// Bridge is a patch of surface that faces down beyond the printable angle.
type Bridge struct {
	At    Vec
	Area  float64
	Span  float64 // mm, of the shortest way to bridge it from support to support
	Reach float64 // mm, how far it stands out where only one end is held
}

// PrintAngle says how far a printed surface may lean.
type PrintAngle struct {
	Most float64 // degrees from the vertical
	Over float64 // degrees of slack
	Cell float64 // mm, raster of the bridges
}

// JudgePrint looks at a part as it lies on the bed at z = 0.
func JudgePrint(f []Tri, a PrintAngle) Print {
	lo, _ := Bounds(f)
	out := Print{Low: lo[2]}
	tree := NewTree(f)
	limit := -math.Sin((a.Most + a.Over) * math.Pi / 180)
	var hang []int
	for i, t := range f {
		n := t.Normal()
		top := math.Max(t[0][2], math.Max(t[1][2], t[2][2]))
		switch {
		case top < lo[2]+1e-3 && n[2] < -0.99:
			out.Contact += t.Area()
		case n[2] < limit && top < lo[2]+0.1 && t.Area() > 1e-3:
			out.Skewed = append(out.Skewed, Fault{t.Mid(), top - lo[2], 0, "not flat on the bed"})
		case n[2] < limit && t.LeastAltitude() > 1e-3:
			hang = append(hang, i)
		}
	}
	for _, group := range connected(f, hang) {
		b := bridge(f, group, tree, a.Cell)
		out.Bridges = append(out.Bridges, b)
		out.Overhang += b.Area
	}
	slices.SortFunc(out.Bridges, func(x, y Bridge) int {
		switch {
		case x.Span+x.Reach > y.Span+y.Reach:
			return -1
		case x.Span+x.Reach < y.Span+y.Reach:
			return 1
		}
		return 0
	})
	all := make([]int, len(f))
	for i := range all {
		all[i] = i
	}
	shells := connected(f, all)
	out.Shells = len(shells)
	for _, s := range shells {
		part := make([]Tri, len(s))
		for i, k := range s {
			part[i] = f[k]
		}
		if v := Volume(part); v <= 0 {
			l, h := Bounds(part)
			out.Voids = append(out.Voids, Fault{l.Add(h).Mul(0.5), v, 0, "a closed void"})
		}
	}
	return out
}

// connected groups facets that share corners.
func connected(f []Tri, which []int) [][]int {
	parent := make([]int, len(which))
	for i := range parent {
		parent[i] = i
	}
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	first := map[Vec]int{}
	for i, k := range which {
		for _, p := range f[k] {
			if j, ok := first[p]; ok {
				parent[find(i)] = find(j)
			} else {
				first[p] = i
			}
		}
	}
	slot := map[int]int{}
	var out [][]int
	for i, k := range which {
		r := find(i)
		s, ok := slot[r]
		if !ok {
			s = len(out)
			slot[r] = s
			out = append(out, nil)
		}
		out[s] = append(out[s], k)
	}
	return out
}

// bridge measures a patch: it is rastered from above, and runs across it are
// followed in 18 directions. A run is held at an end where, just beyond the
// patch and just under it, there is material.
func bridge(f []Tri, group []int, tree *Tree, cell float64) Bridge {
	part := make([]Tri, len(group))
	var out Bridge
	for i, k := range group {
		part[i] = f[k]
		out.Area += f[k].Area()
	}
	lo, hi := Bounds(part)
	out.At = lo.Add(hi).Mul(0.5)
	own := NewTree(part)
	height := func(x, y float64) (float64, bool) {
		h := own.Ray(Vec{x + 1.3e-5, y + 2.1e-5, lo[2] - 1}, Vec{0, 0, 1}, 0)
		return h.At[2], h.Facet >= 0
	}
	out.Span, out.Reach = math.Inf(1), math.Inf(1)
	long := math.Hypot(hi[0]-lo[0], hi[1]-lo[1]) + 2*cell
	for k := range 18 {
		s, c := math.Sincos(float64(k) * math.Pi / 18)
		span, reach := 0.0, 0.0
		for v := -long / 2; v <= long/2; v += cell {
			a, b := runs(out.At[0]-s*v, out.At[1]+c*v, c, s, long, height, tree)
			span, reach = math.Max(span, a), math.Max(reach, b)
		}
		if math.Max(span, 3*reach) < math.Max(out.Span, 3*out.Reach) {
			out.Span, out.Reach = span, reach
		}
	}
	return out
}

// runs follows one line across a patch: the longest run held at both ends, and
// the longest held at one or none.
func runs(x, y, dx, dy, long float64, height func(x, y float64) (float64, bool), tree *Tree) (span, reach float64) {
	const fine = 0.1
	inside := false
	var from, z0, z float64
	for u := -long / 2; u <= long/2; u += fine {
		h, ok := height(x+dx*u, y+dy*u)
		switch {
		case ok && !inside:
			inside, from, z0, z = true, u, h, h
		case ok:
			z = h
		case inside:
			inside = false
			ends := 0
			if solidBy(tree, x+dx*(from-fine), y+dy*(from-fine), -dx, -dy, z0) {
				ends++
			}
			if solidBy(tree, x+dx*u, y+dy*u, dx, dy, z) {
				ends++
			}
			l := u - from
			if ends == 2 {
				span = math.Max(span, l)
			} else {
				reach = math.Max(reach, l)
			}
		}
	}
	return span, reach
}

// solidBy tells whether there is material just outside an edge of a patch and
// just under its height.
func solidBy(tree *Tree, x, y, dx, dy, z float64) bool {
	for _, more := range []float64{0.02, 0.15} {
		if tree.Inside(Vec{x + dx*more, y + dy*more, z - 0.03}) {
			return true
		}
	}
	return false
}
