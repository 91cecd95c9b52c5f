package pattern

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// Fit replaces a closed outline by as few lines and arcs as stay within tol of
// its points: from each point the line or arc that reaches farthest, a line
// where both reach as far. Ends of sides are points of the outline, so that no
// error adds up.
func Fit(pts []geom.Vec2, tol float64) Path {
	pts = startAtLine(pts, tol)
	return fitRun(append(pts, pts[0]), tol)
}

// fitRun is Fit for an open line; its last point is left for what follows.
func fitRun(pts []geom.Vec2, tol float64) Path {
	n := len(pts) - 1
	var out Path
	for i := 0; i < n; {
		line := reach(i, n, func(j int) bool { return lineFits(pts, i, j, tol) })
		bulge := 0.0
		next := line
		arc := reach(i, n, func(j int) bool { _, ok := arcThrough(pts, i, j, tol); return ok })
		if arc > line && arc-i > leastOnArc {
			next = arc
			bulge, _ = arcThrough(pts, i, arc, tol)
		}
		out.P, out.B = append(out.P, pts[i]), append(out.B, bulge)
		i = next
	}
	return out
}

// joined is the closed path through several runs, each ending where the next
// begins; their ends stay corners.
func joined(runs [][]geom.Vec2, tol float64) Path {
	var out Path
	for k, run := range runs {
		p := fitRun(append(slices.Clone(run), runs[(k+1)%len(runs)][0]), tol)
		out.P, out.B = append(out.P, p.P...), append(out.B, p.B...)
	}
	return out.Tidy()
}

// startAtLine rolls the points so that the longest straight run comes first:
// a start within an arc would cut it in two.
func startAtLine(pts []geom.Vec2, tol float64) []geom.Vec2 {
	n := len(pts)
	twice := append(append([]geom.Vec2{}, pts...), pts...)
	best, from := 0.0, 0
	for i := 0; i < n; {
		j := reach(i, i+n-1, func(j int) bool { return lineFits(twice, i, j, tol) })
		if l := twice[j%len(twice)].Sub(twice[i]).Len(); l > best {
			best, from = l, i
		}
		i = max(i+1, j)
	}
	return twice[from : from+n]
}

// reach is the farthest j up to most for which ok holds, found by doubling and
// halving: i+1 always does.
func reach(i, most int, ok func(j int) bool) int {
	good, step := i+1, 1
	for good < most {
		j := min(good+step, most)
		if !ok(j) {
			break
		}
		good, step = j, 2*step
	}
	for ; step > 0; step /= 2 {
		if j := good + step; j <= most && ok(j) {
			good = j
		}
	}
	return min(good, most)
}

func lineFits(pts []geom.Vec2, i, j int, tol float64) bool {
	a, b := pts[i], pts[j]
	u := b.Sub(a).Unit()
	far := 0.0
	for k := i + 1; k < j; k++ {
		v := pts[k].Sub(a)
		t := v.Dot(u)
		if !(math.Abs(v.Cross(u)) <= tol && t > far) {
			return false
		}
		far = t
	}
	return true
}

// mostSweep keeps an arc well under a half turn, where its chord still says
// which way it goes; the pieces of a longer one are joined by Tidy if they are one.
const mostSweep = 0.9 * math.Pi

// leastOnArc is how many points an arc must explain besides its ends: any two
// lie on one.
const leastOnArc = 3

// arcThrough is the bulge of the arc from point i to point j that passes those
// between, in the mean; ok is false when one is farther off than tol.
func arcThrough(pts []geom.Vec2, i, j int, tol float64) (bulge float64, ok bool) {
	if j-i < 2 {
		return 0, j == i+1
	}
	a, b := pts[i], pts[j]
	chord := b.Sub(a)
	l := chord.Len()
	if l == 0 {
		return 0, false
	}
	u := chord.Scale(1 / l)
	// A circle through a and b: x(x-l) + y² = m y in the chord's frame; m by
	// least squares over the points between.
	var num, den float64
	for k := i + 1; k < j; k++ {
		v := pts[k].Sub(a)
		x, y := v.Dot(u), u.Cross(v)
		num += y * (x*(x-l) + y*y)
		den += y * y
	}
	if den == 0 {
		return 0, false
	}
	cy := num / den / 2
	c := a.Add(u.Scale(l / 2)).Add(pt(-u.Y, u.X).Scale(cy))
	r := a.Sub(c).Len()
	turn := 0.0
	last := a
	for k := i + 1; k <= j; k++ {
		p := pts[k]
		if k < j && !(math.Abs(p.Sub(c).Len()-r) <= tol) {
			return 0, false
		}
		d := last.Sub(c)
		e := p.Sub(c)
		step := math.Atan2(d.Cross(e), d.Dot(e))
		if turn*step < 0 {
			return 0, false
		}
		turn += step
		last = p
	}
	if math.Abs(turn) > mostSweep || r > 1e4 {
		return 0, false
	}
	return math.Tan(turn / 4), true
}
