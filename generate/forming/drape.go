package forming

import (
	"context"
	"fmt"
	"math"

	"buckwright/generate/geom"
)

// drape brings the frame down from the rim to the platen.
func (f *former) drape(ctx context.Context) error {
	fall := f.set.Rim - f.set.Platen
	n := int(math.Ceil(fall / (dropShare * f.set.Element)))
	if n > mostSteps {
		return fmt.Errorf("forming: a drop of the frame of %g mm is too long for elements of %g mm", fall, f.set.Element)
	}
	for i := range n {
		if err := ctx.Err(); err != nil {
			return err
		}
		z := f.set.Rim - fall*float64(i+1)/float64(n)
		for k := range f.sheet.node {
			if f.sheet.state[k].frame {
				f.sheet.node[k].Z = z
			}
		}
		f.refine()
		f.each(func(r *region) {
			if r.framed() {
				f.follow(r, moment{0, 0, i + 1})
			}
		})
	}
	return nil
}

// framed reports whether the frame moves a region.
func (r *region) framed() bool {
	for _, n := range r.node[r.free:] {
		if r.state[n].frame {
			return true
		}
	}
	return false
}

// follow settles a region without pressure, the frame having moved.
func (f *former) follow(r *region, when moment) {
	f.stiffen(r)
	slope := make([]geom.Vec, len(r.x))
	r.energy(r.x, slope)
	addScaled(r.x[:r.free], r.k.solve(slope[:r.free], 0.05), -1) // as the harmonic sheet would follow
	r.settle(drapeTol, f.set.Element)
	f.touch(r, 0, when)
}
