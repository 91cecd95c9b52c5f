package generate

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

const (
	padPlaces = 9    // along each side of a pad at which the item's top is looked for
	padTouch  = 1e-3 // mm above the item that counts as on it
	padReach  = 3.0  // times the sponge: as far as check looks for a thicker one
)

// padDrops is how far an item's top lies below its highest place, at the middles of
// equal squares of its pad; +Inf where there is no top within padReach.
// Nil where the item has no pad of its own.
func (r *Result) padDrops(it *item, i int) []float64 {
	if !r.Dims.Lid.Pads || !(r.Dims.Items[i].PadArea > 0) {
		return nil
	}
	h, body := r.Layout.PadHalf(i), it.solid()
	var out []float64
	for a := range padPlaces {
		for b := range padPlaces {
			x, y := (2*float64(a)+1)/padPlaces-1, (2*float64(b)+1)/padPlaces-1
			out = append(out, drop(body, geom.V(h.X*x, h.Y*y, it.box.Max.Z), padReach*r.Dims.Lid.Liner))
		}
	}
	return out
}

// drop is how far below a point, outside of a body, the body begins; +Inf if not
// within reach.
func drop(body sdf.Solid, from geom.Vec, reach float64) float64 {
	for down := 0.0; down < reach; {
		d := body.Dist(from.Sub(geom.V(0, 0, down)))
		if d < padTouch {
			return down
		}
		down += d // nothing is nearer than that
	}
	return math.Inf(1)
}
