package check

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"buckwright/params"
)

// advice is a number that a fix asks a key to be, in the key's unit; shares in %.
type advice struct {
	key string
	to  float64
}

// advised reads them from a fix.
func advised(fix string) []advice {
	var out []advice
	number := regexp.MustCompile(`([a-z_]+(?:\.[a-z_]+)+) of (?:about )?([0-9.]+)[ °]`)
	for _, m := range number.FindAllStringSubmatch(fix, -1) {
		v, _ := strconv.ParseFloat(m[2], 64)
		out = append(out, advice{m[1], v})
	}
	return out
}

func (a advice) apply(t *testing.T, k *params.Kit) {
	t.Helper()
	switch a.key {
	case "liner.compression":
		k.Liner.Compression = a.to / 100
	case "lid_liner.compression":
		k.LidLiner.Compression = a.to / 100
	case "liner.thickness":
		k.Liner.Thickness = a.to
	case "lid_liner.thickness":
		k.LidLiner.Thickness = a.to
	default:
		t.Fatalf("nothing is known of %s", a.key)
	}
}

// What is advised against a spread of tolerances, put into the kit, ends the
// finding, in the sizes as they are then derived.
func TestAdviceOnSpreadsHolds(t *testing.T) {
	tried, said := map[string]int{}, map[string]bool{}
	for _, name := range []string{"ample-sheet", "crowded-felt", "scant-felt", "skin-pad", "sparse-felt", "stouter-pad", "thin-felt"} {
		file := "../../testdata/check/" + name + ".yaml"
		for _, f := range Run(derived(t, file)) {
			switch f.ID {
			case "liner-loose", "liner-crush", "pad-loose", "pad-crush":
			default:
				continue
			}
			if said[f.Where+f.Value+f.Fix] {
				continue // of a kit like it
			}
			said[f.Where+f.Value+f.Fix] = true
			for _, a := range advised(f.Fix) {
				tried[a.key]++
				for _, again := range of(f.ID, Run(changed(t, file, func(k *params.Kit) { a.apply(t, k) }))) {
					if again.Where == f.Where {
						t.Errorf("%s: %s %s %s, told: %s; with %s at %g it is still %s", name, f.ID, f.Where, f.Value, f.Fix, a.key, a.to, again.Value)
					}
				}
			}
		}
	}
	for _, key := range []string{"liner.compression", "liner.thickness", "lid_liner.compression", "lid_liner.thickness"} {
		if tried[key] == 0 {
			t.Errorf("no kit is advised a %s", key)
		}
	}
}

// A measured tolerance is not asked for again.
func TestMeasuredIsNotAskedForAgain(t *testing.T) {
	j := clean()
	j.Dims.Items[0].Built = spread(0.125, 0.25, 0.25)
	if fix := of("liner-loose", Run(j))[0].Fix; !strings.Contains(fix, "liner.tolerance") || !strings.Contains(fix, "printer.tolerance") {
		t.Errorf("%q asks for no measurement", fix)
	}
	v := 0.1
	j.Kit.Liner.Tolerance, j.Kit.Printer.Tolerance = &v, &v
	if fix := of("liner-loose", Run(j))[0].Fix; strings.Contains(fix, "tolerance") {
		t.Errorf("%q asks for what the kit gives", fix)
	}
}

// The vent that is said to be safe is.
func TestSafeVentIsSafe(t *testing.T) {
	for _, thick := range []float64{0.2, 0.249, 0.595, 0.6, 1.04} {
		j := clean()
		j.Forming, j.Dims.Insert.WallThin, j.Dims.Buck.VentDia = nil, thick, 1.1
		fix := of("vent-thick", Run(j))[0].Fix
		told := advised(fix)
		if len(told) != 1 || told[0].key != "buck.vent.diameter" {
			t.Fatalf("%q tells no vent", fix)
		}
		if j.Dims.Buck.VentDia = told[0].to; of("vent-thick", Run(j)) != nil || told[0].to < thick-0.1 {
			t.Errorf("a sheet of %g mm: %g mm is said to be safe", thick, told[0].to)
		}
		if finer := told[0].to < 0.8; finer != strings.Contains(fix, "drilled") {
			t.Errorf("%q, where 0.8 mm is the finest that prints", fix)
		}
	}
	j := clean()
	j.Forming, j.Dims.Insert.WallThin = nil, 0.19
	if fix := of("vent-thick", Run(j))[0].Fix; advised(fix) != nil {
		t.Errorf("%q: the kit takes no vent under 0.2 mm", fix)
	}
}

// The pull that pull-easy judges is not the one that the job sheet tells.
func TestPullsAreNamedApart(t *testing.T) {
	j := clean()
	j.Maps[0].Hold, j.Maps[0].Pull = 0.4, 46
	easy, hard := of("pull-easy", Run(j))[0].Where, of("pull-hard", Run(j))[0].Where
	if easy == hard || !strings.Contains(easy, "beyond its weight") {
		t.Errorf("%q and %q", easy, hard)
	}
}

// Advice on a lid that may be lifted goes the right way: a pad's area is cut to its
// force, so that only what narrows the spread of the force lowers the most it can be.
func TestAdviceOnPadForceGoesTheRightWay(t *testing.T) {
	const file = "../../testdata/check/weak-band.yaml"
	worst := func(change func(*params.Kit)) float64 {
		row, ok := changed(t, file, change).Dims.Row("force.pads")
		if !ok {
			t.Fatal("no force of pads")
		}
		return row.Most
	}
	now := worst(func(*params.Kit) {})
	if fix := of("closure-holds", Run(derived(t, file)))[0].Fix; strings.Contains(fix, "less lid_liner.compression") || !strings.Contains(fix, "lid_liner.thickness") {
		t.Errorf("told: %s", fix)
	}
	if thick := worst(func(k *params.Kit) { k.LidLiner.Thickness *= 1.5 }); !(thick < now) {
		t.Errorf("%.1f N at most with a thicker sponge, %.1f before", thick, now)
	}
	if less := worst(func(k *params.Kit) { k.LidLiner.Compression *= 0.7 }); !(less > now) {
		t.Errorf("%.1f N at most with less compression, %.1f before: it may be advised after all", less, now)
	}
}

// Lower by as much as is told, the press tool closes by hand.
func TestAdviceOnPressForceHolds(t *testing.T) {
	j := clean()
	j.Dims.Press.Pressure = 40
	for i := range j.Dims.Items {
		j.Dims.Items[i].PlugForce.Nominal = 400 / float64(len(j.Dims.Items))
	}
	told := advised(of("press-force", Run(j))[0].Fix)
	if len(told) != 1 || told[0].key != "liner.press" || told[0].to != 30 {
		t.Errorf("told %v; the force goes with the pressure, so 30 of 40 kPa make 300 of 400 N", told)
	}
}

// One sponge over the whole ceiling does not reach a low item, and no other sponge does.
func TestAdviceOnALowItemUnderOneSponge(t *testing.T) {
	j := clean()
	j.Kit.LidLiner.Pads = params.PadsFull
	j.Dims.Items[0].PadArea, j.Dims.Items[0].Pad = 100, spread(-1.75, 0.1, 0.2)
	if fix := of("pad-loose", Run(j))[0].Fix; !strings.Contains(fix, "lid_liner.pads: auto") {
		t.Errorf("told: %s", fix)
	}
}
