package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"buckwright/generate/geom"
)

// A rod of 40 sides about z, cut by planes through its axis and beside it.
func TestSectionIsExact(t *testing.T) {
	m := rod(10, 5, 40)
	for _, dir := range []geom.Vec2{{X: 1}, {Y: 1}, {X: -3, Y: 4}} {
		for _, off := range []float64{0, 6} {
			n := geom.Vec2{X: dir.Unit().Y, Y: -dir.Unit().X}
			l := Upright{At: n.Scale(off), Dir: dir}.Section(m)
			if len(l) != 1 {
				t.Fatalf("%d loops through a rod", len(l))
			}
			// The chord of the inscribed polygon, within the sag of one side.
			half := math.Sqrt(100 - off*off)
			sag := (10 - 10*math.Cos(math.Pi/40)) / (half / 10)
			b := l.Bounds()
			if !(b.Max.X <= half+1e-9 && b.Max.X >= half-sag-1e-9) || b.Min.Y != 0 || b.Max.Y != 5 {
				t.Errorf("along %v at %g: the section is %v, want %g wide to each side", dir, off, b, half)
			}
			if area := signed(l[0]); !(area > 0 && math.Abs(area-4*2.5*b.Max.X) < 4*sag) {
				t.Errorf("along %v: the body is not on the loop's left: area %g", dir, area)
			}
		}
	}
}

func signed(loop []geom.Vec2) (a float64) {
	for i, p := range loop {
		a += p.Cross(loop[(i+1)%len(loop)]) / 2
	}
	return a
}

func TestLoopsTellWhereTheyAre(t *testing.T) {
	l := Loops{{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 4}, {X: 0, Y: 2}}}
	if got := l.AtHeight(1); len(got) != 2 || got[0] != 0 || got[1] != 10 {
		t.Errorf("AtHeight(1) = %v, want 0 and 10", got)
	}
	if got := l.AtPlace(5); len(got) != 2 || got[0] != 0 || got[1] != 3 {
		t.Errorf("AtPlace(5) = %v, want 0 and 3", got)
	}
	if q, ok := l.Nearest(geom.Vec2{X: 12, Y: 1}); !ok || q != (geom.Vec2{X: 10, Y: 1}) {
		t.Errorf("Nearest = %v, want 10, 1", q)
	}
	runs := Runs([]geom.Vec2{{X: 0}, {X: 4}, {X: 8}}, func(v geom.Vec2) float64 { return v.X - 1 })
	if len(runs) != 1 || runs[0][0].X != 1 || runs[0][len(runs[0])-1].X != 8 {
		t.Errorf("Runs = %v, want from 1 to 8", runs)
	}
}

// near8 counts the pixels that are close to a colour.
func near8(img image.Image, at []image.Point, c color.RGBA) (n int) {
	for _, p := range at {
		r, g, b, _ := img.At(p.X, p.Y).RGBA()
		if math.Abs(float64(r>>8)-float64(c.R))+math.Abs(float64(g>>8)-float64(c.G))+math.Abs(float64(b>>8)-float64(c.B)) < 12 {
			n++
		}
	}
	return n
}

// A layer of 2 mm, 0.5 off its line, is as thick on the page, square to the
// line in every direction; on the other side of the line there is nothing.
func TestLayerIsAsThickAsItIs(t *testing.T) {
	tone := color.RGBA{180, 100, 40, 255}
	for _, angle := range []float64{0, 20, 45, 90, 137, 180, 250} {
		s, c := math.Sincos(angle * math.Pi / 180)
		along := geom.Vec2{X: c, Y: s}
		right := geom.Vec2{X: s, Y: -c}
		p := newPage(400, 400)
		v := newView(p, 0, 0, Around(geom.Vec2{}, 10, 10), 40)
		v.draw(Section{Layers: []Layer{{
			Along: []geom.Vec2{along.Scale(-3), along.Scale(-0.2), along.Scale(3)}, From: 0.5, To: 2.5, Fill: Fill{Tone: tone},
		}}}, 1)
		var got [2]float64
		for k, side := range [2]geom.Vec2{right, right.Scale(-1)} {
			const steps = 2000
			for i := range steps { // along a line square to the layer
				q := v.at(side.Scale(4 * float64(i) / steps))
				if near8(p.img, []image.Point{{X: int(q.X), Y: int(q.Y)}}, tone) > 0 {
					got[k] += 4.0 / steps
				}
			}
		}
		if !(math.Abs(got[0]-2) < 0.1) || got[1] != 0 { // its edge line takes some of it
			t.Errorf("at %g degrees the layer is %.2f mm thick on its right and %.2f on its left, want 2 and 0", angle, got[0], got[1])
		}
	}
}

// A body's area on the page is its area in mm², to what the edges' pixels allow.
func TestFilledAreaIsExact(t *testing.T) {
	p := newPage(300, 300)
	v := newView(p, 0, 0, Around(geom.Vec2{}, 30, 30), 10)
	loop := disc2(geom.Vec2{X: 0.37, Y: -0.11}, 9.3)
	m := p.mask(v.path(Loops{loop}))
	var sum float64
	for _, a := range m.Pix {
		sum += float64(a) / 255
	}
	if want := signed(loop) * 100; math.Abs(sum-want) > 0.002*want {
		t.Errorf("the disc covers %.1f pixels, want %.1f", sum, want)
	}
}

// A stroke is as wide as asked in every direction, and closed corners have no gap.
func TestStrokeHasItsWidth(t *testing.T) {
	for _, angle := range []float64{0, 30, 45, 80} {
		s, c := math.Sincos(angle * math.Pi / 180)
		p := newPage(200, 200)
		d := geom.Vec2{X: 60 * c, Y: 60 * s}
		mid := geom.Vec2{X: 100, Y: 100}
		m := p.mask(strip([]geom.Vec2{mid.Sub(d), mid, mid.Add(d)}, 1.5, false))
		var sum float64
		for _, a := range m.Pix {
			sum += float64(a) / 255
		}
		if !(math.Abs(sum-360) < 2) {
			t.Errorf("a line 120 long and 3 wide at %g degrees covers %.1f pixels", angle, sum)
		}
	}
}

func TestSpreadKeepsOrderAndRoom(t *testing.T) {
	want := []float64{10, 11, 12, 50, 90, 91}
	need := []float64{10, 20, 10, 10, 10, 10}
	got := spread(want, need, 0, 95)
	for i := range got {
		if i > 0 && got[i]-got[i-1] < (need[i]+need[i-1])/2-1e-9 {
			t.Errorf("labels %d and %d overlap: %v", i-1, i, got)
		}
		if got[i]-need[i]/2 < -1e-9 || got[i]+need[i]/2 > 95+1e-9 {
			t.Errorf("label %d leaves the room: %v", i, got)
		}
	}
	if got[3] != 50 {
		t.Errorf("a label with room was moved: %v", got)
	}
	// Two equal wishes part to both sides alike.
	if got := spread([]float64{40, 40}, []float64{10, 10}, 0, 80); got[0] != 35 || got[1] != 45 {
		t.Errorf("spread = %v, want 35 and 45", got)
	}
	if spread(nil, nil, 0, 1) != nil && len(spread(nil, nil, 0, 1)) != 0 {
		t.Error("no labels are spread")
	}
}

func TestRoundSteps(t *testing.T) {
	for _, tt := range []struct {
		lo, hi float64
		want   Steps
		first  string
	}{
		{0.21, 1.0, Steps{Lo: 0.2, Step: 0.1, Count: 8}, "0.2"},
		{0.21, 1.004, Steps{Lo: 0.2, Step: 0.1, Count: 8}, "0.2"},
		{0, 14.9, Steps{Lo: 0, Step: 2, Count: 8}, "0"},
		{0.474, 0.481, Steps{Lo: 0.474, Step: 0.001, Count: 7}, "0.474"},
		{3, 3, Steps{Lo: 3, Step: 0.0002, Count: 5}, "3.0000"},
	} {
		got := Round(tt.lo, tt.hi, 9)
		if math.Abs(got.Lo-tt.want.Lo) > 1e-9 || math.Abs(got.Step-tt.want.Step) > 1e-12 || got.Count != tt.want.Count || got.text(0) != tt.first {
			t.Errorf("Round(%g, %g) = %v from %q, want %v from %q", tt.lo, tt.hi, got, got.text(0), tt.want, tt.first)
		}
		if a, b := got.Share(tt.lo), got.Share(tt.hi); !(a >= -1e-9 && b <= 1+0.05/float64(got.Count)) {
			t.Errorf("Round(%g, %g) leaves its ends out: %g to %g", tt.lo, tt.hi, a, b)
		}
	}
}

func TestWordsAreWrapped(t *testing.T) {
	p := newPage(1, 1)
	lines := p.wrap("felt on the wall 1.71, pressed 14.5\u00a0%", 20, 120)
	for _, l := range lines {
		if p.width(20, l) > 120 {
			t.Errorf("%q is %.0f wide", l, p.width(20, l))
		}
	}
	if last := lines[len(lines)-1]; last != "14.5\u00a0%" && last != "pressed 14.5\u00a0%" {
		t.Errorf("the number was parted from its sign: %q", lines)
	}
	for _, r := range "0123456789abcxyzABCXYZäéß×°±−≤%²µ" {
		if p.face.glyph(r).index == 0 {
			t.Errorf("the typeface lacks %q", r)
		}
	}
}

func TestSidesAreSharedWhenDivided(t *testing.T) {
	m := rod(10, 30, 12)
	fine := Divided(m, 2)
	if d := math.Abs(fine.Volume() - m.Volume()); d > 1e-9*m.Volume() {
		t.Errorf("the volume changed by %g", d)
	}
	uses := map[[2]int32]int{}
	for _, tri := range fine.T {
		for k := range 3 {
			a, b := tri[k], tri[(k+1)%3]
			if d := fine.V[a].Dist(fine.V[b]); d > 2 {
				t.Fatalf("a side is %g long", d)
			}
			uses[[2]int32{a, b}]++
		}
	}
	for e, n := range uses {
		if n != 1 || uses[[2]int32{e[1], e[0]}] != 1 {
			t.Fatalf("side %v is not shared by two", e)
		}
	}
}

// demoDrawing is a page with everything on it.
func demoDrawing() Drawing {
	body := Upright{Dir: geom.Vec2{X: 1}}.Section(rod(30, 20, 60))
	s := Section{
		Layers: []Layer{{Along: []geom.Vec2{{X: 32, Y: 22}, {X: -32, Y: 22}, {X: -32, Y: 0}}, To: 2, Fill: Fill{"felt", color.RGBA{190, 208, 190, 255}, Dotted}}},
		Cuts:   []Cut{{body, Fill{"rod", color.RGBA{238, 230, 214, 255}, Rising}}},
	}
	return Drawing{Title: "demo", Strips: []Strip{{
		Caption: "a rod", Section: s, Window: body.Bounds().Grow(5),
		Levels: []Level{{geom.Vec2{X: 30, Y: 20}, "top 20"}, {geom.Vec2{X: 30, Y: 19}, "nearly 19"}},
		Dims:   []Dim{{geom.Vec2{X: -30}, geom.Vec2{X: 30}, "60.0", Under}, {geom.Vec2{Y: 5}, geom.Vec2{Y: 15}, "10.0", Inside}},
		Tags:   []Tag{{geom.Vec2{X: 10, Y: 10}, 30, "rod"}},
	}}, Details: []Detail{{Letter: "A", Caption: "corner", Window: Around(geom.Vec2{X: 30, Y: 20}, 9, 12), Notes: []Note{
		{geom.Vec2{X: 29, Y: 18}, geom.Vec2{X: 30, Y: 18}, "one 1.00"}, {geom.Vec2{X: 28, Y: 18}, geom.Vec2{X: 28, Y: 18}, "a place"},
	}}}}
}

func TestSameDrawingSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := demoDrawing().Draw(w); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two drawings of one section differ")
	}
	if dir := os.Getenv("BUCKWRIGHT_LOOK"); dir != "" {
		os.WriteFile(filepath.Join(dir, t.Name()+".png"), a.Bytes(), 0o644)
	}
	img, err := png.Decode(&a)
	if err != nil {
		t.Fatal(err)
	}
	if _, few := img.(*image.Paletted); !few {
		t.Errorf("a line drawing has no palette: %T", img)
	}
}

func TestBoardIsRepeatableAndNamesWhatItShows(t *testing.T) {
	m := rod(20, 10, 40)
	value := make([]float64, len(m.V))
	for i, v := range m.V {
		value[i] = v.Z / 10
	}
	steps := Round(0, 1, 5)
	b := Board{Title: "board", Note: "a note", Legend: &Legend{Title: "height, mm", Steps: steps, Missing: "none"}, Panels: []Panel{
		{Caption: "plain", Bodies: bodies(m), Labels: []Label{{geom.V(20, 0, 5), "a rod with a long name to be wrapped"}}},
		{Caption: "values", Bodies: []Body{{Mesh: m, Value: value, Steps: steps}}},
	}}
	var one, two bytes.Buffer
	if err := b.Draw(&one); err != nil {
		t.Fatal(err)
	}
	if err := b.Draw(&two); err != nil || !bytes.Equal(one.Bytes(), two.Bytes()) {
		t.Errorf("two pictures of one board differ: %v", err)
	}
	img, err := png.Decode(&one)
	if err != nil {
		t.Fatal(err)
	}
	// The top of the rod has the value 1: the last colour of the scale.
	top := bands(steps)[4]
	if n := count(img, func(c color.RGBA) bool { return distance(labOf(c), labOf(top)) < 6 }); n < 5000 {
		t.Errorf("%g pixels have the colour of the highest value", n)
	}
	if (Board{Panels: []Panel{{}}}).Draw(&one) == nil {
		t.Error("a board of nothing is drawn")
	}
}

func TestRaisedIsASkin(t *testing.T) {
	skin := Raised(rod(10, 5, 80), 2, func(mid, n geom.Vec) bool { return n.Z > 0.5 })
	if len(skin.T) == 0 {
		t.Fatal("no skin")
	}
	for _, v := range skin.V {
		if math.Abs(v.Z-7) > 1e-9 {
			t.Fatalf("the skin lies at %v, want z = 7", v)
		}
	}
}

// A layer ends square to the end of its line, also where the last piece of the line is
// shorter than the layer is thick.
func TestLayerEndsSquare(t *testing.T) {
	tone := color.RGBA{180, 100, 40, 255}
	p := newPage(400, 400)
	v := newView(p, 0, 0, Around(geom.Vec2{}, 10, 10), 40)
	v.draw(Section{Layers: []Layer{{
		Along: []geom.Vec2{{X: -4}, {X: 0.8}, {X: 1, Y: 0}}, To: 3, Fill: Fill{Tone: tone},
	}}}, 1)
	for _, tt := range []struct {
		x    float64
		want bool
	}{{0.8, true}, {1.2, false}, {2.5, false}} {
		q := v.at(geom.Vec2{X: tt.x, Y: -1.5})
		if got := near8(p.img, []image.Point{{X: int(q.X), Y: int(q.Y)}}, tone) > 0; got != tt.want {
			t.Errorf("painted at %g of a line that ends at 1: %v, want %v", tt.x, got, tt.want)
		}
	}
}
