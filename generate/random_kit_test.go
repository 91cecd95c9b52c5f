package generate

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// randomKit writes kits that the parser accepts: shapes of every kind, products
// of triangles, pockets apart, touching and run into each other, and every
// size that changes how parts are built. The same number gives the same kit.
type randomKit struct {
	*rand.Rand
	text  strings.Builder
	files map[string][]byte // products that are triangles
}

// newRandomKit writes kit number n.
func newRandomKit(n int) *randomKit {
	k := &randomKit{Rand: rand.New(rand.NewPCG(uint64(n), 0x6b6974)), files: map[string][]byte{}}
	k.line("kit: random-%d", n)
	k.line("items:")
	k.items(1 + k.IntN(6))
	k.line("tolerance: {product: %.2f}", k.between(0, 0.5))
	k.line("liner: {material: %s, thickness: %.2f, compression: %.0f %%, wrap: %s}", k.of("wool-felt-f1", "wool-felt-f5", "wool-felt-f10", "open-cell-sponge"),
		k.between(0.3, 6), k.between(0, 30), k.of("pockets", "rim", "skirt"))
	k.line("lid_liner: {thickness: %.2f, pads: %s}", k.between(3, 10), k.of("auto", "auto", "full", "none"))
	k.line("closure: {kind: %s}", k.of("catch", "band", "magnets", "seal", "none"))
	k.line("sheet: {material: %s, gauge: %.2f}", k.of("abs", "hips", "petg", "pvc", "pp"), k.gauge())
	k.line("former: %s", k.of("desk-9x12", "bench-12x18", "bench-18x18", "floor-24x24"))
	nozzle := k.of("0.25", "0.4", "0.6", "0.8")
	layer := map[string]string{"0.25": "0.12", "0.4": "0.2", "0.6": "0.3", "0.8": "0.4"}[nozzle]
	k.line("printer: {name: %s, nozzle: %s, layer: %s, material: %s, scale: %.4f, offset: %.2f}", k.of("bed-220", "bed-256", "bed-350"), nozzle, layer,
		k.of("pla", "petg", "abs"), k.between(0.993, 1.002), k.between(-0.1, 0.15))
	k.line("insert: {margin: %.1f, draft: %.2f, corner_radius: %.1f, rim_radius: %.2f}", k.between(6, 25), k.between(0.5, 15), k.between(0, 30), k.between(0, 5))
	k.line("pocket: {draft: %.2f, mouth_radius: %.2f}", k.between(0.5, 15), k.between(0, 5))
	floor, land := k.between(2, 12), k.between(1, 6)
	k.line("shell: {wall: %.2f, floor: %.2f, neck: %.1f, label: %s}", k.between(0.8, 4), k.between(0.8, 4), k.between(6, 20), k.of("groove", "none"))
	k.line("buck: {floor: %.1f, vent: {land: %.1f%s}}", floor, land, k.bores())
	return k
}

// bores are sizes of vents, which seldom differ from the usual.
func (k *randomKit) bores() (text string) {
	if k.chance(0.3) {
		text += fmt.Sprintf(", bore: %.2f", k.between(1, 7))
	}
	if k.chance(0.2) {
		text += fmt.Sprintf(", pitch: %.1f", k.between(12, 40))
	}
	return text
}

func (k *randomKit) line(format string, args ...any) { fmt.Fprintf(&k.text, format+"\n", args...) }

func (k *randomKit) of(words ...string) string      { return words[k.IntN(len(words))] }
func (k *randomKit) between(lo, hi float64) float64 { return lo + (hi-lo)*k.Float64() }
func (k *randomKit) chance(share float64) bool      { return k.Float64() < share }
func (k *randomKit) sizes(lo, hi float64) [3]float64 {
	return [3]float64{k.between(lo, hi), k.between(lo, hi), k.between(lo, hi)}
}

// gauge is 0.25 to 4 mm, thin and thick equally often.
func (k *randomKit) gauge() float64 { return 0.25 * math.Pow(16, k.Float64()) }

// items are set in a row that is folded when it grows long: apart, so that
// they touch, or one into another.
func (k *randomKit) items(n int) {
	most := k.between(30, 70) / math.Sqrt(float64(n))
	x, y, row := 0.0, 0.0, 0.0
	gap := [3]float64{k.between(12, 35), 0, -0.4 * most}[k.IntN(3)]
	for i := range n {
		shape, size := k.shape(i, 10, max(16, most))
		if i > 0 {
			x += size[0] / 2
		}
		k.line("  - {name: thing-%d, at: [%.3f, %.3f], turn: %.1f, depth: %.3f, mass: %.1f%s,", i, x, y, k.turn(), size[2]*k.between(0.35, 1), 0.2+size[0]*size[1]*size[2]*k.between(1e-4, 8e-4), k.notches())
		k.line("     shape: {%s}}", shape)
		x += size[0]/2 + gap
		row = max(row, size[1])
		if i%3 == 2 {
			x, y, row = 0, y+row+gap, 0
		}
	}
}

func (k *randomKit) turn() float64 {
	if k.chance(0.6) {
		return 0
	}
	return k.between(-180, 180)
}

func (k *randomKit) notches() string {
	switch k.IntN(4) {
	case 0:
		return ""
	case 1:
		return ", notch: [front, back]"
	case 2:
		return ", notch: [left]"
	}
	return fmt.Sprintf(", notch: [{side: right, width: %.1f, out: %.1f}]", k.between(10, 35), k.between(4, 16))
}

// shape writes one shape and gives its sizes as it lies.
func (k *randomKit) shape(i int, lo, hi float64) (text string, size [3]float64) {
	s := k.sizes(lo, hi)
	round := func(most float64) float64 {
		if k.chance(0.3) {
			return 0
		}
		return math.Floor(1000*most*k.Float64()) / 1000
	}
	axis := k.of("x", "y", "z")
	lie := func(across, long float64) [3]float64 {
		switch axis {
		case "x":
			return [3]float64{long, across, across}
		case "y":
			return [3]float64{across, long, across}
		}
		return [3]float64{across, across, long}
	}
	switch k.IntN(15) / 2 {
	case 0:
		return fmt.Sprintf("box: {size: [%.3f, %.3f, %.3f], corner_radius: %.3f, edge_radius: %.3f}", s[0], s[1], s[2], round(0.49*min(s[0], s[1])), round(0.49*min(s[0], s[1], s[2]))), s
	case 1:
		return fmt.Sprintf("cylinder: {diameter: %.3f, height: %.3f, along: %s, edge_radius: %.3f}", s[0], s[1], axis, round(0.49*min(s[0], s[1]))), lie(s[0], s[1])
	case 2:
		d, l := min(s[0], s[1]), max(s[0], s[1])
		return fmt.Sprintf("capsule: {diameter: %.3f, length: %.3f, along: %s}", d, l, axis), lie(d, l)
	case 3:
		return fmt.Sprintf("ellipsoid: {size: [%.3f, %.3f, %.3f]}", s[0], s[1], s[2]), s
	case 4:
		return k.profile(s, round), s
	case 5:
		return k.revolve(s), [3]float64{s[0], s[0], s[2]}
	case 6:
		name := fmt.Sprintf("thing-%d.obj", i)
		k.files[name] = k.lump(s)
		return fmt.Sprintf("mesh: {file: %s}", name), s
	default:
		return fmt.Sprintf("mesh: {file: %s}", k.of("drift-buoy.stl", "drift-buoy-dirty.stl")), [3]float64{110, 62, 32}
	}
}

// profile is a star-shaped outline, some of its sides arcs.
func (k *randomKit) profile(s [3]float64, round func(float64) float64) string {
	n := 3 + k.IntN(6)
	var points, bulge []string
	arcs := k.chance(0.4)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.6*k.Float64()) / float64(n))
		r := k.between(0.55, 1)
		points = append(points, fmt.Sprintf("[%.3f, %.3f]", s[0]/2*r*cos, s[1]/2*r*sin))
		bulge = append(bulge, fmt.Sprintf("%.3f", max(0, k.between(-0.2, 0.3))))
	}
	text := fmt.Sprintf("profile: {points: [%s], height: %.3f", strings.Join(points, ", "), s[2])
	if arcs {
		text += ", bulge: [" + strings.Join(bulge, ", ") + "]"
	} else {
		text += fmt.Sprintf(", corner_radius: %.3f", round(2))
	}
	return text + fmt.Sprintf(", edge_radius: %.3f}", round(2))
}

// revolve is a turned body whose outline climbs and may dip in and out.
func (k *randomKit) revolve(s [3]float64) string {
	n := 2 + k.IntN(4)
	points := []string{"[0, 0]"}
	for i := range n {
		points = append(points, fmt.Sprintf("[%.3f, %.3f]", s[0]/2*k.between(0.4, 1), s[2]*float64(i)/float64(n-1)))
	}
	points = append(points, fmt.Sprintf("[0, %.3f]", s[2]))
	return "revolve: {points: [" + strings.Join(points, ", ") + "]}"
}

// lump is a closed body of triangles in rings about z, seen whole from its
// middle, as an OBJ file. Its lobes are not so deep that it crosses itself.
func (k *randomKit) lump(s [3]float64) []byte {
	around, tall := 12+k.IntN(40), 6+k.IntN(20)
	lobes, phase, deep := float64(k.IntN(5)), k.between(0, 6), k.between(0, 0.25)
	var b bytes.Buffer
	put := func(theta, phi float64) {
		sp, cp := math.Sincos(phi)
		st, ct := math.Sincos(theta)
		r := 0.5 * (1 - deep + deep*math.Cos(lobes*theta+phase)*cp*math.Cos(2*phi))
		fmt.Fprintf(&b, "v %.5f %.5f %.5f\n", s[0]*r*cp*ct, s[1]*r*cp*st, s[2]*r*sp)
	}
	put(0, -math.Pi/2)
	for j := 1; j < tall; j++ {
		for i := range around {
			put(2*math.Pi*float64(i)/float64(around), math.Pi*(float64(j)/float64(tall)-0.5))
		}
	}
	put(0, math.Pi/2)
	at := func(i, j int) int { return 2 + (j-1)*around + i%around }
	top := 2 + (tall-1)*around
	for i := range around {
		fmt.Fprintf(&b, "f 1 %d %d\n", at(i+1, 1), at(i, 1))
		for j := 1; j < tall-1; j++ {
			fmt.Fprintf(&b, "f %d %d %d\nf %d %d %d\n", at(i, j), at(i+1, j), at(i+1, j+1), at(i, j), at(i+1, j+1), at(i, j+1))
		}
		fmt.Fprintf(&b, "f %d %d %d\n", at(i, tall-1), at(i+1, tall-1), top)
	}
	return b.Bytes()
}

// read gives the kit's own files and the products of testdata/mesh.
func (k *randomKit) read(path string) ([]byte, error) {
	if data, own := k.files[filepath.Base(path)]; own {
		return data, nil
	}
	return os.ReadFile(filepath.Join("..", "testdata", "mesh", filepath.Base(path)))
}

// keep writes the kit and its files to a folder, to make it by hand.
func (k *randomKit) keep(t testing.TB, dir, name string) {
	t.Helper()
	put := func(name string, data []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o666); err != nil {
			t.Error(err)
		}
	}
	dir = filepath.Join(dir, name)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		t.Error(err)
		return
	}
	put("kit.yaml", []byte(k.text.String()))
	for name, data := range k.files {
		put(name, data)
	}
	for _, name := range []string{"drift-buoy.stl", "drift-buoy-dirty.stl"} {
		if strings.Contains(k.text.String(), name) {
			if data, err := k.read(name); err == nil {
				put(name, data)
			}
		}
	}
}
