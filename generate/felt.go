package generate

import (
	"fmt"
	"math"
	"slices"

	"buckwright/generate/geom"
	"buckwright/generate/pattern"
	"buckwright/params"
)

const (
	feltMiddle  = 0.5 // share of the felt's thickness at which its length stays: it gathers inside a bend and stretches outside about equally; common practice
	feltOver    = 1.5 // mm left over where felt is trimmed after pressing; common practice, 1 to 2
	outlineStep = 0.5 // mm, cell in which outlines of pockets are followed
)

// middle is how far the felt's middle lies from the sheet's product side.
func (r *Result) middle() float64 {
	return r.Kit.Liner.Cement + feltMiddle*r.Kit.Liner.Thickness
}

// feltFlats are the pieces of felt that the kit's wrap asks for: the rim's
// first, then each pocket's. A piece that cannot be developed is marked as refused
// and the others are cut all the same.
func (r *Result) feltFlats(fam family) []pattern.Flat {
	cavities := r.cavities(fam)
	lining := r.feltLining(cavities)
	pieces := make([][]pattern.Flat, len(cavities)+1)
	errs := make([]error, len(pieces))
	names := []string{"rim"}
	for _, c := range cavities {
		names = append(names, c.Name)
	}
	sideBySide(len(pieces), func(i int) {
		switch {
		case i > 0:
			pieces[i], errs[i] = cavities[i-1].Line(lining)
		case r.Kit.Liner.Wrap != params.WrapPockets:
			pieces[i], errs[i] = r.rimFelt(fam, lining.Phi)
		}
	})
	var out []pattern.Flat
	for i, p := range pieces {
		if errs[i] != nil {
			p = []pattern.Flat{{Name: "felt-" + names[i], Title: "felt of " + names[i], Material: lining.Material, Count: 1, Refused: errs[i].Error()}}
		}
		out = append(out, p...)
	}
	return out
}

// feltLining is how all pockets are lined: with a rim of felt the seam lies in the
// mouth's bend, without one the felt ends where the wall does.
func (r *Result) feltLining(cavities []pattern.Cavity) pattern.Lining {
	l := pattern.Lining{Material: r.feltMaterial(), Limit: r.liner.AreaStrain}
	upright := geom.Angle(math.Pi/2) - r.Dims.Pocket.Draft
	if r.Kit.Liner.Wrap == params.WrapPockets {
		l.Phi, l.Trim = upright, feltOver
		return l
	}
	for _, c := range cavities {
		l.Phi = max(l.Phi, c.Seam())
	}
	return l
}

// mouthRound is the radius of the sheet's product side in a mouth.
func (r *Result) mouthRound() float64 { return r.Dims.Pocket.MouthRadius + r.Dims.Insert.Rim }

// cavities are the separate pockets as their felt sees them.
func (r *Result) cavities(fam family) []pattern.Cavity {
	top := -r.mouthRound()
	var out []pattern.Cavity
	for _, c := range fam {
		field := c.field.Offset(r.Dims.Pocket.Finished - r.middle() - c.reach)
		for n, loop := range r.follow(c, func(p geom.Vec2) float64 { return field.Dist(p.At(top)) }) {
			out = append(out, pattern.Cavity{
				Name: r.feltName(c.items, n), Field: field.Dist, Outline: loop,
				Top: top, Bend: r.mouthRound() + r.middle(), Draft: r.Dims.Pocket.Draft,
			})
		}
	}
	return out
}

// follow finds where f is 0 about a pocket, outer loops only.
func (r *Result) follow(c cavity, f func(geom.Vec2) float64) [][]geom.Vec2 {
	b := family{c}.mouth(c.reach, 0, r.Dims.Pocket.Draft).Grow(r.mouthRound())
	loops := pattern.Contour(f, b.Min.XY(), b.Max.XY(), outlineStep)
	return slices.DeleteFunc(loops, func(l []geom.Vec2) bool { return loopArea(l) <= 1 })
}

// feltName is what the felt of a pocket's n-th mouth is called after: its items.
func (r *Result) feltName(items []int, n int) string {
	name := r.Kit.Items[items[0]].Name
	if more := len(items) - 1; more > 0 {
		name += fmt.Sprintf("-and-%d-more", more)
	}
	if n > 0 {
		name += fmt.Sprintf("-%d", n+1)
	}
	return name
}

// rimFelt is the felt on the rim, with a cut-out for each mouth.
func (r *Result) rimFelt(fam family, phi geom.Angle) ([]pattern.Flat, error) {
	d, l := r.Dims, r.Layout
	rim := pattern.Rim{
		Center: l.Center, Half: l.Half, Corner: min(d.Insert.CornerRadius, l.Half.X, l.Half.Y),
		Round: d.Insert.RimRadius + d.Insert.Rim, Middle: r.middle(), Draft: d.Insert.Draft, Trim: l.Trim,
		Skirt: r.Kit.Liner.Wrap == params.WrapSkirt, Over: feltOver,
		Bend: r.mouthRound() + r.middle(), Phi: phi,
	}
	// The rim's flat ends where the sheet's wall is a mouth's radius away.
	for _, c := range fam {
		field := c.field.Offset(d.Pocket.Finished - c.reach)
		for _, loop := range r.follow(c, func(p geom.Vec2) float64 { return field.Dist(p.At(0)) - r.mouthRound() }) {
			rim.Mouths = append(rim.Mouths, pattern.Fit(loop, 0.02))
		}
	}
	return rim.Felt(r.feltMaterial())
}
