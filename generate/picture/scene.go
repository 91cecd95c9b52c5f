// Package picture draws meshes as a person would see them, and what a plane
// cuts of them as a drawing with dimensions. Output is PNG.
//
// Meshes are lit, without perspective, seen from any side, whole or cut open. A
// triangle seen from behind is painted in a warning colour, so that an open or
// inverted mesh shows; where a cut opens the mesh, what is seen from behind is
// the inside and is painted as solid. The same input gives the same bytes.
package picture

import (
	"fmt"
	"image/color"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// Body is one mesh in a view.
type Body struct {
	Mesh    *mesh.Mesh
	Paint   color.RGBA
	Cut     *Plane    // takes away what lies beyond
	Thin    bool      // an open sheet: painted alike from both sides
	Closed  bool      // known to be sound: what looks away from the eye is not drawn
	Value   []float64 // by vertex; painted by it where it is set
	Steps   Steps     // of the values
	Unlined bool      // no lines along creases within the body
}

// Plane holds the points p with N·p = D; beyond is where N·p > D.
type Plane struct {
	N geom.Vec
	D float64
}

// View is how to look. Its zero value is a three-quarter view from the front
// right above, 1200 x 900, every facet flat.
type View struct {
	Width, Height int        // pixels
	From          geom.Vec   // from the middle towards the eye
	Frame         geom.Box   // what fills the picture; the bodies if it is zero
	Crease        geom.Angle // facets that meet at less are shaded as one curved face
}

// Above and Below are the two three-quarter directions that together show
// every side.
func Above() geom.Vec { return geom.V(0.9, -1.6, 1.3) }
func Below() geom.Vec { return geom.V(0.9, -1.6, -1.3) }

// shoot draws the bodies into a canvas.
func shoot(bodies []Body, v View) (*canvas, error) {
	v = v.filled()
	x, y := v.reach(bodies)
	if !(x.lo <= x.hi) {
		return nil, fmt.Errorf("picture: there is nothing to draw")
	}
	c := newCanvas(v)
	c.fit(x, y)
	for i := range bodies {
		c.draw(&bodies[i])
	}
	return c, nil
}

// filled puts in what a view leaves open.
func (v View) filled() View {
	if v.Width <= 0 || v.Height <= 0 {
		v.Width, v.Height = 1200, 900
	}
	if v.From == (geom.Vec{}) {
		v.From = Above()
	}
	return v
}

// height is how many pixels a view as wide as it is needs.
func (v View) height(bodies []Body) int {
	x, y := v.filled().reach(bodies)
	if !(x.hi > x.lo) {
		return 0
	}
	return int(float64(v.Width) * (y.hi - y.lo) / (x.hi - x.lo))
}
