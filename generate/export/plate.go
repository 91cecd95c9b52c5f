package export

import (
	"cmp"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Footprint is the plan of one part, in mm. Upright forbids to turn it.
type Footprint struct {
	X, Y    float64
	Upright bool
}

// Placed is where a part lies on its plate.
type Placed struct {
	Part   int     // index into the footprints
	X, Y   float64 // lowest corner, in mm from the bed's lowest corner
	Turned bool    // a quarter turn, counterclockwise seen from above
}

// Onto maps a part whose bounds are b to its place, standing on z = 0.
func (p Placed) Onto(b geom.Box) geom.Affine {
	var turn = geom.Identity()
	if p.Turned {
		turn = geom.RotateZ(90 * geom.Degree)
	}
	low := turn.Box(b).Min
	return turn.Then(geom.Translate(geom.V(p.X-low.X, p.Y-low.Y, -low.Z)))
}

// Pack lays the parts on as few beds as it finds, gap apart, each plate centred
// on its bed. tooBig lists the parts that fit on no bed, turned or not.
//
// It fills maximal free rectangles (J. Jylänki, A Thousand Ways to Pack the
// Bin, 2010, section 2.3) in several orders and by several rules, and keeps the
// first way that needs the fewest beds. Fewer may be possible: the best packing
// is not searched for.
func Pack(parts []Footprint, bed [2]float64, gap float64) (plates [][]Placed, tooBig []int) {
	var fits []int
	for i, p := range parts {
		if within(p.X, p.Y, bed[0], bed[1]) || !p.Upright && within(p.Y, p.X, bed[0], bed[1]) {
			fits = append(fits, i)
		} else {
			tooBig = append(tooBig, i)
		}
	}
	for _, size := range []func(Footprint) float64{longSide, plan, shortSide} {
		order := slices.Clone(fits)
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(size(parts[b]), size(parts[a])) })
		for _, rule := range []score{shortLeftover, lowestTop} {
			got := packInOrder(parts, order, bed, gap, rule)
			if plates == nil || len(got) < len(plates) {
				plates = got
			}
		}
	}
	for _, p := range plates {
		centre(p, parts, bed)
		slices.SortFunc(p, func(a, b Placed) int { return cmp.Compare(a.Part, b.Part) })
	}
	return plates, tooBig
}

// within is false for NaN.
func within(x, y, w, h float64) bool { return x > 0 && y > 0 && x <= w && y <= h }

func longSide(p Footprint) float64  { return max(p.X, p.Y) }
func shortSide(p Footprint) float64 { return min(p.X, p.Y) }
func plan(p Footprint) float64      { return p.X * p.Y }

// rect is a free rectangle of a bed. Parts and bed are both grown by the gap on
// their high sides, so that touching rectangles are parts a gap apart.
type rect struct{ x, y, w, h float64 }

// score is how badly a w x h rectangle lies in the low corner of f; least wins.
type score func(f rect, w, h float64) float64

func shortLeftover(f rect, w, h float64) float64 { return min(f.w-w, f.h-h) }
func lowestTop(f rect, w, h float64) float64     { return f.y + h }

func packInOrder(parts []Footprint, order []int, bed [2]float64, gap float64, rule score) (plates [][]Placed) {
	var free [][]rect
	for _, i := range order {
		w, h := parts[i].X+gap, parts[i].Y+gap
		k := 0
		var at Placed
		for ; ; k++ {
			if k == len(free) {
				free = append(free, []rect{{0, 0, bed[0] + gap, bed[1] + gap}})
				plates = append(plates, nil)
			}
			var ok bool
			if at, ok = bestPlace(free[k], w, h, parts[i].Upright, rule); ok {
				break
			}
		}
		at.Part = i
		plates[k] = append(plates[k], at)
		if at.Turned {
			w, h = h, w
		}
		free[k] = cut(free[k], rect{at.X, at.Y, w, h})
	}
	return plates
}

// bestPlace finds the free rectangle that scores least; of equals the lower,
// then the one further left, then the one without a turn.
func bestPlace(free []rect, w, h float64, upright bool, rule score) (best Placed, ok bool) {
	least := [4]float64{math.Inf(1)}
	for _, f := range free {
		for _, turned := range []bool{false, true} {
			pw, ph, t := w, h, 0.0
			if turned {
				pw, ph, t = h, w, 1
			}
			if turned && upright || !(pw <= f.w && ph <= f.h) {
				continue
			}
			s := [4]float64{rule(f, pw, ph), f.y, f.x, t}
			if slices.Compare(s[:], least[:]) < 0 {
				least, best, ok = s, Placed{X: f.x, Y: f.y, Turned: turned}, true
			}
		}
	}
	return best, ok
}

// cut takes u out of every free rectangle and drops those inside another.
func cut(free []rect, u rect) (out []rect) {
	for _, f := range free {
		if u.x >= f.x+f.w || u.x+u.w <= f.x || u.y >= f.y+f.h || u.y+u.h <= f.y {
			out = append(out, f)
			continue
		}
		for _, r := range []rect{
			{f.x, f.y, u.x - f.x, f.h},
			{u.x + u.w, f.y, f.x + f.w - u.x - u.w, f.h},
			{f.x, f.y, f.w, u.y - f.y},
			{f.x, u.y + u.h, f.w, f.y + f.h - u.y - u.h},
		} {
			if r.w > 0 && r.h > 0 {
				out = append(out, r)
			}
		}
	}
	return dropInner(out)
}

func dropInner(in []rect) (out []rect) {
	for i, a := range in {
		inner := false
		for j, b := range in {
			if i != j && b.holds(a) && !(a.holds(b) && i < j) {
				inner = true
				break
			}
		}
		if !inner {
			out = append(out, a)
		}
	}
	return out
}

func (r rect) holds(s rect) bool {
	return s.x >= r.x && s.y >= r.y && s.x+s.w <= r.x+r.w && s.y+s.h <= r.y+r.h
}

// centre moves all parts of a plate together to the middle of the bed.
func centre(plate []Placed, parts []Footprint, bed [2]float64) {
	var w, h float64
	for _, p := range plate {
		x, y := parts[p.Part].X, parts[p.Part].Y
		if p.Turned {
			x, y = y, x
		}
		w, h = max(w, p.X+x), max(h, p.Y+y)
	}
	for i := range plate {
		plate[i].X += (bed[0] - w) / 2
		plate[i].Y += (bed[1] - h) / 2
	}
}
