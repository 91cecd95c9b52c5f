package generate

import (
	"bytes"
	"context"
	"image/png"
	"io"
	"maps"
	"math"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"buckwright/generate/picture"
)

// smallKit is one block in a case without notches, closed by a band.
const smallKit = `kit: small
items:
  - {name: block, shape: {box: {size: [44, 30, 14], corner_radius: 4, edge_radius: 2}}, at: [0, 0], depth: 10, mass: 40}
liner: {material: wool-felt-f10, thickness: 2, compression: 15 %, wrap: skirt}
closure: {kind: band}
sheet: {material: abs, gauge: 0.8}
printer: {bed: [250, 210, 210], nozzle: 0.4, layer: 0.3, material: abs, tolerance: 0.1, offset: 0.15}
`

// madeSmall runs the small kit at draft quality.
func madeSmall(t *testing.T) *Result {
	t.Helper()
	r, err := Run(context.Background(), jobOf(t, "small.yaml", []byte(smallKit)), nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// kept draws all pictures and keeps them.
func kept(t *testing.T, r *Result) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	names, err := r.draw().write(func(name string, write func(io.Writer) error) error {
		var b bytes.Buffer
		err := write(&b)
		out[name] = b.Bytes()
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(names) != len(out) {
		t.Errorf("%d pictures are listed and %d written", len(names), len(out))
	}
	return out
}

// TestPictures makes a small kit once and looks at all that is drawn of it.
func TestPictures(t *testing.T) {
	if testing.Short() {
		t.Skip("meshes a kit")
	}
	r := madeSmall(t)
	t.Run("sections tell the fits", func(t *testing.T) { sectionsTellTheFits(t, r) })
	t.Run("an air way is no slip", func(t *testing.T) { airWayIsNoSlip(t, r) })
	t.Run("every picture is there and is a PNG", func(t *testing.T) { allThere(t, r) })
	t.Run("same bytes on one processor", func(t *testing.T) { sameBytes(t, r) })
	t.Run("parts that were not made are left out", func(t *testing.T) { partsLeftOut(t, r) })
}

// sectionsTellTheFits: what is written on the drawings was measured on the
// finished meshes, apart from the sizes they were made to; both must agree to
// what draft quality allows.
func sectionsTellTheFits(t *testing.T, r *Result) {
	d := r.Dims
	const rough = 0.1 // mm that a mesh of draft quality may be off
	c := r.cuttings(0)[0]
	packed, tools := c.packed(), c.tools()
	notes := map[string]float64{}
	for _, page := range []picture.Drawing{packed, tools} {
		for _, detail := range page.Details {
			for _, n := range detail.Notes {
				told(notes, detail.Caption+": "+n.Text)
			}
		}
		for _, s := range page.Strips {
			for _, l := range s.Levels {
				told(notes, l.Text)
			}
			for _, x := range s.Dims {
				told(notes, "dim: "+x.Text)
			}
		}
	}
	it, free := d.Items[0], r.Kit.Liner.Thickness
	for name, want := range map[string]float64{
		"lid on the neck: slip":              r.row("slip.side"),
		"lid on the neck: neck":              d.Base.NeckWall + 2*d.Print.Offset,
		"felt in the pocket: felt, tightest": free * 0.85,
		"felt in the pocket: felt, floor":    free * (1 - it.FloorCompression),
		"mouth of the pocket: sheet, rim":    d.Insert.Rim,
		"plug on the felt: felt, floor":      free * (1 - d.Press.Squeeze),
		"plug on the felt: nest clear by":    d.Press.NestGap,
		"foot of the insert: felt, skirt":    r.row("insert.gap") - r.Kit.Liner.Cement,
		"block, underside":                   -it.Depth,
		"block, top":                         it.Height - it.Depth,
		"pocket floor":                       -(it.Depth + it.SeatRise + d.Pocket.Finished),
		"trim line":                          r.Layout.Trim,
		"shoulder":                           d.Base.NeckTop - d.Base.Neck,
		"ceiling":                            d.Lid.Ceiling,
		"dim: case":                          2 * (r.Layout.OutsideHalf().X + d.Print.Offset),
		"dim:":                               44,
		"foot of the insert: trim line over the ledge": d.Base.LedgeDrop,
	} {
		if got, ok := notes[name]; !ok {
			t.Errorf("no drawing tells %q; they tell %v", name, slices.Sorted(maps.Keys(notes)))
		} else if !(math.Abs(got-want) <= rough) {
			t.Errorf("%s: drawn %g, made to %g", name, got, want)
		}
	}
	if got := notes["mouth of the pocket: draft"]; !(math.Abs(got-d.Pocket.Draft.Degrees()) < 0.6) {
		t.Errorf("the wall leans %g degrees, made to %g", got, d.Pocket.Draft.Degrees())
	}
}

// airWayIsNoSlip: a plane that runs down a groove of the neck tells the groove, and
// not a lid that is 0.8 mm looser than it is.
func airWayIsNoSlip(t *testing.T, r *Result) {
	c := r.cuttings(0)[0]
	c.plane.At.Y = r.Layout.Center.Y + 0.45*r.Layout.Half.Y // where the air ways are
	d := c.packedEdge()
	if d == nil || d.Caption != "lid and neck in an air way" {
		t.Fatalf("drawn: %+v", d)
	}
	for _, n := range d.Notes {
		if strings.Contains(n.Text, "slip") || strings.Contains(n.Text, "on the shoulder") {
			t.Errorf("told in an air way: %q", n.Text)
		}
	}
}

// firstNumber parts a note into its words and its first number.
var firstNumber = regexp.MustCompile(`^(.*?)\s*([+\x{2212}]?\d+(?:\.\d+)?)`)

// told remembers the number of a note under its words.
func told(notes map[string]float64, text string) {
	m := firstNumber.FindStringSubmatch(text)
	if m == nil {
		return
	}
	v, _ := strconv.ParseFloat(strings.Replace(m[2], "\u2212", "-", 1), 64)
	notes[m[1]] = max(v, notes[m[1]])
	if v < 0 {
		notes[m[1]] = v
	}
}

func allThere(t *testing.T, r *Result) {
	got := kept(t, r)
	want := []string{"exploded-kit", "exploded-tooling", "thickness", "contact-order", "liner-block"}
	for _, p := range r.Parts {
		want = append(want, "part-"+p.Name)
	}
	for _, way := range []string{"along", "across"} {
		want = append(want, "section-block-"+way+"-packed", "section-block-"+way+"-tools")
	}
	for _, name := range want {
		file := "pictures/" + name + ".png"
		if _, err := png.DecodeConfig(bytes.NewReader(got[file])); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d pictures, want %d: %v", len(got), len(want), slices.Sorted(maps.Keys(got)))
	}
}

func sameBytes(t *testing.T, r *Result) {
	first := kept(t, r)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for name, b := range kept(t, r) {
		if !bytes.Equal(b, first[name]) {
			t.Errorf("%s differs when drawn again", name)
		}
	}
}

// partsLeftOut: any one part, alone or with the insert, has its pictures, and
// none shows what is not there.
func partsLeftOut(t *testing.T, r *Result) {
	whole, liner := r.Parts, r.Liners
	defer func() { r.Parts, r.Liners = whole, liner }()
	r.Liners = nil
	insert := slices.IndexFunc(whole, func(p Part) bool { return p.Name == "insert" })
	for i, p := range whole {
		for _, r.Parts = range [][]Part{{p}, {p, whole[insert]}} {
			if i == insert && len(r.Parts) == 2 {
				continue
			}
			for name := range kept(t, r) {
				part, is := strings.CutPrefix(strings.TrimSuffix(name, ".png"), "pictures/part-")
				if is && r.made(part) == nil {
					t.Errorf("%s shows a part that was not made", name)
				}
			}
		}
	}
}
