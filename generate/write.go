package generate

import (
	"fmt"
	"io"
	"strconv"

	"buckwright/generate/check"
	"buckwright/generate/export"
	"buckwright/generate/fit"
	"buckwright/generate/geom"
)

// Put stores one file of the output folder. The name is a slash path.
type Put func(name string, write func(io.Writer) error) error

// plateGap is the room left between parts on one bed, in mm: a brim's width.
const plateGap = 6.0

// Write stores every file of a result through put: parts, plates, flats, pictures,
// job sheet, kit.json. version is the tool's.
func (r *Result) Write(put Put, version string) error {
	sum := export.KitJSON{
		Kit: r.Kit.Name, Tool: export.ToolJSON{Name: "buckwright", Version: version},
		Inputs: r.Inputs, Units: export.Units(),
	}
	drawing := r.draw() // while the rest is written
	defer drawing.stop()
	var err error
	if sum.Parts, err = r.writeParts(put, version); err != nil {
		return err
	}
	if sum.Plates, err = r.writePlates(put, version); err != nil {
		return err
	}
	if sum.Flats, sum.Nests, err = r.writeFlats(put); err != nil {
		return err
	}
	var shelf pictures
	if sum.Pictures, err = drawing.write(shelf.keep(put)); err != nil {
		return err
	}
	sum.Screws, sum.Fits, sum.Findings = r.screwsJSON(), fitsJSON(r.Dims.Rows), findingsJSON(r.Findings)
	sum.Forming, sum.Estimate = r.formingJSON(), r.batch()
	if err := put("job-sheet.html", func(w io.Writer) error { return export.WriteJobSheet(w, r.jobSheet(version, shelf)) }); err != nil {
		return err
	}
	return put("kit.json", func(w io.Writer) error { return export.WriteKitJSON(w, sum) })
}

func (r *Result) writeParts(put Put, version string) (out []export.PartJSON, err error) {
	for _, p := range r.Parts {
		files, err := r.writePart(put, p, version)
		if err != nil {
			return nil, err
		}
		out = append(out, r.partJSON(p, files))
	}
	return out, nil
}

func (r *Result) writePart(put Put, p Part, version string) ([]string, error) {
	dir := "parts/"
	if p.Reference {
		dir = "reference/"
	}
	stl := dir + p.Name + ".stl"
	err := put(stl, func(w io.Writer) error { return export.WriteSTL(w, p.Printed, r.Kit.Name+" "+p.Name) })
	if err != nil || p.Reference {
		return []string{stl}, err
	}
	pkg := dir + p.Name + ".3mf"
	model := export.Model{Title: r.Kit.Name + ": " + p.Title, Application: "buckwright " + version,
		Objects: []export.Object{r.object(p, geom.Identity())}}
	err = put(pkg, func(w io.Writer) error { return export.Write3MF(w, model) })
	return []string{stl, pkg}, err
}

// object is a printed part with the settings it was computed for.
func (r *Result) object(p Part, at geom.Affine) export.Object {
	k := r.Kit
	return export.Object{Name: p.Name, Mesh: p.Printed.Transform(at).Snap(), Meta: []export.Meta{
		{Name: "kit", Value: k.Name},
		{Name: "part", Value: p.Title},
		{Name: "material", Value: k.Printer.Material},
		{Name: "layer", Value: number(k.Printer.Layer) + " mm"},
		{Name: "extrusion width", Value: number(r.Dims.Print.Width) + " mm"},
		{Name: "walls", Value: strconv.Itoa(r.walls())},
		{Name: "infill", Value: number(k.Printer.Infill*100) + " %"},
		{Name: "supports", Value: "none"},
	}}
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// onPlate is a printed part and where it lies on its bed.
type onPlate struct {
	Part
	at export.Placed
}

// plates lays the printed parts on beds. A part that fits none is in tooBig,
// and is a finding.
func (r *Result) plates() (plates [][]onPlate, tooBig []Part) {
	var printed []Part
	var prints []export.Footprint
	for _, p := range r.Parts {
		if p.Reference {
			continue
		}
		size := p.Printed.Bounds().Size()
		printed = append(printed, p)
		prints = append(prints, export.Footprint{X: size.X, Y: size.Y})
	}
	bed := r.Dims.Print.Bed
	packed, left := export.Pack(prints, [2]float64{bed.X, bed.Y}, plateGap)
	for _, plate := range packed {
		var one []onPlate
		for _, at := range plate {
			one = append(one, onPlate{printed[at.Part], at})
		}
		plates = append(plates, one)
	}
	for _, i := range left {
		tooBig = append(tooBig, printed[i])
	}
	return plates, tooBig
}

// plateFile names the file of a plate, counted from 0.
func plateFile(i int) string { return fmt.Sprintf("plates/plate-%d.3mf", i+1) }

func (r *Result) writePlates(put Put, version string) ([]export.PlateJSON, error) {
	plates, _ := r.plates()
	var out []export.PlateJSON
	for i, plate := range plates {
		entry := export.PlateJSON{File: plateFile(i)}
		model := export.Model{Title: fmt.Sprintf("%s: plate %d", r.Kit.Name, i+1), Application: "buckwright " + version}
		for _, p := range plate {
			model.Objects = append(model.Objects, r.object(p.Part, p.at.Onto(p.Printed.Bounds())))
			entry.Parts = append(entry.Parts, p.Name)
		}
		if err := put(entry.File, func(w io.Writer) error { return export.Write3MF(w, model) }); err != nil {
			return nil, err
		}
		out = append(out, entry)
	}
	return out, nil
}

func (r *Result) partJSON(p Part, files []string) export.PartJSON {
	v := p.Printed.Volume()
	return export.PartJSON{
		Name: p.Name, Files: files, Printed: !p.Reference, Quality: string(p.Quality),
		Volume: v, Area: p.Printed.Area(), Bbox: export.Bbox(p.Printed.Bounds()), Triangles: len(p.Printed.T),
		Mass: r.mass(p), Time: p.Print.Seconds, Bridge: p.Print.Bridge, FreeEdge: p.Print.FreeEdge, ToKit: p.ToKit.Rows(),
	}
}

func fitsJSON(rows []fit.Row) []export.FitJSON {
	var out []export.FitJSON
	for _, row := range rows {
		out = append(out, export.FitJSON{
			ID: row.ID, Where: row.Where, Unit: row.Unit, Nominal: row.Nominal, Least: row.Least, Most: row.Most,
			Formula: row.Formula, Source: row.Source,
		})
	}
	return out
}

func findingsJSON(all []check.Finding) []export.FindingJSON {
	var out []export.FindingJSON
	for _, f := range all {
		out = append(out, export.FindingJSON{
			ID: f.ID, Severity: string(f.Severity), Where: f.Where, Value: f.Value, Limit: f.LimitText,
			Source: f.Source, Fix: f.Fix,
		})
	}
	return out
}
