package proof

import (
	"math"
	"testing"
)

func buoy(t *testing.T) *made { return run(t, buoyKit) }

// buoyItems are the drift buoy, a mesh with grooves and undercuts, and its cell.
func buoyItems(t *testing.T, m *made, lowered bool) []Distance {
	t.Helper()
	f, err := ReadSTL("../../templates/drift-buoy.stl")
	if err != nil {
		t.Fatal(err)
	}
	lo, hi := Bounds(f)
	tree := NewTree(moved(f, Vec{-(lo[0] + hi[0]) / 2, -(lo[1] + hi[1]) / 2, -lo[2]}))
	body := func(p Vec) float64 { return tree.Signed(p, math.Inf(1)) }
	rise := func(id string) float64 {
		if !lowered {
			return 0
		}
		return m.fit(t, "seat_rise."+id)
	}
	return []Distance{
		Placed(body, 0, Vec{0, 18, -22 - rise("buoy")}),
		Placed(LyingCapsule(18, 72), 0, Vec{0, -42, -12 - rise("cell")}),
	}
}

// TestBuoyReleases: a product with undercuts comes out, and so does the sheet;
// where no groove, notch or vent is, the pocket is the buoy, grown and released.
func TestBuoyReleases(t *testing.T) {
	m := buoy(t)
	judgeRelease(t, "buoy", m, 3, 5)
	items := m.grown(t, buoyItems(t, m, true))
	b := m.body(t, "buck")
	z := m.zone(t, "buck", up)
	_, hi := Bounds(b.Facets)
	d := Union(Released(items[0], 3, 25), Released(items[1], 3, 25))
	pts := Clipped(Sample(b.Facets, 2000, z.Cavity(hi[2]-0.01)), m.floor()-0.05, hi[2]-2.1)
	pts = everyNth(pts, 4)
	s := measured(pts, func(p Vec) (float64, Vec) { return d(p), p })
	atLeast(t, "buck pocket to released item", s, -exact)
	on := measured(pts, func(p Vec) (float64, Vec) {
		if Off(d(p), 0) <= exact {
			return 1, p
		}
		return 0, p
	})
	if !(on.Mean() > 0.3) {
		t.Errorf("only %.0f %% of the pockets follow the items", on.Mean()*100)
	}
}

func everyNth(all []Point, n int) []Point {
	var out []Point
	for i := 0; i < len(all); i += n {
		out = append(out, all[i])
	}
	return out
}

// TestBuoyEntersPocket: straight down, with the liner's room all the way.
func TestBuoyEntersPocket(t *testing.T) {
	m := buoy(t)
	insert := m.body(t, "insert")
	z := m.zone(t, "insert", up)
	pts := Sample(insert.Facets, 3000, func(i int, f Tri) bool { return z.Open[i] && !z.Skirt[i] })
	r := m.fit(t, "r_pocket")
	for i, item := range buoyItems(t, m, false) {
		for h := 26.0; h >= 0; h -= 2 {
			var s Spread
			for _, p := range pts {
				s.Add(item(p.At.Sub(Vec{0, 0, h})), p.At)
			}
			if !(s.Least >= r-exact) {
				t.Errorf("item %d, %.0f above its place: %.3f to the sheet at %.2f, want %.3f", i, h, s.Least, s.LeastAt, r)
			}
		}
	}
}

// TestBuoyLidGoesOn: a band holds it, so nothing is in the way.
func TestBuoyLidGoesOn(t *testing.T) {
	m := buoy(t)
	lower(t, "lid", probed(m.body(t, "lid"), probes), probed(m.body(t, "base"), probes), 20, 1, func(h float64) float64 {
		if h == 0 {
			return -0.02
		}
		return 0.05
	})
}
