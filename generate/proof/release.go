package proof

import (
	"fmt"
	"math"
)

// Draft is how far a facet leans back from the vertical, in degrees: 90 faces
// up, 0 is a wall, below 0 faces down.
func (t Tri) Draft() float64 {
	return math.Asin(math.Max(-1, math.Min(1, t.Normal()[2]))) * 180 / math.Pi
}

// Fault is one place that fails a check.
type Fault struct {
	At        Vec
	Got, Want float64
	Why       string
}

// Wall is the area-weighted draft of one kind of wall.
type Wall struct {
	Area, Mean  float64
	Least, Most float64
	LeastAt     Vec
}

func (w *Wall) add(t Tri, draft float64) {
	a := t.Area()
	if w.Area == 0 || draft < w.Least {
		w.Least, w.LeastAt = draft, t.Mid()
	}
	if w.Area == 0 || draft > w.Most {
		w.Most = draft
	}
	w.Mean = (w.Mean*w.Area + draft*a) / (w.Area + a)
	w.Area += a
}

// Release is how a tool lets go of what is formed over it.
type Release struct {
	Hidden []Fault // facets that something above hides
	Steep  []Fault // facets with less draft than they should have
	Pocket Wall    // the walls within band of the pockets' draft
	Skirt  Wall
	Seen   int
}

// Pull says what a tool should be like.
type Pull struct {
	PocketDraft, SkirtDraft float64 // degrees
	Slack                   float64 // degrees that a facet may lack
	Sag                     float64 // mm that a vertex may be off
	Under                   float64 // z of the underside
	Floor                   float64 // z of the deepest pocket floor: below it, inside, are only bores and channels
	Channel                 float64 // height of the channels above it
	Bore                    float64 // greatest width of a bore
	Vent                    float64 // greatest width of a vent
	Band                    float64 // degrees: a wall is what keeps within them of its draft
	Top, Bottom             float64 // z between which walls are averaged
}

// JudgeRelease looks at every facet above the underside. Bores and channels
// are set aside: what is hidden from above but open to below inside the tool,
// and what is open both ways.
func JudgeRelease(f []Tri, p Pull) Release {
	tree := NewTree(f)
	up, down := Vec{0, 0, 1}, Vec{0, 0, -1}
	vents := ventWalls(f, tree, p.Vent, 17)
	var out Release
	for _, t := range f {
		n := t.Normal()
		if n == (Vec{}) || t.LeastAltitude() < 1e-3 { // a micrometre: its normal says nothing
			continue
		}
		m := t.Mid().Add(n.Mul(1e-3)) // a micrometre off, so that the facet does not hide itself
		if m[2] < p.Under+0.01+p.Sag || vents.Nearest(m, 0.2).Facet >= 0 {
			continue
		}
		side := Vec{n[0], n[1], 0}.Unit()
		skirt := side != (Vec{}) && math.Abs(n[2]) < 0.99 && tree.Escapes(m, side)
		below := tree.Escapes(m, down)
		if n[2] < 0 && m[2] < p.Under+p.Channel {
			continue // the roof of a channel where it meets the skirt
		}
		if !tree.Escapes(m, up) {
			if m[2] < p.Under+p.Channel || !skirt && (below || m[2] < p.Floor-0.05 || narrow(tree, m, n, p.Bore)) {
				continue // a bore or a channel
			}
			out.Hidden = append(out.Hidden, Fault{m, t.Draft(), 0, fmt.Sprintf("hidden from above, %.4f mm², altitude %.3f", t.Area(), t.LeastAltitude())})
			continue
		}
		out.Seen++
		want := p.PocketDraft
		wall := &out.Pocket
		if skirt {
			want, wall = p.SkirtDraft, &out.Skirt
		}
		got := t.Draft()
		allow := p.Slack + math.Atan(2*p.Sag/t.LeastAltitude())*180/math.Pi
		if !(got >= want-allow) {
			out.Steep = append(out.Steep, Fault{m, got, want - allow, "too little draft"})
		}
		if math.Abs(got-want) <= p.Band && m[2] < p.Top && m[2] > p.Bottom {
			wall.add(t, got)
		}
	}
	return out
}

// narrow tells whether the air at p, on a surface with normal n, is that of a
// bore: level, it is no wider than width, straight off the surface or both ways.
func narrow(tree *Tree, p, n Vec, width float64) bool {
	if side := (Vec{n[0], n[1], 0}); side.Len() > 0.5 {
		return tree.Ray(p, side.Unit(), 0).Dist <= width
	}
	for _, d := range []Vec{{1, 0, 0}, {0, 1, 0}} {
		if !(tree.Ray(p, d, 0).Dist+tree.Ray(p, d.Mul(-1), 0).Dist <= width) {
			return false
		}
	}
	return true
}

// ventWalls are walls, leaning back at most so far, with another wall no
// farther off than width.
func ventWalls(f []Tri, tree *Tree, width, lean float64) *Tree {
	var out []Tri
	for _, t := range f {
		if n := t.Normal(); n != (Vec{}) && n[2] > -0.3 && n[2] < math.Sin(lean*math.Pi/180) && narrow(tree, t.Mid().Add(n.Mul(1e-3)), n, width) {
			out = append(out, t)
		}
	}
	return NewTree(out)
}
