package proof

import (
	"math"
	"testing"
)

// The bundled kits' shells, from their files; the chamfers are the parts' own:
// common practice, no source.
const (
	shellFloor   = 2.4
	footChamfer  = 1.5
	leadChamfer  = 0.8
	insertCorner = 16.0
	sideFeature  = 15.0 // mm, the middle of each side that a closure may take
	pathDeep     = 0.8  // air paths, in neck and shoulder
	grooveDeep   = 0.6  // the label's
	scallopDeep  = 0.8
)

// trimmed is the insert's outline at its trim line, product side: the mean of
// each wall, taken down along its lean.
func trimmed(t *testing.T, m *made) Rounded {
	t.Helper()
	trim, lean := m.fit(t, "trim"), math.Tan(demoSkirt*deg)
	b := m.body(t, "insert")
	wall := func(d Vec) float64 {
		sum, area := 0.0, 0.0
		for _, f := range b.Facets {
			even := Off(f.Normal().Dot(d), math.Cos(demoSkirt*deg)) < 1e-4
			if even && b.Tree.Escapes(f.Mid().Add(d.Mul(1e-3)), d) {
				sum += f.Area() * (f.Mid().Dot(d) + (f.Mid()[2]-trim)*lean)
				area += f.Area()
			}
		}
		if !(area > 100) {
			t.Fatalf("only %.1f mm² of the skirt face %v", area, d)
		}
		return sum / area
	}
	x0, x1, y0, y1 := -wall(Vec{-1, 0, 0}), wall(Vec{1, 0, 0}), -wall(Vec{0, -1, 0}), wall(Vec{0, 1, 0})
	return Rounded{At: Vec{(x0 + x1) / 2, (y0 + y1) / 2, 0}, HX: (x1 - x0) / 2, HY: (y1 - y0) / 2, R: insertCorner - trim*lean}
}

func shellOf(t *testing.T, m *made) Shell {
	t.Helper()
	return Shell{
		Insert: trimmed(t, m),
		Gap:    m.fit(t, "insert.gap"), Wall: m.fit(t, "wall"), Slip: m.fit(t, "slip.side"), Floor: shellFloor,
		Ledge: m.fit(t, "ledge"), Shoulder: m.fit(t, "shoulder"), Neck: m.fit(t, "neck.top"), Lid: m.fit(t, "lid.ceiling"),
		Foot: footChamfer, Lead: leadChamfer,
	}
}

// closureZone is the outside of wall and neck in the middle of each side.
func closureZone(s Shell) zone {
	return func(p Vec) bool {
		q := p.Sub(s.Insert.At)
		middle := math.Abs(q[0]) < sideFeature/2 || math.Abs(q[1]) < sideFeature/2
		return middle && s.Insert.Dist(p) > s.Gap+0.1
	}
}

// supportZone is the floor under the pockets, where supports stand.
func supportZone(t *testing.T, m *made, s Shell) zone {
	t.Helper()
	const skirt, mouth = 3.0, -3.0 // mm in from the trim line, z: what is over it there is a pocket
	insert := m.body(t, "insert").Tree
	return func(p Vec) bool {
		if s.Insert.Dist(p) > -skirt {
			return false
		}
		return insert.Ray(Vec{p[0], p[1], s.Ledge}, up, 0).Dist < mouth-s.Ledge
	}
}

// levelZone is whatever stands over or under a part's level flats at a height, and
// reach beside it. It fails when they are more or less than so many mm².
func levelZone(t *testing.T, b *Body, z, reach, least, most float64) zone {
	t.Helper()
	var flat []Tri
	area := 0.0
	for _, f := range b.Facets {
		if math.Abs(f.Normal()[2]) > 0.9999 && Off(f.Mid()[2], z) < 0.05 {
			flat = append(flat, level(f))
			area += f.Area()
		}
	}
	if !(area >= least && area <= most) {
		t.Errorf("%.1f mm² of flats at z = %.3f, want %.1f to %.1f", area, z, least, most)
	}
	tree := NewTree(flat)
	return func(p Vec) bool { return tree.Nearest(Vec{p[0], p[1], 0}, reach).Facet >= 0 }
}

// level is a facet seen from above.
func level(f Tri) Tri {
	for i := range f {
		f[i][2] = 0
	}
	return f
}

// baseZone is what the drawing of the base leaves out: air paths, supports and
// the closure. The paths' floors tell where they are: two at each end.
func baseZone(t *testing.T, m *made, s Shell) zone {
	t.Helper()
	const wide, ends = 3.0, 4
	deep := s.out() - s.Gap - s.Wall + pathDeep
	paths := levelZone(t, m.body(t, "base"), s.Shoulder-pathDeep, 0.1, 0.9*ends*wide*deep, 1.1*ends*wide*deep)
	outer := func(p Vec) bool { return p[2] > s.Shoulder-pathDeep-0.1 && s.Insert.Dist(p) > s.Gap+0.1 && paths(p) }
	return anyOf(outer, closureZone(s), supportZone(t, m, s))
}

// TestBaseIsDrawn: wall, floor, joint, neck and their edges.
func TestBaseIsDrawn(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		s := shellOf(t, m)
		section := s.Base()
		m.isDrawn(t, "base", m.body(t, "base"), section.Dist, section.Features(2*onEach), baseZone(t, m, s), 0.3)
	})
}

// TestLidIsDrawn: skirt, landing, ceiling, top and their edges.
func TestLidIsDrawn(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		s := shellOf(t, m)
		section := s.Cover()
		m.isDrawn(t, "lid", m.body(t, "lid"), section.Dist, section.Features(2*onEach), lidZone(t, m, s), 0.12)
	})
}

// lidZone is what the drawing of the lid leaves out: bosses, label, scallops and
// the closure.
func lidZone(t *testing.T, m *made, s Shell) zone {
	t.Helper()
	b := m.body(t, "lid")
	label := levelZone(t, b, s.Lid+s.Floor-grooveDeep, 0.1, 100, 1000)
	groove := func(p Vec) bool { return p[2] > s.Lid+0.1 && label(p) }
	all := []zone{closureZone(s), groove, scallopZone(s)}
	for _, z := range m.each(t, "pad.z.") {
		if z > s.Lid-0.1 {
			continue // the ceiling itself
		}
		boss := levelZone(t, b, z, 0.1, 20, 500)
		all = append(all, func(p Vec) bool { return p[2] < s.Lid+0.1 && boss(p) })
	}
	return anyOf(all...)
}

// scallopZone is the thumbs' four places in front and back, found on the parts:
// the drawing says only that there are some.
func scallopZone(s Shell) zone {
	const along, wide, tall = 0.55, 18.0, 17.0 // of half the width; mm
	out := s.Insert.Grown(s.out())
	return func(p Vec) bool {
		q := p.Sub(s.Insert.At)
		return Off(math.Abs(q[0]), along*out.HX) < wide/2 && p[2] < s.Shoulder+tall && out.Dist(p) > -scallopDeep-0.1 && math.Abs(q[1]) > out.HY-scallopDeep-0.1
	}
}

// TestShellDrawingsTellATenth: a drawing of which any corner is moved by 0.1 mm,
// along either axis, is not the part's.
func TestShellDrawingsTellATenth(t *testing.T) {
	m := demo(t)
	s := shellOf(t, m)
	tellsATenth(t, m, "base", s.Base(), baseZone(t, m, s))
	tellsATenth(t, m, "lid", s.Cover(), lidZone(t, m, s))
}

func tellsATenth(t *testing.T, m *made, part string, drawn Section, out zone) {
	t.Helper()
	const by, few = 0.1, 300
	b := m.body(t, part)
	for i, c := range drawn.Corners {
		if !drawn.drawn(c) {
			continue
		}
		for _, move := range [][2]float64{{by, 0}, {-by, 0}, {0, by}, {0, -by}} {
			wrong := drawn.Moved(i, move[0], move[1])
			most := 0.0
			for _, a := range b.judge(b, wrong.Dist, wrong.Features(few), out) {
				most = math.Max(most, a.most())
			}
			if !(most > m.promised(t, part)) {
				t.Errorf("%s with its %s moved by %v passes: %.3f", part, c.Name, move, most)
			}
		}
	}
}
