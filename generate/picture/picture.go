// Package picture draws meshes as a person would see them: lit, without
// perspective, seen from any side, whole or cut open.
//
// The same meshes give the same bytes. A triangle seen from behind is painted
// in a warning colour, so that an open or inverted mesh shows; where the view
// cuts the mesh, what is seen from behind is the inside of the cut and is
// painted as solid.
package picture

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// View is how to look. Its zero value is a three-quarter view from the front
// right above, 1200 x 900, every facet flat.
type View struct {
	Width, Height int          // pixels
	From          geom.Vec     // from the middle towards the eye
	Frame         geom.Box     // what fills the picture; the meshes if it is zero
	Crease        geom.Angle   // facets that meet at less are shaded as one curved face
	Cut           *Plane       // takes away what lies beyond
	Colours       []color.RGBA // of each mesh in turn; grey and a few mild ones if nil
}

// Plane holds the points p with N·p = D; beyond is where N·p > D.
type Plane struct {
	N geom.Vec
	D float64
}

// Above and Below are the two three-quarter directions that together show
// every side.
func Above() geom.Vec { return geom.V(0.9, -1.6, 1.3) }
func Below() geom.Vec { return geom.V(0.9, -1.6, -1.3) }

// samples is how finely each pixel is divided, per direction.
const samples = 3

// Render writes a PNG of the meshes.
func Render(w io.Writer, meshes []*mesh.Mesh, v View) error {
	v = v.filled(meshes)
	if v.Frame.Empty() {
		return fmt.Errorf("picture: there is nothing to draw")
	}
	c := newCanvas(v)
	for i, m := range meshes {
		c.draw(m, v.Colours[i%len(v.Colours)])
	}
	c.outline()
	return png.Encode(w, c.image())
}

// filled puts in what a view leaves open.
func (v View) filled(meshes []*mesh.Mesh) View {
	if v.Width <= 0 || v.Height <= 0 {
		v.Width, v.Height = 1200, 900
	}
	if v.From == (geom.Vec{}) {
		v.From = Above()
	}
	if v.Frame == (geom.Box{}) {
		v.Frame = geom.EmptyBox()
		for _, m := range meshes {
			v.Frame = v.Frame.Union(m.Bounds())
		}
	}
	if len(v.Colours) == 0 {
		v.Colours = []color.RGBA{{176, 182, 186, 255}, {203, 178, 132, 255}, {140, 172, 162, 255}, {172, 150, 166, 255}}
	}
	return v
}

// canvas is the picture before its samples are averaged. Triangles are numbered
// over all meshes; facing has their normals.
type canvas struct {
	v               View
	w, h            int
	right, up, back geom.Vec // the eye's axes; back points towards it
	scale           float64  // samples a mm
	cx, cy          float64  // middle of the frame along right and up
	colour          []color.RGBA
	depth           []float32 // along back; the greatest is seen
	id              []int32   // triangle, or nothing
	facing          []geom.Vec
}

const nothing = -1

func newCanvas(v View) *canvas {
	c := &canvas{v: v, w: v.Width * samples, h: v.Height * samples, back: v.From.Unit()}
	c.right = geom.V(0, 0, 1).Cross(c.back).Unit()
	if c.right == (geom.Vec{}) { // straight from above or below
		c.right = geom.V(1, 0, 0)
	}
	c.up = c.back.Cross(c.right)
	c.fit()
	n := c.w * c.h
	c.colour, c.depth, c.id = make([]color.RGBA, n), make([]float32, n), make([]int32, n)
	for i := range n {
		c.colour[i] = color.RGBA{255, 255, 255, 255}
		c.depth[i] = float32(math.Inf(-1))
		c.id[i] = nothing
	}
	return c
}

// fit scales the frame's corners into the picture, with a margin of 4 %.
func (c *canvas) fit() {
	var x, y span
	b := c.v.Frame
	for i := range 8 {
		p := b.Corner(i)
		x.add(p.Dot(c.right), i == 0)
		y.add(p.Dot(c.up), i == 0)
	}
	c.cx, c.cy = (x.lo+x.hi)/2, (y.lo+y.hi)/2
	c.scale = 0.92 * min(float64(c.w)/max(x.hi-x.lo, 1e-9), float64(c.h)/max(y.hi-y.lo, 1e-9))
}

type span struct{ lo, hi float64 }

func (s *span) add(v float64, first bool) {
	if first {
		s.lo, s.hi = v, v
	}
	s.lo, s.hi = min(s.lo, v), max(s.hi, v)
}

// project gives sample coordinates, downwards in y, and the depth in mm.
func (c *canvas) project(p geom.Vec) geom.Vec {
	return geom.V(
		float64(c.w)/2+c.scale*(p.Dot(c.right)-c.cx),
		float64(c.h)/2-c.scale*(p.Dot(c.up)-c.cy),
		p.Dot(c.back))
}

// image averages the samples of each pixel.
func (c *canvas) image() image.Image {
	out := image.NewRGBA(image.Rect(0, 0, c.v.Width, c.v.Height))
	for y := range c.v.Height {
		for x := range c.v.Width {
			var r, g, b int
			for i := range samples * samples {
				s := c.colour[(y*samples+i/samples)*c.w+x*samples+i%samples]
				r, g, b = r+int(s.R), g+int(s.G), b+int(s.B)
			}
			const n = samples * samples
			out.SetRGBA(x, y, color.RGBA{uint8(r / n), uint8(g / n), uint8(b / n), 255})
		}
	}
	return out
}
