package generate

import (
	"buckwright/generate/check"
	"buckwright/generate/export"
	"buckwright/generate/forming"
	"buckwright/generate/geom"
)

// Predicted is one number of the forming prediction and where it holds.
type Predicted struct {
	Name   string    `json:"name"`
	Where  string    `json:"where,omitempty"`
	At     *geom.Vec `json:"at,omitempty"` // nil: no single place
	Value  float64   `json:"value"`
	Unit   string    `json:"unit,omitempty"`
	Source string    `json:"source"`
}

const membraneSource = "membrane on the buck, incompressible and isothermal, package forming"

// leastOpen is the least gap, mm, that is reported: smaller ones are within what
// elements of 2.5 mm can show on a rounded edge.
const leastOpen = 0.2

// Prediction lists what the sheet is predicted to do, in report order.
func (r *Result) Prediction() []Predicted {
	f := r.Formed
	if f == nil {
		return nil
	}
	out := []Predicted{{Name: "areal draw ratio inside the frame", Value: f.Draw, Source: membraneSource}}
	for _, s := range f.Stats {
		if s.Zone == forming.Flange {
			continue // cut off
		}
		where, at := r.placeName(s.Place), s.At
		out = append(out,
			Predicted{Name: "mean thickness", Where: where, Value: s.Mean, Unit: "mm", Source: membraneSource},
			Predicted{Name: "least thickness", Where: where, At: &at, Value: s.Least, Unit: "mm", Source: membraneSource})
	}
	for _, o := range f.Open {
		if o.Zone == forming.Flange || o.Gap < leastOpen {
			continue
		}
		where, at := r.placeName(o.Place), o.At
		out = append(out,
			Predicted{Name: "not filled, largest gap", Where: where, At: &at, Value: o.Gap, Unit: "mm", Source: membraneSource},
			Predicted{Name: "not filled, radius reached", Where: where, At: &at, Value: o.Radius, Unit: "mm", Source: membraneSource})
	}
	return append(append(out, r.handbook()...), r.foreseen()...)
}

// placeName says where on the insert a place is.
func (r *Result) placeName(p forming.Place) string { return check.PlaceName(r.pocketNames(), p) }

// pocketNames are the items of each pocket.
func (r *Result) pocketNames() []string {
	var out []string
	for p := range r.pockets {
		out = append(out, r.pocketName(p))
	}
	return out
}

// pocketName is the items of a pocket.
func (r *Result) pocketName(p int) string {
	name := ""
	for _, i := range r.pockets[p] {
		if name != "" {
			name += " + "
		}
		name += r.Kit.Items[i].Name
	}
	return name
}

func (r *Result) formingJSON() *export.FormingJSON {
	if r.Formed == nil {
		return nil
	}
	out := &export.FormingJSON{Sheet: r.Kit.Sheet.Material, Gauge: r.Kit.Sheet.Gauge}
	for _, p := range r.Prediction() {
		q := export.QuantityJSON{Name: p.Name, Where: p.Where, Value: p.Value, Unit: p.Unit, Source: p.Source}
		if p.At != nil {
			q.At = &[3]float64{p.At.X, p.At.Y, p.At.Z}
		}
		out.Results = append(out.Results, q)
	}
	return out
}
