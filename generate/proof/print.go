package proof

import (
	"math"
	"slices"
)

// Print is how a part stands on the bed and what hangs over air.
type Print struct {
	Low      float64 // least z
	Flat     float64 // z of the flat that it stands on
	Contact  float64 // mm² of flat on the bed
	Skewed   []Fault // facets that face down at the bed and are not flat
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
	Sag  float64 // mm that a vertex may be off
	Cell float64 // mm, raster of the bridges
}

// JudgePrint looks at a part as it lies on the bed at z = 0.
func JudgePrint(f []Tri, a PrintAngle) Print {
	lo, _ := Bounds(f)
	out := Print{Low: lo[2], Flat: standing(f, lo[2])}
	tree := NewTree(f)
	limit := -math.Sin((a.Most + a.Over) * math.Pi / 180)
	var hang []int
	for i, t := range f {
		n := t.Normal()
		top := math.Max(t[0][2], math.Max(t[1][2], t[2][2]))
		switch {
		case top < out.Flat+1e-4 && lowest(t) > out.Flat-1e-4:
			out.Contact += t.Area()
		case n[2] < limit && top < out.Flat+0.02:
			if uneven := math.Max(top-out.Flat, out.Flat-lowest(t)); uneven > a.Sag {
				out.Skewed = append(out.Skewed, Fault{t.Mid(), uneven, 0, "not flat on the bed"})
			}
		case n[2] < -math.Sin((a.Most+a.Over)*math.Pi/180+math.Atan(2*a.Sag/t.LeastAltitude())):
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
		case x.Span+3*x.Reach > y.Span+3*y.Reach:
			return -1
		case x.Span+3*x.Reach < y.Span+3*y.Reach:
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

// standing is the height, near the lowest point, where most flat lies.
func standing(f []Tri, low float64) float64 {
	area := map[float64]float64{}
	best, most := low, 0.0
	for _, t := range f {
		if h := highest(t); h < low+0.05 && h-lowest(t) < 1e-4 {
			area[h] += t.Area()
			if area[h] > most {
				best, most = h, area[h]
			}
		}
	}
	return best
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
// followed in 12 directions. A run is held at an end where, just beyond the
// patch and just under it, there is material. Each place is bridged the best
// way it can be; the patch is as good as its worst place.
func bridge(f []Tri, group []int, tree *Tree, cell float64) Bridge {
	part := make([]Tri, len(group))
	var out Bridge
	for i, k := range group {
		part[i] = f[k]
		out.Area += f[k].Area()
	}
	lo, hi := Bounds(part)
	p := newPatch(part, lo, hi, cell, tree)
	mid := lo.Add(hi).Mul(0.5)
	long := math.Hypot(hi[0]-lo[0], hi[1]-lo[1]) + 2*p.cell
	for k := range directions {
		s, c := math.Sincos(float64(k) * math.Pi / directions)
		for v := -long / 2; v <= long/2; v += p.cell * 0.7 {
			p.runs(mid[0]-s*v, mid[1]+c*v, c, s, long)
		}
	}
	out.At = mid
	worst := 0.0
	for i, b := range p.best {
		if b.cost() > worst && !math.IsInf(b.cost(), 1) {
			worst, out.Span, out.Reach = b.cost(), b.span, b.reach
			out.At = Vec{lo[0] + (float64(i%p.nx)+0.5)*p.cell, lo[1] + (float64(i/p.nx)+0.5)*p.cell, p.z[i]}
		}
	}
	return out
}

const directions = 12

// way is how a place is bridged: a span held at both ends, or a reach.
type way struct{ span, reach float64 }

// cost says how bad a run is: what is held at one end reaches a third as far.
func (r way) cost() float64 { return math.Max(r.span, 3*r.reach) }

// patch is a raster of heights; NaN is no patch.
type patch struct {
	lo     Vec
	cell   float64
	nx, ny int
	z      []float64
	best   []way
	solid  map[[2]int]bool // cells with material just under the patch's height
	tree   *Tree
}

// newPatch rasters facets; a small patch gets finer cells.
func newPatch(part []Tri, lo, hi Vec, cell float64, tree *Tree) *patch {
	p := &patch{lo: lo, tree: tree, solid: map[[2]int]bool{}}
	p.cell = math.Min(cell, math.Max(cell/5, math.Max(hi[0]-lo[0], hi[1]-lo[1])/100))
	p.nx, p.ny = int((hi[0]-lo[0])/p.cell)+1, int((hi[1]-lo[1])/p.cell)+1
	p.z, p.best = make([]float64, p.nx*p.ny), make([]way, p.nx*p.ny)
	own := NewTree(part)
	for j := range p.ny {
		for i := range p.nx {
			from := Vec{lo[0] + (float64(i)+0.5)*p.cell, lo[1] + (float64(j)+0.5)*p.cell, lo[2] - 1}
			p.z[j*p.nx+i], p.best[j*p.nx+i] = math.NaN(), way{}
			if h := own.Ray(from, Vec{0, 0, 1}, 0); h.Facet >= 0 {
				p.z[j*p.nx+i] = h.At[2]
				p.best[j*p.nx+i] = way{math.Inf(1), 0}
			}
		}
	}
	return p
}

func (p *patch) at(x, y float64) (i, j int) {
	return int(math.Floor((x - p.lo[0]) / p.cell)), int(math.Floor((y - p.lo[1]) / p.cell))
}

func (p *patch) height(x, y float64) (at int, ok bool) {
	i, j := p.at(x, y)
	if i < 0 || j < 0 || i >= p.nx || j >= p.ny {
		return 0, false
	}
	at = j*p.nx + i
	return at, p.z[at] == p.z[at]
}

// runs follows one line across a patch and tells each place it crosses.
func (p *patch) runs(x, y, dx, dy, long float64) {
	step := p.cell / 2
	var cells []int
	from := 0.0
	for u := -long / 2; u <= long/2; u += step {
		at, ok := p.height(x+dx*u, y+dy*u)
		if ok {
			if len(cells) == 0 {
				from = u
			}
			cells = append(cells, at)
			continue
		}
		if len(cells) == 0 {
			continue
		}
		r := way{reach: u - from}
		if p.held(x+dx*from, y+dy*from, -dx, -dy, p.z[cells[0]]) && p.held(x+dx*u, y+dy*u, dx, dy, p.z[cells[len(cells)-1]]) {
			r = way{span: u - from}
		}
		for _, c := range cells {
			if r.cost() < p.best[c].cost() {
				p.best[c] = r
			}
		}
		cells = cells[:0]
	}
}

// held tells whether there is material just outside an edge of a patch and
// just under its height.
func (p *patch) held(x, y, dx, dy, z float64) bool {
	for _, more := range []float64{0, p.cell, 2 * p.cell} {
		i, j := p.at(x+dx*more, y+dy*more)
		solid, known := p.solid[[2]int{i, j}]
		if !known {
			solid = p.tree.Inside(Vec{p.lo[0] + (float64(i)+0.5)*p.cell, p.lo[1] + (float64(j)+0.5)*p.cell, z - 0.03})
			p.solid[[2]int{i, j}] = solid
		}
		if solid {
			return true
		}
	}
	return false
}
