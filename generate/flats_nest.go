package generate

import (
	"slices"

	"buckwright/generate/export"
)

// A piece of stock is divided into so many steps each way to look for the part
// that is enough: fewer where there are many flats, which take long to lay and
// leave less between them anyhow. This program's own choice.
const (
	closeMost  = 40
	closeLeast = 4
	closeFlats = 40 // up to so many are laid with the most
)

// closer lays a plate's flats closer: on the least part of the stock that Pack
// still finds room on, tried in every width and, for each, from the height that
// their areas need upwards. On the whole piece they would be spread over its
// width, and what lies between them could not be used for anything else.
func closer(plate []export.Placed, prints []export.Footprint, room [2]float64) []export.Placed {
	some := make([]export.Footprint, len(plate))
	area := 0.0
	for i, p := range plate {
		some[i] = prints[p.Part]
		area += some[i].X * some[i].Y
	}
	steps := min(closeMost, max(closeLeast, closeMost*closeFlats/len(plate)))
	best, least := plate, taken(plate, prints)
	most := room[0] * room[1]
	for k := range steps {
		wide := room[0] * float64(k+1) / float64(steps)
		for j := range steps {
			high := room[1] * float64(j+1) / float64(steps)
			if wide*high < area {
				continue
			}
			if wide*high >= most {
				break // no better than what there is
			}
			plates, over := export.Pack(some, [2]float64{wide, high}, nestGap)
			if len(over) > 0 || len(plates) != 1 {
				continue
			}
			for i := range plates[0] {
				plates[0][i].Part = plate[plates[0][i].Part].Part
			}
			if took := taken(plates[0], prints); took < least {
				best, least, most = plates[0], took, min(most, wide*high)
			}
			break
		}
	}
	return slices.Clone(best)
}

// taken is the area, mm², of the rectangle around what is laid.
func taken(plate []export.Placed, prints []export.Footprint) float64 {
	x, y := [2]float64{plate[0].X, plate[0].X}, [2]float64{plate[0].Y, plate[0].Y}
	for _, p := range plate {
		w, h := prints[p.Part].X, prints[p.Part].Y
		if p.Turned {
			w, h = h, w
		}
		x = [2]float64{min(x[0], p.X), max(x[1], p.X+w)}
		y = [2]float64{min(y[0], p.Y), max(y[1], p.Y+h)}
	}
	return (x[1] - x[0]) * (y[1] - y[0])
}
