package generate

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"strings"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/picture"
)

// What each part is painted in: greys of different lightness, with a little
// colour.
var (
	paintPart   = color.RGBA{206, 204, 198, 255}
	paintBeside = color.RGBA{226, 226, 226, 255}
	paintSheet  = color.RGBA{196, 208, 220, 255}
	paintFelt   = color.RGBA{132, 156, 136, 255}
	paintItem   = color.RGBA{222, 196, 146, 255}
	paintSponge = color.RGBA{92, 92, 104, 255}
)

// partPictures show each part as it is printed, and in place.
func (r *Result) partPictures() (out []drawn) {
	for _, p := range r.Parts {
		board := func() picture.Board {
			b := picture.Board{Title: r.Kit.Name + ": " + p.Title, Panels: []picture.Panel{{
				Caption: r.partCaption(p),
				Bodies:  []picture.Body{{Mesh: p.Printed, Paint: paintPart, Closed: true}},
			}}}
			if in, ok := r.inPlace(p); ok {
				b.Panels = append(b.Panels, in)
			}
			return b
		}
		out = append(out, drawn{"pictures/part-" + p.Name + ".png", func(w io.Writer) error { return board().Draw(w) }})
	}
	return out
}

// partCaption gives a part's size as it is measured in the hand, which is not its
// file's where the printer's scale and offset are known.
func (r *Result) partCaption(p Part) string {
	size, how := p.Printed.Bounds().Size(), "as trimmed"
	if !p.Reference {
		size, how = r.Dims.Print.Reads(size), "printed, it measures"
	}
	return fmt.Sprintf("%s %.1f \u00d7 %.1f \u00d7 %.1f mm", how, size.X, size.Y, size.Z)
}

// inPlace shows a part with what it works on, which is cut open through the
// middle of the first item. False when nothing else was made.
func (r *Result) inPlace(p Part) (picture.Panel, bool) {
	self := picture.Body{Mesh: p.Mesh, Paint: paintPart, Closed: true}
	v := picture.Panel{Bodies: []picture.Body{self}}
	add := func(name string, paint color.RGBA, open bool) {
		if m := r.made(name); m != nil {
			b := picture.Body{Mesh: m, Paint: paint, Closed: true}
			if open {
				b.Cut = r.front()
			}
			v.Bodies = append(v.Bodies, b)
		}
	}
	switch p.Name {
	case "buck", "press-nest":
		add("insert", paintSheet, true)
		v.Caption = "in place, the formed sheet cut open"
	case "press-tool":
		add("insert", paintSheet, true)
		add(r.pressBed(), paintBeside, true)
		v.Bodies[0].Cut = r.front()
		v.Caption = "in place, cut open"
	case "base":
		add("insert", paintSheet, true)
		v.Bodies = append(v.Bodies, behind(r.front(), r.itemBodies())...)
		v.Caption = "in place, the insert cut open"
	case "lid":
		v.Bodies[0].Cut = r.front()
		add("base", paintBeside, true)
		add("insert", paintSheet, true)
		v.Bodies = append(v.Bodies, behind(r.front(), append(r.itemBodies(), r.padBodies()...))...)
		v.Caption = "in place, the case cut open"
	case "insert":
		v.Bodies[0].Paint = paintSheet
		add("base", paintBeside, false)
		v.Bodies = append(v.Bodies, r.itemBodies()...)
		v.Caption = "in place with the items, lid off"
	case "trim-guide":
		add("insert", paintSheet, false)
		for i := range v.Bodies {
			v.Bodies[i].Mesh = v.Bodies[i].Mesh.Transform(topDown)
		}
		v.From = geom.V(0.9, 1.6, 1.3)
		v.Caption = "in place, the insert standing on its rim"
	}
	return v, len(v.Bodies) > 1
}

// front is the upright plane through the middle of the first item; what is
// nearer to the eye is cut away.
func (r *Result) front() *picture.Plane {
	n := geom.V(0, -1, 0)
	return &picture.Plane{N: n, D: n.Dot(r.planMiddle(0).At(0))}
}

// behind are the bodies that a cut does not take away as a whole.
func behind(cut *picture.Plane, all []picture.Body) (out []picture.Body) {
	for _, b := range all {
		if cut.N.Dot(b.Mesh.Bounds().Center()) <= cut.D+1e-6 {
			out = append(out, b)
		}
	}
	return out
}

// pressBed is the part that carries the insert while felt is pressed in.
func (r *Result) pressBed() string {
	if r.Dims.Press.Nest {
		return "press-nest"
	}
	return "base"
}

func (r *Result) itemBodies() (out []picture.Body) {
	for i := range r.items {
		out = append(out, r.itemBody(r.packedItem(i), i))
	}
	return out
}

// itemBody is an item as it is painted. A product's own mesh may have holes and
// facets that face inwards; it is shown alike from both sides.
func (r *Result) itemBody(m *mesh.Mesh, i int) picture.Body {
	given := r.items[i].kit.Shape.Mesh != nil
	return picture.Body{Mesh: m, Paint: paintItem, Thin: given, Closed: !given}
}

func (r *Result) padBodies() (out []picture.Body) {
	for _, m := range r.padMeshes() {
		out = append(out, picture.Body{Mesh: m, Paint: paintSponge, Closed: true})
	}
	return out
}

// stack puts bodies one over the other with room between them.
type stack struct {
	panel picture.Panel
	top   float64
}

const stackGap = 22.0 // mm between two layers of an exploded view

// lay adds a layer of bodies that belong together and names it.
func (s *stack) lay(text string, bodies ...picture.Body) {
	box := geom.EmptyBox()
	for _, b := range bodies {
		box = box.Union(b.Mesh.Bounds())
	}
	if box.Empty() {
		return
	}
	lift := geom.Translate(geom.V(0, 0, s.top-box.Min.Z))
	for _, b := range bodies {
		b.Mesh = b.Mesh.Transform(lift)
		s.panel.Bodies = append(s.panel.Bodies, b)
	}
	bodies = s.panel.Bodies[len(s.panel.Bodies)-len(bodies):]
	mark := rightmost(bodies[len(bodies)-1].Mesh)
	s.panel.Labels = append(s.panel.Labels, picture.Label{At: mark, Text: text})
	s.top += box.Size().Z + stackGap
}

// rightmost is the middle of the triangle that is farthest to the right in a
// three-quarter view and looks at the eye.
func rightmost(m *mesh.Mesh) (at geom.Vec) {
	from := picture.Above()
	best := math.Inf(-1)
	for i := range m.T {
		a, b, c := m.Corners(i)
		mid := a.Add(b).Add(c).Scale(1.0 / 3)
		if far := mid.X + 0.5*mid.Y; far > best && b.Sub(a).Cross(c.Sub(a)).Dot(from) > 0 {
			best, at = far, mid
		}
	}
	return at
}

func (s *stack) part(r *Result, name, text string, paint color.RGBA) {
	if m := r.made(name); m != nil {
		s.lay(text, picture.Body{Mesh: m, Paint: paint, Closed: true})
	}
}

// kitPictures are the whole kit and its tooling, pulled apart.
func (r *Result) kitPictures() (out []drawn) {
	if r.made("insert") == nil {
		return nil
	}
	if r.made("base") != nil {
		out = append(out, drawn{"pictures/exploded-kit.png", func(w io.Writer) error { return r.exploded().Draw(w) }})
	}
	if r.made("buck") != nil || r.made("press-tool") != nil {
		out = append(out, drawn{"pictures/exploded-tooling.png", func(w io.Writer) error { return r.tooling().Draw(w) }})
	}
	return out
}

func (r *Result) exploded() picture.Board {
	s := &stack{panel: picture.Panel{From: geom.V(0.9, -1.7, 1)}}
	k := r.Kit
	s.part(r, "base", "base, printed", paintPart)
	s.part(r, "insert", fmt.Sprintf("insert, formed from %s mm %s", trim(k.Sheet.Gauge, 2), k.Sheet.Material), paintSheet)
	s.lay(fmt.Sprintf("felt, %s mm, %s", trim(k.Liner.Thickness, 2), wrapText(k.Liner.Wrap)), r.feltBody())
	s.lay(r.itemNames(), r.itemBodies()...)
	if pads := r.padBodies(); len(pads) > 0 {
		s.lay(fmt.Sprintf("sponge, %s mm, under the lid", trim(k.LidLiner.Thickness, 2)), pads...)
	}
	s.top += 0.9 * r.Layout.OutsideHalf().Y // so that the lid does not hide the sponge
	s.part(r, "lid", "lid, printed", paintPart)
	s.panel.Caption = "the kit, pulled apart along the pull direction"
	return picture.Board{Title: k.Name, High: 1000, Panels: []picture.Panel{s.panel}}
}

func (r *Result) itemNames() string {
	text := ""
	for i, it := range r.Kit.Items {
		if i > 0 {
			text += ", "
		}
		text += it.Name
	}
	return text
}

// tooling is forming and pressing side by side.
func (r *Result) tooling() picture.Board {
	b := picture.Board{Title: r.Kit.Name + ": tooling", High: 680}
	if r.made("buck") != nil {
		s := &stack{}
		s.part(r, "buck", "buck, printed", paintPart)
		s.part(r, "insert", "sheet, formed and trimmed", paintSheet)
		s.panel.Caption = "forming"
		b.Panels = append(b.Panels, s.panel)
	}
	if r.made("press-tool") != nil {
		s := &stack{}
		s.part(r, r.pressBed(), strings.ReplaceAll(r.pressBed(), "-", " "), paintPart)
		s.part(r, "insert", "insert", paintSheet)
		s.lay("felt", r.feltBody())
		s.top += 36
		s.part(r, "press-tool", "press tool", paintPart)
		s.panel.Caption = "pressing the felt in"
		b.Panels = append(b.Panels, s.panel)
	}
	return b
}

// padMeshes are the lid's sponges as cut: one under each boss, or one over the
// ceiling.
func (r *Result) padMeshes() (out []*mesh.Mesh) {
	if lid := r.Dims.Lid; lid.Full {
		h, mid := r.Layout.Half, r.Layout.Center
		return []*mesh.Mesh{blockMesh(mid.Sub(h).At(lid.Ceiling-lid.Liner), mid.Add(h).At(lid.Ceiling))}
	}
	for i, it := range r.Dims.Items {
		if r.Dims.Lid.Pads && it.PadArea > 0 {
			out = append(out, r.padMesh(i))
		}
	}
	return out
}
