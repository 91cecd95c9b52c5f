package generate

import (
	"fmt"
	"io"
	"math"
	"strings"

	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/picture"
)

// mapBands is how many steps a map's scale has at the most: as many as can be
// told apart without looking twice.
const mapBands = 10

// mapPictures are the predictions for the formed sheet, drawn on it.
func (r *Result) mapPictures() []drawn {
	f := r.Formed
	if f == nil || len(f.Element) == 0 {
		return nil
	}
	return []drawn{
		{"pictures/thickness.png", func(w io.Writer) error { return r.thicknessMap(f).Draw(w) }},
		{"pictures/contact-order.png", func(w io.Writer) error { return r.contactMap(f).Draw(w) }},
	}
}

func (r *Result) thicknessMap(f *forming.Formed) picture.Board {
	value := onNodes(f, f.Thickness)
	lo, hi := extent(value)
	steps := picture.Round(lo, min(hi, r.Kit.Sheet.Gauge), mapBands) // thicker is a fold
	l := picture.Legend{Title: "thickness, mm", Steps: steps}
	for i, t := range f.Element {
		if f.Fold[i] {
			l.Missing = "folded, a web"
			for _, n := range t {
				value[n] = math.NaN()
			}
		}
	}
	b := r.sheetMap(f, value, l)
	b.Title = fmt.Sprintf("%s: predicted thickness of the sheet, %s mm before", r.Kit.Name, trim(r.Kit.Sheet.Gauge, 2))
	for _, s := range r.thinnest(f) {
		b.Panels[1].Labels = append(b.Panels[1].Labels, picture.Label{
			At: lay(f, s.At), Text: fmt.Sprintf("%s: least %.2f mm", r.pocketName(s.Pocket), s.Least),
		})
	}
	return b
}

// thinnest are the thinnest places, one of each pocket.
func (r *Result) thinnest(f *forming.Formed) (out []forming.Stat) {
	for i := range r.pockets {
		best := forming.Stat{Least: math.Inf(1)}
		for _, s := range f.Stats {
			if s.Pocket == i && s.Zone.InPocket() && s.Least < best.Least {
				best = s
			}
		}
		if !math.IsInf(best.Least, 1) {
			out = append(out, best)
		}
	}
	return out
}

func (r *Result) contactMap(f *forming.Formed) picture.Board {
	value := make([]float64, len(f.Touch))
	for i, t := range f.Touch {
		value[i] = 100 * t
	}
	b := r.sheetMap(f, value, picture.Legend{
		Title: "touches after, % of all places", Steps: picture.Steps{Step: 10, Count: 10, DarkHigh: true}, Missing: "never touches",
	})
	b.Title = r.Kit.Name + ": predicted order in which the sheet touches the buck"
	for _, o := range f.Open {
		if len(b.Panels[1].Labels) < mostOpen && o.Gap >= leastOpen && o.Zone != forming.Flange {
			text := fmt.Sprintf("%s, at %s: not filled, gap %.2f mm", r.placeName(o.Place), strings.ReplaceAll(r.fromMiddle(o.At), " ", nbsp), o.Gap)
			b.Panels[1].Labels = append(b.Panels[1].Labels, picture.Label{At: lay(f, o.At), Text: text})
		}
	}
	b.Note = r.openNote(f)
	return b
}

// mostOpen is how many places that stay open are named on the map, the worst
// first: the job sheet lists them all.
const mostOpen = 3

// openNote explains the hatching that no label names. The ring round the skirt's
// foot, where the sheet spans the corner to the platen, is below the trim line.
func (r *Result) openNote(f *forming.Formed) string {
	small, ring := false, false
	for _, o := range f.Open {
		small = small || o.Zone != forming.Flange && o.Gap < leastOpen
		ring = ring || o.Zone == forming.Flange
	}
	text := ""
	if ring {
		text = "Hatched round the foot of the skirt: below the trim line, it is cut off. "
	}
	if small {
		text += fmt.Sprintf("Gaps under %.1f mm are not named.", leastOpen)
	}
	return text
}

// lay is where a place of the formed sheet was while the sheet lay flat: nothing
// hides it there, as a wall hides the foot of another.
func lay(f *forming.Formed, at geom.Vec) geom.Vec {
	best, near := math.Inf(1), 0
	for i, p := range f.Node {
		if d := p.Sub(at).Len(); d < best {
			best, near = d, i
		}
	}
	return f.Flat[near].At(0)
}

// sheetMap shows values at the nodes on the formed sheet, and on the sheet as it
// lay flat, where the steep walls are seen too.
func (r *Result) sheetMap(f *forming.Formed, value []float64, l picture.Legend) picture.Board {
	flat := make([]geom.Vec, len(f.Flat))
	for i, p := range f.Flat {
		flat[i] = p.At(0)
	}
	on := func(v []geom.Vec) []picture.Body {
		return []picture.Body{{
			Mesh: &mesh.Mesh{V: v, T: f.Element}, Thin: true, Unlined: true, Value: value, Steps: l.Steps,
		}}
	}
	return picture.Board{Legend: &l, Panels: []picture.Panel{
		{Caption: "on the formed sheet", Bodies: on(f.Node)},
		{Caption: "on the sheet as it lay flat in the frame", Bodies: on(flat), From: geom.V(0, 0, 1)},
	}}
}

// onNodes is the mean of the elements around each node, by their flat area.
func onNodes(f *forming.Formed, element []float64) []float64 {
	sum, weight := make([]float64, len(f.Flat)), make([]float64, len(f.Flat))
	for i, t := range f.Element {
		a, b, c := f.Flat[t[0]], f.Flat[t[1]], f.Flat[t[2]]
		area := math.Abs(b.Sub(a).Cross(c.Sub(a)))
		for _, n := range t {
			sum[n] += area * element[i]
			weight[n] += area
		}
	}
	for n := range sum {
		sum[n] /= weight[n]
	}
	return sum
}

// extent is the least and the greatest of the numbers there are.
func extent(v []float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, x := range v {
		if !math.IsNaN(x) && !math.IsInf(x, 0) {
			lo, hi = min(lo, x), max(hi, x)
		}
	}
	return lo, hi
}
