package proof

import (
	"math"
	"testing"
)

// thing is a body with the places it is probed at.
type thing struct {
	*Body
	on []Point
}

func probed(b *Body, n int) thing { return thing{b, Sample(b.Facets, n, All)} }

// cornered is probed at the corners of its facets too: the crest of a catch is a
// line, which points spread by area may miss.
func cornered(b *Body, n int) thing {
	out := probed(b, n)
	for i, f := range b.Facets {
		for _, v := range f {
			out.on = append(out.on, Point{v.Add(f.Mid().Sub(v).Mul(1e-3)), f.Normal(), i})
		}
	}
	return out
}

// lower moves a thing straight down from a height to its place in steps and
// tells the least clearance of each step.
func lower(t *testing.T, what string, moving, fixed thing, from, step float64, floor func(up float64) float64) {
	t.Helper()
	lo, hi := Bounds(fixed.Facets)
	mlo, mhi := Bounds(moving.Facets)
	worst := Spread{}
	for h := from; ; h = math.Max(h-step, 0) {
		by := Vec{0, 0, h}
		on := Near(shifted(moving.on, by), lo, hi, 3)
		under := Near(fixed.on, mlo.Add(by), mhi.Add(by), 3)
		s := Meet(moving.Body, shifted(on, by.Mul(-1)), by, fixed.Body, under, 3)
		if s.N > 0 {
			if !(s.Least >= floor(h)) {
				t.Errorf("%s, %.1f above its place: clearance %.3f at %.2f, want %.3f or more", what, h, s.Least, s.LeastAt, floor(h))
			}
			worst.Add(s.Least, s.LeastAt)
			t.Logf("%s, %5.1f above: least clearance %.3f at %.2f", what, h, s.Least, s.LeastAt)
		}
		if h == 0 {
			break
		}
	}
	if worst.N == 0 {
		t.Errorf("%s never came near", what)
	}
}

func shifted(all []Point, by Vec) []Point {
	out := make([]Point, len(all))
	for i, p := range all {
		p.At = p.At.Add(by)
		out[i] = p
	}
	return out
}

func always(v float64) func(float64) float64 { return func(float64) float64 { return v } }

const probes = 6000

// TestNestCarriesInsert: 0.2 under the insert, everywhere that it carries.
func TestNestCarriesInsert(t *testing.T) {
	m := demo(t)
	nest, insert := m.body(t, "press-nest"), m.body(t, "insert")
	z := m.zone(t, "press-nest", up)
	lo, _ := Bounds(insert.Facets)
	var s, mouth Spread
	for _, p := range Sample(nest.Facets, plenty, func(i int, f Tri) bool { return z.Open[i] && !z.Skirt[i] }) {
		if p.At[2] > lo[2]+1 {
			d := insert.Tree.Signed(p.At, 2)
			switch band := demoGauge + demoMouth; {
			case d >= 1:
			case p.At[2] > -demoGauge-0.3-band:
				mouth.Add(d, p.At) // over the mouth it may keep more room
			default:
				s.Add(d, p.At)
			}
		}
	}
	within(t, "nest to insert", s, 0.2, exact)
	atLeast(t, "nest to insert at the mouths", mouth, 0.2-exact)
	if s.N < plenty/3 {
		t.Errorf("only %d places of the nest carry the insert", s.N)
	}
	lower(t, "insert onto nest", probed(insert, probes), probed(nest, probes), 40, 4, always(0.2-exact))
}

// TestPlugsEnterPockets: straight down, felt's room all the way.
func TestPlugsEnterPockets(t *testing.T) {
	kits(t, plugsEnter)
}

func plugsEnter(t *testing.T, m *made) {
	gap := m.fit(t, "r_pocket") - m.fit(t, "r_plug")
	stop := m.fit(t, "press.stop")
	lower(t, "press tool", probed(m.body(t, "press-tool"), probes), probed(m.body(t, "insert"), probes), 30, 2,
		always(math.Min(gap, stop)-exact))
}

// TestInsertEntersBase: the sheet never touches; at the trim line it keeps the
// felt's room, under the floors the glue's.
func TestInsertEntersBase(t *testing.T) {
	kits(t, insertEnters)
}

func insertEnters(t *testing.T, m *made) {
	lower(t, "insert", probed(m.body(t, "insert"), probes), probed(m.body(t, "base"), probes), 45, 1, always(0.05))
}

// TestBaseCarriesInsert: the supports are the glue's gap under the pocket
// floors, the ledge lies free below the trimmed edge, and the rim sits below
// the neck's top.
func TestBaseCarriesInsert(t *testing.T) {
	kits(t, baseCarries)
}

func baseCarries(t *testing.T, m *made) {
	insert, base := m.body(t, "insert"), m.body(t, "base")
	under := m.zone(t, "insert", down)
	floors := Sample(insert.Facets, plenty, func(i int, f Tri) bool { return under.Open[i] && f.Normal()[2] < -0.999 && highest(f) < -3 })
	var carried Spread
	n, below := 0, 0
	for _, p := range floors {
		if p.At[2] < m.fit(t, "trim")+0.2 {
			continue // the trimmed edge
		}
		n++
		if base.Tree.Ray(p.At, down, 0).Dist < 0.25 {
			below++
		}
	}
	// The supports' tops are as far from the sheet everywhere where they follow it;
	// beside a crease of the sheet the gap straight up is more.
	tops := Sample(base.Facets, plenty, func(i int, f Tri) bool {
		return f.Normal()[2] > 0.9 && lowest(f) > m.fit(t, "ledge")+1 && highest(f) < -3
	})
	for _, p := range tops {
		if insert.Tree.Ray(p.At, up, 0).Dist > 0.25 { // a block's corner may stand beside the pocket
			continue
		}
		h := insert.Tree.Nearest(p.At, 0.5)
		if along := insert.Tree.Facets[h.Facet].Normal().Dot(p.Normal); along > -0.97 {
			continue // its flat top, lower than the sheet's rounded edge: 14 degrees are not parallel
		}
		carried.Add(h.Dist, p.At)
	}
	within(t, "pocket floor to its support", carried, m.fit(t, "glue.gap"), exact)
	if carried.N < plenty/4 {
		t.Errorf("only %d places of supports follow the sheet", carried.N)
	}
	if !(float64(below) > 0.1*float64(n)) {
		t.Errorf("only %d of %d places of the pocket floors are carried", below, n)
	}
	var ledge Spread
	for _, p := range Sample(insert.Facets, plenty, func(i int, f Tri) bool { return f.Normal()[2] < -0.9 && highest(f) < m.fit(t, "trim")+0.02 }) {
		ledge.Add(base.Tree.Ray(p.At, down, 0).Dist, p.At)
	}
	atLeast(t, "trimmed edge to what is below", ledge, m.fit(t, "trim")-m.fit(t, "ledge")-exact)
	_, top := Bounds(base.Facets)
	near(t, "top of the neck", top[2], m.fit(t, "neck.top"), exact)
	near(t, "neck above the felt on the rim", top[2], demoFelt+1, exact)
}

// TestStopsCarryPressTool: the tool stands on the rim's felt as far up as it is
// thick under it.
func TestStopsCarryPressTool(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		tool := m.body(t, "press-tool")
		if !(math.Abs(leastAbove(tool, 0.5)-m.fit(t, "press.stop")) <= exact) {
			t.Errorf("the stops are %.4f above the rim, want %.4f", leastAbove(tool, 0.5), m.fit(t, "press.stop"))
		}
	})
}

// leastAbove is the height of the lowest level flat above z.
func leastAbove(b *Body, z float64) float64 {
	least := math.Inf(1)
	for _, f := range b.Facets {
		if f.Normal()[2] < -0.999 && lowest(f) > z && f.Area() > 1 {
			least = math.Min(least, lowest(f))
		}
	}
	return least
}

// TestPlainInsertEntersBase: a bare skirt.
func TestPlainInsertEntersBase(t *testing.T) {
	m := run(t, "testdata/plain.yaml", "--parts", "base,lid,insert")
	lower(t, "insert", probed(m.body(t, "insert"), probes), probed(m.body(t, "base"), probes), 45, 1, always(0.05))
}

// TestItemsEnterPockets: an item goes straight down and rests with its liner
// pressed no more than it should be.
func TestItemsEnterPockets(t *testing.T) {
	m := demo(t)
	insert := m.body(t, "insert")
	z := m.zone(t, "insert", up)
	pts := Sample(insert.Facets, plenty, func(i int, f Tri) bool { return z.Open[i] && !z.Skirt[i] })
	r := m.fit(t, "r_pocket")
	for i, item := range demoItems(t, m, false) {
		for h := 30.0; h >= 0; h-- {
			var s Spread
			for _, p := range pts {
				s.Add(item(p.At.Sub(Vec{0, 0, h})), p.At)
			}
			if !(s.Least >= r-exact) {
				t.Errorf("item %d, %.0f above its place: %.3f to the sheet at %.2f, want %.3f", i, h, s.Least, s.LeastAt, r)
			}
			if h == 0 {
				t.Logf("item %d at rest: %v", i, s)
			}
		}
	}
	// Under an item the liner is pressed by c_floor.
	for name, at := range map[string]Vec{"logger": {-33, 8, -19}, "probe-lead": {72, 8, -22}} {
		want := demoFelt*(1-m.fit(t, "c_floor."+name)) + demoCement
		near(t, "floor under "+name, insert.Tree.Ray(at, down, 0).Dist, want, exact)
	}
}

// TestLidGoesOn: down to the shoulder; only the catch is in its way, by its
// reach, at four spring tongues; and lifted again it is held there.
func TestLidGoesOn(t *testing.T) {
	m := demo(t)
	base, lid := cornered(m.body(t, "base"), 3*probes), cornered(m.body(t, "lid"), 3*probes)
	lo, hi := Bounds(base.Facets)
	reach := m.fit(t, "catch.reach")
	held := 0.0
	for h := 20.0; h >= 0; h -= 0.5 {
		by := Vec{0, 0, h}
		on := Near(shifted(lid.on, by), lo, hi, 3)
		s := Meet(lid.Body, shifted(on, by.Mul(-1)), by, base.Body, base.on, 3)
		free := Meet(lid.Body, awayFromTongues(shifted(on, by.Mul(-1)), lo, hi), by, base.Body, awayFromTongues(base.on, lo, hi), 3)
		if !(s.Least >= -reach-exact) {
			t.Errorf("lid %.1f above its place: %.3f at %.2f, the catch reaches %.3f", h, s.Least, s.LeastAt, reach)
		}
		if !(free.Least >= -0.02) {
			t.Errorf("lid %.1f above its place: %.3f at %.2f, away from the tongues", h, free.Least, free.LeastAt)
		}
		if h == 0 {
			if !(s.Least >= -0.02) {
				t.Errorf("lid on the shoulder: %.3f at %.2f", s.Least, s.LeastAt)
			}
		} else if h <= 3 {
			held = math.Max(held, -s.Least)
		}
		t.Logf("lid, %4.1f above: least clearance %.3f at %.2f", h, s.Least, s.LeastAt)
	}
	near(t, "the catch holds the lid by", held, reach, exact)
}

// awayFromTongues leaves out the middles of the four sides, as wide as a
// tongue and its slits.
func awayFromTongues(all []Point, lo, hi Vec) []Point {
	const half = 12.0/2 + 1.5
	mid := lo.Add(hi).Mul(0.5)
	var out []Point
	for _, p := range all {
		if math.Abs(p.At[0]-mid[0]) > half && math.Abs(p.At[1]-mid[1]) > half {
			out = append(out, p)
		}
	}
	return out
}

// TestPlainLidGoesOn: nothing in the way, and it lands on the shoulder.
func TestPlainLidGoesOn(t *testing.T) {
	m := run(t, "testdata/plain.yaml", "--parts", "base,lid,insert")
	base, lid := m.body(t, "base"), m.body(t, "lid")
	lower(t, "lid", probed(lid, probes), probed(base, probes), 20, 1, func(h float64) float64 {
		if h == 0 {
			return -0.02
		}
		return 0.05
	})
	shoulder := m.fit(t, "shoulder")
	lo, _ := Bounds(lid.Facets)
	near(t, "lid's edge on the shoulder", lo[2], shoulder, 0.02)
	blo, bhi := Bounds(base.Facets)
	llo, lhi := Bounds(lid.Facets)
	for k := range 2 {
		near(t, "lid flush with the base", lhi[k]-llo[k], bhi[k]-blo[k], 0.05)
	}
}

// TestLidClearsItemsAndInsert: at rest nothing in the closed case overlaps.
func TestLidClearsItemsAndInsert(t *testing.T) {
	m := demo(t)
	lid := probed(m.body(t, "lid"), plenty)
	insert := probed(m.body(t, "insert"), probes)
	s := Meet(insert.Body, insert.on, Vec{}, lid.Body, lid.on, 20)
	atLeast(t, "lid to insert", s, demoFelt)
	for i, item := range demoItems(t, m, false) {
		var s Spread
		for _, p := range lid.on {
			s.Add(item(p.At), p.At)
		}
		within(t, []string{"lid to logger", "lid to probe lead"}[i], Spread{N: s.N, Least: s.Least, Most: s.Least, LeastAt: s.LeastAt, MostAt: s.LeastAt}, 3, exact)
	}
}
