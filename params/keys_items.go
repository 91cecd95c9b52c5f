package params

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// LargestItem is the longest side that an item may have, in mm: no desktop
// former has a sheet for more. This program's own choice.
const LargestItem = 1000.0

// Limits on what one kit can hold; a kit beyond them is a mistake or noise.
const (
	mostItems  = 64
	mostPoints = 2000
	largest    = LargestItem
)

func itemList(to *[]Item) value {
	return list[Item]{to: to, noun: "item", least: 1, most: mostItems,
		each:  func(it *Item) value { return section{rows: itemRows(it), check: itemCheck(it)} },
		check: func(r *reader, at string) { differentNames(r, at, *to) },
	}
}

func itemRows(it *Item) []row {
	return []row{
		{"name", nameText(&it.Name), "", true, "what it is called on parts and drawings"},
		{"shape", oneOf{shapeRows(&it.Shape)}, "", true, "its outside: box, cylinder, capsule, ellipsoid, profile, revolve or mesh"},
		{"at", vector{it.At[:], "x, y", length, -2000, 2000}, "[0, 0]", false, "middle of its plan"},
		{"turn", number{&it.Turn, angle, -360, 360}, "0", false, "about the pull axis, counterclockwise seen from above"},
		{"depth", number{&it.Depth, length, 1, 500}, "", true, "how much of it sits below the rim"},
		{"mass", number{&it.Mass, mass, 0.1, 20e3}, "", true, "as weighed"},
		{"notch", list[Notch]{to: &it.Notch, each: func(n *Notch) value { return notch{n} }, noun: "notch", most: 4, lone: true,
			check: func(r *reader, at string) { differentSides(r, at, it.Notch) }}, "", false,
			"finger notches: a list of front, back, left, right, or of {side, width, out, depth}"},
	}
}

func shapeRows(s *Shape) []row {
	return []row{
		{"box", maybe[Box]{&s.Box, boxKeys}, "", false, "a block"},
		{"cylinder", maybe[Cylinder]{&s.Cylinder, cylinderKeys}, "", false, "a round bar, standing or lying"},
		{"capsule", maybe[Capsule]{&s.Capsule, capsuleKeys}, "", false, "a round bar with round ends"},
		{"ellipsoid", maybe[Ellipsoid]{&s.Ellipsoid, ellipsoidKeys}, "", false, "an egg"},
		{"profile", maybe[Profile]{&s.Profile, profileKeys}, "", false, "a plan outline raised to a height"},
		{"revolve", maybe[Revolve]{&s.Revolve, revolveKeys}, "", false, "a half outline turned about the vertical"},
		{"mesh", maybe[MeshFile]{&s.Mesh, meshKeys}, "", false, "a triangle mesh"},
	}
}

func boxKeys(b *Box) value {
	return section{rows: []row{
		{"size", vector{b.Size[:], "x, y, z", length, 1, largest}, "", true, "its length, width and height over all"},
		{"corner_radius", number{&b.CornerRadius, length, 0, largest / 2}, "0", false, "of the four upright edges"},
		{"edge_radius", number{&b.EdgeRadius, length, 0, largest / 2}, "0", false, "of all other edges"},
	}, check: func(r *reader, at string) {
		r.noMore(at+".corner_radius", b.CornerRadius, min(b.Size[0], b.Size[1])/2, "half the smaller of x and y")
		r.noMore(at+".edge_radius", b.EdgeRadius, slices.Min(b.Size[:])/2, "half the smallest size")
	}}
}

func cylinderKeys(c *Cylinder) value {
	return section{rows: []row{
		{"diameter", number{&c.Diameter, length, 1, largest}, "", true, "across it"},
		{"height", number{&c.Height, length, 1, largest}, "", true, "its length, whichever way it lies"},
		{"along", along(&c.Along), "z", false, "direction of its axis; z stands"},
		{"edge_radius", number{&c.EdgeRadius, length, 0, largest / 2}, "0", false, "of both ends"},
	}, check: func(r *reader, at string) {
		r.noMore(at+".edge_radius", c.EdgeRadius, min(c.Diameter, c.Height)/2, "half of the diameter or height")
	}}
}

func capsuleKeys(c *Capsule) value {
	return section{rows: []row{
		{"diameter", number{&c.Diameter, length, 1, largest}, "", true, "across it"},
		{"length", number{&c.Length, length, 1, largest}, "", true, "over all"},
		{"along", along(&c.Along), "x", false, "direction of its axis; z stands"},
	}, check: func(r *reader, at string) {
		r.noMore(at+".diameter", c.Diameter, c.Length, "its length over all")
	}}
}

func ellipsoidKeys(e *Ellipsoid) value {
	return section{rows: []row{
		{"size", vector{e.Size[:], "x, y, z", length, 1, largest}, "", true, "its three diameters"},
	}}
}

func profileKeys(p *Profile) value {
	return section{rows: []row{
		{"points", list[[2]float64]{to: &p.Points, each: corner, noun: "point", least: 3, most: mostPoints}, "", false, "corners of the outline: [[x, y], ...]"},
		{"bulge", list[float64]{to: &p.Bulge, each: bulge, noun: "bulge", least: 3, most: mostPoints}, "", false, "for each point, tan(sweep / 4) of the arc that leaves it, counterclockwise positive; 0: a line"},
		{"file", fileText(&p.File, ".svg", ".dxf"), "", false, "SVG or DXF with one closed path, from the kit file's folder, instead of points"},
		{"unit", meshUnit{&p.Unit}, "", false, "unit of the file's numbers: mm, cm, m, in, ft; else as the file says"},
		{"layer", layerText(&p.Layer), "", false, "layer or named group of the file that the outline is on; else the whole file"},
		{"corner_radius", number{&p.CornerRadius, length, 0, largest / 2}, "0", false, "of the corners in plan"},
		{"edge_radius", number{&p.EdgeRadius, length, 0, largest / 2}, "0", false, "of the top and bottom edges"},
		{"height", number{&p.Height, length, 1, largest}, "", true, "how far the outline is raised"},
	}, check: profileCheck(p)}
}

func revolveKeys(v *Revolve) value {
	return section{rows: []row{
		{"points", list[[2]float64]{to: &v.Points, each: corner, noun: "point", least: 3, most: mostPoints}, "", true, "half outline: [[radius, height], ...]"},
	}, check: revolveCheck(v)}
}

func meshKeys(m *MeshFile) value {
	return section{rows: []row{
		{"file", fileText(&m.File, ".stl", ".obj", ".ply", ".3mf", ".glb"), "", true, "STL, OBJ, PLY, 3MF or GLB, from the kit file's folder"},
		{"unit", meshUnit{&m.Unit}, "", false, "unit of its numbers: mm, cm, m, in, ft; else what a 3MF says, m for GLB, mm for the others"},
		{"up", word[Up]{&m.Up, []Up{"x", "-x", "y", "-y", "z", "-z"}}, "", false, "which way is up in it; else z, or y for GLB"},
	}}
}

func along(a *Axis) value { return word[Axis]{a, []Axis{AxisX, AxisY, AxisZ}} }

func corner(p *[2]float64) value { return vector{p[:], "x, y", length, -largest, largest} }
func bulge(b *float64) value     { return number{b, ratio, -10, 10} }

// meshUnit is the unit of a mesh's numbers, as a word.
type meshUnit struct{ to *float64 }

func (v meshUnit) read(r *reader, at string, n *yaml.Node) {
	var w string
	before := len(r.problems) + r.dropped
	word[string]{&w, v.words()}.read(r, at, n)
	if len(r.problems)+r.dropped != before {
		return
	}
	for _, u := range length.units() {
		if u.name == w {
			*v.to = u.factor
		}
	}
}

func (v meshUnit) words() []string { return []string{"mm", "cm", "m", "in", "inch", "ft"} }

// oneOf is a set of keys of which exactly one is given.
type oneOf struct{ rows []row }

func (v oneOf) read(r *reader, at string, n *yaml.Node) {
	keys := section{rows: v.rows}.keys()
	list := "one of: " + strings.Join(keys, ", ")
	if !r.usable(at, n) {
		return
	}
	if n.Kind != yaml.MappingNode {
		r.problem(n, at, found(n)+", "+list+" is expected with its sizes", "write it like `shape: {ellipsoid: {size: [80, 50, 30]}}`")
		return
	}
	r.place(at, n)
	known := 0
	r.eachKey(at, n, func(key string, name, val *yaml.Node) {
		i := slices.IndexFunc(v.rows, func(w row) bool { return w.key == key })
		switch {
		case i < 0:
			r.unknownKey(keys, at, name)
			known++ // counted, so that one mistake gives one message
			return
		case known > 0:
			r.problem(name, join(at, key), "a second "+lastKey(at)+" in one place", "keep one of them, or make another item of it")
		}
		known++
		r.help = v.rows[i].help
		v.rows[i].to.read(r, join(at, key), val)
	})
	if known == 0 {
		r.problem(n, at, "no shape is given; "+list+" is expected", "write it like `shape: {ellipsoid: {size: [80, 50, 30]}}`")
	}
}

// notch is a side, or a set of keys with one.
type notch struct{ to *Notch }

func (v notch) rows() []row {
	return []row{
		{"side", v.side(), "", true, "front (-y), back (+y), left (-x) or right (+x), before the item is turned"},
		{"width", number{&v.to.Width, length, 5, 150}, "30", false, "for a finger or thumb"},
		{"out", number{&v.to.Out, length, 3, 100}, "12", false, "beyond the item's widest line"},
		{"depth", optional{to: &v.to.Depth, q: length, lo: 1, hi: 500}, "", false, "below the rim; else 3 less than the item's"},
	}
}

func (v notch) side() value { return word[Side]{&v.to.Side, []Side{Front, Back, Left, Right}} }

func (v notch) read(r *reader, at string, n *yaml.Node) {
	s := section{rows: v.rows()}
	if n.Kind == yaml.MappingNode {
		s.read(r, at, n)
		return
	}
	s.fill(r, at)
	v.side().read(r, at, n)
}

func differentSides(r *reader, at string, ns []Notch) {
	seen := map[Side]bool{}
	for i, n := range ns {
		if seen[n.Side] {
			key := fmt.Sprintf("%s[%d]", at, i)
			r.problemAt(r.where[key], key, "a second notch at the "+string(n.Side), "keep one of them, or widen it with {side: "+string(n.Side)+", width: ...}")
		}
		seen[n.Side] = true
	}
}

func differentNames(r *reader, at string, items []Item) {
	seen := map[string]int{}
	for i, it := range items {
		name := strings.ToLower(it.Name)
		if first, twice := seen[name]; twice {
			key := fmt.Sprintf("%s[%d].name", at, i)
			r.problemAt(r.where[key], key, quote(it.Name)+fmt.Sprintf(" is the name of items[%d] too", first), "give each item a name of its own; capitals do not count")
			continue
		}
		seen[name] = i
	}
}
