package generate

import (
	"cmp"
	"context"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"buckwright/generate/estimate"
	"buckwright/generate/export"
	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/judge"
	"buckwright/generate/mesh"
	"buckwright/generate/sdf"
	"buckwright/generate/solid"
)

// machine is a printer whose faults are known: faces come out fat by offset,
// holes wide by hole, lengths by scale, and each face rough by up to rough.
type machine struct {
	offset, hole float64
	scale        [2]float64
	rough        float64
}

// printed is a body as the machine makes it: all its faces moved out, then scaled.
func (m machine) printed(drawn *mesh.MeshField, offset float64) scaled {
	return scaled{drawn.Offset(offset), m.scale}
}

// scaled is a solid stretched in plan; its field only tells the side.
type scaled struct {
	sdf.Solid
	k [2]float64
}

func (s scaled) inside(p geom.Vec) bool {
	return s.Dist(geom.V(p.X/s.k[0], p.Y/s.k[1], p.Z)) < 0
}

// wide measures along x or y, as a calliper or a gauge does: how far it is from
// p, which lies in air or in material, to what is not, both ways.
func (s scaled) wide(p geom.Vec, dir geom.Vec, far float64) float64 {
	in := s.inside(p)
	reach := func(sign float64) float64 {
		lo, hi := 0.0, far
		for range 60 {
			if mid := (lo + hi) / 2; s.inside(p.Add(dir.Scale(sign*mid))) == in {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	return reach(1) + reach(-1)
}

// couponBench is the coupon's meshes, made once for all machines.
type couponBench struct {
	c      fit.Coupon
	pieces map[string]*mesh.Mesh
	fields map[string]*mesh.MeshField
}

func newCouponBench(t *testing.T) couponBench {
	t.Helper()
	b := couponBench{fit.StandardCoupon(), map[string]*mesh.Mesh{}, map[string]*mesh.MeshField{}}
	pieces, err := couponPieces(context.Background(), b.c, solid.CouponPrint{Foot: 0.3, Width: 0.45, Layer: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pieces {
		b.pieces[p.Name], b.fields[p.Name] = p.Mesh, mesh.CleanField(p.Mesh, 0)
	}
	return b
}

// read prints the coupon on a machine and reads it as reading.txt asks. The
// places of the columns are found by looking, not by what drew them: slots from
// left to right at the height where the plate is half cut.
func (b couponBench) read(t *testing.T, m machine) fit.Reading {
	t.Helper()
	const mid = 2.5 // mm, middle of the plate's thickness
	plate := m.printed(b.fields["plate"], m.offset)
	bored := m.printed(b.fields["plate"], -m.hole/2) // holes have a fault of their own
	slots := voids(b.pieces["plate"].Section(mid), 5, 30)
	holes := voids(b.pieces["plate"].Section(mid), 2, 5)
	if len(slots) != b.c.Grades || len(holes) != b.c.Grades {
		t.Fatalf("%d slots and %d holes, want %d", len(slots), len(holes), b.c.Grades)
	}
	tongue := m.printed(b.fields["tongue"], m.offset)
	at := b.pieces["tongue"].Bounds().Center()
	thick := tongue.wide(m.place(at.XY()).At(7), geom.V(1, 0, 0), 10)
	r := fit.Reading{Tight: math.NaN(), Smooth: math.NaN(), Hole: math.NaN()}
	for i, p := range slots {
		gap := (plate.wide(m.place(p).At(mid), geom.V(1, 0, 0), 10) - thick) / 2
		if g := b.c.Grade(i); gap >= 0 && !(r.Tight <= g) {
			r.Tight = g
		}
		if g := b.c.Grade(i); gap >= 2*m.rough && !(r.Smooth <= g) {
			r.Smooth = g
		}
		if d := bored.wide(m.place(holes[i]).At(mid), geom.V(1, 0, 0), 10); d >= b.c.Pin && !(r.Hole <= b.c.Grade(i)) {
			r.Hole = b.c.Grade(i)
		}
	}
	calliper := func(v float64) float64 { return math.Round(v/0.02) * 0.02 }
	front := geom.Vec2{X: b.c.Bar / 2, Y: 1}
	left := geom.Vec2{X: 3, Y: b.c.Bar / 2}
	r.Length = [2]float64{
		calliper(plate.wide(m.place(front).At(mid), geom.V(1, 0, 0), b.c.Bar)),
		calliper(plate.wide(m.place(left).At(mid), geom.V(0, 1, 0), b.c.Bar)),
	}
	return r
}

func (m machine) place(p geom.Vec2) geom.Vec2 {
	return geom.Vec2{X: p.X * m.scale[0], Y: p.Y * m.scale[1]}
}

// voids are the middles of the outlines with air inside whose width along x lies
// between, from left to right. They run the other way round than the outline
// about everything.
func voids(loops [][]geom.Vec2, least, most float64) (out []geom.Vec2) {
	signed := func(l []geom.Vec2) (area float64) {
		for i, p := range l {
			area += p.Cross(l[(i+1)%len(l)]) / 2
		}
		return area
	}
	outer := 0.0
	for _, l := range loops {
		if a := signed(l); math.Abs(a) > math.Abs(outer) {
			outer = a
		}
	}
	for _, l := range loops {
		box := geom.EmptyBox()
		for _, p := range l {
			box = box.Include(p.At(0))
		}
		if w := box.Size().X; signed(l)*outer < 0 && w > least && w < most {
			out = append(out, box.Center().XY())
		}
	}
	slices.SortFunc(out, func(p, q geom.Vec2) int { return cmp.Compare(p.X, q.X) })
	return out
}

// TestKnownPrinterIsRecovered: what a coupon printed on a machine of known
// faults is read to be, Calibrate must turn back into those faults, as near as
// steps of 0.05 mm and a calliper of 0.02 can tell.
func TestKnownPrinterIsRecovered(t *testing.T) {
	b := newCouponBench(t)
	b.drawn(t)
	b.prints(t)
	machines := []machine{
		{0, 0, [2]float64{1, 1}, 0},
		{0.08, -0.2, [2]float64{0.995, 0.9958}, 0.05},
		{-0.03, -0.1, [2]float64{1.001, 1.0005}, 0.03},
		{0.15, -0.35, [2]float64{0.993, 0.994}, 0.06},
	}
	rnd := rand.New(rand.NewSource(4))
	for range 12 {
		k := 0.99 + 0.015*rnd.Float64()
		machines = append(machines, machine{
			-0.04 + 0.2*rnd.Float64(), -0.4 + 0.45*rnd.Float64(),
			[2]float64{k, k + 0.002*(rnd.Float64()-0.5)}, 0.07 * rnd.Float64(),
		})
	}
	const mesh = 0.002 // mm that the meshes add
	for _, m := range machines {
		r := b.read(t, m)
		got, err := b.c.Calibrate(r)
		if err != nil {
			t.Errorf("%+v read as %+v: %v", m, r, err)
			continue
		}
		if !(math.Abs(got.Offset-m.offset) <= got.OffsetOff+mesh) {
			t.Errorf("%+v: offset %.4f within %.4f, want %.4f", m, got.Offset, got.OffsetOff, m.offset)
		}
		if !(math.Abs(got.Hole-m.hole) <= got.HoleOff+0.005) { // the tongue, 6 mm wide, shrinks too
			t.Errorf("%+v: hole offset %.4f within %.4f, want %.4f", m, got.Hole, got.HoleOff, m.hole)
		}
		for i, k := range got.Scale { // offset's doubt on both ends, and half a division
			if !(math.Abs(k-m.scale[i]) <= (2*got.OffsetOff+0.01+mesh)/b.c.Bar) {
				t.Errorf("%+v: scale %.5f, want %.5f", m, k, m.scale[i])
			}
		}
		if !(got.Tolerance >= m.rough-mesh && got.Tolerance <= m.rough+b.c.Step+mesh) {
			t.Errorf("%+v: tolerance %.4f, want %.4f to a step more", m, got.Tolerance, m.rough)
		}
	}
}

// prints: as it lies, the slicer finds nothing to support, and takes about what
// reading.txt says.
func (b couponBench) prints(t *testing.T) {
	all := b.pieces["plate"].With(b.pieces["tongue"]).With(b.pieces["ring"])
	if p := estimate.Part(all, estimate.Settings{Layer: 0.3, Width: 0.45, Nozzle: 0.4, Walls: 3, Top: 4, Bottom: 4}); p.Bridge > 0 {
		t.Errorf("a gap of %.1f mm is bridged", p.Bridge)
	}
	t.Run("slicer", func(t *testing.T) {
		file := filepath.Join(t.TempDir(), "coupon.stl")
		f, err := os.Create(file)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if err := export.WriteSTL(f, all, "coupon"); err != nil {
			t.Fatal(err)
		}
		s := judge.Slicer(t, file, judge.Print{Bed: [3]float64{180, 180, 180}, Nozzle: 0.4, Layer: 0.3, Infill: 0.15, Density: 1.04, Walls: 3, Support: 30})
		if s.Support() > 0 {
			t.Errorf("the slicer adds %.0f mm of support", s.Support())
		}
		if p := judge.CGAL(t, file); p.Problem() != "" || p.Components != 3 {
			t.Errorf("%d bodies, want 3; %s", p.Components, p.Problem())
		}
	})
}

// drawn: every slot, rib and hole of the meshes has its column's
// size, measured on the sections, not on the solids.
func (b couponBench) drawn(t *testing.T) {
	exact := machine{scale: [2]float64{1, 1}}
	plate := exact.printed(b.fields["plate"], 0)
	for i, p := range voids(b.pieces["plate"].Section(2.5), 5, 30) {
		g := -0.10 + 0.05*float64(i)
		for what, size := range map[string][2]float64{
			"slot": {plate.wide(p.At(2.5), geom.V(1, 0, 0), 10), 6 + 2*g},
			"rib":  {plate.wide(geom.V(p.X, 34, 8), geom.V(1, 0, 0), 4), 6 - 2*g},
			"hole": {plate.wide(geom.V(p.X, 52.5, 2.5), geom.V(1, 0, 0), 4), 3 + g},
		} {
			if !(math.Abs(size[0]-size[1]) < 0.01) {
				t.Errorf("column %d: %s %.4f, want %.4f", i, what, size[0], size[1])
			}
		}
	}
	ring := exact.printed(b.fields["ring"], 0)
	if w := ring.wide(b.pieces["ring"].Bounds().Center(), geom.V(1, 0, 0), 10); !(math.Abs(w-6) < 0.005) {
		t.Errorf("the ring's window is %.4f wide, want 6", w)
	}
}
