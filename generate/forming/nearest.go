package forming

import (
	"math"

	"buckwright/generate/geom"
)

// finder finds elements of a formed sheet by place.
type finder struct {
	f     *Formed
	cell  float64
	min   geom.Vec
	n     [3]int
	items [][]int32 // elements by cell
	thick []float64 // by node
}

// newFinder sorts the elements into cells.
func (f *Formed) newFinder() *finder {
	box := geom.BoxOf(f.Node...)
	cell := math.Sqrt(f.meanArea()) * 2
	q := &finder{f: f, cell: cell, min: box.Min, thick: f.atNodes()}
	size := box.Size()
	q.n = [3]int{int(size.X/cell) + 1, int(size.Y/cell) + 1, int(size.Z/cell) + 1}
	q.items = make([][]int32, q.n[0]*q.n[1]*q.n[2])
	for t, v := range f.Element {
		b := geom.BoxOf(f.Node[v[0]], f.Node[v[1]], f.Node[v[2]])
		lo, hi := q.index(b.Min), q.index(b.Max)
		q.visit(lo, hi, func(c int) { q.items[c] = append(q.items[c], int32(t)) })
	}
	return q
}

func (f *Formed) meanArea() float64 {
	sum := 0.0
	for _, v := range f.Element {
		sum += f.Node[v[1]].Sub(f.Node[v[0]]).Cross(f.Node[v[2]].Sub(f.Node[v[0]])).Len() / 2
	}
	return sum / float64(max(1, len(f.Element)))
}

// index is the cell of a point, the nearest one if it lies outside.
func (q *finder) index(p geom.Vec) [3]int {
	d := p.Sub(q.min).Scale(1 / q.cell)
	at := func(v float64, n int) int { return int(min(max(v, 0), float64(n-1))) }
	return [3]int{at(d.X, q.n[0]), at(d.Y, q.n[1]), at(d.Z, q.n[2])}
}

func (q *finder) visit(lo, hi [3]int, do func(cell int)) {
	for k := lo[2]; k <= hi[2]; k++ {
		for j := lo[1]; j <= hi[1]; j++ {
			for i := lo[0]; i <= hi[0]; i++ {
				do((k*q.n[1]+j)*q.n[0] + i)
			}
		}
	}
}

// nearest is the element nearest to p, and its nearest point; -1 when there is none.
func (q *finder) nearest(p geom.Vec) (element int, at geom.Vec) {
	element = -1
	dist, c := math.Inf(1), q.index(p)
	for ring := 0; ring <= max(q.n[0], q.n[1], q.n[2]); ring++ {
		if element >= 0 && dist <= float64(ring-1)*q.cell {
			break
		}
		q.ring(c, ring, func(cell int) {
			for _, t := range q.items[cell] {
				v := q.f.Element[t]
				x := closest(p, q.f.Node[v[0]], q.f.Node[v[1]], q.f.Node[v[2]])
				if d := x.Dist(p); d < dist {
					element, at, dist = int(t), x, d
				}
			}
		})
	}
	return element, at
}

// ring visits the cells that are as many cells away from c.
func (q *finder) ring(c [3]int, away int, do func(cell int)) {
	lo := [3]int{max(c[0]-away, 0), max(c[1]-away, 0), max(c[2]-away, 0)}
	hi := [3]int{min(c[0]+away, q.n[0]-1), min(c[1]+away, q.n[1]-1), min(c[2]+away, q.n[2]-1)}
	for k := lo[2]; k <= hi[2]; k++ {
		for j := lo[1]; j <= hi[1]; j++ {
			for i := lo[0]; i <= hi[0]; i++ {
				if max(abs(i-c[0]), abs(j-c[1]), abs(k-c[2])) == away {
					do((k*q.n[1]+j)*q.n[0] + i)
				}
			}
		}
	}
}

func abs(i int) int { return max(i, -i) }

// thickness is that of the element nearest to p.
func (q *finder) thickness(p geom.Vec) float64 {
	t, _ := q.nearest(p)
	if t < 0 {
		return math.NaN()
	}
	return q.f.Thickness[t]
}

// closest is the point of triangle a, b, c nearest to p (Ericson, Real-Time
// Collision Detection, 2005, 5.1.5).
func closest(p, a, b, c geom.Vec) geom.Vec {
	ab, ac, ap := b.Sub(a), c.Sub(a), p.Sub(a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return a
	}
	bp := p.Sub(b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return b
	}
	if vc := d1*d4 - d3*d2; vc <= 0 && d1 >= 0 && d3 <= 0 {
		return a.Add(ab.Scale(d1 / (d1 - d3)))
	}
	cp := p.Sub(c)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return c
	}
	if vb := d5*d2 - d1*d6; vb <= 0 && d2 >= 0 && d6 <= 0 {
		return a.Add(ac.Scale(d2 / (d2 - d6)))
	}
	if va := d3*d6 - d5*d4; va <= 0 && d4 >= d3 && d5 >= d6 {
		return b.Add(c.Sub(b).Scale((d4 - d3) / ((d4 - d3) + (d5 - d6))))
	}
	va, vb, vc := d3*d6-d5*d4, d5*d2-d1*d6, d1*d4-d3*d2
	sum := va + vb + vc
	return a.Add(ab.Scale(vb / sum)).Add(ac.Scale(vc / sum))
}

// Off is how far the sheet stays from the tool at a place on the tool, and its
// thickness there, without steps between elements.
func (f *Formed) Off(p geom.Vec) (gap, thickness float64) {
	q := f.finder()
	t, at := q.nearest(p)
	if t < 0 {
		return math.NaN(), math.NaN()
	}
	v := f.Element[t]
	a, b, c := f.Node[v[0]], f.Node[v[1]], f.Node[v[2]]
	n := b.Sub(a).Cross(c.Sub(a))
	if n.Dot(n) == 0 {
		return 0, f.Thickness[t]
	}
	for k, share := range [3]float64{
		b.Sub(at).Cross(c.Sub(at)).Dot(n), c.Sub(at).Cross(a.Sub(at)).Dot(n), a.Sub(at).Cross(b.Sub(at)).Dot(n),
	} {
		gap += share / n.Dot(n) * f.Gap[v[k]]
		thickness += share / n.Dot(n) * q.thick[v[k]]
	}
	return gap, thickness
}

// atNodes is the thickness at the nodes: the mean of the elements round each,
// weighted by their area.
func (f *Formed) atNodes() []float64 {
	volume, area := make([]float64, len(f.Node)), make([]float64, len(f.Node))
	for t, v := range f.Element {
		a := f.Node[v[1]].Sub(f.Node[v[0]]).Cross(f.Node[v[2]].Sub(f.Node[v[0]])).Len()
		for _, n := range v {
			volume[n], area[n] = volume[n]+a*f.Thickness[t], area[n]+a
		}
	}
	for n := range volume {
		if area[n] > 0 {
			volume[n] /= area[n]
		}
	}
	return volume
}

// ThicknessAt is the thickness of the element nearest to p.
func (f *Formed) ThicknessAt(p geom.Vec) float64 { return f.finder().thickness(p) }

// finder is the one made with the result, or a new one for a result put together by hand.
func (f *Formed) finder() *finder {
	if f.find != nil {
		return f.find
	}
	return f.newFinder()
}
