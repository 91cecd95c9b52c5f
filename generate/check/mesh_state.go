package check

import (
	"fmt"
	"math"
	"strings"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// MeshFact is what was wrong with a product's mesh before it was mended. Places
// are those of its file, in mm, turned upright.
type MeshFact struct {
	File     string
	Holes    []mesh.Hole // the widest first
	Crossing *geom.Vec   // a place where it passes through itself; nil if none
	Turned   bool        // some or all triangles faced in
	Fins     int         // edges of three triangles or more
	Repeats  int         // triangles that repeat another
	Points   int         // triangles without area
	Inside   int         // shells within the body
	Specks   int         // pieces too small to matter
}

// meshed calls f for every item that came as a mesh.
func (j *Job) meshed(f func(i int, m *MeshFact) []Finding) []Finding {
	var out []Finding
	for i, it := range j.Items {
		if it.Mesh != nil {
			out = append(out, f(i, it.Mesh)...)
		}
	}
	return out
}

func meshOpen() Rule {
	const id = "mesh-open"
	return Rule{
		ID: id, Title: "a hole in a product's mesh is closed by a guess",
		Limit: "a hole 1 mm wide: its smallest skin is off by no more than half of that", Unit: MM,
		Source: "smallest skin: Barequet and Sharir, Filling gaps in the boundary of a polyhedron, 1995; the limit is " + ownRule,
		Key:    "items[].shape.mesh.file",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 1)
			return j.meshed(func(i int, m *MeshFact) []Finding {
				if len(m.Holes) == 0 {
					return nil
				}
				h := m.Holes[0]
				where := fmt.Sprintf("%s, hole at %s", m.File, point(h.At))
				if n := len(m.Holes); n > 1 {
					where = fmt.Sprintf("%s, widest of %d holes, at %s", m.File, n, point(h.At))
				}
				return onItem(i, "shape.mesh.file", most(Warn, MM, where, h.Width, limit,
					"close it where the body was drawn and export it again, or measure the finished pocket there before anything is pressed in"))
			})
		},
	}
}

func meshMended() Rule {
	return Rule{
		ID: "mesh-mended", Title: "a product's mesh was mended before it was used",
		Limit:  "none: told for every mesh that is no clean closed surface",
		Source: "geometry: only a closed surface that faces out and does not cross itself bounds a body",
		Key:    "items[].shape.mesh.file",
		Run: func(j *Job) []Finding {
			return j.meshed(func(i int, m *MeshFact) []Finding {
				done := m.mended()
				if len(done) == 0 {
					return nil
				}
				return onItem(i, "shape.mesh.file", []Finding{told(Note, m.File, strings.Join(done, "; "),
					"look at the product in pictures/; if it is right there, nothing is to be done")})
			})
		},
	}
}

// mended lists what was done, in words.
func (m *MeshFact) mended() []string {
	var out []string
	add := func(n int, one, more string) {
		switch {
		case n == 1:
			out = append(out, "1 "+one)
		case n > 1:
			out = append(out, fmt.Sprintf("%d %s", n, more))
		}
	}
	add(len(m.Holes), "hole closed", "holes closed")
	if m.Turned {
		out = append(out, "triangles that faced in turned round")
	}
	add(m.Fins, "edge of more than two triangles", "edges of more than two triangles")
	add(m.Repeats, "triangle that repeats another left out", "triangles that repeat others left out")
	add(m.Points, "triangle without area", "triangles without area")
	add(m.Inside, "shell inside the body left out", "shells inside the body left out")
	add(m.Specks, "speck beside the body left out", "specks beside the body left out")
	if m.Crossing != nil {
		out = append(out, "it passes through itself, at "+point(*m.Crossing)+" for one: what is inside any part of it counts as body")
	}
	return out
}

// point is a place in words, to a tenth.
func point(p geom.Vec) string {
	tenth := func(v float64) float64 { return math.Round(v*10)/10 + 0 }
	return fmt.Sprintf("(%g, %g, %g)", tenth(p.X), tenth(p.Y), tenth(p.Z))
}
