package generate

import (
	"math"
	"testing"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/params"
)

// Felt that lines the pockets only is drawn as high as its flat pieces reach once they
// are trimmed: along the sheet's product side the seam's angle ends where its wall does.
func TestFeltIsDrawnAsHighAsItIsCut(t *testing.T) {
	r := &Result{Kit: &params.Kit{}, Dims: &fit.Dims{}}
	r.Kit.Liner.Wrap = params.WrapPockets
	r.Dims.Pocket.MouthRadius, r.Dims.Pocket.Draft, r.Dims.Insert.Rim = 2.5, 5*geom.Degree, 1
	round := 3.5
	phi := r.feltLining(nil).Phi // from the rim's flat
	if want := -round + round*phi.Cos(); math.Abs(r.wallTop()-want) > 1e-12 {
		t.Errorf("felt drawn up to %g, cut for %g", r.wallTop(), want)
	}
}
