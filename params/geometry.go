package params

import (
	"fmt"
	"math"
)

// The checks here need no solid: what they refuse cannot be built at all.

// noMore records a problem when v, the value of key, is above most, and
// reports whether it is not.
func (r *reader) noMore(key string, v, most float64, what string) bool {
	if v <= most {
		return true
	}
	r.problemAt(r.placeOf(key), key, fmt.Sprintf("%s is more than %s, %s", length.text(v), what, length.text(most)), "make it "+length.text(most)+" or less")
	return false
}

// placeOf is where key stands, or the nearest section round it.
func (r *reader) placeOf(key string) Pos { return nearestPlace(r.where, key) }

func itemCheck(it *Item) func(r *reader, at string) {
	return func(r *reader, at string) {
		for i, n := range it.Notch {
			if n.Depth != nil {
				r.noMore(fmt.Sprintf("%s.notch[%d].depth", at, i), *n.Depth, it.Depth, "the item's own depth")
			}
		}
	}
}

func linerCheck(k *Kit) func(r *reader, at string) {
	return func(r *reader, at string) { pressed(r, at, k.Liner.Test, k.Liner.Thickness) }
}

func lidLinerCheck(k *Kit) func(r *reader, at string) {
	return func(r *reader, at string) { pressed(r, at, k.LidLiner.Test, k.LidLiner.Thickness) }
}

// pressed refuses a weight test that did not press the liner.
func pressed(r *reader, at string, t *WeightTest, free float64) {
	if t != nil && t.Thickness >= free {
		key := at + ".test.thickness"
		r.problemAt(r.placeOf(key), key, fmt.Sprintf("%s under the weight is not less than the free thickness, %s", length.text(t.Thickness), length.text(free)),
			"measure again with more weight, or correct "+at+".thickness")
	}
}

// formerCheck leaves a former with a name to Resolve, which knows its row.
func formerCheck(k *Kit) func(r *reader, at string) {
	return func(r *reader, at string) {
		if k.Former.Name == "" {
			k.checkFormer(r)
		}
	}
}

func (k *Kit) checkFormer(r *reader) {
	f := &k.Former
	most := (min(f.Area[0], f.Area[1]) - f.Platen.Hole) / 2
	if !r.noMore("former.platen.hole", f.Platen.Hole, f.Platen.Pitch, "the pitch of the platen's holes") {
		return
	}
	r.noMore("former.platen.border", f.Platen.Border, max(most, 0), "half of what the area's smaller side leaves")
}

// printerCheck leaves a printer with a name to Resolve, which knows its row.
func printerCheck(k *Kit) func(r *reader, at string) {
	return func(r *reader, at string) {
		if k.Printer.Name == "" {
			k.checkPrinter(r)
		}
	}
}

func (k *Kit) checkPrinter(r *reader) {
	p := &k.Printer
	r.noMore("printer.layer", p.Layer, p.Nozzle, "the nozzle")
	if p.Width != nil && *p.Width < p.Nozzle/2 {
		r.problemAt(r.placeOf("printer.width"), "printer.width", fmt.Sprintf("%s is less than half the nozzle, %s", length.text(*p.Width), length.text(p.Nozzle/2)),
			"write the width of one extruded line, usually a little more than the nozzle")
	}
}

// wholeCheck looks at what only shows when all sections are read.
func wholeCheck(k *Kit) func(r *reader, at string) {
	return func(r *reader, at string) {
		if k.Printer.Name == "" && k.Printer.File == "" { // else Resolve knows
			k.checkWall(r)
		}
	}
}

// checkWall refuses a wall that not even one extrusion is thin enough for.
func (k *Kit) checkWall(r *reader) {
	if w, nozzle := k.Shell.Wall, k.Printer.Nozzle; w < nozzle {
		r.problemAt(r.placeOf("shell.wall"), "shell.wall", length.text(w)+" is less than the nozzle, "+length.text(nozzle),
			"walls are whole extrusions: make it "+length.text(2*nozzle)+" or more, or use a finer nozzle")
	}
}

func ventCheck(k *Kit) func(r *reader, at string) {
	return func(r *reader, at string) {
		v := &k.Buck.Vent
		if v.Diameter != nil {
			r.noMore(at+".diameter", *v.Diameter, v.Bore, "the bore behind it")
		}
		r.noMore(at+".bore", v.Bore, v.Pitch, "the pitch of the vents")
		for i, c := range v.Forbid {
			if c[2] <= 0 {
				key := fmt.Sprintf("%s.forbid[%d]", at, i)
				r.problemAt(r.placeOf(key), key, "radius "+length.text(c[2])+" is not above 0", "write [x, y, radius]")
			}
		}
	}
}

func profileCheck(p *Profile) func(r *reader, at string) {
	return func(r *reader, at string) {
		points, file := len(p.Points) > 0, p.File != ""
		switch {
		case points && file:
			r.problemAt(r.where[at+".file"], at+".file", "both points and a file are given", "keep one of them")
			return
		case !points && !file:
			r.problemAt(r.where[at], at, "neither points nor a file is given", "add `points: [[x, y], ...]` or `file: outline.svg`")
			return
		}
		if points && p.Layer != "" {
			r.problemAt(r.where[at+".layer"], at+".layer", "a layer is given, but no file", "leave it out")
			return
		}
		if points && p.Unit != 0 {
			r.problemAt(r.where[at+".unit"], at+".unit", "a unit is given, but no file", "write the unit behind the numbers: [2 in, 1 in]")
			return
		}
		r.noMore(at+".edge_radius", p.EdgeRadius, p.Height/2, "half the height")
		if len(p.Bulge) > 0 && len(p.Bulge) != len(p.Points) {
			r.problemAt(r.where[at+".bulge"], at+".bulge", fmt.Sprintf("%d bulges for %d points", len(p.Bulge), len(p.Points)), "write one for each point; 0 is a line")
			return
		}
		if points && r.outline(at+".points", p.Points, len(p.Bulge) > 0) {
			w, h := extent(p.Points)
			r.noMore(at+".corner_radius", p.CornerRadius, min(w, h)/2, "half the outline's smaller side")
		}
	}
}

func revolveCheck(v *Revolve) func(r *reader, at string) {
	return func(r *reader, at string) {
		for i, p := range v.Points {
			if p[0] < 0 {
				key := fmt.Sprintf("%s.points[%d][0]", at, i)
				r.problemAt(r.where[key], key, "radius "+length.text(p[0])+" is below 0", "draw one half only: the axis is at radius 0")
			}
		}
		r.outline(at+".points", v.Points, false)
	}
}

// outline refuses a closed outline that repeats a corner, crosses itself or
// has no area; it reports whether there was nothing to refuse. Arcs can give
// area to what has none as a polygon, and uncross it, so arced says to look at
// the corners only.
func (r *reader) outline(key string, pts [][2]float64, arced bool) bool {
	for i, p := range pts {
		next := (i + 1) % len(pts)
		if p == pts[next] {
			at := fmt.Sprintf("%s[%d]", key, max(i, next))
			r.problemAt(r.where[at], at, "the same point as the one before it or the first", "leave it out; the outline closes by itself")
			return false
		}
	}
	if arced {
		return true
	}
	const flat = "the outline has no area"
	if straight(pts) {
		r.problemAt(r.where[key], key, flat, "list the corners in order round the outline")
		return false
	}
	if i, back := spike(pts); back {
		at := fmt.Sprintf("%s[%d]", key, i)
		r.problemAt(r.where[at], at, "the outline turns back on itself at this point", "leave the point out")
		return false
	}
	if i, j, crossed := crossing(pts); crossed {
		at := fmt.Sprintf("%s[%d]", key, j)
		r.problemAt(r.where[at], at, fmt.Sprintf("the edge from this point crosses or touches the edge from point %d", i+1), "list the corners in order round the outline, each once")
		return false
	}
	const least = 1 // mm², less than any part
	if a := math.Abs(signedArea(pts)); !(a >= least) {
		r.problemAt(r.where[key], key, flat+" to speak of", "check its points and their units")
		return false
	}
	return true
}

// straight reports whether all points lie on one line.
func straight(pts [][2]float64) bool {
	for i := 2; i < len(pts); i++ {
		if turn(pts[i-2], pts[i-1], pts[i]) != 0 {
			return false
		}
	}
	return true
}

// spike finds a point at which the outline runs back along the way it came.
func spike(pts [][2]float64) (int, bool) {
	for i, p := range pts {
		before, after := pts[(i+len(pts)-1)%len(pts)], pts[(i+1)%len(pts)]
		if turn(before, p, after) == 0 && !between(before, after, p) {
			return i, true
		}
	}
	return 0, false
}

// signedArea is positive for an outline that runs counterclockwise.
func signedArea(pts [][2]float64) float64 {
	sum := 0.0
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return sum / 2
}

func extent(pts [][2]float64) (w, h float64) {
	lo, hi := pts[0], pts[0]
	for _, p := range pts {
		lo = [2]float64{min(lo[0], p[0]), min(lo[1], p[1])}
		hi = [2]float64{max(hi[0], p[0]), max(hi[1], p[1])}
	}
	return hi[0] - lo[0], hi[1] - lo[1]
}

// crossing finds two edges that share a point without being neighbours. Each
// pair is looked at: the most points a kit may have take some milliseconds.
func crossing(pts [][2]float64) (i, j int, found bool) {
	n := len(pts)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue // neighbours through the closing edge
			}
			if meet(pts[i], pts[i+1], pts[j], pts[(j+1)%n]) {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// meet reports whether segments ab and cd have a point in common.
func meet(a, b, c, d [2]float64) bool {
	abc, abd := turn(a, b, c), turn(a, b, d)
	cda, cdb := turn(c, d, a), turn(c, d, b)
	if abc*abd < 0 && cda*cdb < 0 {
		return true
	}
	return abc == 0 && between(a, b, c) || abd == 0 && between(a, b, d) ||
		cda == 0 && between(c, d, a) || cdb == 0 && between(c, d, b)
}

// turn is positive when c lies to the left of the line from a to b.
func turn(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// between reports whether p, which is on the line ab, is between a and b.
func between(a, b, p [2]float64) bool {
	return min(a[0], b[0]) <= p[0] && p[0] <= max(a[0], b[0]) && min(a[1], b[1]) <= p[1] && p[1] <= max(a[1], b[1])
}
