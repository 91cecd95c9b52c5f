package pattern

import (
	"fmt"
	"math"

	"buckwright/generate/geom"
)

// Rim is the felt on the rim of an insert, and down its skirt if it goes so
// far. Sizes are of the sheet's product side at the rim.
type Rim struct {
	Center, Half geom.Vec2
	Corner       float64 // corner radius of the plan
	Round        float64 // radius from the rim into the skirt
	Middle       float64 // from the sheet to the middle of the felt
	Draft        geom.Angle
	Trim         float64 // z of the trim line
	Skirt        bool
	Over         float64 // mm left over at the trim line, to be trimmed after pressing
	Mouths       []Path  // where the rim's flat ends at the pockets
	Bend         float64 // radius of the felt's middle into a mouth
	Phi          geom.Angle
}

// panel is where the rim is flat: its half size and corner radius.
func (r Rim) panel() (half geom.Vec2, corner float64) {
	in := r.Round * (1/r.Draft.Cos() - r.Draft.Tan())
	return r.Half.Sub(pt(in, in)), r.Corner - in
}

// Felt is the rim's piece, or pieces: one with flaps for the skirt where its
// corners are round enough, else a strip for the skirt.
func (r Rim) Felt(m Material) ([]Flat, error) {
	half, corner := r.panel()
	panel := Rect(r.Center, half.X, half.Y, max(corner, 0))
	f := Flat{Name: "felt-rim", Title: "felt for the rim", Material: m, Count: 1, Shape: Shape{Outer: panel}}
	out := []Flat{f}
	if r.Skirt {
		out = r.withSkirt(f, panel, corner)
	}
	for i, mouth := range r.Mouths {
		hole, err := Shape{Outer: mouth.Turned(true)}.Grow(-r.Bend * float64(r.Phi))
		if err != nil {
			return nil, fmt.Errorf("cut-out %d of the rim's felt: %w", i+1, err)
		}
		out[0].Shape.Holes = append(out[0].Shape.Holes, hole.Outer)
	}
	out[0].Notes = append(out[0].Notes, "The cut-outs are smaller than the mouths: their edge turns down into the pocket and meets the wall's felt there.")
	return out, nil
}

// withSkirt adds the skirt to the rim's piece.
func (r Rim) withSkirt(f Flat, panel Path, corner float64) []Flat {
	rm := r.Round + r.Middle
	beta := math.Pi/2 - float64(r.Draft)
	slant := (-r.Round + rm*r.Draft.Sin() - r.Trim) / r.Draft.Cos()
	x := Cross{Panel: panel, Fold: rm * beta, Grow: rm * r.Draft.Cos(), Lean: r.Draft, Up: slant + r.Over}
	edge, flapEdge := r.cornerSeam(&x, corner, rm, beta)
	p, ok := x.outline()
	if !ok {
		return []Flat{f, r.strip(f.Material, corner, rm, slant)}
	}
	f.Name, f.Title = "felt-rim-and-skirt", "felt for the rim and down the skirt"
	f.Shape.Outer, f.Marks = p, x.folds()
	f.Strain = &Strain{Stretch: max(0, edge, flapEdge) / 2, Gather: max(0, -edge, -flapEdge) / 2, Where: "on the mean of the bend at the corners"}
	f.Notes = append(f.Notes,
		"Fold the flaps down along the grey lines; the long ones go round the corners and butt against the short ones.",
		short(r.Over)+" mm are left over at the trim line: trim them after pressing.")
	return []Flat{f}
}

// cornerSeam sets where the seam round a corner lies on the bend, so that the
// rim's edge and the flap's are strained alike; it returns the two strains.
func (r Rim) cornerSeam(x *Cross, corner, rm, beta float64) (edge, flap float64) {
	plan := corner + x.Grow
	strains := func(phi float64) (edge, flap float64) {
		true := corner + rm*math.Sin(phi)
		return hoop(corner+rm*phi, true), hoop(plan-(x.Fold-rm*phi)*r.Draft.Sin(), true)
	}
	phi := least(func(phi float64) float64 {
		a, b := strains(phi)
		return max(math.Abs(a), math.Abs(b))
	}, 0, beta)
	x.Seam = rm * phi
	return strains(phi)
}

// strip is the skirt's felt by itself, from the rim's flat to the trim line.
func (r Rim) strip(m Material, corner, rm, slant float64) Flat {
	half, _ := r.panel()
	corner = max(corner, 0)
	var legs []leg
	turn := leg{}
	if plan := corner + rm*r.Draft.Cos(); plan > 0 {
		turn = cornerLeg(plan, r.Draft)
	}
	for _, l := range []float64{half.X - corner, 2 * (half.Y - corner), 2 * (half.X - corner), 2 * (half.Y - corner), half.X - corner} {
		legs = append(legs, leg{Length: l}, turn)
	}
	legs = legs[:len(legs)-1]
	bend := rm * (math.Pi/2 - float64(r.Draft))
	p := band(legs, slant+r.Over, bend)
	return Flat{
		Name: "felt-skirt", Title: "felt for the skirt", Material: m, Count: 1, Shape: Shape{Outer: p},
		Strain: &Strain{Gather: max(0, -hoop(corner+rm*math.Cos(float64(r.Draft)), corner)) / 2, Where: "on the mean of the bend at the rim's corners"},
		Notes:  []string{"Drawn from its outside, the rim up. Its upper edge meets the rim's piece.", short(r.Over) + " mm are left over at the trim line: trim them after pressing."},
	}
}

// cornerLeg is a quarter turn of a wall that gets wider downwards.
func cornerLeg(plan float64, lean geom.Angle) leg { return corner(plan, math.Pi/2, lean, true) }
