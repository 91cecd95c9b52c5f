package generate

import (
	"math"
	"slices"

	"buckwright/generate/check"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
	"buckwright/generate/sdf"
	"buckwright/generate/solid"
)

// airStep is the pitch, mm, of the plumb lines that a pocket's air is measured with.
const airStep = 2.0

// airVolumes is the air in each pocket as the sheet seals on the rim, mm³.
func (r *Result) airVolumes() []float64 {
	box := r.Layout.Mouth.Grow(r.Dims.Insert.Gauge + airStep)
	return airUnder(solid.FormingFace(r.Layout), r.homes, box, -r.Dims.Insert.Rim, len(r.pockets))
}

// airFacts are how the air leaves each pocket.
func (r *Result) airFacts(volume []float64) []check.AirFact {
	holes := make([]int, len(volume))
	for _, v := range r.Layout.Vents {
		if p := r.homes.at(v.At.XY()); p >= 0 {
			holes[p]++
		}
	}
	total := 0.0
	for _, v := range volume {
		total += v
	}
	var out []check.AirFact
	for p, v := range volume {
		c := r.cavityOf(v, total-v, holes[p])
		fact := check.AirFact{Pocket: r.pocketName(p), Holes: holes[p], Diameter: c.Diameter, Evacuation: c.Evacuate()}
		if need, ok := c.HolesFor(forming.Quick); ok {
			fact.Needed = need
		}
		out = append(out, fact)
	}
	return out
}

// wantsVents reports whether more vents would let some pocket's air out in time.
func (r *Result) wantsVents(volume []float64) bool {
	return slices.ContainsFunc(r.airFacts(volume), func(a check.AirFact) bool {
		return a.Time > forming.Quick && a.Needed > a.Holes
	})
}

// cavityOf is a pocket's air behind its vents, mm³.
func (r *Result) cavityOf(volume, beside float64, holes int) forming.Cavity {
	f, b := r.Kit.Former, r.Dims.Buck
	return forming.Cavity{
		Volume: volume, Beside: beside, Holes: holes, Diameter: b.VentDia, Land: b.Land,
		Tank: f.Tank, Pump: f.Pump, Vacuum: f.Vacuum, Temp: check.Room,
	}
}

// airUnder is the volume, mm³, of each of n pockets below height top, by plumb
// lines dropped into the body.
func airUnder(body sdf.Solid, homes outlines, box geom.Box, top float64, n int) []float64 {
	volume := make([]float64, n)
	size := box.Size()
	for j := range int(size.Y/airStep) + 1 {
		for i := range int(size.X/airStep) + 1 {
			at := geom.Vec2{X: box.Min.X + float64(i)*airStep, Y: box.Min.Y + float64(j)*airStep}
			if p := homes.at(at); p >= 0 {
				volume[p] += (top - floorUnder(body, at, top)) * airStep * airStep
			}
		}
	}
	return volume
}

// floorUnder walks down from height z to the body's surface; z if it starts inside.
func floorUnder(body sdf.Solid, at geom.Vec2, z float64) float64 {
	const close, most = 0.01, 400
	for range most {
		d := body.Dist(at.At(z))
		if !(d > close) || math.IsInf(d, 0) {
			break
		}
		z -= d
	}
	return z
}
