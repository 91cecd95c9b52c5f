package pattern

import (
	"fmt"
	"math"
	"slices"

	"buckwright/generate/geom"
)

// post is a station laid flat: its place on the reference line, where the
// strip's edges are, and where they lie on the surface.
type post struct {
	pose
	low, high   geom.Vec2  // flat
	foot, mouth geom.Vec   // in the pocket
	bends       [2]float64 // how deep the bend at the lower and at the upper edge is
	dir         geom.Vec2  // of the outline, in plan
	turn        float64    // of the outline from the post before, radians
}

// wall is the strip round a floor, cut open where the outline runs straight
// for longest.
func (c *Cavity) wall(st []station, foot []rung, l Lining) Flat {
	posts := c.posts(st, foot, l)
	f := Flat{
		Name: "felt-wall-" + c.Name, Title: "felt for the wall of " + c.Name, Material: l.Material, Count: 1,
	}
	upper := "is the seam at the mouth"
	if l.Trim > 0 {
		upper = "ends where the mouth begins to round"
	}
	f.Notes = []string{fmt.Sprintf("Drawn from the glued side, the mouth up. The ends meet where the pocket runs straight for longest, %s; the lower edge stands on the floor piece, the upper one %s.", c.side(posts[0].mouth.XY()), upper)}
	// A cut that would run into another one is left out with the rest of its edge's.
	for _, limit := range [][2]float64{{l.Limit, l.Limit}, {math.Inf(1), l.Limit}, {math.Inf(1), math.Inf(1)}} {
		low, gl := relieved(posts, false, limit[0])
		high, gh := relieved(posts, true, limit[1])
		f.Shape.Outer = level(joined(slices.Concat(low, backwards(high)), fitTol).Turned(true), posts)
		f.Strain = &Strain{Stretch: max(gl.stretch, gh.stretch), Gather: max(gl.gather, gh.gather), Where: "on the mean of its bends in the corners"}
		if f.Shape.Check() != nil {
			continue
		}
		if n := gl.cuts + gh.cuts; n > 0 {
			f.Notes = append(f.Notes, fmt.Sprintf("%d relief cuts: without them its edges would have to give %s in the corners; that is half of it on the mean of a bend, and this felt takes %s.",
				n, percent(max(gl.before, gh.before)), percent(l.Limit)))
		}
		break
	}
	if l.Trim > 0 {
		f.Notes = append(f.Notes, short(l.Trim)+" mm are left over at the mouth: trim them after pressing.")
	}
	return f
}

// side says on which side of the pocket's middle a place is, seen from above with
// the front (-y) nearest.
func (c *Cavity) side(at geom.Vec2) string {
	lo, hi := Path{P: c.Outline}.Bounds()
	v := at.Sub(lo.Lerp(hi, 0.5))
	names := [8]string{"at its right", "at its back right", "at its back", "at its back left", "at its left", "at its front left", "at its front", "at its front right"}
	return names[(int(math.Round(math.Atan2(v.Y, v.X)/(math.Pi/4)))+8)%8]
}

// level turns a strip so that its ends lie at the same height.
func level(p Path, posts []post) Path {
	d := posts[len(posts)-1].at.Sub(posts[0].at)
	return p.Move(geom.Angle(-math.Atan2(d.Y, d.X)), geom.Vec2{})
}

// posts lays the stations flat, one after another from the best place to cut.
func (c *Cavity) posts(st []station, foot []rung, l Lining) []post {
	first := seamStation(st)
	at := pose{dir: pt(1, 0)}
	var out []post
	n := len(st)
	bend := footBend(st, foot)
	for k := range n + 1 {
		i := (first + k) % n
		s := st[i]
		var turn float64
		if k > 0 {
			before := st[(i+n-1)%n]
			at = at.step(s.leg)
			at.dir = turned(at.dir, s.turn)
			turn = math.Atan2(before.dir.Cross(s.dir), before.dir.Dot(s.dir))
		}
		up := c.above(s.lean, l.Phi)
		out = append(out, post{
			pose: at, dir: s.dir, turn: turn,
			bends: [2]float64{bend, max(1, up+l.Trim)},
			low:   at.at.Sub(at.left().Scale(foot[i].Down)),
			high:  at.at.Add(at.left().Scale(up + l.Trim)),
			foot:  s.at.Add(s.in.Scale(foot[i].In)).At(foot[i].Z),
			mouth: s.at.Sub(s.in.Scale(c.out(s.lean, l.Phi))).At(c.Top + c.Bend*l.Phi.Cos()),
		})
	}
	return out
}

// footBend is how deep the bend at the walls' foot mostly is, along the surface.
func footBend(st []station, foot []rung) float64 {
	deep := make([]float64, len(st))
	for i, s := range st {
		upright := atSlope(s.down, geom.Angle(math.Pi/2)-s.lean-bendBegins)
		deep[i] = foot[i].Down - upright.Down
	}
	return max(1, median(deep))
}

// seamStation is the one nearest the middle of the longest straight side.
func seamStation(st []station) int {
	best, at := 0.0, 0
	for i := 0; i < len(st); {
		j, l := i, 0.0
		for j+1 < len(st) && st[j+1].radius == 0 && st[j+1].leg.Length > 0 && st[j].radius == 0 {
			j++
			l += st[j].leg.Length
		}
		if l > best {
			best, at = l, (i+j)/2
		}
		i = j + 1
	}
	return at
}

// give is what an edge must do in its corners: before any cut, and after.
type give struct {
	stretch, gather, before float64
	cuts                    int
}

const (
	cornerRun  = 1.0              // mm of straight edge that do not end a corner
	smallTurn  = 2 * geom.Degree  // that an outline's fit may turn back by within a corner
	bendBegins = 8 * geom.Degree  // a profile that has turned this much is in its bend
	cutEvery   = 45 * geom.Degree // of a corner's turn, one relief cut
	cutApart   = 8.0              // mm from one relief cut to the next, at least
	deepest    = 0.33             // share of the strip's width that a relief cut takes at most
	leastNotch = 0.3              // mm, width of a cut that opens by itself
)

// relieved is one edge of a strip, with a V cut into it wherever a corner asks
// more of it than the limit: as wide as what is too much, as deep as the bend.
func relieved(posts []post, upper bool, limit float64) ([][]geom.Vec2, give) {
	edge := func(p post) geom.Vec2 {
		if upper {
			return p.high
		}
		return p.low
	}
	place := func(p post) geom.Vec {
		if upper {
			return p.mouth
		}
		return p.foot
	}
	posts = forward(posts, edge)
	var g give
	out := [][]geom.Vec2{nil}
	add := func(p geom.Vec2) { out[len(out)-1] = append(out[len(out)-1], p) }
	for i := 0; i < len(posts); {
		j := cornerEnd(posts, i)
		if j == i {
			add(edge(posts[i]))
			i++
			continue
		}
		// posts[i] to posts[j] is one corner.
		var flat, true, turn float64
		for k := i + 1; k <= j; k++ {
			flat += edge(posts[k]).Sub(edge(posts[k-1])).Dot(posts[k].pose.dir)
			d := place(posts[k]).Sub(place(posts[k-1]))
			true += math.Copysign(d.Len(), d.XY().Dot(posts[k].dir.Add(posts[k-1].dir)))
			turn += posts[k].turn
		}
		flat, true = max(flat, 0), max(true, 0)
		ask := 0.0
		if whole := max(flat, true); whole > 0.5 {
			ask = (true - flat) / whole
		}
		g.before = max(g.before, math.Abs(ask))
		switch {
		case math.Abs(ask)/2 <= limit: // the bend's mean: it fades to nothing at the upright wall
			g.stretch, g.gather = max(g.stretch, ask/2), max(g.gather, -ask/2)
			for k := i; k <= j; k++ {
				add(edge(posts[k]))
			}
		default:
			n := int(max(1, min(math.Round(math.Abs(turn)/float64(cutEvery)), math.Floor(flat/cutApart))))
			g.cuts += n
			width := min(max(flat-true, leastNotch), 0.8*flat)
			for k, run := range notched(posts[i:j+1], edge, upper, n, width/float64(n)) {
				if k > 0 {
					out = append(out, nil)
				}
				for _, p := range run {
					add(p)
				}
			}
		}
		i = j + 1
	}
	return out, g
}

// forward leaves out posts at which an edge would step back: on the inner side
// of a corner without a radius it laps over itself a little. Their turns are
// passed on.
func forward(posts []post, edge func(post) geom.Vec2) []post {
	const least = 0.02 // mm
	out := []post{posts[0]}
	turn := 0.0
	for i, p := range posts[1:] {
		back := edge(p).Sub(edge(out[len(out)-1])).Dot(p.pose.dir) < least
		if back && i+2 < len(posts) {
			turn += p.turn
			continue
		}
		p.turn += turn
		turn = 0
		if back && len(out) > 1 { // the strip's end stays
			out = out[:len(out)-1]
		}
		out = append(out, p)
	}
	return out
}

// cornerEnd is the last post of the corner that begins at post i; i itself if
// none does.
func cornerEnd(posts []post, i int) int {
	sum, end, straight := 0.0, i, 0.0
	for k := i + 1; k < len(posts); k++ {
		t := posts[k].turn
		if t*sum < 0 && math.Abs(t) > float64(smallTurn) {
			break
		}
		if math.Abs(t) > 1e-6 {
			sum += t
			end, straight = k, 0
			continue
		}
		if straight += posts[k].at.Sub(posts[k-1].at).Len(); straight > cornerRun || end == i {
			break
		}
	}
	if math.Abs(sum) < float64(wholeCorner) {
		return i
	}
	return end
}

// notched is the edge along a corner with n V cuts spread over it, each so wide;
// runs end at the corners of the cuts.
func notched(posts []post, edge func(post) geom.Vec2, upper bool, n int, width float64) [][]geom.Vec2 {
	line := make([]geom.Vec2, len(posts))
	along := make([]float64, len(posts))
	for i, p := range posts {
		line[i] = edge(p)
		if i > 0 {
			along[i] = along[i-1] + max(0, line[i].Sub(line[i-1]).Dot(p.pose.dir))
		}
	}
	total := along[len(along)-1]
	at := func(s float64) (geom.Vec2, post) {
		for i := 1; i < len(line); i++ {
			if s <= along[i] && along[i] > along[i-1] {
				return line[i-1].Lerp(line[i], (s-along[i-1])/(along[i]-along[i-1])), posts[i]
			}
		}
		return line[len(line)-1], posts[len(posts)-1]
	}
	out := [][]geom.Vec2{{line[0]}}
	add := func(p geom.Vec2) { out[len(out)-1] = append(out[len(out)-1], p) }
	next := 1
	for k := range n {
		mid := total * (float64(k) + 0.5) / float64(n)
		a, b := mid-width/2, mid+width/2
		for next < len(line) && along[next] < a-1e-3 {
			add(line[next])
			next++
		}
		for next < len(line) && along[next] <= b+1e-3 {
			next++
		}
		p, _ := at(a)
		q, _ := at(b)
		m, near := at(mid)
		deep := near.bends[0]
		if upper {
			deep = near.bends[1]
		}
		add(p)
		deep = min(deep, deepest*near.low.Sub(near.high).Len())
		inwards := near.pose.left()
		if upper {
			inwards = inwards.Scale(-1)
		}
		out = append(out, []geom.Vec2{m.Add(inwards.Scale(deep))}, []geom.Vec2{q})
	}
	for _, p := range line[next:] {
		add(p)
	}
	return out
}

// backwards is an edge run through from its end.
func backwards(runs [][]geom.Vec2) [][]geom.Vec2 {
	out := slices.Clone(runs)
	slices.Reverse(out)
	for i := range out {
		out[i] = slices.Clone(out[i])
		slices.Reverse(out[i])
	}
	return out
}
