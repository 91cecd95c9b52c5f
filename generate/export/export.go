// Package export writes results in open file formats: meshes as binary STL and 3MF
// core, drawings as DXF, SVG and PDF, the job sheet as HTML, and the summary of a kit
// as JSON. It only ever sees an io.Writer. Pack lays parts on beds.
//
// The same values give the same bytes. Coordinates of meshes are written as float32,
// the precision of STL; a mesh that would lose its shape by that is refused, as is one
// that is not closed.
//
// Not checked here: triangles that cross each other.
package export

import (
	"fmt"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// point is a vertex as the files hold it. Negative zero becomes zero, so that
// equal points have equal bytes.
type point [3]float32

func toPoint(v geom.Vec) point {
	return point{float32(v.X) + 0, float32(v.Y) + 0, float32(v.Z) + 0}
}

func (p point) vec() geom.Vec {
	return geom.V(float64(p[0]), float64(p[1]), float64(p[2]))
}

func (p point) finite() bool {
	for _, c := range p {
		if f := float64(c); math.IsNaN(f) || math.IsInf(f, 0) {
			return false
		}
	}
	return true
}

// points rounds the vertices of m to float32. It refuses a mesh with no
// triangle, with a coordinate that is not finite, and with two vertices that
// round to the same point: the file would join what the mesh keeps apart. It
// refuses open or wrongly turned edges and triangles without area.
func points(m *mesh.Mesh) ([]point, error) {
	if len(m.T) == 0 {
		return nil, fmt.Errorf("the mesh has no triangle")
	}
	pts := make([]point, len(m.V))
	first := make(map[point]int, len(m.V))
	for i, v := range m.V {
		p := toPoint(v)
		if !p.finite() {
			return nil, fmt.Errorf("vertex %d at %v is not a finite float32", i, v)
		}
		if j, seen := first[p]; seen {
			return nil, fmt.Errorf("vertices %d and %d are one point in float32: %v", j, i, p)
		}
		first[p] = i
		pts[i] = p
	}
	if err := closed(m); err != nil {
		return nil, err
	}
	for i, t := range m.T {
		if normal(pts[t[0]], pts[t[1]], pts[t[2]]) == (point{}) {
			return nil, fmt.Errorf("triangle %d has no area in float32", i)
		}
	}
	return pts, nil
}

// closed refuses a mesh in which some edge does not pass exactly once each way.
func closed(m *mesh.Mesh) error {
	edges := make(map[[2]int32]struct{}, 3*len(m.T))
	for i, t := range m.T {
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			if !(a >= 0 && int(a) < len(m.V)) {
				return fmt.Errorf("triangle %d names vertex %d of %d", i, a, len(m.V))
			}
			if a == b {
				return fmt.Errorf("triangle %d has vertex %d twice", i, a)
			}
			e := [2]int32{a, b}
			if _, twice := edges[e]; twice {
				return fmt.Errorf("two triangles run along the edge %d to %d the same way", a, b)
			}
			edges[e] = struct{}{}
		}
	}
	for i, t := range m.T { // in triangle order, so that the message is always the same
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			if _, ok := edges[[2]int32{b, a}]; !ok {
				return fmt.Errorf("triangle %d is open along the edge %d to %d", i, a, b)
			}
		}
	}
	return nil
}
