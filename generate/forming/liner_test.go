package forming

import (
	"math"
	"testing"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// tray is a pocket with four walls that lean outwards by a draft, its foot at
// z = -depth, and a floor: the gap is the least distance to five planes.
type tray struct {
	x, y, depth float64 // half sizes at the foot
	draft       geom.Angle
	floor       float64 // z
}

func (p tray) gap(at geom.Vec) float64 {
	up := at.Z + p.depth
	side := func(d float64) float64 { return d*p.draft.Cos() + up*p.draft.Sin() }
	return min(side(p.x-math.Abs(at.X)), side(p.y-math.Abs(at.Y)), at.Z-p.floor)
}

// boxMesh is a box from corner to corner.
func boxMesh(lo, hi geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 8 {
		p := lo
		if i&1 != 0 {
			p.X = hi.X
		}
		if i&2 != 0 {
			p.Y = hi.Y
		}
		if i&4 != 0 {
			p.Z = hi.Z
		}
		m.V = append(m.V, p)
	}
	for _, q := range [6][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.T = append(m.T, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

func TestSampleBelowCoversTheSurface(t *testing.T) {
	box := boxMesh(geom.V(-60, -30, -25), geom.V(60, 30, 12))
	area, pull := 0.0, geom.Vec{}
	for _, s := range SampleBelow(box, 0, 3) {
		if !(s.At.Z < 0) {
			t.Fatalf("sample above the rim: %+v", s)
		}
		area += s.Area
		pull = pull.Add(s.Normal.Scale(s.Area))
	}
	near(t, "area", area, 120*60+360*25, 1e-12)
	near(t, "vertical part", pull.Z, -120*60, 1e-12)
	if math.Hypot(pull.X, pull.Y) > 1e-6 {
		t.Errorf("sides pull by %v", pull)
	}
}

// A pocket 120 x 60 x 25 that presses with 5 kPa: N = p A = 45 N, friction 0.37
// holds 16.65 N upright and 14.27 N on walls drafted 3°; felt on steel, 0.22,
// holds 9.90 N and 7.53 N. Worked by hand from the balance of forces.
func TestHoldOfAPocket(t *testing.T) {
	const tf, gap = 3.0, 2.4
	law := fit.Law{Felt: true, P: 1}
	law.P = 5 / law.Pressure(1-gap/tf)
	for _, tt := range []struct{ friction, draft, want float64 }{{0.37, 0, 16.65}, {0.37, 3, 14.27}, {0.22, 0, 9.90}, {0.22, 3, 7.53}} {
		draft := geom.Angle(tt.draft) * geom.Degree
		p := tray{60 + gap/draft.Cos(), 30 + gap/draft.Cos(), 25, draft, -1000}
		l := Lining{Gap: p.gap, Law: law, Free: tf, Friction: tt.friction, Depth: 25}
		for _, s := range SampleBelow(boxMesh(geom.V(-60, -30, -25), geom.V(60, 30, 0)), 1, 3) {
			if !IsSide(s.Normal) {
				continue
			}
			// an item that leans as its pocket does: everywhere the same gap
			s.At = s.At.Add(s.Normal.Scale((s.At.Z + 25) * draft.Tan()))
			l.Samples = append(l.Samples, s)
		}
		m := l.Map()
		near(t, "grip", m.Grip, 45, 1e-9)
		push, friction := l.forces(m, 0)
		near(t, "hold", friction-push, tt.want, 4e-4)
	}
}

// An upright box in a drafted pocket: the gap opens by sin(draft) for every mm
// up, so that the pressure's integral over the height is tf U(c)/sin(draft) and
// the band that the liner touches is tf c/sin(draft) high.
func TestBoxInADraftedPocket(t *testing.T) {
	const tf, c, cement, mu = 2.0, 0.15, 0.1, 0.22
	law := fit.Law{Felt: true, P: 89.8}
	draft := 3 * geom.Degree
	r := tf*(1-c) + cement
	box := boxMesh(geom.V(-59, -32, -19), geom.V(59, 32, 8))
	p := tray{59 + r/draft.Cos(), 32 + r/draft.Cos(), 19, draft, -19 - cement - tf} // the floor does not press
	l := Lining{
		Gap: p.gap, Law: law, Free: tf, Cement: cement,
		Friction: mu, Most: 0.4, Depth: 19, Weight: fit.Weight(210),
	}
	for _, s := range SampleBelow(box, 0, 1) {
		if IsSide(s.Normal) { // the sharp edge of the underside meets the walls' liner too
			l.Samples = append(l.Samples, s)
		}
	}
	m := l.Map()
	n := 364 * tf * law.Energy(c) / draft.Sin() / 1000
	near(t, "grip", m.Grip, n, 0.01)
	near(t, "band", m.Band, tf*c/draft.Sin(), 0.02)
	push, friction := l.forces(m, 0)
	near(t, "hold", friction-push, n*(mu*draft.Cos()-draft.Sin()), 0.01)
	near(t, "tightest", m.Tightest, c, 0.05)
	if m.Tight != 0 {
		t.Errorf("%g mm² compressed over 40 %%", m.Tight)
	}
	near(t, "pull", m.Pull, m.Hold+l.Weight, 1e-12)
	near(t, "g", m.HoldsG, m.Hold/l.Weight, 1e-12)
}

// A box between upright walls that do not touch rests where p(c_floor) A = m g
// + F_pad: tf (c - c_floor) above where its floor's liner is compressed by c.
func TestRestOnTheFloor(t *testing.T) {
	const tf, c, cement = 2.0, 0.15, 0.1
	law := fit.Law{Felt: true, P: 89.8}
	p := tray{80, 60, 19, 0, -19 - cement - tf*(1-c)}
	l := Lining{
		Samples: SampleBelow(boxMesh(geom.V(-59, -32, -19), geom.V(59, 32, 8)), 0, 4), Gap: p.gap, Law: law,
		Free: tf, Cement: cement, Friction: 0.22, Most: 0.4, Depth: 19, Weight: fit.Weight(210), Pad: 3 * fit.Weight(210),
	}
	m := l.Map()
	load := 4 * fit.Weight(210)
	near(t, "rest", m.Rest, tf*(c-law.Compression(load/(118*64)*1000)), 1e-6)
	near(t, "push", m.Push, l.Pad, 1e-6)
	if m.Grip != 0 || m.Hold != 0 || m.HoldsG != 0 || m.Band != 0 {
		t.Errorf("walls that do not touch hold %g N", m.Hold)
	}
	near(t, "pull", m.Pull, l.Weight, 1e-12)
}

// In a wedge of much friction the item stays as low as the floor lets it: only
// what the floor pushes beyond friction and load lifts it.
func TestRestInAWedge(t *testing.T) {
	const tf, c, cement = 2.0, 0.15, 0.1
	r := tf*(1-c) + cement
	draft := 3 * geom.Degree
	p := tray{59 + r/draft.Cos(), 32 + r/draft.Cos(), 19, draft, -19 - r}
	l := Lining{
		Samples: SampleBelow(boxMesh(geom.V(-59, -32, -19), geom.V(59, 32, 8)), 0, 2), Gap: p.gap,
		Law: fit.Law{Felt: true, P: 89.8}, Free: tf, Cement: cement, Friction: 0.22, Most: 0.4, Depth: 19, Weight: fit.Weight(210),
	}
	held := l.Map()
	push, friction := l.forces(held, 0) // the map is that at rest
	near(t, "balance", push, friction+l.Weight, 1e-3)
	near(t, "push", held.Push, push+friction-l.Weight, 0.02)
	l.Friction = 0
	if free := l.Map(); !(free.Rest > held.Rest+0.05) {
		t.Errorf("rests at %.3f mm with friction and %.3f without", held.Rest, free.Rest)
	}
}

// A liner squeezed solid presses hard but not without end, and one with nothing
// in reach does nothing.
func TestMapAtItsEnds(t *testing.T) {
	l := Lining{
		Samples: SampleBelow(boxMesh(geom.V(-20, -10, -9), geom.V(20, 10, 3)), 0, 4),
		Law:     fit.Law{Felt: true, P: 89.8}, Free: 2, Cement: 0.1, Friction: 0.2, Most: 0.4, Depth: 9, Weight: 1,
	}
	for _, gap := range []float64{-3, 0, 50} {
		l.Gap = func(geom.Vec) float64 { return gap }
		m := l.Map()
		for _, v := range []float64{m.Grip, m.Hold, m.Pull, m.Band, m.Tightest} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("gap %g: %+v", gap, m)
			}
		}
	}
	l.Samples = nil
	if m := l.Map(); m.Pull != 1 {
		t.Errorf("an item that hangs in the air is lifted with %g N", m.Pull)
	}
}
