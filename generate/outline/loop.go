package outline

import (
	"math"

	"buckwright/generate/geom"
)

// path is a run of sides that follow each other.
type path struct {
	sides  []side
	closed bool // it is said to be closed; else its ends must meet
	line   int  // of the file
}

func (p path) from() geom.Vec2 { return p.sides[0].from }
func (p path) to() geom.Vec2   { return p.sides[len(p.sides)-1].to }

func (p path) reversed() path {
	out := path{line: p.line, closed: p.closed}
	for i := len(p.sides) - 1; i >= 0; i-- {
		out.sides = append(out.sides, p.sides[i].reversed())
	}
	return out
}

const (
	joins = 0.01  // mm between two ends that are one corner
	speck = 0.002 // mm, a side shorter than this is left out
)

// add takes a path into the drawing, unless it is a point.
func (d *drawing) add(p path) *Error {
	if len(p.sides) == 0 {
		return nil
	}
	if p.closed && p.from() != p.to() {
		p.sides = append(p.sides, side{p.to(), p.from(), 0})
	}
	for _, s := range p.sides {
		for _, v := range [5]float64{s.from.X, s.from.Y, s.to.X, s.to.Y, s.bulge} {
			if !(math.Abs(v) < 1e9) {
				return fail(p.line, "export the drawing again", "a coordinate is no number to draw with")
			}
		}
	}
	d.sides += len(p.sides)
	d.paths = append(d.paths, p)
	switch {
	case d.sides > mostSides:
		return fail(p.line, "simplify the path, and export the outline alone", "the drawing has more than %d sides and curves", mostSides)
	case len(d.paths) > mostPaths:
		return fail(p.line, "join the lines into one path, and export the outline alone", "the drawing has more than %d paths", mostPaths)
	}
	return nil
}

// loop joins the paths at their ends into the one closed outline.
func (d *drawing) loop() (path, *Error) {
	var closed, open []path
	for _, p := range d.paths {
		switch {
		case p.closed || p.from().Sub(p.to()).Len() <= joins && p.long() > 10*joins:
			closed = append(closed, p)
		case p.long() > joins:
			open = append(open, p)
		}
	}
	for len(open) > 0 {
		p, rest, err := d.chain(open)
		if err != nil {
			return path{}, err
		}
		closed, open = append(closed, p), rest
	}
	switch len(closed) {
	case 0:
		return path{}, fail(0, "draw the outline as one closed path", "the drawing holds no closed path")
	case 1:
		return closed[0], nil
	}
	return path{}, fail(closed[1].line, "leave the item's outside alone in the drawing: no holes, frames or copies",
		"a second closed path; the first is at line %d, and an item has one outline", closed[0].line)
}

// long is about how long a path is, in mm.
func (p path) long() (sum float64) {
	for _, s := range p.sides {
		sum += s.to.Sub(s.from).Len()
	}
	return sum
}

// chain follows the first path from end to end until it closes.
func (d *drawing) chain(open []path) (path, []path, *Error) {
	p, rest := open[0], open[1:]
	for p.from().Sub(p.to()).Len() > joins {
		next, reversed := -1, false
		for i, q := range rest {
			start, end := q.from().Sub(p.to()).Len() <= joins, q.to().Sub(p.to()).Len() <= joins
			if !start && !end {
				continue
			}
			if next >= 0 {
				return path{}, nil, fail(q.line, "leave one outline, without branches", "three lines meet at %s", d.place(p.to()))
			}
			next, reversed = i, !start
		}
		if next < 0 {
			return path{}, nil, d.gap(p, rest)
		}
		q := rest[next]
		if reversed {
			q = q.reversed()
		}
		p.sides = append(p.sides[:len(p.sides):len(p.sides)], q.sides...)
		rest = append(rest[:next:next], rest[next+1:]...)
	}
	return p, rest, nil
}

// gap tells where an outline is open, and how far it is to the nearest loose end.
func (d *drawing) gap(p path, rest []path) *Error {
	near := p.from()
	for _, q := range rest {
		for _, e := range [2]geom.Vec2{q.from(), q.to()} {
			if e.Sub(p.to()).Len() < near.Sub(p.to()).Len() {
				near = e
			}
		}
	}
	return fail(p.line, "close the path in the drawing: ends must meet within 0.01 mm", "the outline is open at %s: %.3g mm to the next end", d.place(p.to()), near.Sub(p.to()).Len())
}

// place says a point as the drawing counts, in mm.
func (d *drawing) place(p geom.Vec2) string {
	if d.flip {
		p.Y = -p.Y
	}
	return fail(0, "", "(%.4g, %.4g) mm", p.X, p.Y).Msg
}

// outline leaves out specks, lets sides share their corners and turns the loop
// counterclockwise.
func (p path) outline() (Outline, *Error) {
	var kept []side
	area := 0.0
	for _, s := range p.sides {
		if s.to.Sub(s.from).Len() > speck {
			kept = append(kept, s)
			area += s.area()
		}
	}
	for i := range kept {
		kept[i].to = kept[(i+1)%len(kept)].from
	}
	if area < 0 {
		kept = path{sides: kept}.reversed().sides
	}
	if !(math.Abs(area) >= 1) || len(kept) < 2 {
		return Outline{}, fail(p.line, "check that it goes round the item once", "the outline has no area to speak of")
	}
	var out Outline
	for _, s := range halves(kept) {
		out.Points = append(out.Points, s.from)
		out.Bulge = append(out.Bulge, s.bulge)
	}
	return out, nil
}

// halves splits the sides of an outline that has two, so that it has corners
// enough to be a polygon.
func halves(s []side) []side {
	if len(s) > 2 {
		return s
	}
	var out []side
	for _, a := range s {
		mid := a.from.Lerp(a.to, 0.5)
		if a.bulge != 0 {
			chord := a.to.Sub(a.from)
			mid = mid.Add(geom.Vec2{X: chord.Y, Y: -chord.X}.Scale(a.bulge / 2))
		}
		b := math.Tan(a.sweep() / 8)
		out = append(out, side{a.from, mid, b}, side{mid, a.to, b})
	}
	return out
}
