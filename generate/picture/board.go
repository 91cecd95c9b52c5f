package picture

import (
	"image"
	"io"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// Board is a page of views side by side.
type Board struct {
	Title  string
	Note   string // under the views
	High   int    // most pixels of a view; 0: 620
	Panels []Panel
	Legend *Legend // at the right; nil: none
}

// Panel is one view with its caption and, at its right, what is named in it.
type Panel struct {
	Caption string
	Bodies  []Body
	From    geom.Vec // Above if zero
	Labels  []Label
}

// Label names a place.
type Label struct {
	At   geom.Vec
	Text string
}

const (
	boardWide  = 1280
	labelWide  = 320
	leastHigh  = 240
	legendHigh = 340              // its steps can be told apart
	crease     = 30 * geom.Degree // facets that meet at less belong to one curved face
)

// Draw writes the board as a PNG, as high as its views need.
func (b Board) Draw(w io.Writer) error {
	p := newPage(0, 0)
	wide := boardWide
	if b.Legend != nil {
		wide -= legendWide + 10
	}
	wide /= max(1, len(b.Panels))
	views := make([]View, len(b.Panels))
	high := 0
	for i, v := range b.Panels {
		views[i] = View{Width: wide - p.room(v, wide), From: v.From, Crease: crease}
		high = max(high, views[i].height(v.Bodies))
	}
	least, most := leastHigh, b.High
	if b.Legend != nil {
		least = legendHigh
	}
	if most == 0 {
		most = 620
	}
	high = min(max(high, least), most)
	foot := 48
	if b.Note != "" {
		foot += 36
	}
	p.size(boardWide, high+64+foot)
	p.text(ink, smallSize, geom.Vec2{X: pageEdge, Y: float64(high + 64 + 60)}, 0, b.Note)
	p.text(ink, titleSize, geom.Vec2{X: pageEdge, Y: 34}, 0, b.Title)
	for i, v := range b.Panels {
		views[i].Height = high
		if err := p.panel(v, views[i], image.Rect(i*wide, 64, (i+1)*wide, 64+high)); err != nil {
			return err
		}
	}
	if b.Legend != nil {
		p.legend(*b.Legend, geom.Vec2{X: boardWide - legendWide, Y: 80}, float64(high))
	}
	return encode(w, p.img)
}

// room is the width that a panel's labels take.
func (p *page) room(v Panel, wide int) int {
	need := 0.0
	for _, l := range v.Labels {
		need = max(need, p.width(textSize, l.Text)+40)
	}
	return int(min(need, 0.3*float64(wide), labelWide))
}

// panel draws a view into a rectangle of the page, its caption below.
func (p *page) panel(v Panel, how View, r image.Rectangle) error {
	c, err := shoot(v.Bodies, how)
	if err != nil {
		return err
	}
	c.resolve(p.img, r.Min)
	p.text(ink, textSize, geom.Vec2{X: float64(r.Min.X + pageEdge), Y: float64(r.Max.Y + 22)}, 0, v.Caption)
	p.labels(v.Labels, c, r, float64(r.Min.X+how.Width))
	return nil
}

// labels writes names at the right of a view, each led to its place.
func (p *page) labels(all []Label, c *canvas, r image.Rectangle, x float64) {
	if len(all) == 0 {
		return
	}
	place := func(l Label) geom.Vec2 {
		q := c.project(l.At)
		return geom.Vec2{X: float64(r.Min.X) + q.X/samples, Y: float64(r.Min.Y) + q.Y/samples}
	}
	sorted := byY(all, func(l Label) float64 { return place(l).Y })
	text := make([][]string, len(sorted))
	var want, need []float64
	for i, l := range sorted {
		text[i] = p.wrap(l.Text, textSize, float64(r.Max.X)-x-20)
		want, need = append(want, place(l).Y), append(need, 14+26*float64(len(text[i])))
	}
	for i, y := range spread(want, need, float64(r.Min.Y), float64(r.Max.Y)) {
		at := place(sorted[i])
		lead := []geom.Vec2{at, {X: x - 8, Y: y}, {X: x + 2, Y: y}}
		p.line(paper, 4, lead...)
		p.line(ink, 1.3, lead...)
		p.fill(path{disc2(at, 5.5)}, paper)
		p.fill(path{disc2(at, 4)}, ink)
		p.rows(text[i], textSize, geom.Vec2{X: x + 10, Y: y})
	}
}

// rows writes lines of text about the height of at.
func (p *page) rows(text []string, size float64, at geom.Vec2) {
	step := size * 1.17
	for k, t := range text {
		p.text(ink, size, geom.Vec2{X: at.X, Y: at.Y + step*(float64(k)-float64(len(text)-1)/2)}, 0, t)
	}
}

// Clipped is the part of a mesh where a function of place is positive, its triangles
// cut where it is 0 along their sides.
func Clipped(m *mesh.Mesh, f func(geom.Vec) float64) *mesh.Mesh {
	out := &mesh.Mesh{V: slices.Clone(m.V)}
	value := make([]float64, len(m.V))
	for i, v := range m.V {
		value[i] = f(v)
	}
	cuts := map[[2]int32]int32{}
	cut := func(a, b int32) int32 { // a inside, b outside
		id, ok := cuts[[2]int32{a, b}]
		if !ok {
			id = int32(len(out.V))
			cuts[[2]int32{a, b}] = id
			out.V = append(out.V, m.V[a].Lerp(m.V[b], value[a]/(value[a]-value[b])))
		}
		return id
	}
	for _, t := range m.T {
		var ring []int32
		for k, a := range t {
			b := t[(k+1)%3]
			if value[a] > 0 {
				ring = append(ring, a)
			}
			switch {
			case value[a] > 0 && value[b] <= 0:
				ring = append(ring, cut(a, b))
			case value[a] <= 0 && value[b] > 0:
				ring = append(ring, cut(b, a))
			}
		}
		for k := 2; k < len(ring); k++ {
			out.T = append(out.T, [3]int32{ring[0], ring[k-1], ring[k]})
		}
	}
	return out
}

// Raised is a skin over part of a mesh: the triangles that keep picks, by their
// middle and normal, moved out by a distance along the normals at their
// vertices. It is for looking at: where the mesh is hollow the skin is thinner.
func Raised(m *mesh.Mesh, by float64, keep func(mid, normal geom.Vec) bool) *mesh.Mesh {
	n, angle := normals(m), angles(m)
	out := &mesh.Mesh{}
	to := make([]int32, len(m.V))
	lift := make([]geom.Vec, 0, len(m.V))
	for i, t := range m.T {
		a, b, c := m.Corners(i)
		if !keep(a.Add(b).Add(c).Scale(1.0/3), n[i]) {
			continue
		}
		var tri [3]int32
		for k, v := range t {
			if to[v] == 0 {
				out.V, lift = append(out.V, m.V[v]), append(lift, geom.Vec{})
				to[v] = int32(len(out.V))
			}
			tri[k] = to[v] - 1
			lift[tri[k]] = lift[tri[k]].Add(n[i].Scale(angle[3*i+k]))
		}
		out.T = append(out.T, tri)
	}
	for i := range out.V {
		out.V[i] = out.V[i].Add(lift[i].Unit().Scale(by))
	}
	return out
}
