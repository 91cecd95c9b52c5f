package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// rod is an n-sided prism about the z axis.
func rod(r, h float64, n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		m.V = append(m.V, geom.V(r*math.Cos(a), r*math.Sin(a), 0), geom.V(r*math.Cos(a), r*math.Sin(a), h))
	}
	for i := range int32(n) {
		j := (i + 1) % int32(n)
		m.T = append(m.T, [3]int32{2 * i, 2 * j, 2*i + 1}, [3]int32{2 * j, 2*j + 1, 2*i + 1})
		if i > 0 && j > 0 {
			m.T = append(m.T, [3]int32{0, 2 * j, 2 * i}, [3]int32{1, 2*i + 1, 2*j + 1})
		}
	}
	return m
}

func render(t *testing.T, v View, meshes ...*mesh.Mesh) image.Image {
	t.Helper()
	return renderBodies(t, v, bodies(meshes...))
}

// bodies paints meshes grey.
func bodies(meshes ...*mesh.Mesh) (out []Body) {
	for _, m := range meshes {
		out = append(out, Body{Mesh: m, Paint: color.RGBA{176, 182, 186, 255}})
	}
	return out
}

// pictured writes a PNG of the bodies.
func pictured(w io.Writer, bodies []Body, v View) error {
	c, err := shoot(bodies, v)
	if err != nil {
		return err
	}
	img := image.NewRGBA(image.Rect(0, 0, c.v.Width, c.v.Height))
	c.resolve(img, image.Point{})
	return encode(w, img)
}

func renderBodies(t *testing.T, v View, all []Body) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := pictured(&b, all, v); err != nil {
		t.Fatal(err)
	}
	if dir := os.Getenv("BUCKWRIGHT_LOOK"); dir != "" {
		os.WriteFile(filepath.Join(dir, t.Name()+".png"), b.Bytes(), 0o644)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// count is how many pixels satisfy is.
func count(img image.Image, is func(c color.RGBA) bool) (n float64) {
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if is(color.RGBAModel.Convert(img.At(x, y)).(color.RGBA)) {
				n++
			}
		}
	}
	return n
}

func drawn(c color.RGBA) bool   { return c != color.RGBA{255, 255, 255, 255} }
func warning(c color.RGBA) bool { return int(c.R)-int(c.G) > 60 && int(c.B)-int(c.G) > 30 }

// A square of 20 mm seen straight from above, in a frame of 40, has a known side.
func TestTheShadowHasTheRightArea(t *testing.T) {
	m := rod(10*math.Sqrt2, 5, 4) // a square of 20 mm, corners on the axes
	v := View{Width: 400, Height: 400, From: geom.V(0, 0, 1)}
	v.Frame = geom.Box{Min: geom.V(-20, -20, 0), Max: geom.V(20, 20, 5)}
	side := math.Sqrt(count(render(t, v, m), drawn))
	mm := margin * 400 / 40                      // pixels
	if !(side >= 20*mm-0.5 && side <= 20*mm+2) { // a pixel drawn in part counts whole
		t.Errorf("the square's side has %g pixels, want %g", side, 20*mm)
	}
}

func TestFacesSeenFromBehindAreMarked(t *testing.T) {
	m := rod(10, 20, 40)
	for _, from := range []geom.Vec{Above(), Below()} {
		if n := count(render(t, View{From: from}, m), warning); n > 0 {
			t.Errorf("a sound mesh has %g pixels in the warning colour from %v", n, from)
		}
	}
	open := &mesh.Mesh{V: m.V}
	for i := range m.T {
		if a, b, c := m.Corners(i); !(a.Z == 20 && b.Z == 20 && c.Z == 20) {
			open.T = append(open.T, m.T[i])
		}
	}
	if n := count(render(t, View{}, open), warning); n < 1000 {
		t.Errorf("a mesh without its top has %g pixels in the warning colour", n)
	}
}

func TestACutShowsSolid(t *testing.T) {
	m := rod(10, 20, 60)
	all := bodies(m)
	all[0].Cut = &Plane{geom.V(0, -1, 0), 0}
	img := renderBodies(t, View{Width: 300, Height: 300, From: geom.V(0, -1, 0)}, all)
	whole := count(img, drawn)
	cut := count(img, func(c color.RGBA) bool { return c == dim(color.RGBA{176, 182, 186, 255}, 0.55) })
	if !(cut > 0.93*whole) { // the rest is the outline
		t.Errorf("%g of %g pixels are the cut", cut, whole)
	}
}

func TestTheNearerMeshHidesTheFarther(t *testing.T) {
	red, blue := color.RGBA{200, 20, 20, 255}, color.RGBA{20, 20, 200, 255}
	low, high := rod(10, 5, 30), rod(10, 9, 30)
	isRed := func(c color.RGBA) bool { return int(c.R) > int(c.B)+20 }
	for _, order := range [][]*mesh.Mesh{{low, high}, {high, low}} {
		v := View{Width: 200, Height: 200, From: geom.V(0, 0, 1)}
		all := bodies(order...)
		all[0].Paint, all[1].Paint = red, blue
		got := count(renderBodies(t, v, all), isRed) > 0
		if want := order[0] == high; got != want {
			t.Errorf("red shows: %v, want %v", got, want)
		}
	}
}

// On a curved face the shaded light varies smoothly: neighbouring facets of a
// 24-sided rod differ by 15 degrees when flat.
func TestCreaseSmoothsCurvedFacesOnly(t *testing.T) {
	m := rod(10, 20, 24)
	n := normals(m)
	side := func(crease geom.Angle) (most float64) {
		for i, c := range cornerNormals(m, n, crease, slices.Repeat([]bool{true}, len(m.T))) {
			if n[i].Z != 0 {
				if crease > 0 && c[0] != n[i] && c[0].Dist(n[i]) > 1e-12 {
					t.Errorf("the flat end's normal is %v at a corner", c[0])
				}
				continue
			}
			for k, v := range m.T[i] {
				at := m.V[v]
				most = max(most, c[k].Dist(geom.V(at.X, at.Y, 0).Unit()))
			}
		}
		return most
	}
	if flat := side(0); !(flat > 0.1) {
		t.Errorf("flat shading is off the round normal by %g", flat)
	}
	if round := side(30 * geom.Degree); !(round < 1e-9) {
		t.Errorf("smooth shading is off the round normal by %g", round)
	}
	render(t, View{Crease: 30 * geom.Degree}, m)
}

func TestSameMeshSameBytesAndNothingIsRefused(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []io.Writer{&a, &b} {
		if err := pictured(w, bodies(rod(10, 5, 17)), View{Width: 150, Height: 100}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two pictures of one mesh differ")
	}
	if pictured(io.Discard, nil, View{}) == nil {
		t.Error("a picture of nothing is drawn")
	}
}

// A sound mesh looks the same when what looks away is left out.
func TestClosedLooksTheSame(t *testing.T) {
	for _, from := range []geom.Vec{Above(), Below()} {
		all := bodies(rod(10, 20, 40), rod(4, 30, 12))
		whole := renderBodies(t, View{Width: 300, Height: 300, From: from, Crease: 30 * geom.Degree}, all)
		for i := range all {
			all[i].Closed = true
		}
		half := renderBodies(t, View{Width: 300, Height: 300, From: from, Crease: 30 * geom.Degree}, all)
		differ := 0
		for y := range 300 {
			for x := range 300 {
				if whole.At(x, y) != half.At(x, y) {
					differ++
				}
			}
		}
		if differ > 0 {
			t.Errorf("%d pixels differ from %v", differ, from)
		}
	}
}

// A clipped rod is as long as asked, and its side's area what is left of it: an
// n-sided prism's is n 2 r sin(pi/n) h.
func TestClippedRod(t *testing.T) {
	const r, n, at = 5.0, 12, 3.7
	m := Clipped(rod(r, 10, n), func(p geom.Vec) float64 { return at - p.Z })
	area, top := 0.0, 0.0
	for i := range m.T {
		a, b, c := m.Corners(i)
		top = max(top, a.Z, b.Z, c.Z)
		if min(a.Z, b.Z, c.Z) == max(a.Z, b.Z, c.Z) {
			continue // the end
		}
		area += b.Sub(a).Cross(c.Sub(a)).Len() / 2
	}
	if want := n * 2 * r * math.Sin(math.Pi/n) * at; math.Abs(area-want) > 1e-9*want || math.Abs(top-at) > 1e-12 {
		t.Errorf("area %g up to %g, want %g up to %g", area, top, want, at)
	}
}
