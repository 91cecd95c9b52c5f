package proof

import (
	"fmt"
	"math"
)

// Air is a raster of a forming tool under its sheet. The sheet seals the top:
// no air is followed above the rim.
type Air struct {
	n     [3]int
	lo    Vec
	cell  float64
	state []uint8
	rim   int // first layer that the sheet closes
}

// What a cell of Air holds.
const (
	solid uint8 = iota
	outside
	pocket // open to the sky over a disc wider than a vent
	shaft  // open to the sky, narrower
	buried // covered from above
)

// VentMouth is one vent as the raster shows it.
type VentMouth struct {
	At     Vec // middle of its mouth
	Cells  int
	Blind  bool // it ends in the material: drilled through for the test
	Air    int  // which connected air it reaches; -1 none
	Pocket int  // which pocket it serves; -1 none
	foot   int  // its lowest cell
}

// Vented is how the air leaves.
type Vented struct {
	Mouths   []VentMouth
	Pockets  []Fault // pockets without a vent
	Leaks    []Fault // places where pocket air meets the outside without a vent
	High     []Fault // mouths in the skirt above the trim line
	Wide     []Fault // mouths in the skirt wider than they should be
	Unserved []Fault // vents that meet no platen hole in some placement
	Least    float64 // mm², the least overlap with one platen hole over all vents and placements
	Count    int     // pockets
}

// Platen is the plate with holes that the tool stands on.
type Platen struct{ Pitch, Hole float64 }

// Suction says how to look.
type Suction struct {
	Cell    float64
	Rim     float64 // z of the rim
	Under   float64 // z of the underside
	Trim    float64 // z of the trim line
	Widest  float64 // a vent's greatest diameter
	Drill   float64 // how deep a blind vent is drilled; 0: none may be blind
	Platen  Platen
	Overlap float64 // mm² of a platen hole that must be open
	Mouth   float64 // greatest width of a mouth in the skirt
}

// dimpleWide is wider than any dimple for a drill, mm, and narrower than a bore.
const dimpleWide = 1.6

// JudgeVents rasters a tool in the kit's frame and follows its air.
func JudgeVents(f []Tri, s Suction) Vented {
	a := raster(f, s)
	a.classify(s)
	out := Vented{Mouths: axes(f, math.Max(s.Widest+0.3, dimpleWide))}
	pockets, names := a.label(func(v uint8) bool { return v == pocket })
	out.Count = len(names)
	a.leaks(&out)
	for i := range out.Mouths {
		out.Mouths[i].open(a, s)
	}
	air, parts := a.label(func(v uint8) bool { return v == shaft || v == buried })
	served := make([]bool, len(names))
	for i := range out.Mouths {
		m := &out.Mouths[i]
		m.judge(a, air, pockets)
		if m.Pocket >= 0 {
			served[m.Pocket] = true
		}
	}
	for i, ok := range served {
		if !ok {
			out.Pockets = append(out.Pockets, Fault{a.middle(names[i]), 0, 1, "a pocket without a vent"})
		}
	}
	a.mouthsInSkirt(&out, s)
	a.serve(&out, air, len(parts), s)
	return out
}

// axes finds the vents of a tool by their walls: narrow, connected, upright or
// those of a dimple that is to be drilled.
func axes(f []Tri, width float64) []VentMouth {
	walls := ventWalls(f, NewTree(f), width, 50).Facets
	all := make([]int, len(walls))
	for i := range all {
		all[i] = i
	}
	var out []VentMouth
	for _, group := range connected(walls, all) {
		lo, hi := Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
		for _, i := range group {
			l, h := Bounds(walls[i : i+1])
			for k := range 3 {
				lo[k], hi[k] = math.Min(lo[k], l[k]), math.Max(hi[k], h[k])
			}
		}
		at := Vec{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2, hi[2]}
		if math.Min(hi[0]-lo[0], hi[1]-lo[1]) < width/4 {
			continue // a sliver, no ring
		}
		out = joined(out, VentMouth{At: at, Air: -1, Pocket: -1}, width)
	}
	return out
}

// joined adds a vent, or raises one that is already there.
func joined(all []VentMouth, m VentMouth, width float64) []VentMouth {
	for i := range all {
		if math.Hypot(all[i].At[0]-m.At[0], all[i].At[1]-m.At[1]) < width {
			all[i].At[2] = math.Max(all[i].At[2], m.At[2])
			return all
		}
	}
	return append(all, m)
}

// open makes a vent's column a shaft down to the air it leads to. What is solid
// is drilled if that is allowed.
func (m *VentMouth) open(a *Air, s Suction) {
	i, j := a.column(m.At)
	layer := a.n[0] * a.n[1]
	k := min(int((m.At[2]-a.lo[2])/a.cell), a.rim-1)
	for bottom := m.At[2] - s.Drill; k > 0; k-- {
		at := k*layer + j*a.n[0] + i
		switch a.state[at] {
		case buried:
			return
		case solid:
			if !(a.middle(at)[2] > bottom) {
				return
			}
			m.Blind = true
		}
		a.state[at] = shaft
		m.Cells++
		m.foot = at
	}
}

func (a *Air) column(p Vec) (i, j int) {
	return int((p[0] - a.lo[0]) / a.cell), int((p[1] - a.lo[1]) / a.cell)
}

// judge finds the air under a vent and the pocket over it.
func (m *VentMouth) judge(a *Air, air, pockets []int32) {
	if m.Cells == 0 {
		return
	}
	m.Air = int(air[m.foot]) - 1
	i, j := a.column(m.At)
	for k := m.foot / (a.n[0] * a.n[1]); k < a.rim; k++ {
		if l := pockets[a.index(i, j, k)]; l > 0 {
			m.Pocket = int(l) - 1
			return
		}
	}
}

// leaks are pocket cells below the rim beside outside air, or beside buried air
// that leads on to the outside or the underside. Buried air that leads nowhere is a lip of
// the pocket's own wall, which the release is judged by.
func (a *Air) leaks(out *Vented) {
	layer := a.n[0] * a.n[1]
	leads := a.leading()
	for at := layer; at < layer*min(a.rim, a.n[2]); at++ {
		if a.state[at] != pocket {
			continue
		}
		a.around(at, func(n int) {
			if v := a.state[n]; (v == outside || leads(n)) && len(out.Leaks) < 20 {
				out.Leaks = append(out.Leaks, Fault{a.middle(at), float64(v), 0, "pocket air meets air that no vent leads to"})
			}
		})
	}
}

// leading tells the buried cells that hang together with outside air or with the
// lowest layer.
func (a *Air) leading() func(at int) bool {
	layer := a.n[0] * a.n[1]
	labels, first := a.label(func(v uint8) bool { return v == buried })
	out := make([]bool, len(first)+1)
	for at, l := range labels {
		if l == 0 {
			continue
		}
		if at < 2*layer {
			out[l] = true
		}
		a.around(at, func(n int) { out[l] = out[l] || a.state[n] == outside })
	}
	return func(at int) bool { return labels[at] != 0 && out[labels[at]] }
}

// footHeight is how far up a tool's foot may be chamfered, mm: under a chamfer
// all air along the edge hangs together.
const footHeight = 0.6

// mouthsInSkirt looks at buried cells beside outside air: none above the trim
// line, and each group of them no wider than a mouth, two cells of raster aside.
func (a *Air) mouthsInSkirt(out *Vented, s Suction) {
	layer := a.n[0] * a.n[1]
	open := map[int]bool{}
	var order []int
	for at := layer; at < layer*min(a.rim, a.n[2]); at++ {
		if a.state[at] != buried {
			continue
		}
		met := false
		a.around(at, func(n int) { met = met || n >= layer && a.state[n] == outside })
		if !met {
			continue
		}
		if a.middle(at)[2] > s.Under+footHeight {
			open[at] = true
		}
		order = append(order, at)
		if a.middle(at)[2] > s.Trim && len(out.High) < 20 {
			out.High = append(out.High, Fault{a.middle(at), a.middle(at)[2], s.Trim, "a mouth in the skirt above the trim line"})
		}
	}
	for _, at := range order {
		if lo, hi := a.group(at, open); hi.Sub(lo).Len() > 0 {
			if w := math.Max(hi[0]-lo[0], hi[1]-lo[1]) + a.cell; w > s.Mouth+2*a.cell {
				out.Wide = append(out.Wide, Fault{lo.Add(hi).Mul(0.5), w, s.Mouth, "a wide mouth in the skirt"})
			}
		}
	}
}

// group takes the cells connected with one out of open and gives their bounds;
// cells count as connected by corners too.
func (a *Air) group(at int, open map[int]bool) (lo, hi Vec) {
	if !open[at] {
		return lo, hi
	}
	lo, hi = a.middle(at), a.middle(at)
	todo := []int{at}
	delete(open, at)
	for len(todo) > 0 {
		c := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		m := a.middle(c)
		for k := range 3 {
			lo[k], hi[k] = math.Min(lo[k], m[k]), math.Max(hi[k], m[k])
		}
		for dk := -1; dk <= 1; dk++ {
			for dj := -1; dj <= 1; dj++ {
				for di := -1; di <= 1; di++ {
					if n := c + (dk*a.n[1]+dj)*a.n[0] + di; open[n] {
						delete(open, n)
						todo = append(todo, n)
					}
				}
			}
		}
	}
	return lo, hi
}

// serve stands the tool on the platen in 25 shifts over one pitch, turned and
// not, and measures the largest opening of a platen hole into every air.
func (a *Air) serve(out *Vented, air []int32, parts int, s Suction) {
	layer := a.n[0] * a.n[1]
	floor := air[layer : 2*layer]
	out.Least = math.Inf(1)
	for shift := range 50 {
		dx := (float64(shift%5) + 0.13) / 5 * s.Platen.Pitch
		dy := (float64(shift/5%5) + 0.37) / 5 * s.Platen.Pitch
		if shift >= 25 { // a quarter turn of a square grid swaps the shifts
			dx, dy = s.Platen.Pitch-dy, dx
		}
		best := a.holes(floor, parts, dx, dy, s.Platen)
		for _, m := range out.Mouths {
			open := 0.0
			if m.Air >= 0 {
				open = best[m.Air]
			}
			out.Least = math.Min(out.Least, open)
			if !(open >= s.Overlap) {
				out.Unserved = append(out.Unserved, Fault{m.At, open, s.Overlap,
					fmt.Sprintf("meets no platen hole at shift %.2f, %.2f", dx, dy)})
			}
		}
	}
}

// holes is the largest overlap of one platen hole with each air's opening in
// the underside, mm².
func (a *Air) holes(floor []int32, parts int, dx, dy float64, p Platen) []float64 {
	best := make([]float64, parts)
	r := int(p.Hole/2/a.cell) + 2
	for y := math.Floor(a.lo[1]/p.Pitch)*p.Pitch + dy; y < a.lo[1]+float64(a.n[1])*a.cell; y += p.Pitch {
		for x := math.Floor(a.lo[0]/p.Pitch)*p.Pitch + dx; x < a.lo[0]+float64(a.n[0])*a.cell; x += p.Pitch {
			ci, cj := a.column(Vec{x, y, 0})
			count := map[int32]int{}
			for j := max(cj-r, 0); j <= cj+r && j < a.n[1]; j++ {
				for i := max(ci-r, 0); i <= ci+r && i < a.n[0]; i++ {
					m := a.middle(a.index(i, j, 0))
					if l := floor[j*a.n[0]+i]; l > 0 && math.Hypot(m[0]-x, m[1]-y) <= p.Hole/2 {
						count[l]++
					}
				}
			}
			for l, n := range count {
				best[l-1] = math.Max(best[l-1], float64(n)*a.cell*a.cell)
			}
		}
	}
	return best
}
