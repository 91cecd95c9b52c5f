package generate

import (
	"errors"
	"fmt"

	"buckwright/generate/export"
	"buckwright/generate/solid"
	"buckwright/params"
)

// screw sets the screws that hold the buck, between the vents.
func (r *Result) screw(k *params.Kit) error {
	err := r.Layout.PlanScrews()
	var none *solid.NoRoomError
	if !errors.As(err, &none) {
		return err
	}
	key, hint := "buck.screws", "give the places with `at`, take a thinner thread, or widen insert.margin"
	if none.Index >= 0 {
		key, hint = fmt.Sprintf("buck.screws.at[%d]", none.Index), "places are x, y in the kit's plan; leave `at` out to have them chosen"
	}
	return k.Problem(key, none.What, hint)
}

// screwsJSON lists the screws: in the kit, and on the buck as it is printed, from
// its middle, which is where the platen is to be drilled.
func (r *Result) screwsJSON() []export.ScrewJSON {
	if len(r.Layout.Screws) == 0 {
		return nil
	}
	var out []export.ScrewJSON
	for _, at := range r.Layout.Screws {
		p := r.Dims.OnBuck(at.Sub(r.Layout.Center))
		out = append(out, export.ScrewJSON{Thread: r.Dims.Buck.Screw.Thread, At: [2]float64{at.X, at.Y}, FromMiddle: [2]float64{p.X, p.Y}})
	}
	return out
}
