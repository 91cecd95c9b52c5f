package fit

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/params"
)

// Random kits: each is refused with a place and a hint, or every value is
// finite and what must follow from the definitions does.
func TestRandomKits(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	made := 0
	for range 300 {
		k, g := demoKit(), demoGeometry()
		k.Liner.Thickness, k.Liner.Compression, k.Liner.Cement = between(.5, 8), between(.02, .5), between(0, .3)
		k.Liner.Wrap = [...]params.Wrap{params.WrapPockets, params.WrapRim, params.WrapSkirt}[rng.IntN(3)]
		k.LidLiner.Thickness, k.LidLiner.Compression = between(1, 12), between(.05, .5)
		k.LidLiner.Pads = [...]params.Pads{params.PadsAuto, params.PadsFull, params.PadsNone}[rng.IntN(3)]
		k.Closure.Kind = [...]params.Closure{params.ClosureCatch, params.ClosureBand, params.ClosureNone}[rng.IntN(3)]
		k.Sheet.Gauge, k.Former.Vacuum = between(.3, 3), between(30, 101)
		k.Former.Platen.Pitch, k.Former.Platen.Hole = between(5, 40), between(1, 5)
		k.Printer.Tolerance, k.Printer.Nozzle, k.Printer.Layer = ptr(between(.02, .5)), between(.2, 1), between(.1, .2)
		k.Pocket.Draft, k.Insert.Draft, k.Shell.Wall = between(0, 15), between(0, 15), between(.4, 5)
		for i := range k.Items {
			k.Items[i].Depth, k.Items[i].Mass = between(1, 1.2*g.Items[i].Height), between(1, 3000)
		}
		d, err := Derive(k, demoTables(), g)
		if err != nil {
			var p *params.Problem
			if !errors.As(err, &p) || p.Key == "" || p.Hint == "" {
				t.Fatalf("refused without a place or a hint: %v", err)
			}
			continue
		}
		made++
		mustHold(t, k, d)
	}
	if made < 100 {
		t.Errorf("only %d of 300 kits were made", made)
	}
}

func mustHold(t *testing.T, k *params.Kit, d *Dims) {
	t.Helper()
	for _, r := range d.Rows {
		if !(r.Least <= r.Nominal && r.Nominal <= r.Most) || math.IsInf(r.Least, 0) || math.IsInf(r.Most, 0) {
			t.Errorf("%s is %g, %g, %g", r.ID, r.Least, r.Nominal, r.Most)
		}
	}
	// Sheet between buck and pocket; cemented, compressed felt between plug and pocket.
	near(t, "buck to pocket", d.Pocket.Buck-d.Pocket.Finished, d.Insert.Wall, 1e-12)
	tf := k.Liner.Thickness
	near(t, "plug to pocket", d.Pocket.Finished-d.Pocket.Plug, tf*(1-d.Press.Squeeze)+k.Liner.Cement, 1e-9)
	for i, it := range d.Items {
		// The item hangs on the walls as deep as the kit says: from its floor to the
		// sheet there is felt compressed by its weight and pad.
		floor := -it.Under - d.Insert.Wall - it.Depth
		near(t, "floor felt", floor, tf*(1-it.FloorCompression)+k.Liner.Cement, 1e-9)
		if it.PlugForce.Nominal > handForce+1e-9 {
			t.Errorf("plug of %s takes %g N", it.Name, it.PlugForce.Nominal)
		}
		if b := it.Built; !(b.Worst.Least <= b.Drawn.Least && b.Drawn.Most <= b.Worst.Most) {
			t.Errorf("drawn %+v outside the worst case %+v", b.Drawn, b.Worst)
		}
		if top := it.Height - it.Depth; d.Lid.Ceiling < top || it.PadArea > 0 && (it.PadZ < top || it.PadZ > d.Lid.Ceiling+1e-9) {
			t.Errorf("item %d: top %g, pad %g, ceiling %g", i, top, it.PadZ, d.Lid.Ceiling)
		}
	}
	if d.Lid.Ceiling < d.Base.NeckTop+neckClear-1e-9 || d.Base.NeckTop-d.Base.Neck < d.Insert.Trim-d.Base.LedgeDrop-1e-9 {
		t.Errorf("neck from %g to %g, ceiling %g, trim %g", d.Base.NeckTop-d.Base.Neck, d.Base.NeckTop, d.Lid.Ceiling, d.Insert.Trim)
	}
	if !d.Buck.VentDrill && d.Buck.VentDia < d.Print.LeastHole {
		t.Errorf("a vent of %g is left to a printer that prints %g", d.Buck.VentDia, d.Print.LeastHole)
	}
}
