package proof

import (
	"math"
	"testing"
)

// Both kits' notches, and the rounding of a plug's edges: the parts' own,
// common practice, no source.
const (
	notchOut, notchShy     = 12.0, 3.0 // beyond the item's widest line; above its lowest point
	notchCorner, notchEdge = 8.0, 4.0
	plugEdge               = 1.2 // an edge that is rounder by itself stays
)

// notchPiece goes along y from within an item to the outside.
func notchPiece(name string, x, from, to, z float64) Piece {
	return RoundedPiece(name, Span{x - notchWidth/2, x + notchWidth/2}, Span{math.Min(from, to), math.Max(from, to)}, notchCorner, notchEdge, z)
}

// pocketed is a pocket of both kits that has a closed form, its item's name, and
// where it is.
type pocketed struct {
	item   string
	lo, hi Vec
	pieces []Piece
}

// pocketsOf are the pockets as they are cut for the items themselves. The drift
// buoy is a mesh and has no closed form; its cell has.
func pocketsOf(t *testing.T, m *made) []pocketed {
	t.Helper()
	rest := func(item string, depth float64) float64 { return -depth - m.fit(t, "seat_rise."+item) }
	if m.Kit == "drift-buoy" {
		const x, y, long, wide = 0.0, -42.0, 72.0, 18.0
		z := rest("cell", 12)
		return []pocketed{{"cell", Vec{-50, -70, -50}, Vec{50, -26, 10}, []Piece{
			RoundedPiece("cell", Span{x - long/2, x + long/2}, Span{y - wide/2, y + wide/2}, wide/2, wide/2, z),
			notchPiece("cell's notch", x, y, y-wide/2-notchOut, z+notchShy),
		}}}
	}
	box, drum := rest("logger", 19), rest("probe-lead", 22)
	return []pocketed{
		{"logger", Vec{-100, -50, -50}, Vec{37, 50, 10}, []Piece{
			RoundedPiece("logger", Span{-33 - 59, -33 + 59}, Span{-32, 32}, 10, 4, box),
			notchPiece("front notch", -33, 0, -32-notchOut, box+notchShy),
			notchPiece("back notch", -33, 0, 32+notchOut, box+notchShy),
		}},
		{"probe-lead", Vec{37, -50, -50}, Vec{102, 50, 10}, []Piece{
			RoundedPiece("lead", Span{72 - 23, 72 + 23}, Span{-23, 23}, 23, 0, drum),
			notchPiece("lead's notch", 72, 0, -23-notchOut, drum+notchShy),
		}},
	}
}

// member is the pocket r away from the item, lowered; thick is r_buck, gauge less
// than the largest. One that is smaller than the item has rounded edges.
func (k pocketed) member(r, lower, thick float64) Pocket {
	out := Pocket{Draft: demoDraft, Fillet: demoGauge + thick - r}
	for _, c := range k.pieces {
		c = c.Lowered(lower)
		out.Largest = append(out.Largest, c.Grown(demoGauge+thick))
		if r >= 0 {
			out.Pieces = append(out.Pieces, c.Grown(r))
		} else {
			out.Pieces = append(out.Pieces, c.Shrunk(demoDraft, -r, math.Max(plugEdge, c.Grow+r)))
		}
	}
	return out
}

// outOf is the zone outside of the box around a pocket and over a height.
func (k pocketed) outOf(top float64) zone {
	return func(p Vec) bool {
		in := p[2] <= top
		for i := range p {
			in = in && p[i] >= k.lo[i] && p[i] <= k.hi[i]
		}
		return !in
	}
}

// isDrawn holds the pocket of a part, seen along a pull, to its drawing below top,
// away from holes of a width, if it has some, and from a zone.
func (k pocketed) isDrawn(t *testing.T, m *made, part string, drawn Pocket, pull Vec, top, holes float64, out zone) {
	t.Helper()
	b, away := m.body(t, part), anyOf(k.outOf(top), out)
	var around []Tri
	for _, f := range b.Facets {
		if mid := f.Mid(); lowest(f) < top && !k.outOf(mid[2])(mid) {
			around = append(around, f)
		}
	}
	near := &Body{around, b.Tree}
	if holes > 0 {
		all := NewHoles(near, NewZone(near, pull), pull, math.Inf(1), holes)
		away = anyOf(away, func(p Vec) bool { return all.By(p, holes/2+0.1) })
	}
	seen := near.Seen(pull)
	surface := NewBody(around).Part(func(i int, _ Tri) bool { return seen[i] })
	m.isDrawn(t, part, surface, drawn.Dist, drawn.Features(onEach*7/4, top), away, 0.15)
}

func nothing(Vec) bool { return false }

const drawnBand = demoMouth + demoGauge // mm from the rim down that a rounded mouth takes

// TestPocketFamilyIsDrawn: floors, walls, edges and creases of the pockets of all
// their members are where the drawing has them, below the mouths and away from holes.
func TestPocketFamilyIsDrawn(t *testing.T) {
	eachPocket(t, func(t *testing.T, m *made, k pocketed) {
		thick, step := m.fit(t, "r_buck."+k.item), m.fit(t, "floor.step."+k.item)
		k.isDrawn(t, m, "insert", k.member(m.fit(t, "r_pocket"), 0, thick), up, -drawnBand, 0, nothing)
		k.isDrawn(t, m, "buck", k.member(thick, step, thick), up, -drawnBand-demoGauge, ventWide, nothing)
	})
}

func eachPocket(t *testing.T, f func(t *testing.T, m *made, k pocketed)) {
	kits(t, func(t *testing.T, m *made) {
		for _, k := range pocketsOf(t, m) {
			t.Run(k.item, func(t *testing.T) { f(t, m, k) })
		}
	})
}

// TestNestIsDrawn: the nest's pockets lie nest.gap below the sheet.
func TestNestIsDrawn(t *testing.T) {
	m := demo(t)
	gap := m.fit(t, "nest.gap")
	for _, k := range pocketsOf(t, m) {
		thick, step := m.fit(t, "r_buck."+k.item), m.fit(t, "floor.step."+k.item)
		k.isDrawn(t, m, "press-nest", k.member(thick+gap, step, thick), up, -drawnBand-demoGauge-2*gap, 0, nothing)
	}
}

// TestNestOutsideIsDrawn: rim and wall are the buck's, as much within. The edge
// between them keeps the buck's radius, so that there is more room at it.
func TestNestOutsideIsDrawn(t *testing.T) {
	m := demo(t)
	gap := m.fit(t, "nest.gap")
	outer := skirtOf(t, m)
	outer.inset, outer.rim, outer.fillet = m.fit(t, "t_skirt")+gap, m.fit(t, "t_rim")+gap, formRadius
	outsideDrawn(t, m, "press-nest", outer)
}

// TestPlugsAreDrawn: away from air reliefs, up to the plate. A cylinder's sharp foot
// is rounded last; where it runs into the crease below a notch the two roundings
// meet, which is not drawn.
func TestPlugsAreDrawn(t *testing.T) {
	eachPocket(t, func(t *testing.T, m *made, k pocketed) {
		drawn := k.member(m.fit(t, "r_plug"), 0, m.fit(t, "r_buck."+k.item))
		out := nothing
		if k.item == "probe-lead" {
			out = footUnderNotch(drawn)
		}
		k.isDrawn(t, m, "press-tool", drawn, down, plateUnder-0.1, reliefWide, out)
	})
}

// footUnderNotch is where the cylinder's foot and the notch's underside meet.
func footUnderNotch(drawn Pocket) zone {
	drum, notch := drawn.Pieces[0].Plan, drawn.Pieces[1]
	return func(p Vec) bool {
		beside := Off(p[0], notch.Plan.At[0]) < notchWidth/2+plugEdge && p[1] < drum.At[1]
		return beside && p[2] < notch.Foot-notch.Grow-0.3 && drum.Dist(p) > -drum.R/3
	}
}

// TestPocketDrawingsTellATenth: a drawing of which any size of any piece is wrong by
// 0.1 mm is not the insert's.
func TestPocketDrawingsTellATenth(t *testing.T) {
	const by, few = 0.1, 300
	m := demo(t)
	k := pocketsOf(t, m)[1]
	b := m.body(t, "insert")
	seen := b.Seen(up)
	surface := b.Part(func(i int, _ Tri) bool { return seen[i] })
	r, thick := m.fit(t, "r_pocket"), m.fit(t, "r_buck."+k.item)
	for name, change := range map[string]func(c *Piece){
		"nothing":  func(*Piece) {},
		"at":       func(c *Piece) { c.Plan.At[0] += by },
		"width":    func(c *Piece) { c.Plan.HX += by },
		"length":   func(c *Piece) { c.Plan.HY += by },
		"depth":    func(c *Piece) { c.Foot += by },
		"distance": func(c *Piece) { c.Grow += by },
	} {
		for i := range k.pieces {
			wrong := k.member(r, 0, thick)
			change(&wrong.Pieces[i])
			change(&wrong.Largest[i])
			most := 0.0
			for _, a := range surface.judge(b, wrong.Dist, wrong.Features(few, -drawnBand), k.outOf(-drawnBand)) {
				most = math.Max(most, a.most())
			}
			if (most > m.promised(t, "insert")) == (name == "nothing") {
				t.Errorf("%s of %s changed: %.3f mm off", name, k.pieces[i].Name, most)
			}
		}
	}
}
